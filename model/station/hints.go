package station

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// namesSalinity tells whether a test is of what reads salinity, by its own name, its
// id or its component's name: a book has no other tie between the two.
func namesSalinity(b *ledger.Book, c model.Chore) bool {
	part, _ := b.Component(c.Component)
	for _, s := range []string{string(c.ID), c.Name, string(part.ID), part.Name} {
		s = strings.ToLower(s)
		for _, word := range []string{"salinity", "refractometer", "hydrometer"} {
			if strings.Contains(s, word) {
				return true
			}
		}
	}
	return false
}

// Settle is how many minutes the unit runs before it is read.
const Settle = 10

// LetRun is what to do before reading, by how long the unit has stood; empty when the
// readings have nothing to do with it.
func LetRun(b *ledger.Book, gauges []model.Gauge, on model.Date) string {
	after := false
	for _, g := range gauges {
		after = after || g.Role == model.RoleTDSMembrane || g.Role == model.RoleTDSProduct
	}
	if !after {
		return ""
	}
	stood, ok := Stood(b, on)
	switch {
	case !ok:
		return fmt.Sprintf("let it run %d min first: after standing, the membrane reads high", Settle)
	case stood == 0:
		return fmt.Sprintf("let it run %d min first if it has stood since the last fill", Settle)
	}
	return fmt.Sprintf("it has stood %d d: let it run %d min first, or it reads high", stood, Settle)
}

// Hint is how a gauge is read so that the value means something; empty for those that
// are not the station's.
func Hint(g model.Gauge) string {
	switch g.Role {
	case model.RoleTDSTap:
		return "before the prefilters; where the meter does not compensate, read the temperature too"
	case model.RoleTDSMembrane:
		return "between membrane and resin, running"
	case model.RoleTDSProduct:
		return "at the resin's outlet, not in the reservoir: air alone adds 1 ppm there"
	case RoleTDSReservoir:
		return "1 ppm can be air; judge the resin at its outlet"
	case model.RolePressureLine, model.RolePressureMembrane:
		return "while it runs: standing pressure hides a clogged prefilter"
	case model.RoleFlowProduct, model.RoleFlowWaste:
		return "time a known volume while it runs: 500 mL in 152 s is 11.8 L/h"
	case model.RoleTemperatureWater:
		return "of the water as it comes: cold alone can halve the flow"
	case model.RoleChlorineCarbon, model.RoleChlorineTap:
		return "total chlorine, so that chloramine shows"
	case model.RoleSalinity:
		return scaleHint(g)
	}
	switch {
	case g.Unit == "SP":
		return scaleHint(g)
	case isSight(g.Role):
		return "1 when seen, 0 when not"
	}
	return ""
}

func scaleHint(g model.Gauge) string {
	scale, err := water.ParseSaltScale(g.Scale)
	switch {
	case err == nil && scale.Brine:
		return "as the refractometer's brine scale shows it: 36.5 is sea water of 35; or 35 SP, or 1.0266 SG"
	case err == nil:
		return "practical salinity such as 35, or 1.0264 SG, taken as " + scale.Reference.Name
	}
	return "practical salinity such as 35"
}

// SaltScale is the scale of the book's instrument for salinity and the gauge it reads: the one with that role, else the
// first in use that names a scale. ok is false where none names one.
func SaltScale(b *ledger.Book) (scale water.SaltScale, of model.Gauge, ok bool) {
	gauges := b.Gauges()
	if g, found := b.GaugeByRole(model.RoleSalinity); found {
		gauges = append([]model.Gauge{g}, gauges...)
	}
	for _, g := range gauges {
		if g.Unit != "SP" || g.Scale == "" || !g.Retired.IsZero() {
			continue
		}
		if s, err := water.ParseSaltScale(g.Scale); err == nil {
			return s, g, true
		}
	}
	return water.SaltScale{Reference: water.At25}, model.Gauge{}, false
}
