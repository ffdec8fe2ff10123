package station

import (
	"testing"

	"brine/wrasse/model"
)

// gauges gives the book gauges of more roles, read on a day.
func (l *log) gauge(role, unit string, on int, v float64) {
	l.add(0, model.Gauge{ID: model.ID(role), Name: role, Unit: unit, Role: role})
	l.read(on, role, v)
}

func TestTapCO2(t *testing.T) {
	l := newLog(t)
	if v, guess := TapCO2(l.book(), day(50)); v != 0.127 || !guess {
		t.Errorf("nothing known: %v, %v", v, guess)
	}
	l.gauge(RoleTapAlkalinity, "dKH", 20, 8.4) // 150 mg/L as CaCO3
	l.gauge(RoleTapPH, "pH", 20, 7.5)
	v, guess := TapCO2(l.book(), day(50))
	near(t, "150 mg/L at pH 7.5", v, 0.2122, 2e-4) // Stumm & Morgan, computed
	if guess {
		t.Error("it is a guess")
	}
	l.add(0, model.Gauge{ID: model.RoleTDSTap + "2", Name: "x", Unit: "ppm"})
	l.read(20, RoleTapPH, 4) // no tap water: refused, and guessed
	if v, guess := TapCO2(l.book(), day(50)); v != 0.127 || !guess {
		t.Errorf("pH 4: %v, %v", v, guess)
	}
}

func TestLoadInMeq(t *testing.T) {
	l := newLog(t)
	clock := model.Clock{Kind: model.ClockLoad, Counter: "water", Inlet: model.RoleTDSMembrane, Outlet: model.RoleTDSProduct, Amount: 297, Meq: true, Rule: model.RuleLasts}
	if _, ok := LoadBefore(l.book(), clock, model.EndOf(day(50))); ok {
		t.Error("nothing was read")
	}
	l.read(10, model.RoleTDSTap, 250)
	load, ok := LoadBefore(l.book(), clock, model.EndOf(day(50)))
	if !ok || !load.Tap {
		t.Fatalf("%+v, %v", load, ok)
	}
	near(t, "3 % of the tap", load.PerLitre(day(30)), 7.5/58.44+0.127, 1e-9)
	grams := clock
	grams.Meq = false
	if _, ok := LoadBefore(l.book(), grams, model.EndOf(day(50))); ok {
		t.Error("a load in grams reckons with the tap")
	}
	l.read(20, model.RoleTDSMembrane, 5)
	l.read(40, model.RoleTDSMembrane, 9)
	l.gauge(RoleTapAlkalinity, "mg/L", 20, 150)
	l.gauge(RoleTapPH, "pH", 20, 7.5)
	load, ok = LoadBefore(l.book(), clock, model.EndOf(day(50)))
	if !ok || load.Tap {
		t.Fatalf("%+v, %v", load, ok)
	}
	near(t, "half way", load.PerLitre(day(30)), 7/58.44+0.2122, 1e-4)
	load, _ = LoadBefore(l.book(), clock, model.Mark{On: day(30)})
	near(t, "before the second reading", load.PerLitre(day(30)), 5/58.44+0.2122, 1e-4)
	l.read(20, model.RoleTDSProduct, 20)
	load, _ = LoadBefore(l.book(), clock, model.EndOf(day(50)))
	near(t, "an outlet above the inlet", load.PerLitre(day(20)), 0.2122, 1e-4)
}

func TestBedExposureAndContact(t *testing.T) {
	l := newLog(t)
	b := l.book()
	s := Of(b, day(50))
	if _, ok := s.Bed(b); ok {
		t.Error("a bed without readings")
	}
	if _, _, ok := Exposure(b, day(50)); ok {
		t.Error("chlorine hours without readings")
	}
	if _, ok := s.Contact(b); ok {
		t.Error("contact without carbon")
	}
	l.add(0, model.Spare{ID: "resin", Name: "Resin", Unit: "L"},
		model.Component{ID: "carbon", Name: "Carbon", Place: "cellar", Reach: 1, Stage: model.StageCarbon})
	l.chore("renew-bed", "resin", model.WorkRenew, model.Clock{Kind: model.ClockCalendar, Every: model.Span{N: 1, Unit: model.SpanYears}, Rule: model.RuleEvery})
	e := &l.entries[len(l.entries)-1]
	c := e.Body.(model.Chore)
	c.Spares = []model.SpareUse{{Spare: "resin", Quantity: 1.2}}
	e.Body = c
	l.read(20, model.RoleTDSMembrane, 5)
	l.gauge(model.RoleChlorineCarbon, "mg/L", 20, 0.1)
	l.set(20, 8, 32, 4, 15, 250)
	for i := range 10 {
		v := 80.0
		l.add(5+i*4, model.Usage{Counter: "water", Amount: &v})
	}
	b = l.book()
	s = Of(b, day(50))
	bed, ok := s.Bed(b)
	if !ok || bed.Resin != 1.2 || !bed.Guess {
		t.Errorf("bed %+v, %v", bed, ok)
	}
	near(t, "litres", bed.Litres, 2*1397, 2)
	near(t, "share of carbon dioxide", bed.Share, 0.127/(0.127+5/58.44), 1e-9)
	// The membrane went in on day 10; 8 fills of 80 L at 8 L/h since are 80 h at 0.1 mg/L.
	hours, since, ok := Exposure(b, day(50))
	if !ok || since != day(10) {
		t.Errorf("since %s, %v", since, ok)
	}
	near(t, "ppm-hours", hours, 8, 1e-9)
	contact, ok := s.Contact(b)
	if !ok {
		t.Error("no contact")
	}
	near(t, "minutes", contact.Minutes, 0.75, 1e-9) // 0.5 L at 40 L/h
}

func TestLabel(t *testing.T) {
	l := newLog(t)
	l.add(0, model.Component{ID: "membrane", Name: "Membrane", Place: "cellar", Reach: 1, InService: day(0), Stage: model.StageMembrane, Rated: &model.Rated{FlowLH: 11.83, PressureBar: 4.48}})
	l.set(20, 5.6, 22, 3.447, 12, 310)
	s := Of(l.book(), day(20))
	label, ok := s.Readings.Label()
	if !ok {
		t.Fatal("no label")
	}
	// A 75 gpd element rated at 65 psi gives 5.6 L/h at 50 psi and 12 degC (computed: 5.591 with the rule
	// of thumb for the osmotic pressure; the D4516 form used here differs by 1 %).
	near(t, "expected", label.FlowLH, 5.591, 0.08)
	near(t, "percent", label.Percent, 100*5.6/label.FlowLH, 1e-9)
}
