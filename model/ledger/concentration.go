package ledger

import (
	"sort"

	"brine/wrasse/model"
)

// Sample is a value of a gauge that counts: the last settled reading of its date.
type Sample struct {
	model.Mark
	Value float64
}

// Samples are the values of a gauge that count, one a date, in order of time.
type Samples []Sample

// Samples are the values of a gauge dated not after on, of all cycles. O(readings).
func (b *Book) Samples(gauge model.ID, on model.Date) Samples {
	return b.SamplesBefore(gauge, model.EndOf(on))
}

// SamplesBefore are those before a place.
func (b *Book) SamplesBefore(gauge model.ID, end model.Mark) Samples {
	return lastOfDates(b.ReadingsWithin(gauge, model.Mark{}, end))
}

// SamplesFrom are those from one date to another, both included.
func (b *Book) SamplesFrom(gauge model.ID, from, to model.Date) Samples {
	return lastOfDates(b.ReadingsWithin(gauge, model.Mark{On: from}, model.EndOf(to)))
}

// lastOfDates keeps the last settled reading of each date.
func lastOfDates(readings []Logged[model.Reading]) Samples {
	out := make(Samples, 0, len(readings))
	for i := range readings {
		r := &readings[i]
		if !r.What.Counts() {
			continue
		}
		sample := Sample{r.Mark(), r.What.Value}
		if n := len(out); n > 0 && out[n-1].On == r.On {
			out[n-1] = sample
			continue
		}
		out = append(out, sample)
	}
	return out
}

// On is the value of a date, if one was read.
func (l Samples) On(d model.Date) (Sample, bool) {
	i := sort.Search(len(l), func(i int) bool { return l[i].On >= d })
	if i < len(l) && l[i].On == d {
		return l[i], true
	}
	return Sample{}, false
}

// before is the last value before a date.
func (l Samples) before(d model.Date) (Sample, bool) {
	i := sort.Search(len(l), func(i int) bool { return l[i].On >= d })
	if i == 0 {
		return Sample{}, false
	}
	return l[i-1], true
}

// At is the value on a date, on the straight line between the readings on either side; before the first and after the
// last it is theirs. Of no readings it is 0.
func (l Samples) At(d model.Date) float64 {
	if len(l) == 0 {
		return 0
	}
	i := sort.Search(len(l), func(i int) bool { return l[i].On >= d })
	switch {
	case i == len(l):
		return l[i-1].Value
	case i == 0 || l[i].On == d:
		return l[i].Value
	}
	before, after := l[i-1], l[i]
	part := float64(d.Sub(before.On)) / float64(after.On.Sub(before.On))
	return before.Value + float64(part*(after.Value-before.Value))
}

// Concentration is what the water of a load clock brings to its stage over time, in ppm (mg/L): that of the inlet
// less that of the outlet.
type Concentration struct {
	inlet, outlet Samples
}

// Concentration is what a load clock's water carries by the readings before a place; ok is false when its inlet was never
// read. An outlet without readings counts as 0.
func (b *Book) Concentration(c model.Clock, end model.Mark) (carried Concentration, ok bool) {
	carried.inlet = b.SamplesBefore(c.Inlet, end)
	if c.Outlet != "" {
		carried.outlet = b.SamplesBefore(c.Outlet, end)
	}
	return carried, len(carried.inlet) > 0
}

// At is the concentration on a date in ppm, never below 0.
func (c Concentration) At(d model.Date) float64 { return max(0, c.inlet.At(d)-c.outlet.At(d)) }

// Carrying is what the litres of a tally, dated not after on, carried, by what a litre did on each date.
func (t *Tally) Carrying(perLitre func(model.Date) float64, until model.Date) *Tally {
	litres := t.UpTo(until)
	out := make([]Amount, len(litres))
	on, carried := model.Date(-1), 0.0
	for i, a := range litres {
		if a.On != on { // mostly several a day
			on, carried = a.On, perLitre(a.On)
		}
		out[i] = Amount{a.On, a.Seq, a.Qty * carried}
	}
	return newTally(out)
}
