package sheet

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// MaxSitterDays is how many days a page for a sitter covers at the most.
const MaxSitterDays = 60

// Sitter is the page for somebody who looks after the tank while its keeper is away, and who has never kept one. Its
// texts are clean.
type Sitter struct {
	Book     string
	From     model.Date // the first day on it
	Back     model.Date // the first day the keeper is back
	Who      string     // who is away, "" when that was not said
	Contact  string     // whom to call, "" when the book doesn't say
	Broken   []string   // what is known to be out of order
	Readings []string   // what the thermometers should show
	Days     []Day
	Tasks    []Task // in the order in which they are numbered
	Alone    []string
	Words    []string // what parts with odd names are
	Water    []string // the vessels from which something is taken, wanted or asked in these days
	unit     string   // where the water unit stands, "" in a book without one
	keepers  bool     // some of that water is for the keeper to see to
	rcd      string   // what the switch that cuts the power is called where the keeper lives
}

// Day is a day of the absence with what is to be done on it.
type Day struct {
	On    model.Date
	Tasks []int    // indices of Tasks
	Water []string // what somebody needs of it
}

// Task is a chore as a sitter does it.
type Task struct {
	Title    string
	Where    string
	Takes    string
	Needs    []string // amounts of what it uses
	Cautions []string
	Steps    []Step
	Figures  []string // what is read and written down: "Tank temperature, °C"
}

// ForSitter is the page of an absence by a round; too long an absence is an error.
func ForSitter(b *ledger.Book, r *schedule.Round, a schedule.Absence) (Sitter, error) {
	if days := a.Until.Sub(max(a.From, r.On)); days > MaxSitterDays {
		return Sitter{}, fmt.Errorf("%d days are more than one page for a sitter takes; give a date within %d days, and make another page from there", days, MaxSitterDays)
	}
	s := Sitter{
		Book: text.Clean(r.Book), From: max(a.From, r.On), Back: a.Until, Who: text.Clean(a.By), Contact: text.Clean(b.Def().Contact),
		Broken: broken(r), Readings: shouldShow(b, r.On), unit: unitPlace(b, r.On),
		rcd: parse.Wording("{RCD|GFCI}", b.Def().Units),
	}
	for on := s.From; on < s.Back; on++ {
		s.Days = append(s.Days, Day{On: on})
	}
	known := jobs{}
	for _, v := range r.ForSitter(a) {
		id := v.Standing.Chore.ID
		if _, ok := known[id]; !ok {
			known[id] = len(s.Tasks)
			s.Tasks = append(s.Tasks, task(b, v.Standing))
		}
		day := &s.Days[v.On.Sub(s.From)]
		day.Tasks = append(day.Tasks, known[id])
	}
	for i := range s.Days {
		slices.Sort(s.Days[i].Tasks)
	}
	s.Alone, s.Words, s.Water = alone(b, r, known), said(b, r.On, known), s.waters(b, r, known)
	return s, nil
}

// broken is what is known to be out of order, so that nobody is alarmed by it.
func broken(r *schedule.Round) []string {
	var out []string
	for i := range r.Faults {
		out = append(out, text.Clean(phrase.FaultSaid(&r.Faults[i], r.On)))
	}
	return out
}

// shouldShow is what the thermometers of the tank should show: the safe range of each gauge in degrees.
func shouldShow(b *ledger.Book, on model.Date) []string {
	var out []string
	for _, g := range b.Gauges() {
		if g.Unit == degrees && g.Safe != nil && !retired(g.Retired, on) {
			out = append(out, text.Clean(g.Name+": "+phrase.Safe(b, g)))
		}
	}
	return out
}

const degrees = "C"

func retired(since, on model.Date) bool { return !since.IsZero() && since <= on }

// unitPlace is where the water unit stands.
func unitPlace(b *ledger.Book, on model.Date) string {
	for _, c := range b.Components() {
		if c.Stage != "" && !retired(c.Retired, on) {
			place, _ := b.Place(c.Place)
			return text.Clean(place.Name)
		}
	}
	return ""
}

func task(b *ledger.Book, st *schedule.Standing) Task {
	c := st.Chore
	t := Task{
		Title: text.Clean(parse.ChoreLabel(b, c)),
		Where: text.Clean(st.Place.Name),
		Takes: phrase.Minutes(c),
	}
	for _, use := range st.Spares {
		t.Needs = append(t.Needs, text.Clean(phrase.Exact(b, use.Quantity, use.Spare.Unit)+" of: "+use.Spare.Name))
	}
	for _, take := range c.Takes {
		if v, ok := b.Vessel(take.Vessel); ok {
			t.Needs = append(t.Needs, text.Clean(phrase.Amount(b, take.Litres, "L")+" of water from: "+v.Name))
		}
	}
	for _, caution := range c.Cautions {
		t.Cautions = append(t.Cautions, text.Clean(parse.Wording(caution, b.Def().Units)))
	}
	for _, s := range c.Steps {
		t.Steps = append(t.Steps, Step{text.Clean(parse.Wording(s.Text, b.Def().Units)), s.TimerMinutes})
	}
	for _, id := range c.DoneBy {
		if g, ok := b.Gauge(id); ok {
			t.Figures = append(t.Figures, text.Clean(join(g.Name, parse.UnitName(parse.Unit(g.Unit, b.Def().Units)))))
		}
	}
	return t
}

// alone is what is not to be touched: by place, every component of the round on which no chore is for the sitter.
func alone(b *ledger.Book, r *schedule.Round, tasks jobs) []string {
	var out []string
	theirs := map[model.ID]bool{}
	for id := range tasks {
		c, _ := b.Chore(id)
		theirs[c.Component] = true
	}
	for _, place := range b.Places() {
		var names []string
		for _, c := range b.Components() {
			if c.Place == place.ID && !theirs[c.ID] && !retired(c.Retired, r.On) {
				names = append(names, c.Name)
			}
		}
		if len(names) > 0 {
			out = append(out, text.Clean(place.Name+": "+strings.Join(names, ", ")))
		}
	}
	return out
}

// title is what the page is called.
func (s Sitter) title() string { return s.Book + ": looking after it" }

// span is the days of the page, and when the keeper is back.
func (s Sitter) span() string {
	who := "The keeper"
	if s.Who != "" {
		who = s.Who
	}
	last := s.Back.AddDays(-1)
	days := phrase.Today(s.From)
	if last > s.From {
		days = phrase.Weekday(s.From, s.From) + " to " + phrase.Today(last)
	}
	return fmt.Sprintf("%s. %s is back on %s.", days, who, phrase.Weekday(s.Back, s.From))
}

// number names a task: "1 Thermometers: compare".
func (s Sitter) number(i int) string { return fmt.Sprintf("%d %s", i+1, s.Tasks[i].Title) }
