package gear

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"
)

// enough is the width of a tree that cuts no name: with remarks where the detail keeps a width that is good to read, as the
// detail says them too.
func (v *View) enough(w int) int {
	const roomy, remarks = 64, 32
	want := columns(w).Bare(w) + v.widest
	if w-want-remarks >= roomy {
		return want + remarks
	}
	return want
}

// columns are those of the tree in w cells; the last one holds remarks.
func columns(w int) table.Columns {
	return table.Columns{Most: 44, Rest: []table.Column{
		{Head: "reach", Width: 5, Right: true},
		{Head: "min", Width: 6, Right: true, From: 48},
		{Head: "when", Width: 12},
		{Width: max(w/4, 12), From: 76, Fills: true},
	}}
}

func (v *View) heads(w int) []string { return columns(w).Heads(v.session.Root.Theme(), w) }

// row draws nodes in a list w cells wide.
func (v *View) row(w int) func(*node) string {
	row := columns(w).Row(w)
	return func(n *node) string { return row(v.cells(n)...) }
}

// found is how many lines the filter leaves.
func (v *View) found() string { return phrase.Count(len(v.Shown()), "line") }

// nothing says why there is no line.
func (v *View) nothing(int) []string {
	if v.Query() != "" {
		return v.Remark("Nothing has all of that.")
	}
	return v.Remark("No gear yet; a adds a place, then what stands there.")
}

// facts are what a row says of a node, whether in columns or in words.
type facts struct {
	reach   string
	flagged bool
	minutes string
	s       *schedule.Standing // what its date is that of; may be nil
	latest  string             // of a vessel, counter or gauge
	retired bool
	note    string
}

// factsOf gathers them.
func (v *View) factsOf(n *node) facts {
	b := v.session.Book
	switch n.kind {
	case model.KindBook:
		return facts{}
	case model.KindPlace:
		p, _ := b.Place(n.id)
		return facts{minutes: fmt.Sprint(p.Minutes), note: v.lateAt(p.ID)}
	case model.KindComponent:
		return v.ofComponent(n.id)
	case model.KindChore:
		c, _ := b.Chore(n.id)
		return facts{minutes: fmt.Sprint(c.Minutes), s: v.session.Round.Of(c.ID), retired: !c.Retired.IsZero(), note: v.sayClocks(c)}
	case model.KindVessel:
		w, _ := b.Vessel(n.id)
		f := facts{retired: !w.Retired.IsZero(), note: "vessel"}
		if on := v.session.Round.OnHandIn(w.ID); on != nil {
			f.latest = phrase.Level(b, on)
		}
		return f
	case model.KindCounter:
		c, _ := b.Counter(n.id)
		return facts{latest: latestAmount(b, c), retired: !c.Retired.IsZero(), note: "counter"}
	case model.KindGauge:
		g, _ := b.Gauge(n.id)
		return facts{latest: latestReading(b, g), retired: !g.Retired.IsZero(), note: "gauge"}
	}
	return facts{note: fmt.Sprintf("%d of them", n.kids)}
}

// branch is what stands before a node's name: its depth, and a mark of what can be opened or closed.
func (v *View) branch(n *node) string {
	mark := "  "
	switch {
	case n.kids > 0 && v.open.open(n):
		mark = "- "
	case n.kids > 0:
		mark = "+ "
	}
	return strings.Repeat("  ", n.depth) + mark
}

// cells is one node in columns. What is retired says so where its date would stand.
func (v *View) cells(n *node) []string {
	th, f := v.session.Root.Theme(), v.factsOf(n)
	name, when := v.branch(n)+text.Clean(n.name), f.latest
	if n.kind == model.KindPlace {
		when, _, _ = strings.Cut(f.note, ",")
		f.note = ""
	}
	if n.depth == 0 {
		name = th.Title.Render(name)
	}
	switch {
	case f.retired:
		name, when = th.Dim.Render(name), th.Dim.Render("retired")
	case f.s != nil:
		when = v.when(f.s).Render(phrase.When(f.s, v.session.Today()))
	}
	return []string{name, phrase.ReachCell(f.reach, f.flagged), f.minutes, when, th.Dim.Render(text.Clean(f.note))}
}

// lateAt is how many chores are late at a place.
func (v *View) lateAt(place model.ID) string {
	late, today := 0, 0
	for i := range v.session.Round.Standings {
		s := &v.session.Round.Standings[i]
		switch {
		case s.Place.ID != place:
		case s.State == schedule.StateLate:
			late++
		case s.State == schedule.StateDue:
			today++
		}
	}
	switch {
	case late > 0 && today > 0:
		return fmt.Sprintf("%d late, %d today", late, today)
	case late > 0:
		return fmt.Sprintf("%d late", late)
	case today > 0:
		return fmt.Sprintf("%d today", today)
	}
	return ""
}

// ofComponent is a component with its first chore's date and what is the matter.
func (v *View) ofComponent(id model.ID) facts {
	b, r := v.session.Book, v.session.Round
	c, _ := b.Component(id)
	access := fmt.Sprint(c.AccessMinutes)
	if c.OpensWith != "" {
		access = "-" // the other's opening is its own
	}
	var notes []string
	if broken(r, c.ID) != nil {
		notes = append(notes, "broken")
	}
	f := phrase.Flagged(b, c.ID)
	if f != nil {
		notes = append(notes, string(f.What.State))
	}
	if c.OpensWith != "" {
		with, _ := b.Component(c.OpensWith)
		notes = append(notes, "with "+with.Name)
	}
	return facts{reach: phrase.Grade(c), flagged: f != nil, minutes: access, s: first(r, c.ID), retired: !c.Retired.IsZero(), note: strings.Join(notes, ", ")}
}

func latestAmount(b *ledger.Book, c model.Counter) string {
	all := b.Usages(c.ID)
	if len(all) == 0 {
		return ""
	}
	return parse.Quantity(all[len(all)-1].What.Figure(), c.Unit, b.Def().Units)
}

func latestReading(b *ledger.Book, g model.Gauge) string {
	all := b.Readings(g.ID)
	if len(all) == 0 {
		return ""
	}
	return parse.Quantity(all[len(all)-1].What.Value, g.Unit, b.Def().Units)
}

// Aside is how much there is.
func (v *View) Aside(room int) string {
	parts, chores := 0, len(v.session.Round.Standings)
	for _, c := range v.session.Book.Components() {
		if c.Retired.IsZero() {
			parts++
		}
	}
	if parts == 0 {
		return ""
	}
	return text.Longest(room, phrase.Count(parts, "component")+", "+phrase.Count(chores, "chore"))
}
