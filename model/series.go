package model

import (
	"sync"

	"brine/wrasse/model/water"
)

// Series answers what a gauge, or one that is computed from others, read in a cycle. It sees a book on a date and is
// never changed; what it computes, it computes once, when it is first asked.
type Series struct {
	book *Book
	on   Date

	tap, warmth func() Levels
	waste       func() []Level // waste flow over product flow
	drop        func() []Level // pressure lost over the prefilters, bar
	flow        func() flowHistory
}

// Series is what the gauges of a book have read up to a date.
func (b *Book) Series(on Date) *Series {
	s := &Series{book: b, on: on}
	s.tap = sync.OnceValue(func() Levels { return s.role(RoleTDSTap) })
	s.warmth = sync.OnceValue(func() Levels { return s.role(RoleTemperatureWater) })
	s.waste = sync.OnceValue(func() []Level {
		return pairs(s.role(RoleFlowWaste), s.role(RoleFlowProduct), func(w, p float64) (float64, error) { return water.WasteRatio(p, w) })
	})
	s.drop = sync.OnceValue(func() []Level {
		return pairs(s.role(RolePressureLine), s.role(RolePressureMembrane), water.PrefilterDrop)
	})
	s.flow = sync.OnceValue(func() flowHistory {
		return newFlowHistory(flowReadings{
			s.role(RoleFlowProduct), s.role(RoleFlowWaste), s.role(RolePressureLine), s.role(RolePressureMembrane), s.warmth(), s.tap(),
		}, b.membraneRenewals(on))
	})
	return s
}

// Book is the book the series are of.
func (s *Series) Book() *Book { return s.book }

// On is the date up to which they are.
func (s *Series) On() Date { return s.on }

// role is what the gauge that plays a role has read, nothing when there is none.
func (s *Series) role(role string) Levels {
	g, ok := s.book.GaugeByRole(role)
	if !ok {
		return nil
	}
	return s.book.Levels(g.ID, s.on)
}

// pairs are the values computed from two gauges read on the same date. Each counts as taken with the later reading of
// the two. Readings for which there is no value (a formula refuses them) give none.
func pairs(a, b Levels, of func(a, b float64) (float64, error)) []Level {
	var out []Level
	for _, x := range a {
		y, ok := b.On(x.On)
		if !ok {
			continue
		}
		if v, err := of(x.Value, y.Value); err == nil {
			out = append(out, Level{Mark{x.On, max(x.Seq, y.Seq)}, v})
		}
	}
	return out
}

// Of are the values of a gauge that count, after one place and before another, in order of time: every settled reading
// of a gauge that is read, and of a derived one its value for each date. The end may lie after the date that the
// series were asked for; nothing later than that date is given.
func (s *Series) Of(gauge ID, after, end Mark) []Level {
	if last := EndOf(s.on); last.Before(end) {
		end = last
	}
	switch gauge {
	case Rejection:
		return s.rejection(after, end)
	case WasteRatio:
		return within(s.waste(), markOfLevel, after, end)
	case PrefilterDrop:
		return within(s.drop(), markOfLevel, after, end)
	case NormalisedFlow:
		return within(s.flow().percent, markOfLevel, after, end)
	}
	var out []Level
	for _, r := range s.book.ReadingsWithin(gauge, after, end) {
		if r.What.Counts() {
			out = append(out, Level{r.Mark(), r.What.Value})
		}
	}
	return out
}

func markOfLevel(l *Level) Mark { return l.Mark }

// rejection is the share of the salt that the membrane held back, in percent, referred to 20 degC where the water's
// temperature was read that day. One value a date and cycle: the last after-membrane reading of the date within the
// cycle, with the last reading of the tap and of the temperature on that date. It counts as taken with the first.
//
// It is 100 (1 - salt passage) whatever the passage: readings that say the membrane adds salt give less than 0, which
// is beyond any threshold, as it should be.
func (s *Series) rejection(after, end Mark) []Level {
	g, ok := s.book.GaugeByRole(RoleTDSMembrane)
	if !ok {
		return nil
	}
	var out []Level
	for _, m := range lastOfDates(s.book.ReadingsWithin(g.ID, after, end)) {
		tap, ok := s.tap().On(m.On)
		if !ok {
			continue
		}
		passage, err := water.SaltPassage(tap.Value, m.Value)
		if t, read := s.warmth().On(m.On); read {
			passage, err = water.SaltPassageAt20(tap.Value, m.Value, t.Value)
		}
		if err == nil {
			out = append(out, Level{m.Mark, 100 * (1 - passage)})
		}
	}
	return out
}
