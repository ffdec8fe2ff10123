package parse

import (
	"errors"
	"math"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
)

// What no instrument shows is refused with the range in the keeper's units; what is rare is taken.
func TestImpossible(t *testing.T) {
	for _, c := range []struct {
		gauge model.Gauge
		units model.Units
		typed string
		says  string // "" where it is taken
	}{
		{model.Gauge{Unit: "ppm", Role: model.RoleTDSTap}, metric, "-3", "-3 ppm can't be; give 0 to 50000 ppm"},
		{model.Gauge{Unit: "ppm", Role: model.RoleTDSTap}, metric, "99999999", "99999999 ppm can't be; give 0 to 50000 ppm"},
		{model.Gauge{Unit: "ppm", Role: model.RoleTDSTap}, metric, "2480", ""},
		{model.Gauge{Unit: "C"}, metric, "77", "77 °C can't be; give -5 to 60 °C, or put its unit behind it"},
		{model.Gauge{Unit: "C"}, metric, "77F", ""},
		{model.Gauge{Unit: "C"}, metric, "-1.5", ""},
		{model.Gauge{Unit: "C"}, us, "77", ""},
		{model.Gauge{Unit: "C"}, us, "170", "170 °F can't be; give 23 to 140 °F"},
		{model.Gauge{Unit: "C", Role: model.RoleTemperatureWater}, metric, "46", "give 0 to 45 °C"},
		{model.Gauge{Unit: "SP", Role: model.RoleSalinity}, metric, "350", "350 SP can't be; give 0 to 100 SP"},
		{model.Gauge{Unit: "SP"}, metric, "60", ""},
		{model.Gauge{Unit: "bar", Role: model.RolePressureMembrane}, us, "870", "give 0 to 300.2 psi"},
		{model.Gauge{Unit: "pH", Role: station.RoleProductPH}, metric, "15", "give 0 to 14"},
		{model.Gauge{Unit: "pH"}, metric, "82", "82 pH can't be; give 0 to 14 pH"},
		{model.Gauge{Unit: "pH"}, metric, "8.2", ""},
		{model.Gauge{Unit: "dKH"}, metric, "-1", "give 0 to 100 dKH"},
		{model.Gauge{Unit: "mV"}, metric, "-200", ""}, // an unknown unit allows anything
	} {
		_, err := Value(c.typed, c.gauge, c.units)
		var impossible *ImpossibleError
		if c.says == "" && err != nil || c.says != "" && (!errors.As(err, &impossible) || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%s %s: %v; want %q", c.typed, c.gauge.Unit, err, c.says)
		}
	}
	water := model.Counter{Unit: "L", Style: model.StyleAmount}
	for typed, says := range map[string]string{"999999999": "at once can't be; give at most 100000 L", "2000": "", "100000": ""} {
		if _, err := Usage(typed, water, metric); (err == nil) != (says == "") || err != nil && !strings.Contains(err.Error(), says) {
			t.Errorf("%s L: %v; want %q", typed, err, says)
		}
	}
	if _, err := Usage("26500", water, us); err == nil || !strings.Contains(err.Error(), "at most 26417 gal") {
		t.Errorf("26500 gal: %v", err)
	}
	if _, err := Usage("999999", model.Counter{Unit: "L", Style: model.StyleMeter}, metric); err != nil {
		t.Errorf("a running meter: %v", err)
	}
}

// What was typed stands for all that rounds to it.
func TestWithin(t *testing.T) {
	sp := model.Gauge{Unit: "SP"}
	for _, c := range []struct {
		typed  string
		gauge  model.Gauge
		units  model.Units
		within float64
	}{
		{"248", model.Gauge{Unit: "ppm"}, metric, 0.5},
		{"8.4", model.Gauge{Unit: "dKH"}, metric, 0.05},
		{"8,40", model.Gauge{Unit: "dKH"}, metric, 0.005},
		{"77.0", model.Gauge{Unit: "C"}, us, 0.05 * 5 / 9},
		{"10 gpd", model.Gauge{Unit: "L/h"}, metric, 0.5 * 3.785411784 / 24},
		{"35", sp, metric, 0.5},
		{"1.0264 SG", sp, metric, 0.066}, // a salinity of 1 is 0.000758 of specific gravity (EOS-80)
	} {
		if _, got, err := ValueWithin(c.typed, c.gauge, c.units); err != nil || math.Abs(got-c.within) > 0.01*c.within {
			t.Errorf("ValueWithin(%q) = %g, %v; want %g", c.typed, got, err, c.within)
		}
	}
	litres := model.Counter{Unit: "L"}
	for typed, within := range map[string]float64{"40": 0.5, "20+18": 1, "5.1+5.2 gal": 0.1 * 3.785411784, "100.5-60": 0.55} {
		if _, got, err := UsageWithin(typed, litres, metric); err != nil || math.Abs(got-within) > 1e-9 {
			t.Errorf("UsageWithin(%q) = %g, %v; want %g", typed, got, err, within)
		}
	}
}
