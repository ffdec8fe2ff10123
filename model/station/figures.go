package station

import (
	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// blockLitres is the carbon in one 10-inch block, where nothing better is known (common practice, no source).
const blockLitres = 0.5

// bedLitres is the resin of one 10-inch cartridge (geometry: 0.57 L; common fills 0.55 to 0.62).
const bedLitres = 0.6

// Exposure is the chlorine that reached the membrane since it was put in, in ppm-hours: what was found behind the carbon,
// over the hours the unit ran for the litres logged. ok is false where the flow or the chlorine was never read.
func Exposure(b *model.Book, on model.Date) (ppmHours float64, since model.Date, ok bool) {
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
func samples(b *model.Book, role string, on model.Date) model.Samples {
	g, ok := b.GaugeByRole(role)
	if !ok {
		return nil
	}
	return b.Samples(g.ID, on)
}

// Contact is how long the feed is in the carbon, and what both are reckoned with.
type Contact struct{ Minutes, CarbonL, FeedLH float64 }

// Contact is that of the station's carbon blocks at the flows read last.
func (s *Station) Contact(b *model.Book) (Contact, bool) {
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
func TapCO2(b *model.Book, on model.Date) (mmolL float64, guess bool) {
	return co2(b, on)(on)
}

// co2 is the carbon dioxide of the tap over time, by what was read up to a date.
func co2(b *model.Book, on model.Date) func(model.Date) (mmolL float64, guess bool) {
	g, _ := b.GaugeByRole(RoleTapAlkalinity)
	alkalinity, pH := samples(b, RoleTapAlkalinity, on), samples(b, RoleTapPH, on)
	return func(d model.Date) (float64, bool) {
		if len(alkalinity) > 0 && len(pH) > 0 {
			if v, err := water.DissolvedCO2(CaCO3(alkalinity.At(d), g.Unit), pH.At(d)); err == nil {
				return v, false
			}
		}
		return water.DefaultCO2, true
	}
}

// MeqPerLitre is what a litre of a load clock's water brings to its resin on a date, in meq: the salt between inlet and
// outlet, and the carbon dioxide of the tap. It is what a clock that states its life in meq counts; ok is false when its
// inlet was never read.
func MeqPerLitre(b *model.Book, c model.Clock, on model.Date) (at func(model.Date) float64, ok bool) {
	carried, ok := b.Concentration(c, on)
	if !ok {
		return nil, false
	}
	gas := co2(b, on)
	return func(d model.Date) float64 {
		mmol, _ := gas(d)
		return water.LoadMeq(carried.At(d), mmol)
	}, true
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

// Bed is the station's resin bed, by the litres of resin that its renewal takes; ok is false where the membrane was never
// read.
func (s *Station) Bed(b *model.Book) (Bed, bool) {
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
	}
	out.CO2, out.Guess = TapCO2(b, s.On)
	bed := water.BedOf(out.Resin)
	var err1, err2 error
	out.Meq, err1 = bed.Capacity()
	out.Litres, err2 = bed.Litres(m.Value, out.CO2)
	if err1 != nil || err2 != nil {
		return Bed{}, false
	}
	out.Share = out.CO2 / water.LoadMeq(m.Value, out.CO2)
	return out, true
}
