package water

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// shown is one value as it stands in the table.
type shown struct {
	name, value string
	days        int    // its age; notRead when there is none
	inFull      string // its name where there is room
}

const notRead = -1

// labels are the station's gauges in a word or two. A bare place is that of its TDS.
var labels = map[string]string{
	model.RoleTDSTap: "tap", model.RoleTDSMembrane: "membrane", model.RoleTDSProduct: "resin",
	station.RoleTDSReservoir: "reservoir", station.RoleTDSWaste: "waste TDS",
	model.RoleTemperatureWater: "tap water", model.RolePressureLine: "line", model.RolePressureMembrane: "pressure",
	model.RoleFlowProduct: "product", model.RoleFlowWaste: "waste",
	model.RoleChlorineTap: "chlorine", model.RoleChlorineCarbon: "carbon", station.RoleProductPH: "pH",
	station.RoleTapAlkalinity: "alkalinity", station.RoleTapPH: "tap pH",
}

// seldom are the gauges that stand in the table only once they were read.
var seldom = []string{station.RoleTDSReservoir, station.RoleTDSWaste, station.RoleProductPH, station.RoleTapAlkalinity, station.RoleTapPH}

// prefilters names the pressure they take.
const prefilters = "prefilters"

// staleDays is from when a value no longer speaks for today; package water, which
// judges, says the same.
const staleDays = 30

// table is the latest of each gauge and what follows from them, in the order the water
// flows.
func (s *Screen) table() []shown {
	var out []shown
	for _, v := range s.is.Values {
		if !v.Read() && slices.Contains(seldom, v.Gauge.Role) {
			continue
		}
		row := shown{labels[v.Gauge.Role], "not read", notRead, v.Gauge.Name}
		if v.Read() {
			row.value = text.Clean(phrase.Amount(s.session.Book, v.Value, v.Gauge.Unit))
			row.days = v.Age
			if !v.Counts {
				row.value = "(" + row.value + ")"
			}
			if _, off := s.session.Book.Off(v.Gauge, v.Mark()); off {
				row.value += "?" // as the words below say
			}
		}
		out = append(out, row)
	}
	for _, d := range []struct {
		name, form, inFull string
		of                 station.Derived
	}{
		{"rejection", "%.1f %%", strings.TrimSpace("rejection " + s.is.RejectionAt), s.is.Rejection},
		{"flow kept", "%.0f %%", "normalised flow", s.is.NormalFlow},
		{"ratio", "%.1f to 1", "waste to product", s.is.WasteRatio},
	} {
		row := shown{d.name, "no value", notRead, d.inFull}
		if d.of.Known() {
			row.value, row.days = fmt.Sprintf(d.form, d.of.Value), d.of.Age
		}
		out = append(out, row)
	}
	if d := s.is.Drop; d.Known() {
		out = append(out, shown{prefilters, phrase.Amount(s.session.Book, d.Value, "bar"), d.Age, "pressure drop over the prefilters"})
	}
	return out
}

// foremost is the table without what can wait where there is little room: what the tap
// carries of chlorine, and the prefilters' drop, which their stage line says.
func (s *Screen) foremost() []shown {
	return slices.DeleteFunc(s.table(), func(r shown) bool {
		return r.name == labels[model.RoleChlorineTap] || r.name == prefilters
	})
}

// age is how old a value is; an old one stands out.
func (s *Screen) age(days int) string {
	if days == notRead {
		return ""
	}
	if days > staleDays {
		return s.session.Root.Theme().Caution.Render(phrase.AgeOf(days))
	}
	return s.session.Root.Theme().Dim.Render(phrase.AgeOf(days))
}

// Columns of the table of values.
const (
	nameW, valueW, ageW = 10, 9, 5
	valueColW           = nameW + valueW + ageW + 2
	mostAcross          = 3
)

// values lays rows out in as many columns as fit, read down the columns.
func (s *Screen) values(rows []shown, w int) []string {
	across := min(max((w+1)/(valueColW+1), 1), mostAcross)
	down := (len(rows) + across - 1) / across
	columns := []text.Column{{Width: nameW}, {Width: valueW, Right: true}, {Width: ageW, Right: true}}
	out := make([]string, down)
	for i, r := range rows {
		if i >= down {
			out[i%down] += " "
		}
		out[i%down] += text.Row(1, columns, r.name, r.value, s.age(r.days))
	}
	return out
}
