package model

import "slices"

// ComponentBefore is a component as it was defined and graded just before an entry of the log; ok is false when it
// wasn't defined yet.
func (b *Book) ComponentBefore(id ID, seq Seq) (c Component, ok bool) {
	defined := Seq(0)
	for _, v := range b.versions[id] {
		if v.Seq < seq {
			c, ok, defined = v.def, true, v.Seq
		}
	}
	flags := slices.Clone(b.flags[id])
	slices.SortFunc(flags, func(a, b Logged[Flag]) int { return int(a.Seq) - int(b.Seq) })
	for _, f := range flags {
		if f.Seq > defined && f.Seq < seq {
			f.What.regrade(&c)
		}
	}
	return c, ok
}
