package ledger

import (
	"math"
	"slices"
	"testing"

	"brine/wrasse/model"
)

// inOrder gives entries their seqs. Each is an act of its own.
func inOrder(entries []model.Entry) []model.Entry {
	for i := range entries {
		entries[i].Seq = model.Seq(i + 1)
	}
	return entries
}

// bookOf is the book of entries in their order.
func bookOf(entries ...model.Entry) *Book { return must(Fold(inOrder(entries))) }

// part is a component in service since a day of January 2025.
func part(day int) model.Entry {
	return model.NewEntry(0, model.Component{ID: "part", Name: "Part", Place: "home", Reach: 2, AccessMinutes: 3, InService: january(day)})
}

func january(day int) model.Date { return model.NewDate(2025, 1, 1).AddDays(day - 1) }

func station(more ...model.Entry) []model.Entry {
	return append([]model.Entry{
		model.NewEntry(0, model.Place{ID: "home", Name: "Home"}),
		part(10),
		model.NewEntry(0, model.Counter{ID: "water", Name: "Water", Unit: "L", Style: model.StyleAmount}),
		model.NewEntry(0, model.Gauge{ID: "mem", Name: "Membrane", Unit: "ppm"}),
		model.NewEntry(0, model.Chore{ID: "job", Component: "part", Name: "Job", Work: model.WorkRenew, Consequence: 1,
			Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 30, Unit: model.SpanDays}, Rule: model.RuleEvery}}}),
	}, more...)
}

func ticked(day int) model.Entry { return model.NewEntry(january(day), model.Tick{Chore: "job"}) }

func TestStarts(t *testing.T) {
	again := part(10)
	again.On, again.Body = january(15), model.Component{ID: "part", Name: "Part, renamed", Place: "home", Reach: 2}
	for _, c := range []struct {
		name string
		more []model.Entry
		on   int
		want []model.Mark // seq 0: put into service
	}{
		{"in service", nil, 20, []model.Mark{{On: january(10), Seq: 0}}},
		{"not yet", nil, 9, nil},
		{"ticked since", []model.Entry{ticked(15)}, 20, []model.Mark{{On: january(10), Seq: 0}, {On: january(15), Seq: 6}}},
		{"not ticked yet", []model.Entry{ticked(15)}, 14, []model.Mark{{On: january(10), Seq: 0}}},
		{"ticked before the first service", []model.Entry{ticked(5)}, 20, []model.Mark{{On: january(5), Seq: 6}}},
		{"ticked on the day of the first service", []model.Entry{ticked(10)}, 20, []model.Mark{{On: january(10), Seq: 6}}},
		{"two ticks a day, in writing order", []model.Entry{ticked(15), ticked(15)}, 20, []model.Mark{{On: january(10), Seq: 0}, {On: january(15), Seq: 6}, {On: january(15), Seq: 7}}},
		{"a backdated tick", []model.Entry{ticked(15), ticked(12)}, 20, []model.Mark{{On: january(10), Seq: 0}, {On: january(12), Seq: 7}, {On: january(15), Seq: 6}}},
		{"a new part", []model.Entry{ticked(15), part(18)}, 20, []model.Mark{{On: january(10), Seq: 0}, {On: january(15), Seq: 6}, {On: january(18), Seq: 0}}},
		{"a new part on the day of a tick", []model.Entry{ticked(15), part(15)}, 20, []model.Mark{{On: january(10), Seq: 0}, {On: january(15), Seq: 6}}},
		{"a new part later on", []model.Entry{part(25)}, 20, []model.Mark{{On: january(10), Seq: 0}}},
		{"the same date again", []model.Entry{part(10)}, 20, []model.Mark{{On: january(10), Seq: 0}}},
		{"defined again, with no date of service", []model.Entry{again}, 20, []model.Mark{{On: january(10), Seq: 0}}},
		{"an earlier date", []model.Entry{part(5)}, 20, []model.Mark{{On: january(10), Seq: 0}}},
		{"later than an earlier date", []model.Entry{part(5), part(7)}, 20, []model.Mark{{On: january(7), Seq: 0}, {On: january(10), Seq: 0}}},
		{"a new part after a tick before the first service", []model.Entry{ticked(5), part(18)}, 20, []model.Mark{{On: january(5), Seq: 6}, {On: january(18), Seq: 0}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []model.Mark
			for _, s := range bookOf(station(c.more...)...).Starts("job", january(c.on)) {
				got = append(got, s.Mark)
				if (s.Tick == nil) != (s.Seq == 0) {
					t.Errorf("a start at seq %d with tick %v", s.Seq, s.Tick)
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

func TestTally(t *testing.T) {
	use := func(day int, q float64) model.Entry {
		return model.NewEntry(january(day), model.Usage{Counter: "water", Amount: &q})
	}
	b := bookOf(station(use(2, 1e9), use(5, 0.125), use(3, 7), use(5, 0.25), use(9, 1))...)
	tally := b.Tally("water")
	for _, c := range []struct {
		after, end model.Mark
		want       float64
	}{
		{model.Mark{}, model.EndOf(january(31)), 1e9 + 8.375},
		{model.Mark{}, model.Mark{}, 0},
		{model.EndOf(january(31)), model.Mark{}, 0},
		{model.Mark{On: january(2), Seq: 6}, model.EndOf(january(5)), 7.375}, // after the first amount itself, with the backdated one
		{model.Mark{On: january(5), Seq: 7}, model.EndOf(january(5)), 0.25},  // within a date, by writing order
		{model.Mark{On: january(4), Seq: 0}, model.EndOf(january(9)), 1.375}, // exactly, after a thousand million
	} {
		if got := tally.Between(c.after, c.end); got != c.want {
			t.Errorf("between %v and %v: %v, want %v", c.after, c.end, got, c.want)
		}
	}
	var none *Tally
	if none.Between(model.Mark{}, model.EndOf(january(31))) != 0 || len(none.Amounts()) != 0 {
		t.Error("the nil tally counted something")
	}
}

func TestLevels(t *testing.T) {
	minutes := 4.0
	read := func(day int, v float64) model.Entry {
		return model.NewEntry(january(day), model.Reading{Gauge: "mem", Value: v})
	}
	creep := model.NewEntry(january(15), model.Reading{Gauge: "mem", Value: 99, MinutesRunning: &minutes})
	b := bookOf(station(read(10, 4), read(20, 1), read(20, 8), creep, read(30, 0))...)
	samples := b.Samples("mem", january(25))
	if len(samples) != 2 {
		t.Fatalf("%d samples, want 2", len(samples))
	}
	for day, want := range map[int]float64{1: 4, 10: 4, 15: 6, 19: 7.6, 20: 8, 29: 8} {
		if got := samples.At(january(day)); math.Abs(got-want) > 1e-12 {
			t.Errorf("on the %d.: %v, want %v", day, got, want)
		}
	}
	if _, ok := samples.On(january(15)); ok {
		t.Error("creep was taken for a reading")
	}
	if l, ok := samples.On(january(20)); !ok || l.Value != 8 {
		t.Errorf("on the 20th: %v", l)
	}
	if got := Samples(nil).At(january(3)); got != 0 {
		t.Errorf("of no readings: %v", got)
	}
}

func TestComponentBefore(t *testing.T) {
	minutes := 1
	rebuilt := func(day, reach int) model.Entry {
		return model.NewEntry(january(day), model.Flag{Component: "part", State: model.FlagRebuilt, Reach: reach, AccessMinutes: &minutes})
	}
	b := bookOf(station(rebuilt(20, 1), rebuilt(15, 3), part(10), rebuilt(21, 4))...)
	for seq, reach := range map[model.Seq]int{2: 0, 6: 2, 7: 1, 8: 3, 9: 2, 10: 4} {
		c, ok := b.ComponentBefore("part", seq)
		if c.Reach != reach || ok != (reach > 0) {
			t.Errorf("before %d: reach %d, want %d", seq, c.Reach, reach)
		}
	}
}
