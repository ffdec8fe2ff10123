package station

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
)

// derive fills in what is computed from the gauges.
func (s *Station) derive(series *model.Series) {
	since := model.Mark{On: membraneSince(series.Book(), s.On)}
	s.Rejection = s.lastOf(series.Of(model.Rejection, since, model.EndOf(s.On)))
	s.WasteRatio = s.lastOf(series.Of(model.WasteRatio, model.Mark{}, model.EndOf(s.On)))
	s.Drop = s.lastOf(series.Of(model.PrefilterDrop, model.Mark{}, model.EndOf(s.On)))
	s.NormalFlow = s.lastOf(series.Of(model.NormalisedFlow, since, model.EndOf(s.On)))

	s.Rejection.Why = s.missing("the tap and after the membrane on one day", model.RoleTDSTap, model.RoleTDSMembrane)
	s.WasteRatio.Why = s.missing("both flows on one day", model.RoleFlowProduct, model.RoleFlowWaste)
	s.Drop.Why = s.missing("the line and the membrane pressure on one day", model.RolePressureLine, model.RolePressureMembrane)
	s.NormalFlow.Why = s.missingFlow()
	if base, _, ok := series.FlowBaseline(); ok && s.NormalFlow.Taken == base {
		s.NormalFlow.Why = "the set of " + base.String() + " is the first of this membrane, against which later ones are measured; read another"
		s.NormalFlow = Derived{Why: s.NormalFlow.Why}
	}
	if n := s.NormalFlow; n.Known() {
		s.Readings.NormalisedFlow = &water.Reading{Value: n.Value, AgeDays: n.Age, Previous: n.Before}
	}
	for _, d := range []*Derived{&s.Rejection, &s.WasteRatio, &s.Drop, &s.NormalFlow} {
		if d.Known() {
			d.Why = ""
		}
	}
}

func (s *Station) lastOf(levels []model.Level) Derived {
	n := len(levels)
	if n == 0 {
		return Derived{}
	}
	last := levels[n-1]
	d := Derived{Value: last.Value, Taken: last.On, Age: s.On.Sub(last.On)}
	if n > 1 {
		d.Before = &levels[n-2].Value
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

// SaltPassage is the fraction that belongs to the rejection, referred to 20 degC as it
// is where the water's temperature was read.
func (s *Station) SaltPassage() (float64, bool) {
	return 1 - s.Rejection.Value/100, s.Rejection.Known()
}

// cautions are what would mislead whatever was read.
func cautions(b *model.Book) []string {
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
