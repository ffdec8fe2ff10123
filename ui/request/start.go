package request

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// Start begins a book: its name and units, what the starter sets define, and what
// the keeper answered about them.
type Start struct {
	Stamp
	Book        model.BookDef
	Definitions []model.Entry // of the chosen starter sets, combined
	Last        map[model.ID]LastDone
	LitresAWeek float64 // of water made; 0 when that was skipped
	WasteRatio  float64 // waste volume over product volume of the RO/DI unit; 0 when skipped
	Chloramine  bool    // in the tap, or nobody knows
	// Tap is what is known of the tap, by the role of the gauge that reads it: a reading of the first day.
	Tap map[string]float64
}

// LastDone is the answer to "when last done?" of a chore. No date is "don't know".
type LastDone struct {
	On    model.Date
	About bool // a rough answer
	Never bool // not since its part is in use
}

// InUse is a starter set whose parts are in use since a date; without one they are since the book begins.
func InUse(set []model.Entry, since parse.When) []model.Entry {
	out := slices.Clone(set)
	for i, e := range out {
		if c, ok := e.Body.(model.Component); ok {
			c.Guess = slices.Clone(c.Guess)
			c.Serve(since.On, since.About)
			out[i].Body = c
		}
	}
	return out
}

const daysAWeek = 7

// Entries is the definitions as answered, and a tick for each chore whose last time is known or
// guessed. A chore that nobody dated begins where its part is in use since or, where that is longer
// ago than half its life or not known, half its life ago: assumed, and no work done. Tests and
// readings of consequence 3 that nobody dated come out due on the first day, so that what
// endangers animals or people is looked at first; no first morning is a wall of red.
func (r Start) Entries(b *ledger.Book) ([]model.Entry, error) {
	if !b.Empty() {
		return nil, fmt.Errorf("this book is already begun and holds %d entries; give another file", b.Last())
	}
	out := r.entries(r.Book)
	var read []model.Entry
	var chores []model.Chore
	since := map[model.ID]model.Date{}
	carbon := map[model.ID]bool{}
	for _, e := range r.Definitions {
		switch w := e.Body.(type) {
		case model.Counter:
			if w.Role == model.RoleWaterMade && r.LitresAWeek > 0 {
				w.DeclaredRate, w.Guess = r.LitresAWeek/daysAWeek, append(slices.Clip(w.Guess), "declared_rate")
			}
			e.Body = w
		case model.Component:
			since[w.ID], carbon[w.ID] = w.InService, w.Stage == model.StageCarbon
		case model.Spare:
			if w.Role == model.RoleSalt && r.Book.Units.Volume == string(water.USGallon) {
				w.Unit = string(water.Pound) // a scale beside gallons is read in pounds
			}
			e.Body = w
		case model.Chore:
			w.Clocks = r.fed(w.Clocks)
			if r.Chloramine {
				w = chloraminated(w, carbon[w.Component])
			}
			chores = append(chores, w)
			e.Body = w
		}
		out = append(out, r.entry(e.Body))
		if g, ok := e.Body.(model.Gauge); ok {
			if v, known := r.Tap[g.Role]; known {
				read = append(read, r.entry(model.Reading{Gauge: g.ID, Value: v}))
			}
		}
	}
	out = append(out, read...)
	ticks, err := r.ticks(b, out, chores, since)
	if err != nil {
		return nil, err
	}
	return append(out, ticks...), nil
}

// chloraminated is a chore where the tap holds chloramine, which carbon takes up slowly: a block is good for half the litres,
// and what comes through it is measured twice as often. Common practice, no source.
func chloraminated(c model.Chore, carbon bool) model.Chore {
	c.Clocks = slices.Clone(c.Clocks)
	for i := range c.Clocks {
		k := &c.Clocks[i]
		switch {
		case carbon && c.Work == model.WorkRenew && k.Kind == model.ClockUsage:
			k.Amount /= 2
		case slices.Contains(c.DoneBy, "chlorine-carbon") && k.Kind == model.ClockCalendar:
			k.Every = model.Span{N: 2, Unit: model.SpanWeeks}
		}
	}
	return c
}

// fed is clocks with the waste ratio the keeper gave, on those stages that pass the
// waste stream too.
func (r Start) fed(clocks []model.Clock) []model.Clock {
	out := slices.Clone(clocks)
	for i := range out {
		if out[i].FeedRatio > 0 && r.WasteRatio > 0 {
			out[i].FeedRatio = r.WasteRatio
		}
	}
	return out
}

func (r Start) ticks(b *ledger.Book, definitions []model.Entry, chores []model.Chore, since map[model.ID]model.Date) ([]model.Entry, error) {
	book, err := extended(b, definitions)
	if err != nil {
		return nil, err
	}
	unticked := schedule.Make(book, r.On)
	var out, urgent []model.Entry
	for _, c := range chores {
		last, inUse := r.Last[c.ID], since[c.Component]
		switch {
		case last.On > r.On:
			return nil, &model.FieldError{Field: string(c.ID), Value: last.On.String(), Want: "a date not after " + r.On.String()}
		case !last.On.IsZero():
			out = append(out, Stamp{last.On, r.By}.entry(model.Tick{Chore: c.ID, About: last.About}))
		case last.Never, inUse > r.On: // it begins when its part does
		case c.Consequence == 3 && (c.Work == model.WorkTest || c.Work == model.WorkRead):
			if life := calendarDays(c, r.On); life > 0 {
				urgent = append(urgent, r.assumed(c.ID, r.On.AddDays(-life)))
			}
		default:
			if half := r.On.AddDays(-lifeDays(unticked.Of(c.ID), r.On) / 2); half < r.On && half >= inUse {
				out = append(out, r.assumed(c.ID, half))
			}
		}
	}
	urgent, err = r.dueToday(b, slices.Concat(definitions, out), urgent)
	return append(out, urgent...), err
}

func (r Start) assumed(chore model.ID, on model.Date) model.Entry {
	return Stamp{on, r.By}.entry(model.Tick{Chore: chore, About: true, Assumed: true})
}

// settling is how often ticks are moved at most until their chores come out due: the
// reach lead depends on the length of the cycle, and months on where they lie.
const settling = 8

// dueToday moves ticks so that the chores they tick come out due on the day the
// book is begun or, where no date gives the day itself (a month before 31 March),
// on the nearest after it.
func (r Start) dueToday(b *ledger.Book, rest, ticks []model.Entry) ([]model.Entry, error) {
	tooEarly := make([]model.Date, len(ticks)) // the latest date that made it late
	for range settling {
		book, err := extended(b, slices.Concat(rest, ticks))
		if err != nil {
			return nil, err
		}
		round := schedule.Make(book, r.On)
		moved := false
		for i := range ticks {
			t := &ticks[i]
			s := round.Of(t.Body.(model.Tick).Chore)
			if s == nil || !s.HasDue {
				continue
			}
			if s.Due < r.On {
				tooEarly[i] = max(tooEarly[i], t.On)
			}
			if on := max(t.On.AddDays(r.On.Sub(s.Due)), tooEarly[i].AddDays(1)); on != t.On {
				t.On, moved = on, true
			}
		}
		if !moved {
			break
		}
	}
	return ticks, nil
}

// calendarDays is the shortest calendar life of a chore as of a date, in days; 0
// when no clock of it goes by the calendar.
func calendarDays(c model.Chore, on model.Date) int {
	days := 0
	for _, clock := range c.Clocks {
		if clock.Kind != model.ClockCalendar {
			continue
		}
		if d := clock.Every.Days(on); days == 0 || d < days {
			days = d
		}
	}
	return days
}

// lifeDays is the shortest life of a chore as of a date, in days: by the calendar, or by what the keeper said is used; 0
// when it has none.
func lifeDays(s *schedule.Standing, on model.Date) int {
	if s == nil {
		return 0
	}
	days := calendarDays(s.Chore, on)
	for _, c := range s.Clocks {
		if (c.Kind == model.ClockUsage || c.Kind == model.ClockLoad) && c.Rate > 0 {
			if d := int(c.Life / c.Rate); days == 0 || d < days {
				days = d
			}
		}
	}
	return days
}
