package gear

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/lifebar"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/text"

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
	out := []string{reach, "in service since " + phrase.Day(c.InService, today)}
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

// detail is what there is to say about a node, in lines of w cells.
func (v *View) detail(n *node, w, _ int) []string {
	th, b, today := v.session.Root.Theme(), v.session.Book, v.session.Today()
	var out []string
	add := func(style lipgloss.Style, s string) { out = append(out, text.Para(w, "", "", style.Render, s)...) }
	switch n.kind {
	case model.KindPlace:
		p, _ := b.Place(n.id)
		add(th.Title, p.Name)
		v.placeDetail(p, add)
	case model.KindComponent:
		c, _ := b.Component(n.id)
		place, _ := b.Place(c.Place)
		add(th.Title, c.Name+" · "+place.Name)
		for _, s := range sayState(b, v.session.Round, c, today) {
			add(th.Text, s)
		}
		for _, ch := range choresOf(b, v.session.Round, c.ID) {
			if s := v.session.Round.Of(ch.ID); s != nil {
				add(v.when(s), ch.Name+": "+phrase.Due(s, today))
			}
		}
		for _, s := range spareLines(b, c.ID, today) {
			add(th.Text, s)
		}
		for _, s := range historyOf(b, c, today, 5) {
			add(th.Dim, s)
		}
	case model.KindChore:
		c, _ := b.Chore(n.id)
		v.choreDetail(c, add)
	case model.KindCounter:
		c, _ := b.Counter(n.id)
		v.counterDetail(c, add)
	case model.KindGauge:
		g, _ := b.Gauge(n.id)
		v.gaugeDetail(g, add)
	default:
		add(th.Title, "Counters and gauges")
		add(th.Text, "what is counted, and what is read; the clocks of chores go by them")
	}
	return out
}

func (v *View) placeDetail(p model.Place, add func(lipgloss.Style, string)) {
	th, b, r := v.session.Root.Theme(), v.session.Book, v.session.Round
	parts := 0
	for _, c := range b.Components() {
		if c.Place == p.ID && c.Retired.IsZero() {
			parts++
		}
	}
	add(th.Text, fmt.Sprintf("%d min to get set up; %s", p.Minutes, phrase.Count(parts, "component")))
	for i := range r.Standings {
		if s := &r.Standings[i]; s.Place.ID == p.ID {
			add(v.when(s), s.Component.Name+", "+s.Chore.Name+": "+phrase.Due(s, r.On))
		}
	}
}

func (v *View) choreDetail(c model.Chore, add func(lipgloss.Style, string)) {
	th, b, today := v.session.Root.Theme(), v.session.Book, v.session.Today()
	add(th.Title, parse.ChoreLabel(b, c))
	s := v.session.Round.Of(c.ID)
	switch {
	case !c.Retired.IsZero():
		add(th.Dim, sayRetired(c.Retired, today))
	case s == nil:
		add(th.Dim, "takes no part in the round: not in service yet, or its component is retired")
	default:
		add(v.when(s), phrase.Due(s, today)+"; "+phrase.Last(s, today))
	}
	if s != nil {
		for _, l := range phrase.Clocks(b, s, today) {
			t := l.Head + ": " + l.Text
			if l.Guess != "" {
				t += "; " + l.Guess
			}
			if l.Dates != "" {
				t += "; " + l.Dates
			}
			add(th.Text, t)
		}
		if needs, _ := phrase.Needs(b, s); needs != "" {
			add(th.Text, needs)
		}
	}
	add(th.Text, sayBasics(c))
	if n := len(c.Steps); n > 0 {
		t := phrase.Count(n, "step")
		if wait := c.WaitingMinutes(); wait > 0 {
			t += ", waiting " + parse.Duration(float64(wait))
		}
		if n := len(c.Cautions); n > 0 {
			t += ", " + phrase.Count(n, "caution")
		}
		add(th.Text, t)
	}
	for _, t := range newest(b.Ticks(c.ID), 5) {
		add(th.Dim, sayTick(c, t, today))
	}
}

func (v *View) counterDetail(c model.Counter, add func(lipgloss.Style, string)) {
	th, b, today := v.session.Root.Theme(), v.session.Book, v.session.Today()
	unit := parse.UnitName(parse.Unit(c.Unit, b.Def().Units))
	add(th.Title, c.Name)
	if c.Style == model.StyleMeter {
		add(th.Text, "a running meter in "+unit)
	} else {
		add(th.Text, "counted in "+unit)
	}
	if c.DeclaredRate > 0 {
		add(th.Text, "said to be "+phrase.Amount(b, c.DeclaredRate, c.Unit)+" a day until the log knows better")
	}
	v.measureDetail(c.Retired, func(k model.Clock) bool { return k.Counter == c.ID }, add)
	for _, a := range newest(b.Amounts(c.ID), measuresShown) {
		add(th.Dim, phrase.Day(a.On, today)+": "+phrase.Amount(b, a.Qty, c.Unit))
	}
}

func (v *View) gaugeDetail(g model.Gauge, add func(lipgloss.Style, string)) {
	th, b, today := v.session.Root.Theme(), v.session.Book, v.session.Today()
	add(th.Title, g.Name)
	s := "read in " + parse.UnitName(parse.Unit(g.Unit, b.Def().Units))
	if c, ok := b.Component(g.Component); ok {
		s += ", on " + c.Name
	}
	add(th.Text, s)
	v.measureDetail(g.Retired, func(k model.Clock) bool { return k.Gauge == g.ID || k.Inlet == g.ID || k.Outlet == g.ID }, add)
	for _, r := range newest(b.Readings(g.ID), measuresShown) {
		add(th.Dim, phrase.Day(r.On, today)+": "+parse.Quantity(r.What.Value, g.Unit, b.Def().Units))
	}
}

// measuresShown is how many of the latest amounts or readings are named.
const measuresShown = 3

// measureDetail is what is said alike of a counter and a gauge: that it is retired, and
// which chores have a clock that goes by it.
func (v *View) measureDetail(retired model.Date, by func(model.Clock) bool, add func(lipgloss.Style, string)) {
	th, b := v.session.Root.Theme(), v.session.Book
	if !retired.IsZero() {
		add(th.Dim, sayRetired(retired, v.session.Today()))
	}
	for _, c := range b.Chores() {
		if slices.ContainsFunc(c.Clocks, by) {
			add(th.Text, "clock of "+parse.ChoreLabel(b, c))
		}
	}
}
