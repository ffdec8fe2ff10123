package gear

import (
	"cmp"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/ui"
	"brine/wrasse/ui/form"
	"brine/wrasse/ui/parse"
)

// gaugeRoles are the roles a gauge can play, in words.
var gaugeRoles = [][3]string{
	{"", "", "something else"}, {"", model.RoleTDSTap, "TDS at the tap"}, {"", model.RoleTDSMembrane, "TDS after the membrane"},
	{"", model.RoleTDSProduct, "TDS after the resin"}, {"", model.RolePressureLine, "line pressure"},
	{"", model.RolePressureMembrane, "pressure at the membrane"}, {"", model.RoleTemperatureWater, "tap water temperature"},
	{"", model.RoleFlowProduct, "product flow"}, {"", model.RoleFlowWaste, "waste flow"}, {"", model.RoleSalinity, "salinity"},
	{"", model.RoleChlorineTap, "chlorine at the tap"}, {"", model.RoleChlorineCarbon, "chlorine after the carbon"},
	{"", station.RoleTDSReservoir, "TDS in the reservoir"}, {"", station.RoleTDSWaste, "TDS of the waste"},
	{"", station.RoleProductPH, "pH after the resin"}, {"", station.RoleTapAlkalinity, "alkalinity of the tap"}, {"", station.RoleTapPH, "pH of the tap"},
	{"", station.RoleWasteWhenFull, "seen: waste runs with the reservoir full"},
	{"", station.RoleDiatoms, "seen: brown film in the tank"}, {"", station.RoleSilica, "seen: silica in the product"},
	{"", station.RolePressureSwings, "seen: pressure goes up and down"}, {"", station.RolePressureSags, "seen: pressure falls over hours"},
}

// gauge asks for a gauge.
func (e *editor) gauge(g model.Gauge) {
	part := choice(fieldPart, "on", string(g.Component), [3]string{"", "", "nothing in particular"})
	addInUse(&part, e.session.Book.Components(), func(c model.Component) (model.ID, string, model.Date) { return c.ID, c.Name, c.Retired })
	with := choice(fieldWith, "read with", string(g.Instrument), [3]string{"", "", "not said"})
	addInUse(&with, e.session.Book.Components(), func(c model.Component) (model.ID, string, model.Date) { return c.ID, c.Name, c.Retired })
	role := choice(fieldRole, "reads", g.Role, gaugeRoles...)
	if !slices.ContainsFunc(gaugeRoles, func(o [3]string) bool { return o[1] == g.Role }) { // a role of the keeper's own
		role.Value = g.Role
		role.Options = append(role.Options, form.Option{Value: g.Role, Label: g.Role})
	}
	low, high := "", ""
	if g.Safe != nil {
		low, high = e.end(g.Safe.Low, g.Unit), e.end(g.Safe.High, g.Unit)
	}
	e.sheet(cmp.Or(g.Name, "A new gauge"), []form.Field{nameField(g.Name),
		{Name: fieldUnit, Label: "unit", Value: g.Unit, Cells: 10, Limit: 20, Hint: "as kept: ppm, bar, C, L/h, mg/L, SP"},
		role, part,
		{Name: fieldScale, Label: "scale", Value: g.Scale, Cells: 12, Limit: 40, Hint: "25/25, 60F/60F of a hydrometer; brine, sea water of a refractometer; may stay empty"},
		{Name: fieldLow, Label: "safe from", Value: low, Cells: 10, Limit: 20, Hint: "a value below stands above the round; may stay empty"},
		{Name: fieldHigh, Label: "safe up to", Value: high, Cells: 10, Limit: 20, Hint: "and one above; may stay empty"},
		with,
	}, func(r *reader) ui.Job {
		g := g
		g.Name, g.Unit, g.Role = r.name(fieldName), r.text(fieldUnit), r.text(fieldRole)
		g.Component, g.Instrument, g.Scale = model.ID(r.text(fieldPart)), model.ID(r.text(fieldWith)), r.text(fieldScale)
		if g.Unit == "" {
			r.fail(fieldUnit, "give a unit, such as ppm, bar or C")
		}
		if _, err := water.ParseSaltScale(g.Scale); g.Unit == "SP" && err != nil {
			r.fail(fieldScale, err.Error())
		}
		g.Safe = r.safe(g)
		return define(e, g, func(g *model.Gauge) (*model.ID, string) { return &g.ID, g.Name })
	}, nil)
}

// end is an end of a safe range as it is shown, empty when it is open.
func (e *editor) end(v *float64, unit string) string {
	if v == nil {
		return ""
	}
	return e.figure(*v, unit)
}

// safe is the range typed for a gauge; none when both ends stay empty. An end that was not touched stays as it was.
func (r *reader) safe(g model.Gauge) *model.Range {
	was := g.Safe
	plain := g
	plain.Scale = "" // a range is practical, whatever the instrument shows
	end := func(field string, old *float64) *float64 {
		s := r.text(field)
		switch {
		case s == "":
			return nil
		case old != nil && s == parse.Figure(*old, g.Unit, r.units):
			return old
		}
		v := r.value(field, plain)
		return &v
	}
	var out model.Range
	if was == nil {
		was = &model.Range{}
	}
	out.Low, out.High = end(fieldLow, was.Low), end(fieldHigh, was.High)
	switch {
	case out.Low == nil && out.High == nil:
		return nil
	case out.Low != nil && out.High != nil && *out.Low > *out.High:
		r.fail(fieldHigh, "lies below where it is safe from")
	}
	return &out
}
