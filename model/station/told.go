package station

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// What the log tells of new parts (common practice, no source).
const (
	youngDays   = 14 // a bed whose litres are not logged is not new any more after so many days
	youngLitres = 20
	bedReadDays = 30 // a bed that was first read later may have been spent before it
	jumpFactor  = 3  // a salt passage rises by so much at once, and not by age
	jumpHolds   = 2  // it still stands while every later one is so much more than before
)

// told is what the log tells of the parts beside their latest readings.
func (s *Station) told(series *ledger.Series, p parts) water.Parts {
	b := series.Book()
	out := water.Parts{GaugeBehind: hasReadings(b, model.RolePressureMembrane, s.On)}
	for _, c := range b.Components() {
		if c.Stage == model.StageMembrane && c.Rated != nil && !retired(c.Retired, s.On) {
			out.Rated = &water.Rated{FlowLH: c.Rated.FlowLH, PressureBar: c.Rated.PressureBar}
		}
	}
	s.tellElement(series, p.membrane, &out)
	s.tellBed(b, p.resin, &out)
	s.tellRise(b, p, &out)
	if g, ok := b.GaugeByRole(model.RoleChlorineTap); ok {
		for _, r := range b.ReadingsWithin(g.ID, model.Mark{}, model.EndOf(s.On)) {
			out.TapTested = out.TapTested || r.What.Value >= water.ChlorineLimit
		}
	}
	for _, u := range []struct {
		stage string
		of    part
		roles []string // what judges it, the first of them that was ever read
	}{
		{water.Sediment, p.sediment, []string{model.RolePressureMembrane, model.RoleFlowProduct}},
		{water.Carbon, p.carbon, []string{model.RoleChlorineCarbon}},
		{water.Membrane, p.membrane, []string{model.RoleTDSMembrane, model.RoleFlowProduct}},
		{water.Resin, p.resin, []string{model.RoleTDSProduct}},
		{water.Restrictor, p.restrictor, []string{model.RoleFlowWaste}},
		{water.Supply, p.supply, []string{model.RolePressureLine, model.RolePressureMembrane}},
	} {
		if last, ok := s.before(b, u.of.since, u.roles); ok {
			out.Unread = append(out.Unread, water.Unread{
				Stage: u.stage, Renewed: s.day(u.of.start), ReadLast: last.Format("2 Jan"), NotBefore: u.of.start.Tick == nil,
			})
		}
	}
	return out
}

// day is the date of a start in words, "about" where it is a guess.
func (s *Station) day(start ledger.Start) string {
	out := start.On.Format("2 Jan")
	if gap := s.On.Sub(start.On); gap > 270 {
		out = start.On.Format("2 Jan 2006")
	}
	if start.About() {
		out = "about " + out
	}
	return out
}

// before is when the first of some gauges that was ever read was read last, when that was before a place.
func (s *Station) before(b *ledger.Book, since model.Mark, roles []string) (model.Date, bool) {
	for _, role := range roles {
		g, ok := b.GaugeByRole(role)
		if !ok {
			continue
		}
		if read := b.ReadingsWithin(g.ID, model.Mark{}, model.EndOf(s.On)); len(read) > 0 {
			last := read[len(read)-1]
			return last.On, last.Mark().Before(since)
		}
	}
	return 0, false
}

// tellElement says how old the element was when it was read last, what its best rejection was, and whether its salt
// passage rose at once.
func (s *Station) tellElement(series *ledger.Series, p part, out *water.Parts) {
	b, end := series.Book(), model.EndOf(s.On)
	if m, ok := b.GaugeByRole(model.RoleTDSMembrane); ok && p.anew {
		if v := latest(b, m, s.On, p.since); v.Read() {
			days := v.Taken.Sub(p.start.On)
			out.ElementDays = &days
		}
	}
	clock := model.Clock{Kind: model.ClockReading, Gauge: model.Rejection, Bad: model.SideBelow}
	for _, l := range series.Against(&clock, p.since, end) {
		if out.BestRejection == nil || l.Value > *out.BestRejection {
			best := l.Value
			out.BestRejection = &best
		}
	}
	all := series.Of(model.Rejection, p.since, end)
	least := 1.0 // what is left of the passages after the one looked at
	step := 0.0
	if tap := s.Readings.TapTDS; tap != nil && tap.Value > 0 {
		step = 2 * MeterStep(b, s.On) / tap.Value
	}
	for i := len(all) - 1; i > 0; i-- {
		now, before := 1-all[i].Value/100, 1-all[i-1].Value/100
		if least = min(least, now); before > 0 && now >= jumpFactor*before-1e-9 && now-before > step && least >= jumpHolds*before {
			out.JumpedFrom = &before
			return
		}
	}
}

// tellBed says how much water the bed had made when it was read last, and whether it ever read 0.
func (s *Station) tellBed(b *ledger.Book, p part, out *water.Parts) {
	g, ok := b.GaugeByRole(model.RoleTDSProduct)
	if !ok || !p.anew {
		return
	}
	v := latest(b, g, s.On, p.since)
	if !v.Read() {
		return
	}
	days := v.Taken.Sub(p.start.On)
	out.BedDays = &days
	if c, ok := b.CounterByRole(model.RoleWaterMade); ok && len(b.Tally(c.ID).UpTo(s.On)) > 0 {
		if made := b.Tally(c.ID).Between(p.since, v.mark); made > youngLitres || days <= youngDays {
			out.BedLitres = &made
		}
	}
	for _, r := range b.ReadingsWithin(g.ID, p.since, model.EndOf(s.On)) {
		if !r.What.Counts() {
			continue
		}
		if out.BedLowest == nil && r.On.Sub(p.start.On) > bedReadDays {
			return
		}
		if out.BedLowest == nil || r.What.Value < *out.BedLowest {
			lowest := r.What.Value
			out.BedLowest = &lowest
		}
	}
}

// tellRise says whether membrane and product rose by the same from one date to the next, and still stand so.
func (s *Station) tellRise(b *ledger.Book, p parts, out *water.Parts) {
	since, step := later(p.membrane.since, p.resin.since), MeterStep(b, s.On)
	limit := float64(water.UsualProductPPM)
	if len(p.resin.clocks) > 0 {
		limit = p.resin.clocks[0].clock.Limit
	}
	var m, q []float64 // of the dates on which both were read
	products := samplesSince(b, model.RoleTDSProduct, since, s.On)
	for _, l := range samplesSince(b, model.RoleTDSMembrane, since, s.On) {
		if x, ok := products.On(l.On); ok {
			m, q = append(m, l.Value), append(q, x.Value)
		}
	}
	for i := len(m) - 1; i > 0; i-- {
		rise := water.RoseTogether(m[i]-m[i-1], q[i]-q[i-1], step)
		if rise == nil || q[i-1] > limit { // spent before it
			continue
		}
		for j := i; j < len(m); j++ {
			if m[j]-m[i-1] < rise.PPM-1.5*step || q[j]-q[i-1] < rise.PPM-1.5*step {
				return
			}
		}
		rise.Confirmed = i < len(m)-1
		out.BothRose = rise
		return
	}
}

// samplesSince are the values of a gauge that count, after a place.
func samplesSince(b *ledger.Book, role string, since model.Mark, on model.Date) ledger.Samples {
	g, ok := b.GaugeByRole(role)
	if !ok {
		return nil
	}
	var out ledger.Samples
	for _, l := range b.SamplesFrom(g.ID, max(since.On, model.FirstDate), on) {
		if !l.Mark.Before(since) {
			out = append(out, l)
		}
	}
	return out
}
