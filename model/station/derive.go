package station

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// derive fills in what is computed from the gauges.
func (s *Station) derive(series *ledger.Series, p parts) {
	end := model.EndOf(s.On)
	rejection := series.Of(model.Rejection, p.membrane.since, end)
	ratio := series.Of(model.WasteRatio, model.Mark{}, end)
	drop := series.Of(model.PrefilterDrop, model.Mark{}, end)
	flow := series.Of(model.NormalisedFlow, p.membrane.since, end)
	s.Rejection, s.WasteRatio, s.Drop, s.NormalFlow = s.lastOf(rejection), s.lastOf(ratio), s.lastOf(drop), s.lastOf(flow)
	s.RejectionAt = s.rejectionAt(series)

	s.Rejection.Why = s.missing("the tap and after the membrane on one day", model.RoleTDSTap, model.RoleTDSMembrane)
	s.WasteRatio.Why = s.missing("both flows on one day", model.RoleFlowProduct, model.RoleFlowWaste)
	s.Drop.Why = s.missing("the line and the membrane pressure on one day", model.RolePressureLine, model.RolePressureMembrane)
	s.NormalFlow.Why = s.missingFlow()
	if base, _, ok := series.FlowBaseline(); ok && s.NormalFlow.Taken == base {
		s.NormalFlow.Why = "the set of " + base.String() + " is the first of this membrane, against which later ones are measured; read another"
		s.NormalFlow = Derived{Why: s.NormalFlow.Why}
	}
	cut := p.flowCut(series.Book())
	if n := s.NormalFlow; n.Known() && !n.mark.Before(cut) {
		s.Readings.NormalisedFlow = &water.Reading{Value: n.Value, AgeDays: n.Age, Previous: n.Before}
	}
	s.Readings.Drop = s.weighed(after(drop, later(p.sediment.since, p.supply.since)), drop)
	s.Readings.Ratio = s.weighed(after(ratio, p.restrictor.since), ratio)
	for _, d := range []*Derived{&s.Rejection, &s.WasteRatio, &s.Drop, &s.NormalFlow} {
		if d.Known() {
			d.Why = ""
		}
	}
}

// after are the values taken after a place.
func after(samples []ledger.Sample, m model.Mark) []ledger.Sample {
	for i, l := range samples {
		if m.Before(l.Mark) {
			return samples[i:]
		}
	}
	return nil
}

// weighed is the latest of some values as it is weighed, its first weeks among all of them.
func (s *Station) weighed(judging, all []ledger.Sample) *water.Reading {
	d := s.lastOf(judging)
	if !d.Known() {
		return nil
	}
	return &water.Reading{Value: d.Value, AgeDays: d.Age, Baseline: s.FirstWeeks.baselineOf(all), Previous: d.Before}
}

// rejectionAt says at which temperature a rejection is meant: warm water is brought to 20 degC, any other is as read.
func (s *Station) rejectionAt(series *ledger.Series) string {
	c, ok := series.Warmth(s.Rejection.Taken)
	if !s.Rejection.Known() || !ok {
		c = 0
	}
	return RejectionAt(c, series.Book().Def().Units)
}

// RejectionAt says how a rejection is meant by the temperature of its water: "raw", or "at 20 °C" where warm water is
// excused.
func RejectionAt(waterC float64, u model.Units) string {
	switch {
	case waterC <= 20:
		return "raw"
	case u.Temperature == "F":
		return "at 68 °F"
	}
	return "at 20 °C"
}

func (s *Station) lastOf(samples []ledger.Sample) Derived {
	n := len(samples)
	if n == 0 {
		return Derived{}
	}
	last := samples[n-1]
	d := Derived{Value: last.Value, Taken: last.On, Age: s.On.Sub(last.On), mark: last.Mark}
	if n > 1 {
		d.Before = &samples[n-2].Value
	}
	return d
}

// missing says which of some gauges was never read, or that they were never read
// together.
func (s *Station) missing(together string, roles ...string) string {
	var names []string
	for _, role := range roles {
		if !s.Of(role).Read() {
			names = append(names, roleName(role))
		}
	}
	if len(names) > 0 {
		return "not read yet: " + strings.Join(names, ", ")
	}
	return "read " + together
}

// missingFlow says what a normalised flow wants.
func (s *Station) missingFlow() string {
	roles := []string{model.RoleFlowProduct, model.RoleTemperatureWater, model.RoleTDSTap}
	if !s.Of(model.RolePressureMembrane).Read() {
		roles = append(roles, model.RolePressureLine)
	}
	return s.missing("product flow, pressure, water temperature and tap TDS on one day, twice", roles...)
}

// roleName is what a gauge measures, in words.
func roleName(role string) string {
	switch role {
	case model.RoleTDSTap:
		return "TDS at the tap"
	case model.RoleTDSMembrane:
		return "TDS after the membrane"
	case model.RolePressureLine:
		return "line pressure"
	case model.RolePressureMembrane:
		return "pressure at the membrane"
	case model.RoleTemperatureWater:
		return "water temperature"
	case model.RoleFlowProduct:
		return "product flow"
	case model.RoleFlowWaste:
		return "waste flow"
	}
	return role
}

// SaltPassage is the fraction that belongs to the rejection, with warm water excused as it is there.
func (s *Station) SaltPassage() (float64, bool) {
	return 1 - s.Rejection.Value/100, s.Rejection.Known()
}

// cautions are what would mislead whatever was read.
func cautions(b *ledger.Book) []string {
	scales := map[string][]string{}
	var order []string
	for _, role := range []string{model.RoleTDSTap, model.RoleTDSMembrane, model.RoleTDSProduct} {
		if g, ok := b.GaugeByRole(role); ok && g.Scale != "" {
			if scales[g.Scale] == nil {
				order = append(order, g.Scale)
			}
			scales[g.Scale] = append(scales[g.Scale], g.Name)
		}
	}
	if len(order) < 2 {
		return nil
	}
	var parts []string
	for _, scale := range order {
		parts = append(parts, fmt.Sprintf("%s on %s", scale, strings.Join(scales[scale], ", ")))
	}
	return []string{"two TDS scales, " + strings.Join(parts, "; ") + ": rejection from two scales is not the membrane's; read all three with one meter"}
}
