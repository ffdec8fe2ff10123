package schedule_test

import (
	"math"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/schedule"
)

// The rules that verdicts follow (common practice and inference), each in whole books.

// Rule 1: what was read of a part before its renewal judges nothing, in verdicts and clocks alike.
func TestReadingsBeforeARenewalJudgeNothing(t *testing.T) {
	for _, c := range []struct {
		chore model.ID
		stage model.Stage
		bad   set
	}{
		{"renew-sediment", model.StageSediment, set{"pressure-membrane": 3.1, "flow-product": 6.1, "flow-waste": 28.2}},
		{"renew-carbon", model.StageCarbon, set{"chlorine-carbon": 0.3}},
		{"renew-membrane", model.StageMembrane, set{"tds-membrane": 30, "flow-product": 5}},
		{"renew-resin", model.StageResin, set{"tds-product": 4, "ph-product": 5}},
		{"renew-restrictor", "", set{"flow-waste": 11}},
	} {
		b := settled(t).read(june8-7, c.bad).read(june8, c.bad).tick(june14, c.chore).book(t)
		is := station.Of(b, judged)
		if v := is.Verdict(c.stage); c.stage != "" && (v.Verdict != water.ReadAgain || !strings.HasPrefix(v.Because, "renewed 14 Jun: read again")) {
			t.Errorf("%s: %s, %s", c.stage, v.Verdict, v.Because)
		}
		if len(is.Diagnosis.Causes) != 1 || is.Diagnosis.Causes[0].ID != "D45" {
			t.Errorf("%s: %+v", c.chore, is.Diagnosis.Causes)
		}
		for _, k := range schedule.Make(b, judged).Of(c.chore).Clocks {
			if k.Crossed {
				t.Errorf("%s: %s is crossed by readings of the old part", c.chore, k.Clock.Gauge)
			}
		}
	}
}

// Rule 2: the first weeks are taken anew after whatever moves all readings.
func TestFirstWeeksBeginAnew(t *testing.T) {
	for name, change := range map[string]func(u *unit){
		"element":    func(u *unit) { u.tick(june8, "renew-membrane") },
		"restrictor": func(u *unit) { u.tick(june8, "renew-restrictor") },
		"booster": func(u *unit) {
			u.add(june8, model.Component{ID: "booster", Name: "Booster pump", Place: "water-corner", Reach: 2, InService: june8})
		},
		"regulator": func(u *unit) {
			u.add(june8, model.Component{ID: "reg", Name: "Pressure regulator", Place: "water-corner", Reach: 2, InService: june8})
		},
		"keeper's word": func(u *unit) { u.add(june8, model.Normal{Component: "membrane"}) },
	} {
		u := settled(t)
		change(u)
		is := station.Of(u.read(june8+3, set{"flow-waste": 23}).read(judged, set{"flow-waste": 23}).book(t), judged)
		if is.FirstWeeks.From != june8+3 {
			t.Errorf("%s: first weeks from %s", name, is.FirstWeeks.From)
		}
	}
}

// Rule 3: warm water excuses, cold never accuses.
func TestRejectionIsBroughtToTwentyDegreesOneWay(t *testing.T) {
	for degrees, want := range map[float64]float64{4: 96.4, 10: 96.4, 20: 96.4, 25: 100 - 3.6*math.Pow(1.03, -5), 30: 100 - 3.6*math.Pow(1.03, -10)} {
		s := set{"tds-membrane": 9, "temperature-water": degrees}
		b := settled(t).read(june8, s).read(judged, s).book(t)
		if got := station.Of(b, judged).Rejection.Value; math.Abs(got-want) > 1e-9 {
			t.Errorf("%g degC: %.3f, want %.3f", degrees, got, want)
		}
	}
}

// Rule 4: a value is beyond a threshold only where the whole span of its instrument is.
func TestTheSpanMustLieBeyond(t *testing.T) {
	for ppm, crossed := range map[float64]bool{12: false, 13: false, 12.5: false, 12.6: true, 14: true} {
		b := settled(t).read(june8, set{"tds-membrane": ppm}).read(judged, set{"tds-membrane": ppm}).book(t)
		is := station.Of(b, judged)
		if got := is.Verdict(model.StageMembrane).Verdict == water.Act; got != crossed {
			t.Errorf("%g of 250 ppm: act %v", ppm, got)
		}
	}
}

// Rules 5, 6: a jump stays a jump when it is read again and again; with no minutes said, creep stands first at first.
func TestAJumpStaysAJump(t *testing.T) {
	u := settled(t)
	for i, want := range []string{"D6", "D5", "D5", "D5"} {
		on := june8 + model.Date(7*i)
		u.read(on, set{"tds-membrane": 20})
		is := station.Of(u.book(t), on)
		if is.Diagnosis.Causes[0].ID != want {
			t.Errorf("reading %d: %+v", i, is.Diagnosis.Causes)
		}
	}
}

// Rule 7 is TestWaterAndRoundAgree in agree_test.go. Rule 8: only what is likely says renew; situation.sees holds every one
// to it. Rule 9: more pressure than usual is a regulator set high only above 5.5 bar.
func TestRegulatorHighWantsAnAbsolutePressure(t *testing.T) {
	for line, want := range map[float64]bool{4.6: false, 5.4: false, 5.5: false, 5.6: true, 6.8: true} {
		s := set{"pressure-line": line, "pressure-membrane": line - 0.1}
		is := station.Of(settled(t).read(june8, s).read(judged, s).book(t), judged)
		got := false
		for _, c := range is.Diagnosis.Causes {
			got = got || c.ID == "D16"
		}
		if got != want {
			t.Errorf("%g bar: D16 %v", line, got)
		}
	}
}

// Rule 10: with the waste up 30 % at its pressure, no cartridge and no membrane is blamed.
func TestRunningOffStandsBeforeClogging(t *testing.T) {
	for waste, want := range map[float64]string{40: "D10", 48: "D18", 60: "D44", 150: "D44"} {
		s := set{"flow-waste": waste, "pressure-line": 3.8, "pressure-membrane": 2.9, "flow-product": 5.8}
		if waste == 40 {
			s["flow-waste"] = 32
		}
		if waste == 48 {
			s["flow-product"] = 7.3 // the product is not down with it
		}
		is := station.Of(settled(t).read(june8, s).read(judged, s).book(t), judged)
		for i, c := range is.Diagnosis.Causes {
			if i == 0 && c.ID != want || waste > 40 && (c.ID == "D10" || c.ID == "D13") {
				t.Errorf("waste %g: %s among %+v", waste, c.ID, is.Diagnosis.Causes)
			}
		}
	}
}

// Rule 11: no drift within what the instrument can tell.
func TestNoDriftWithinTheInstrument(t *testing.T) {
	for name, c := range map[string]struct {
		s    set
		want bool
	}{
		"one step of the meter": {set{"tds-membrane": 6}, false},
		"three steps":           {set{"tds-membrane": 8}, true},
		"cold":                  {set{"temperature-water": 6, "flow-product": 5.7}, false},
		"a tenth less water":    {set{"flow-product": 7.1}, true},
	} {
		u := settled(t)
		for d := may25 + 7; d <= judged; d += 7 {
			u.read(d, c.s)
		}
		round := schedule.Make(u.book(t), judged)
		got := round.Drift(model.Rejection, 0) != nil || round.Drift(model.NormalisedFlow, 0) != nil
		if got != c.want {
			t.Errorf("%s: drift %v", name, got)
		}
	}
}
