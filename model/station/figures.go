package station

import (
	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// blockLitres is the carbon in one 10-inch block, where nothing better is known (common practice, no source).
const blockLitres = 0.5

// bedLitres is the resin of one 10-inch cartridge (geometry: 0.57 L; common fills 0.55 to 0.62).
const bedLitres = 0.6

// Exposure is the chlorine that reached the membrane since it was put in, in ppm-hours: what was found behind the carbon,
// over the hours the unit ran for the litres logged. ok is false where the flow or the chlorine was never read.
func Exposure(b *ledger.Book, on model.Date) (ppmHours float64, since model.Date, ok bool) {
	chlorine, flow := samples(b, model.RoleChlorineCarbon, on), samples(b, model.RoleFlowProduct, on)
	made, counted := b.CounterByRole(model.RoleWaterMade)
	if len(chlorine) == 0 || len(flow) == 0 || !counted {
		return 0, 0, false
	}
	start := membraneSince(b, on)
	for _, a := range b.Tally(made.ID).UpTo(on) {
		if a.On < start.On || flow.At(a.On) <= 0 {
			continue
		}
		if x, err := water.ChlorineExposure(chlorine.At(a.On), a.Qty/flow.At(a.On)); err == nil {
			ppmHours += x
		}
	}
	return ppmHours, start.On, true
}

// samples are the values of the gauge with a role, none where there is no such gauge.
func samples(b *ledger.Book, role string, on model.Date) ledger.Samples {
	return samplesBefore(b, role, model.EndOf(on))
}

// samplesBefore are those before a place.
func samplesBefore(b *ledger.Book, role string, end model.Mark) ledger.Samples {
	g, ok := b.GaugeByRole(role)
	if !ok {
		return nil
	}
	return b.SamplesBefore(g.ID, end)
}

// Contact is how long the feed is in the carbon, and what both are reckoned with.
type Contact struct{ Minutes, CarbonL, FeedLH float64 }

// Contact is that of the station's carbon blocks at the flows read last.
func (s *Station) Contact(b *ledger.Book) (Contact, bool) {
	q, w := s.Of(model.RoleFlowProduct), s.Of(model.RoleFlowWaste)
	var c Contact
	for _, part := range b.Components() {
		if part.Stage == model.StageCarbon && !retired(part.Retired, s.On) {
			c.CarbonL += blockLitres
		}
	}
	if !q.Read() || !w.Read() || c.CarbonL == 0 {
		return c, false
	}
	c.FeedLH = q.Value + w.Value
	var err error
	c.Minutes, err = water.ContactMinutes(c.CarbonL, c.FeedLH)
	return c, err == nil
}

// TapCO2 is the carbon dioxide of the tap on a date in mmol/L, which passes the membrane whole: from its alkalinity and
// pH, else a guess.
func TapCO2(b *ledger.Book, on model.Date) (mmolL float64, guess bool) {
	return co2(b, model.EndOf(on))(on)
}

// co2 is the carbon dioxide of the tap over time, by what was read before a place.
func co2(b *ledger.Book, end model.Mark) func(model.Date) (mmolL float64, guess bool) {
	g, _ := b.GaugeByRole(RoleTapAlkalinity)
	alkalinity, pH := samplesBefore(b, RoleTapAlkalinity, end), samplesBefore(b, RoleTapPH, end)
	return func(d model.Date) (float64, bool) {
		if len(alkalinity) > 0 && len(pH) > 0 {
			if v, err := water.DissolvedCO2(CaCO3(alkalinity.At(d), g.Unit), pH.At(d)); err == nil {
				return v, false
			}
		}
		return water.DefaultCO2, true
	}
}

// Load is what the litres of a load clock bring to its stage.
type Load struct {
	PerLitre func(model.Date) float64 // in the clock's unit: grams, or meq
	Tap      bool                     // the inlet was never read: a guess from the tap
}

// LoadBefore is the load of a clock by the readings before a place. One in meq counts the salt between inlet and outlet and
// the carbon dioxide of the tap. Where such a clock's inlet, the membrane's water, was never read, a sound membrane's share
// of what the tap carries is reckoned with. ok is false when nothing is known.
func LoadBefore(b *ledger.Book, c model.Clock, end model.Mark) (load Load, ok bool) {
	carried, ok := b.Concentration(c, end)
	if !c.Meq {
		return Load{PerLitre: func(d model.Date) float64 { return carried.At(d) / 1000 }}, ok
	}
	ppm := carried.At
	if !ok {
		tap := samplesBefore(b, model.RoleTDSTap, end)
		if g, _ := b.Gauge(c.Inlet); g.Role != model.RoleTDSMembrane || len(tap) == 0 {
			return load, false
		}
		load.Tap = true
		ppm = func(d model.Date) float64 { return water.UsualPassage * tap.At(d) }
	}
	gas := co2(b, end)
	load.PerLitre = func(d model.Date) float64 {
		mmol, _ := gas(d)
		return water.LoadMeq(ppm(d), mmol)
	}
	return load, true
}

// Bed is what the resin bed takes up and what of that carbon dioxide is.
type Bed struct {
	Resin  float64 // litres
	Meq    float64 // it takes up
	Litres float64 // it makes at what comes in now
	CO2    float64 // mmol/L
	Share  float64 // of the load that is carbon dioxide
	Guess  bool    // the carbon dioxide is a guess
}

// Bed is the station's resin bed, by the litres of resin that its renewal takes, and by the meq that the renewal's clock
// states, if it does; ok is false where the membrane was never read.
func (s *Station) Bed(b *ledger.Book) (Bed, bool) {
	m := s.Of(model.RoleTDSMembrane)
	if !m.Read() {
		return Bed{}, false
	}
	if !m.Counts && m.Before != nil {
		m.Value = *m.Before
	}
	out := Bed{Resin: bedLitres}
	for _, c := range b.Chores() {
		part, _ := b.Component(c.Component)
		if part.Stage != model.StageResin || c.Work != model.WorkRenew || retired(c.Retired, s.On) {
			continue
		}
		for _, use := range c.Spares {
			if spare, _ := b.Spare(use.Spare); spare.Unit == "L" {
				out.Resin = use.Quantity
			}
		}
		for _, k := range c.Clocks {
			if k.Kind == model.ClockLoad && k.Meq {
				out.Meq = k.Amount
			}
		}
	}
	out.CO2, out.Guess = TapCO2(b, s.On)
	if out.Meq == 0 {
		var err error
		if out.Meq, err = water.BedOf(out.Resin).Capacity(); err != nil {
			return Bed{}, false
		}
	}
	litres, err := water.BedLitres(out.Meq, m.Value, out.CO2)
	out.Litres, out.Share = litres, out.CO2/water.LoadMeq(m.Value, out.CO2)
	return out, err == nil
}
