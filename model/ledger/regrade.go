package ledger

import (
	"slices"

	"brine/wrasse/model"
)

// ComponentBefore is a component as it was graded and in service just before an entry of the log, under its present
// name; ok is false when it wasn't defined yet.
func (b *Book) ComponentBefore(id model.ID, seq model.Seq) (c model.Component, ok bool) {
	defined := model.Seq(0)
	c = b.components.byID[id]
	for _, v := range b.versions[id] {
		if v.Seq < seq {
			c.InService, c.Reach, c.AccessMinutes = v.InService, v.reach, v.accessMinutes
			ok, defined = true, v.Seq
		}
	}
	if !ok {
		return model.Component{}, false
	}
	flags := slices.Clone(b.flags.of(id))
	slices.SortFunc(flags, func(a, b Logged[model.Flag]) int { return int(a.Seq) - int(b.Seq) })
	for _, f := range flags {
		if f.Seq > defined && f.Seq < seq {
			f.What.Regrade(&c)
		}
	}
	return c, ok
}

// OpenedWith is the component that another opened with when an entry of the log was written; none where it opened by
// itself or wasn't defined yet. O(definitions of the component).
func (b *Book) OpenedWith(id model.ID, seq model.Seq) (with model.ID) {
	for _, v := range b.versions[id] {
		if v.Seq < seq {
			with = v.opensWith
		}
	}
	return with
}
