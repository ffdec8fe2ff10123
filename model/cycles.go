package model

// Mark is a place in the order of time: a date and, within it, the order of writing. Seq 0 stands before all entries
// of the date.
type Mark struct {
	On  Date
	Seq Seq
}

// Before tells whether m stands before o.
func (m Mark) Before(o Mark) bool {
	if m.On != o.On {
		return m.On < o.On
	}
	return m.Seq < o.Seq
}

// EndOf is the place after all entries of a date.
func EndOf(d Date) Mark { return Mark{On: d + 1} }

// Mark is the place of an entry.
func (h *Header) Mark() Mark { return Mark{h.On, h.Seq} }

// Start is where a cycle of a chore begins.
type Start struct {
	Mark
	Tick *TickRecord // nil when the component went into service then
}

// About tells whether the start is a guess.
func (s Start) About() bool { return s.Tick != nil && s.Tick.About }

// Starts are the starts of a chore's cycles dated not after on, in order of time: its ticks, and the dates on which
// its component was put into service anew. That of a component's first service counts only when no tick is dated
// before it, and none that falls on the date of a tick counts.
func (b *Book) Starts(chore ID, on Date) []Start {
	ticks := upTo(b.ticks[chore], markOfTick, EndOf(on))
	c, _ := b.chores.get(chore)
	services := b.services(c.Component)
	out := make([]Start, 0, len(ticks)+len(services))
	t := 0
	for i, date := range services {
		for t < len(ticks) && ticks[t].On < date {
			out = append(out, Start{ticks[t].Mark(), &ticks[t]})
			t++
		}
		first := i == 0 && t > 0
		ticked := t < len(ticks) && ticks[t].On == date
		if date <= on && !first && !ticked {
			out = append(out, Start{Mark: Mark{On: date}})
		}
	}
	for ; t < len(ticks); t++ {
		out = append(out, Start{ticks[t].Mark(), &ticks[t]})
	}
	return out
}

// services are the dates on which a component was put into service: first by its first definition, then by each that
// gives a later date than the one before.
func (b *Book) services(component ID) []Date {
	var out []Date
	for i, v := range b.versions[component] {
		if i == 0 || v.InService > b.versions[component][i-1].InService {
			out = append(out, v.InService)
		}
	}
	return out
}
