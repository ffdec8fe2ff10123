package ledger

import (
	"sync"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// Series answers what a gauge, or one that is computed from others, read in a cycle. It sees a book on a date and is
// never changed; what it computes, it computes once, when it is first asked.
type Series struct {
	book *Book
	on   model.Date

	tap, warmth func() Samples
	waste       func() []Sample // waste flow over product flow
	drop        func() []Sample // pressure lost over the prefilters, bar
	flow        func() flowHistory
}

// Series is what the gauges of a book have read up to a date.
func (b *Book) Series(on model.Date) *Series {
	s := &Series{book: b, on: on}
	s.tap = sync.OnceValue(func() Samples { return s.role(model.RoleTDSTap) })
	s.warmth = sync.OnceValue(func() Samples { return s.role(model.RoleTemperatureWater) })
	s.waste = sync.OnceValue(func() []Sample {
		return pairs(s.role(model.RoleFlowWaste), s.role(model.RoleFlowProduct), func(w, p float64) (float64, error) { return water.WasteRatio(p, w) })
	})
	s.drop = sync.OnceValue(func() []Sample {
		return pairs(s.role(model.RolePressureLine), s.role(model.RolePressureMembrane), water.PrefilterDrop)
	})
	s.flow = sync.OnceValue(func() flowHistory {
		return newFlowHistory(flowReadings{
			s.role(model.RoleFlowProduct), s.role(model.RoleFlowWaste), s.role(model.RolePressureLine), s.role(model.RolePressureMembrane), s.warmth(), s.tap(),
		}, b.membraneRenewals(on))
	})
	return s
}

// Book is the book the series are of.
func (s *Series) Book() *Book { return s.book }

// On is the date up to which they are.
func (s *Series) On() model.Date { return s.on }

// role is what the gauge that plays a role has read, nothing when there is none.
func (s *Series) role(role string) Samples {
	g, ok := s.book.GaugeByRole(role)
	if !ok {
		return nil
	}
	return s.book.Samples(g.ID, s.on)
}

// pairs are the values computed from two gauges read on the same date. Each counts as taken with the later reading of
// the two. Readings for which there is no value (a formula refuses them) give none.
func pairs(a, b Samples, of func(a, b float64) (float64, error)) []Sample {
	var out []Sample
	for _, x := range a {
		y, ok := b.On(x.On)
		if !ok {
			continue
		}
		if v, err := of(x.Value, y.Value); err == nil {
			out = append(out, Sample{model.Mark{On: x.On, Seq: max(x.Seq, y.Seq)}, v})
		}
	}
	return out
}

// Of are the values of a gauge that count, after one place and before another, in order of time: every settled reading
// of a gauge that is read, and of a derived one its value for each date. The end may lie after the date that the
// series were asked for; nothing later than that date is given.
func (s *Series) Of(gauge model.ID, after, end model.Mark) []Sample {
	end = s.cut(end)
	switch gauge {
	case model.Rejection:
		return s.rejection(after, end, water.SaltPassage)
	case model.WasteRatio:
		return within(s.waste(), markOfSample, after, end)
	case model.PrefilterDrop:
		return within(s.drop(), markOfSample, after, end)
	case model.NormalisedFlow:
		return within(s.flow().percent, markOfSample, after, end)
	}
	var out []Sample
	for _, r := range s.book.ReadingsWithin(gauge, after, end) {
		if r.What.Counts() {
			out = append(out, Sample{r.Mark(), r.What.Value})
		}
	}
	return out
}

func markOfSample(l *Sample) model.Mark { return l.Mark }

// rejection is the share of the salt that the membrane held back, in percent; warm water excuses some of what it let
// through. One value a date and cycle: the last after-membrane reading of the date within the cycle, with the last
// reading of the tap on that date. It counts as taken with the first.
//
// It is 100 (1 - salt passage) whatever the passage: readings that say the membrane adds salt give less than 0, which
// is beyond any threshold, as it should be.
func (s *Series) rejection(after, end model.Mark, passage func(tap, membrane float64) (float64, error)) []Sample {
	g, ok := s.book.GaugeByRole(model.RoleTDSMembrane)
	if !ok {
		return nil
	}
	var out []Sample
	for _, m := range lastOfDates(s.book.ReadingsWithin(g.ID, after, end)) {
		tap, ok := s.tap().On(m.On)
		if !ok {
			continue
		}
		if passed, err := passage(tap.Value, m.Value); err == nil {
			out = append(out, Sample{m.Mark, 100 * (1 - passed*s.excuse(m.On))})
		}
	}
	return out
}

// excuse is the factor of warm water on a date. A temperature that no water has excuses nothing.
func (s *Series) excuse(on model.Date) float64 {
	t, ok := s.Warmth(on)
	if !ok {
		return 1
	}
	factor, _ := water.WarmWaterFactor(t)
	return factor
}

// Warmth is the water's temperature that a rejection of a date is brought from: the latest of that date or the days before
// it; ok is false when there is none.
func (s *Series) Warmth(on model.Date) (degC float64, ok bool) {
	t, ok := s.warmth().before(on + 1)
	return t.Value, ok && on.Sub(t.On) <= water.WarmthDays
}

// Against are the values of a reading clock's gauge as they are held against its threshold: those of Of, but of a
// rejection whose two readings are whole ppm, which leave half a ppm open on either side, the value that is kindest to
// the membrane.
func (s *Series) Against(c *model.Clock, after, end model.Mark) []Sample {
	if c.Gauge != model.Rejection {
		return s.Of(c.Gauge, after, end)
	}
	return s.rejection(after, s.cut(end), func(tap, membrane float64) (float64, error) {
		return water.HeldPassage(tap, membrane, c.Bad == model.SideAbove)
	})
}

// cut is the place after which the series give nothing.
func (s *Series) cut(end model.Mark) model.Mark {
	if last := model.EndOf(s.on); last.Before(end) {
		return last
	}
	return end
}

// RunBeyond is how many of the last values all lie beyond the threshold of a reading clock.
func RunBeyond(c *model.Clock, values []Sample) int {
	n := 0
	for n < len(values) && c.Beyond(values[len(values)-1-n].Value) {
		n++
	}
	return n
}
