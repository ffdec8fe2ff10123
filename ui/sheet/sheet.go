package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// How many weeks a sheet may cover, and does when nothing else is asked for.
const (
	MinWeeks     = 1
	DefaultWeeks = 4
	MaxWeeks     = 6
)

const daysAWeek = 7

// Sheet is what stands on the paper. Its texts are clean.
type Sheet struct {
	Book     string
	On       model.Date // the day it is made of
	Until    model.Date // the last day it covers
	Weeks    []model.Date
	Rates    []string // what the dates take to be used: "Water made 70 L a week"
	Broken   []string
	Orders   []string // what is to be ordered in these weeks
	Rows     []Row
	Readings []string // heads of the columns for readings, none in a book without their gauges
	Litres   string   // head of the lines for litres, "" in a book without a counter of water made
	Cautions []string
	Jobs     []Job
}

// Row is a chore and the boxes to tick it off in.
type Row struct {
	When    string // "past limit", "late, 14 Nov", "Mon 7 Dec": paper grows older than a screen
	Late    bool
	What    string
	ID      string
	Where   string
	Minutes string         // hands-on and, behind a +, waiting
	Letters string         // of what may be found, one of which is ringed
	Visits  [][]model.Date // the days it is due, week by week
}

// Job is the steps of a chore.
type Job struct {
	Title    string
	ID       string
	Takes    string
	Needs    string // what it takes off the shelf
	Cautions []string
	Steps    []Step
}

// Step is one line of a job.
type Step struct {
	Text string
	Wait int // minutes on a timer, 0 when there is none
}

// Make is the sheet of a round for a number of weeks from its date on.
func Make(b *ledger.Book, r *schedule.Round, weeks int) Sheet {
	s := Sheet{Book: text.Clean(r.Book), On: r.On, Until: r.On.AddDays(weeks*daysAWeek - 1), Rates: rates(b, r)}
	for i := range weeks {
		s.Weeks = append(s.Weeks, r.On.AddDays(i*daysAWeek))
	}
	for _, f := range r.Faults {
		s.Broken = append(s.Broken, text.Clean(join(f.Component.Name+" since "+phrase.Day(f.Since, r.On), f.Note)))
	}
	for i := range r.Breaches {
		s.Broken = append(s.Broken, text.Clean(phrase.BreachSaid(b, &r.Breaches[i], r.On)))
	}
	for _, f := range r.Shelf() {
		if phrase.ToOrder(&f, s.Until) {
			s.Orders = append(s.Orders, order(&f, r.On))
		}
	}
	s.Readings, s.Litres = columns(b)
	due := visits(r, s.Until)
	for _, st := range due {
		s.Rows = append(s.Rows, row(b, r.On, st, weeks))
	}
	s.Cautions = cautions(due, b.Def().Units)
	for _, st := range wet(due) {
		s.Jobs = append(s.Jobs, job(b, st))
	}
	return s
}

// order is a spare to be ordered, as it is asked for: "Carbon block, by 3 Dec, part C-10".
func order(f *schedule.SpareForecast, today model.Date) string {
	parts := []string{f.Spare.Name, phrase.OrderBy(f, today)}
	if f.Expired {
		parts = append(parts, phrase.GoodUntil(f.Spare, today))
	}
	if how := phrase.Bought(f.Spare); how != "" {
		parts = append(parts, how)
	}
	return text.Clean(strings.Join(parts, ", "))
}

// due is a chore of the sheet with the days it is due on.
type due struct {
	standing *schedule.Standing
	on       []model.Date
}

// visits are the chores due up to a date, by the first day and then in the order of
// the round. What is put off is due when that ends.
func visits(r *schedule.Round, until model.Date) []due {
	var out []due
	at := map[model.ID]int{}
	for _, v := range r.Visits() {
		on := v.On
		if d := v.Standing.Deferred; d != nil && v.Standing.State == schedule.StateDeferred {
			on = max(on, d.What.Until)
		}
		if on > until {
			continue
		}
		i, known := at[v.Standing.Chore.ID]
		if !known {
			i = len(out)
			at[v.Standing.Chore.ID] = i
			out = append(out, due{standing: v.Standing})
		}
		if n := len(out[i].on); n == 0 || out[i].on[n-1] < on {
			out[i].on = append(out[i].on, on)
		}
	}
	slices.SortStableFunc(out, func(a, b due) int {
		return cmp.Compare(a.on[0], b.on[0])
	})
	return out
}

func row(b *ledger.Book, on model.Date, d due, weeks int) Row {
	st := d.standing
	r := Row{
		When:    when(d, on),
		Late:    overdue(st),
		What:    text.Clean(phrase.Label(b, st)),
		ID:      string(st.Chore.ID),
		Where:   text.Clean(st.Place.Name),
		Minutes: minutes(st.Chore),
		Visits:  make([][]model.Date, weeks),
	}
	for i, w := range parse.WordsOf(b, st.Chore) {
		if i > 0 {
			r.Letters += " "
		}
		r.Letters += w.Letter
	}
	for _, day := range d.on {
		week := day.Sub(on) / daysAWeek
		r.Visits[week] = append(r.Visits[week], day)
	}
	return r
}

func overdue(s *schedule.Standing) bool {
	return s.State != schedule.StateDeferred && (s.State == schedule.StateLate || s.PastLimit)
}

func when(d due, on model.Date) string {
	switch {
	case overdue(d.standing) && d.standing.PastLimit:
		return "past limit"
	case overdue(d.standing):
		return "late, " + phrase.Day(d.standing.Due, on)
	}
	return phrase.Weekday(d.on[0], on)
}

func minutes(c model.Chore) string {
	if w := c.WaitingMinutes(); w > 0 {
		return fmt.Sprintf("%d+%d", c.Minutes, w)
	}
	return fmt.Sprint(c.Minutes)
}

// rates are what the dates of the round take to be used, each counter once.
func rates(b *ledger.Book, r *schedule.Round) []string {
	var out []string
	seen := map[model.ID]bool{}
	for i := range r.Standings {
		for _, c := range r.Standings[i].Clocks {
			id := c.Clock.Counter
			counter, ok := b.Counter(id)
			if c.Kind != model.ClockUsage || !ok || !c.HasRate || seen[id] {
				continue
			}
			seen[id] = true
			week := daysAWeek * c.Rate / (1 + c.Clock.FeedRatio) // of the counter, not of what a stage passed
			amount := parse.Quantity(roughly(week), counter.Unit, b.Def().Units)
			if counter.Unit == batchUnit {
				amount = parse.Number(roughly(week)) // the name says of what
			}
			out = append(out, text.Clean(counter.Name+" "+amount+" a week"))
		}
	}
	slices.Sort(out)
	return out
}

const batchUnit = "batch"

// roughly is a rate to the two digits it is known to.
func roughly(v float64) float64 {
	short, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 2, 64), 64)
	return short
}

// columns are the heads for what is written down at the station.
func columns(b *ledger.Book) (readings []string, litres string) {
	u := b.Def().Units
	for _, role := range []string{model.RoleTDSTap, model.RoleTDSMembrane, model.RoleTDSProduct} {
		if g, ok := b.GaugeByRole(role); ok {
			readings = append(readings, text.Clean(join(g.Name, parse.UnitName(parse.Unit(g.Unit, u)))))
		}
	}
	if c, ok := b.CounterByRole(model.RoleWaterMade); ok {
		litres = text.Clean(join(c.Name, parse.UnitName(parse.Unit(c.Unit, u))))
	}
	return readings, litres
}

func join(a, b string) string {
	if b == "" {
		return a
	}
	return a + ", " + b
}
