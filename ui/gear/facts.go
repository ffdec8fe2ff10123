package gear

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/tide"
	"brine/wrasse/ui/typed"
	"brine/wrasse/ui/words"

	"github.com/charmbracelet/lipgloss"
)

// when is the look of a chore's date.
func (v *View) when(s *schedule.Standing) lipgloss.Style {
	th := v.desk.Root.Theme()
	return tide.Look(th, s, th.Text)
}

// sayState is how a component stands: how it is reached, its faults and flags.
func sayState(b *model.Book, r *schedule.Round, c model.Component, today model.Date) []string {
	reach := fmt.Sprintf("reach %s, %d min to get at it", words.Grade(c), c.AccessMinutes)
	if slices.Contains(c.Guess, "reach") {
		reach += " (a guess; g grades it)"
	}
	if c.OpensWith != "" {
		with, _ := b.Component(c.OpensWith)
		reach += ", opens with " + with.Name
	}
	out := []string{reach, "in service since " + words.Day(c.InService, today)}
	if c.Stage != "" {
		out[1] += ", the " + string(c.Stage) + " stage"
	}
	if !c.Retired.IsZero() {
		out = append(out, "retired "+words.Day(c.Retired, today)+"; R brings it back")
	}
	if f := broken(r, c.ID); f != nil {
		s := "broken since " + words.Day(f.Since, today)
		if f.Note != "" {
			s += ": " + f.Note
		}
		out = append(out, s)
	}
	flags := b.Flags(c.ID)
	for i := len(flags) - 1; i >= 0; i-- {
		out = append(out, act.SayFlag(flags[i], today))
	}
	return out
}

// sayTick is one tick in a line.
func sayTick(c model.Chore, t model.TickRecord, today model.Date) string {
	s := words.Day(t.On, today) + ": " + c.Name
	if t.About {
		s = "about " + s
	}
	if t.Found != "" {
		s += ", found " + typed.FoundText(c.Work, t.Found)
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
	th, b, today := v.desk.Root.Theme(), v.desk.Book, v.desk.Today()
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
		for _, s := range sayState(b, v.desk.Round, c, today) {
			add(th.Text, s)
		}
		for _, ch := range choresOf(b, v.desk.Round, c.ID) {
			if s := v.desk.Round.Of(ch.ID); s != nil {
				add(v.when(s), ch.Name+": "+words.Due(s, today))
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
	th, b, r := v.desk.Root.Theme(), v.desk.Book, v.desk.Round
	parts := 0
	for _, c := range b.Components() {
		if c.Place == p.ID && c.Retired.IsZero() {
			parts++
		}
	}
	add(th.Text, fmt.Sprintf("%d min to get set up; %s", p.Minutes, words.Count(parts, "component")))
	for i := range r.Standings {
		if s := &r.Standings[i]; s.Place.ID == p.ID {
			add(v.when(s), s.Component.Name+", "+s.Chore.Name+": "+words.Due(s, r.On))
		}
	}
}

func (v *View) choreDetail(c model.Chore, add func(lipgloss.Style, string)) {
	th, b, today := v.desk.Root.Theme(), v.desk.Book, v.desk.Today()
	add(th.Title, typed.ChoreLabel(b, c))
	s := v.desk.Round.Of(c.ID)
	switch {
	case !c.Retired.IsZero():
		add(th.Dim, "retired "+words.Day(c.Retired, today)+"; R brings it back")
	case s == nil:
		add(th.Dim, "takes no part in the round: not in service yet, or its component is retired")
	default:
		add(v.when(s), words.Due(s, today)+"; "+words.Last(s, today))
	}
	if s != nil {
		for _, l := range words.Clocks(b, s, today) {
			t := l.Head + ": " + l.Text
			if l.Dates != "" {
				t += "; " + l.Dates
			}
			add(th.Text, t)
		}
		if needs, _ := words.Needs(b, s); needs != "" {
			add(th.Text, needs)
		}
	}
	add(th.Text, sayBasics(c))
	if n := len(c.Steps); n > 0 {
		t := words.Count(n, "step")
		if wait := c.WaitingMinutes(); wait > 0 {
			t += ", waiting " + typed.Duration(float64(wait))
		}
		if n := len(c.Cautions); n > 0 {
			t += ", " + words.Count(n, "caution")
		}
		add(th.Text, t)
	}
	ticks := b.Ticks(c.ID)
	for i := len(ticks) - 1; i >= max(len(ticks)-5, 0); i-- {
		add(th.Dim, sayTick(c, ticks[i], today))
	}
}

func (v *View) counterDetail(c model.Counter, add func(lipgloss.Style, string)) {
	th, b, today := v.desk.Root.Theme(), v.desk.Book, v.desk.Today()
	add(th.Title, c.Name)
	s := "counted in " + typed.UnitName(typed.Unit(c.Unit, b.Def().Units))
	if c.Style == model.StyleMeter {
		s = "a running meter in " + typed.UnitName(typed.Unit(c.Unit, b.Def().Units))
	}
	add(th.Text, s)
	if c.DeclaredRate > 0 {
		add(th.Text, "said to be "+words.Amount(b, c.DeclaredRate, c.Unit)+" a day until the log knows better")
	}
	if !c.Retired.IsZero() {
		add(th.Dim, "retired "+words.Day(c.Retired, today)+"; R brings it back")
	}
	for _, ch := range b.Chores() {
		if slices.ContainsFunc(ch.Clocks, func(k model.Clock) bool { return k.Counter == c.ID }) {
			add(th.Text, "clock of "+typed.ChoreLabel(b, ch))
		}
	}
	all := b.Amounts(c.ID)
	for i := len(all) - 1; i >= max(len(all)-3, 0); i-- {
		add(th.Dim, words.Day(all[i].On, today)+": "+words.Amount(b, all[i].Qty, c.Unit))
	}
}

func (v *View) gaugeDetail(g model.Gauge, add func(lipgloss.Style, string)) {
	th, b, today := v.desk.Root.Theme(), v.desk.Book, v.desk.Today()
	add(th.Title, g.Name)
	s := "read in " + typed.UnitName(typed.Unit(g.Unit, b.Def().Units))
	if c, ok := b.Component(g.Component); ok {
		s += ", on " + c.Name
	}
	add(th.Text, s)
	if !g.Retired.IsZero() {
		add(th.Dim, "retired "+words.Day(g.Retired, today)+"; R brings it back")
	}
	for _, ch := range b.Chores() {
		if slices.ContainsFunc(ch.Clocks, func(k model.Clock) bool { return k.Gauge == g.ID || k.Inlet == g.ID || k.Outlet == g.ID }) {
			add(th.Text, "clock of "+typed.ChoreLabel(b, ch))
		}
	}
	all := b.Readings(g.ID)
	for i := len(all) - 1; i >= max(len(all)-3, 0); i-- {
		add(th.Dim, words.Day(all[i].On, today)+": "+typed.Quantity(all[i].What.Value, g.Unit, b.Def().Units))
	}
}
