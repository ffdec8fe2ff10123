package gear

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui"
	"brine/wrasse/ui/list"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/typed"
	"brine/wrasse/ui/words"
)

// Render draws the tree around the cursor, and the node at it beside or below.
func (v *View) Render(w, h int) string {
	if !v.desk.Loaded() {
		return text.Block(nil, w, h)
	}
	return v.desk.Root.LayPanes(w, h).Draw(v.desk.Root.Theme(), v.list, func(w, h int) string {
		if n, ok := v.selected(); ok {
			return text.Block(v.detail(n, w), w, h)
		}
		return text.Block(nil, w, h)
	})
}

const gap = 1

// noteFrom is the width from which a row has a last column of remarks.
const noteFrom = 76

// nameMost is the widest a name may be.
const nameMost = 44

// columns are those of the tree in w cells: name, reach, minutes, when, remarks.
func columns(w int) []text.Column {
	c := []text.Column{{}, {Width: 5, Right: true}, {Width: 6, Right: true}, {Width: 12}, {Width: max(w/4, 12)}}
	if w < noteFrom {
		c[4].Width = 0
	}
	c[0].Width = max(w-2-text.RowWidth(gap, c)-gap, 8)
	if over := c[0].Width - nameMost; over > 0 && w >= noteFrom { // figures stay near their names
		c[0].Width -= over
		c[4].Width += over
	}
	return c
}

// list draws the filter, where there is one, the heads of the columns and the tree.
func (v *View) list(w, h int) string {
	th := v.desk.Root.Theme()
	var lines []string
	if v.Filtering() {
		lines = append(lines, v.FilterLine(th, words.Count(len(v.rows), "line"), w))
	}
	if len(v.rows) == 0 {
		s := "No gear yet; a adds a place, then what stands there."
		if v.Query() != "" {
			s = "Nothing has all of that."
		}
		lines = append(lines, "", "  "+th.Dim.Render(s))
		return text.Block(lines, w, h)
	}
	if th.Plain {
		return text.Block(append(lines, v.said().Lines(th, w, h-len(lines))...), w, h)
	}
	cols := columns(w)
	lines = append(lines, th.Dim.Render("  "+text.Row(gap, cols, "", "reach", "min", "when", "")))
	room := h - len(lines)
	from := ui.Window(v.At(), len(v.rows), room)
	for i := from; i < min(len(v.rows), from+room); i++ {
		lines = append(lines, list.Row(th, i == v.At(), v.row(v.rows[i], cols), w))
	}
	return text.Block(lines, w, h)
}

// facts are what a row says of a node, whether in columns or in words.
type facts struct {
	name    string
	reach   string
	minutes string
	s       *schedule.Standing // what its date is that of; may be nil
	latest  string             // of a counter or gauge
	retired bool
	note    string
}

// factsOf gathers them.
func (v *View) factsOf(n node) facts {
	b := v.desk.Book
	switch n.kind {
	case model.KindPlace:
		p, _ := b.Place(n.id)
		return facts{name: p.Name, minutes: fmt.Sprint(p.Minutes), note: v.lateAt(p.ID)}
	case model.KindComponent:
		return v.ofComponent(n.id)
	case model.KindChore:
		c, _ := b.Chore(n.id)
		return facts{name: c.Name, minutes: fmt.Sprint(c.Minutes), s: v.desk.Round.Of(c.ID), retired: !c.Retired.IsZero(), note: v.sayClocks(c)}
	case model.KindCounter:
		c, _ := b.Counter(n.id)
		return facts{name: c.Name, latest: latestAmount(b, c), retired: !c.Retired.IsZero(), note: "counter"}
	case model.KindGauge:
		g, _ := b.Gauge(n.id)
		return facts{name: g.Name, latest: latestReading(b, g), retired: !g.Retired.IsZero(), note: "gauge"}
	}
	return facts{name: "Counters and gauges", note: fmt.Sprintf("%d of them", n.kids)}
}

// row is one node in columns: its name in its depth, with a mark of what can be opened
// or closed. What is retired says so where its date would stand.
func (v *View) row(n node, cols []text.Column) string {
	th, f := v.desk.Root.Theme(), v.factsOf(n)
	mark := "  "
	switch {
	case n.kids > 0 && v.open.open(n):
		mark = "- "
	case n.kids > 0:
		mark = "+ "
	}
	name, when := strings.Repeat("  ", n.depth)+mark+text.Clean(f.name), f.latest
	if n.depth == 0 {
		name = th.Title.Render(text.Fit(name, cols[0].Width))
	}
	switch {
	case f.retired:
		name, when = th.Dim.Render(text.Fit(name, cols[0].Width)), th.Dim.Render("retired")
	case f.s != nil:
		when = whenStyle(&v.editor, f.s).Render(words.When(f.s, v.desk.Today()))
	}
	return text.Row(gap, cols, name, f.reach, f.minutes, when, th.Dim.Render(text.Clean(f.note)))
}

// lateAt is how many chores are late at a place.
func (v *View) lateAt(place model.ID) string {
	late, today := 0, 0
	for i := range v.desk.Round.Standings {
		s := &v.desk.Round.Standings[i]
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
	b, r := v.desk.Book, v.desk.Round
	c, _ := b.Component(id)
	access := fmt.Sprint(c.AccessMinutes)
	if c.OpensWith != "" {
		access = "-" // the other's opening is its own
	}
	var notes []string
	if broken(r, c.ID) != nil {
		notes = append(notes, "broken")
	}
	if f := flagged(b, c.ID); f != nil {
		notes = append(notes, string(f.What.State))
	}
	if c.OpensWith != "" {
		with, _ := b.Component(c.OpensWith)
		notes = append(notes, "with "+with.Name)
	}
	return facts{name: c.Name, reach: grade(c), minutes: access, s: first(r, c.ID), retired: !c.Retired.IsZero(), note: strings.Join(notes, ", ")}
}

func latestAmount(b *model.Book, c model.Counter) string {
	all := b.Usages(c.ID)
	if len(all) == 0 {
		return ""
	}
	last := all[len(all)-1].What
	v := last.Amount
	if v == nil {
		v = last.Meter
	}
	return typed.Quantity(*v, c.Unit, b.Def().Units)
}

func latestReading(b *model.Book, g model.Gauge) string {
	all := b.Readings(g.ID)
	if len(all) == 0 {
		return ""
	}
	return typed.Quantity(all[len(all)-1].What.Value, g.Unit, b.Def().Units)
}

// Aside is how much there is.
func (v *View) Aside(room int) string {
	parts, chores := 0, len(v.desk.Round.Standings)
	for _, c := range v.desk.Book.Components() {
		if c.Retired.IsZero() {
			parts++
		}
	}
	s := words.Count(parts, "component") + ", " + words.Count(chores, "chore")
	if parts == 0 || text.Width(s) > room {
		return ""
	}
	return s
}
