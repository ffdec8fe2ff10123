package gear

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/lifebar"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/table"

	"github.com/charmbracelet/lipgloss"
)

// when is the look of a chore's date.
func (v *View) when(s *schedule.Standing) lipgloss.Style {
	th := v.session.Root.Theme()
	return lifebar.Look(th, s, th.Text)
}

// sayState is how a component stands: how it is reached, its faults and flags.
func sayState(b *ledger.Book, r *schedule.Round, c model.Component, today model.Date) []string {
	reach := fmt.Sprintf("reach %s, %d min to get at it", phrase.Grade(c), c.AccessMinutes)
	if slices.Contains(c.Guess, "reach") {
		reach += " (a guess; g grades it)"
	}
	if c.OpensWith != "" {
		with, _ := b.Component(c.OpensWith)
		reach += ", opens with " + with.Name
	}
	out := []string{reach, phrase.Service(c, today)}
	if c.Stage != "" {
		out[1] += ", the " + string(c.Stage) + " stage"
	}
	if !c.Retired.IsZero() {
		out = append(out, sayRetired(c.Retired, today))
	}
	if f := broken(r, c.ID); f != nil {
		s := "broken since " + phrase.Day(f.Since, today)
		if f.Note != "" {
			s += ": " + f.Note
		}
		out = append(out, s)
	}
	for _, f := range slices.Backward(b.Flags(c.ID)) {
		out = append(out, request.SayFlag(f, today))
	}
	return out
}

// sayRetired is since when something is out of use.
func sayRetired(on, today model.Date) string {
	return "retired " + phrase.Day(on, today) + "; R brings it back"
}

// newest is the latest n of a list, the newest first.
func newest[E any](all []E, n int) []E {
	out := slices.Clone(all[max(len(all)-n, 0):])
	slices.Reverse(out)
	return out
}

// sayTick is one tick in a line.
func sayTick(c model.Chore, t ledger.TickRecord, today model.Date) string {
	s := phrase.Day(t.On, today) + ": " + c.Name
	if t.About {
		s = "about " + s
	}
	if t.Found != "" {
		s += ", found " + parse.FoundText(c.Work, t.Found)
	}
	if t.Minutes != nil {
		s += fmt.Sprintf(", %d min", *t.Minutes)
	}
	if t.Note != "" {
		s += " (" + t.Note + ")"
	}
	return s
}

// ticksShown is how many of the latest ticks are named.
const ticksShown = 5

// done adds ticks as a table.
func (v *View) done(d *table.Detail, all []tick) {
	var rows []table.Line
	for _, t := range all {
		about, took := "", ""
		if t.About {
			about = "about "
		}
		if t.Minutes != nil {
			took = fmt.Sprintf("%d min", *t.Minutes)
		}
		rows = append(rows, table.Line{Look: v.session.Root.Theme().Dim.Render, Cells: []string{about + phrase.Day(t.On, v.session.Today()),
			t.chore.Name, parse.FoundText(t.chore.Work, t.Found), took, t.Note}})
	}
	d.Table([]table.Col{{Head: "done", Right: true}, {}, {Head: "found"}, {Head: "took", Right: true, Spare: true}, {Head: "note"}}, rows...)
}

// dates adds chores with their dates as a table.
func (v *View) dates(d *table.Detail, all []*schedule.Standing, name func(*schedule.Standing) string) {
	var rows []table.Line
	for _, s := range all {
		due, limit := "no date", ""
		if s.HasDue {
			due = phrase.Day(s.Due, v.session.Today())
		}
		if !s.Limit.IsZero() {
			limit = phrase.Day(s.Limit, v.session.Today())
		}
		rows = append(rows, table.Line{Cells: []string{name(s), due, limit}, Look: v.when(s).Render})
	}
	d.Table([]table.Col{{}, {Head: "due", Right: true}, {Head: "limit", Right: true, Spare: true}}, rows...)
}

// detail is what there is to say about a node, in lines of w cells.
func (v *View) detail(n *node, w, h int) []string {
	d := table.NewDetail(v.session.Root.Theme(), w)
	switch n.kind {
	case model.KindBook:
		v.bookDetail(d)
	case model.KindPlace:
		v.placeDetail(n.id, d)
	case model.KindComponent:
		v.componentDetail(n.id, d)
	case model.KindChore:
		v.choreDetail(n.id, d)
	case model.KindVessel:
		v.vesselDetail(n.id, d)
	case model.KindCounter:
		v.counterDetail(n.id, d)
	case model.KindGauge:
		v.gaugeDetail(n.id, d)
	default:
		d.Title(measuresHead, "")
		d.Put(nil, "what holds water, what is counted, and what is read; the clocks of chores go by them")
	}
	return d.Whole(h)
}

func (v *View) placeDetail(id model.ID, d *table.Detail) {
	b, r := v.session.Book, v.session.Round
	p, _ := b.Place(id)
	parts := 0
	for _, c := range b.Components() {
		if c.Place == p.ID && c.Retired.IsZero() {
			parts++
		}
	}
	d.Title(p.Name, fmt.Sprintf("%d min to get set up, %s", p.Minutes, phrase.Count(parts, "component")))
	var all []*schedule.Standing
	for i := range r.Standings {
		if s := &r.Standings[i]; s.Place.ID == p.ID {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b *schedule.Standing) int {
		if a.HasDue != b.HasDue { // what has no date stands last
			return map[bool]int{true: -1, false: 1}[a.HasDue]
		}
		return cmp.Compare(a.Due, b.Due)
	})
	v.dates(d, all, func(s *schedule.Standing) string { return s.Component.Name + ": " + s.Chore.Name })
}

func (v *View) componentDetail(id model.ID, d *table.Detail) {
	b, r, today := v.session.Book, v.session.Round, v.session.Today()
	c, _ := b.Component(id)
	place, _ := b.Place(c.Place)
	d.Title(c.Name, place.Name)
	var all []*schedule.Standing
	for _, ch := range choresOf(b, r, c.ID) {
		if s := r.Of(ch.ID); s != nil {
			all = append(all, s)
		}
	}
	v.dates(d, all, func(s *schedule.Standing) string { return s.Chore.Name })
	for _, l := range sayState(b, r, c, today) {
		d.Put(nil, l)
	}
	head := "needs"
	for _, s := range spareLines(b, c.ID, today) {
		d.Say(head, s, nil)
		head = ""
	}
	v.done(d, historyOf(b, c, ticksShown))
}

func (v *View) choreDetail(id model.ID, d *table.Detail) {
	th, b, today := v.session.Root.Theme(), v.session.Book, v.session.Today()
	c, _ := b.Chore(id)
	s, dates := v.session.Round.Of(c.ID), ""
	if s != nil {
		dates = phrase.Due(s, today)
	}
	d.Title(parse.ChoreLabel(b, c), dates)
	switch {
	case !c.Retired.IsZero():
		d.Put(nil, sayRetired(c.Retired, today))
	case s == nil:
		d.Put(nil, "takes no part in the round: not in use yet, or its component is retired")
	default:
		d.Put(th.Soon.Render, phrase.Failed(b, s, today))
		d.Put(th.Title.Render, phrase.Reason(b, s, today))
		d.Clocks(phrase.ClockRows(b, s, today))
		needs, _ := phrase.Needs(b, s)
		d.Say("needs", strings.TrimPrefix(needs, "needs "), nil)
	}
	d.Say("work", sayBasics(c), nil)
	if n := len(c.Steps); n > 0 {
		t := phrase.Count(n, "step")
		if wait := c.WaitingMinutes(); wait > 0 {
			t += ", waiting " + parse.Duration(float64(wait))
		}
		if n := len(c.Cautions); n > 0 {
			t += ", " + phrase.Count(n, "caution")
		}
		d.Say("steps", t, nil)
	}
	var all []tick
	for _, t := range newest(b.Done(c.ID), ticksShown) {
		all = append(all, tick{t, model.Chore{Work: c.Work}}) // whose name is the heading
	}
	v.done(d, all)
}

func (v *View) counterDetail(id model.ID, d *table.Detail) {
	b := v.session.Book
	c, _ := b.Counter(id)
	unit := phrase.Several(b, c.Unit)
	said := "counted in " + unit
	if c.Style == model.StyleMeter {
		said = "a running meter in " + unit
	}
	d.Title(c.Name, said)
	if c.DeclaredRate > 0 {
		d.Put(nil, "said to be "+phrase.Amount(b, c.DeclaredRate, c.Unit)+" a day until the log knows better")
	}
	v.measureDetail(c.Retired, func(k model.Clock) bool { return k.Counter == c.ID }, d)
	latest(d, v.session.Today(), b.Amounts(c.ID), func(a ledger.Amount) (model.Date, string) {
		return a.On, phrase.Amount(b, a.Qty, c.Unit)
	})
}

func (v *View) gaugeDetail(id model.ID, d *table.Detail) {
	b := v.session.Book
	g, _ := b.Gauge(id)
	said := "read in " + parse.UnitName(parse.Unit(g.Unit, b.Def().Units))
	if c, ok := b.Component(g.Component); ok {
		said += ", on " + c.Name
	}
	d.Title(g.Name, said)
	v.measureDetail(g.Retired, func(k model.Clock) bool { return k.Gauge == g.ID || k.Inlet == g.ID || k.Outlet == g.ID }, d)
	latest(d, v.session.Today(), b.Readings(g.ID), func(r ledger.Logged[model.Reading]) (model.Date, string) {
		return r.On, parse.Quantity(r.What.Value, g.Unit, b.Def().Units)
	})
}

// measuresShown is how many of the latest amounts or readings are named.
const measuresShown = 8

// latest adds the latest of a list, each by its date and its figure, as a table.
func latest[E any](d *table.Detail, today model.Date, all []E, of func(E) (model.Date, string)) {
	var rows []table.Line
	for _, e := range newest(all, measuresShown) {
		on, figure := of(e)
		rows = append(rows, table.Line{Cells: []string{phrase.Day(on, today), figure}})
	}
	d.Table([]table.Col{{Right: true}, {Right: true}}, rows...)
}

// measureDetail is what is said alike of a counter and a gauge: that it is retired, and
// which chores have a clock that goes by it.
func (v *View) measureDetail(retired model.Date, by func(model.Clock) bool, d *table.Detail) {
	if !retired.IsZero() {
		d.Put(nil, sayRetired(retired, v.session.Today()))
	}
	head := "clock of"
	for _, c := range v.session.Book.Chores() {
		if slices.ContainsFunc(c.Clocks, by) {
			d.Say(head, parse.ChoreLabel(v.session.Book, c), nil)
			head = ""
		}
	}
}
