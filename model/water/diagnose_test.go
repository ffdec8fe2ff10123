package water

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func val(v float64) *float64 { return &v }

// was gives a reading its first weeks and, when there is one, the reading before.
func was(value, baseline float64, previous ...float64) *Reading {
	r := &Reading{Value: value, Baseline: &baseline}
	if len(previous) > 0 {
		r.Previous = &previous[0]
	}
	return r
}

func only(value float64) *Reading { return &Reading{Value: value} }

func (r *Reading) after(minutes float64) *Reading { r.MinutesRunning = &minutes; return r }

func (r *Reading) old(days int) *Reading { r.AgeDays = days; return r }

// healthy is a unit in its first weeks, read today with a meter that shows tenths; the cases change what they are about.
func healthy() Readings {
	return Readings{
		TapTDS: was(250, 250, 250).after(15), MembraneTDS: was(5, 5, 5).after(15), ProductTDS: was(0, 0, 0).after(15),
		LinePressure: was(3.6, 3.6, 3.6), MembranePressure: was(3.5, 3.5, 3.5), WaterTemperature: was(18, 18, 18),
		ProductFlow: was(8, 8, 8), WasteFlow: was(32, 32, 32), ChlorineTap: only(0.8), ChlorineCarbon: only(0), MeterPPM: 0.1,
	}
}

func (d Diagnosis) ids() string {
	var ids []string
	for _, c := range d.Causes {
		ids = append(ids, c.ID+" ("+c.Sure.String()+")")
	}
	return strings.Join(ids, ", ")
}

func (d Diagnosis) has(id string) bool {
	for _, c := range d.Causes {
		if c.ID == id {
			return true
		}
	}
	return false
}

func TestDiagnosisCases(t *testing.T) {
	if len(diagnosisCases) < 40 {
		t.Errorf("only %d cases", len(diagnosisCases))
	}
	for _, c := range diagnosisCases {
		t.Run(c.name, func(t *testing.T) {
			r := healthy()
			c.change(&r)
			d := must(Diagnose(r))
			got := ""
			if len(d.Causes) > 0 {
				got = d.Causes[0].ID
			}
			if got != c.first {
				t.Errorf("first cause %q, want %q since %s; all: %s; open: %q", got, c.first, c.reason, d.ids(), d.CannotTell)
			}
			if c.sure != 0 && len(d.Causes) > 0 && d.Causes[0].Sure != c.sure {
				t.Errorf("%s, want %s since %s; because %s", d.ids(), c.sure, c.reason, d.Causes[0].Because)
			}
			for _, id := range c.also {
				if !d.has(id) {
					t.Errorf("no %s among %s", id, d.ids())
				}
			}
			for _, id := range c.never {
				if d.has(id) {
					t.Errorf("%s among %s, though %s", id, d.ids(), c.reason)
				}
			}
			if !strings.Contains(strings.Join(d.CannotTell, "\n"), c.say) {
				t.Errorf("open %q does not say %q", d.CannotTell, c.say)
			}
			if len(d.Causes) == 0 && len(d.CannotTell) == 0 {
				t.Error("neither a cause nor what is missing")
			}
			for _, cause := range d.Causes {
				if cause.Because == "" || cause.Next == "" || cause.Sure < Hint || cause.Sure > Likely {
					t.Errorf("incomplete cause %+v", cause)
				}
			}
		})
	}
}

// Every row of the table is reached by a case, as a first cause or behind one.
func TestEveryPatternHasACase(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range diagnosisCases {
		r := healthy()
		c.change(&r)
		r = r.fresh().judged()
		e := r.evidence()
		for _, p := range patterns {
			if _, ok := p.weigh(e); ok {
				seen[p.id+p.cause] = true
			}
		}
	}
	for _, p := range patterns {
		if !seen[p.id+p.cause] {
			t.Errorf("no case reaches %s, %s", p.id, p.cause)
		}
	}
}

func TestStageVerdicts(t *testing.T) {
	verdicts := func(change func(*Readings)) map[string]Verdict {
		r := healthy()
		change(&r)
		d := must(Diagnose(r))
		got := map[string]Verdict{}
		for _, s := range d.Stages {
			if s.Because == "" {
				t.Errorf("%s %s without a reason", s.Stage, s.Verdict)
			}
			got[s.Stage] = s.Verdict
		}
		return got
	}
	for _, c := range []struct {
		name   string
		change func(*Readings)
		want   map[string]Verdict
	}{
		{"healthy", func(*Readings) {}, map[string]Verdict{Sediment: Sound, Carbon: Sound, Membrane: Sound, Resin: Sound}},
		{"nothing read", func(r *Readings) { *r = Readings{} }, map[string]Verdict{Sediment: Unknown, Carbon: Unknown, Membrane: Unknown, Resin: Unknown}},
		{"resin twice over", func(r *Readings) { r.ProductTDS = was(3, 0, 2) }, map[string]Verdict{Membrane: Sound, Resin: Act}},
		{"resin once over, membrane unread", func(r *Readings) { r.ProductTDS, r.MembraneTDS = was(3, 0, 0), nil }, map[string]Verdict{Membrane: Unknown, Resin: Watch}},
		{"membrane twice up, above its limit", func(r *Readings) { r.MembraneTDS = was(9, 5, 8.5) }, map[string]Verdict{Membrane: Watch, Resin: Sound}},
		{"membrane twice under its limit", func(r *Readings) { r.MembraneTDS = was(14, 5, 13.6) }, map[string]Verdict{Membrane: Act, Resin: Sound}},
		{"membrane twice under its limit as the pressure is low", func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow, r.MembraneTDS = was(1.8, 3.6), was(1.7, 3.5), was(3.8, 8), was(14, 8, 14)
		}, map[string]Verdict{Membrane: Act}},
		{"membrane once up on a whole-ppm meter", func(r *Readings) { r.MeterPPM, r.MembraneTDS = 1, was(10, 5, 5) }, map[string]Verdict{Membrane: Watch}},
		{"creep", func(r *Readings) { r.MembraneTDS = was(40, 5, 5).after(2) }, map[string]Verdict{Membrane: Unknown}},
		{"meter wrong", func(r *Readings) { r.MembraneTDS = was(300, 5, 5) }, map[string]Verdict{Membrane: Watch, Resin: Unknown}},
		{"low pressure", func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow, r.MembraneTDS = was(2.5, 3.6), was(2.4, 3.5), was(5.4, 8), was(7, 5)
		}, map[string]Verdict{Membrane: Sound, Sediment: Sound}},
		{"clogged, read once", func(r *Readings) { r.MembranePressure = was(2.6, 3.5) }, map[string]Verdict{Sediment: Watch}},
		{"clogged, read twice", func(r *Readings) { r.LinePressure, r.MembranePressure = was(3.6, 3.6, 3.6), was(2.6, 3.5, 2.7) }, map[string]Verdict{Sediment: Act}},
		{"chlorine once", func(r *Readings) { r.ChlorineCarbon = only(0.1) }, map[string]Verdict{Carbon: Watch}},
		{"chlorine twice", func(r *Readings) { r.ChlorineCarbon = &Reading{Value: 0.1, Previous: val(0.08)} }, map[string]Verdict{Carbon: Act}},
		{"no chlorine, tap never tested", func(r *Readings) { r.ChlorineTap = nil }, map[string]Verdict{Carbon: Unknown}},
		{"resin renewed", func(r *Readings) { r.ProductTDS, r.Parts.Unread = nil, []Unread{{Resin, "14 Jun", "8 Jun", false}} }, map[string]Verdict{Resin: ReadAgain, Membrane: Sound}},
		{"rejection near its limit", func(r *Readings) { r.MeterPPM, r.TapTDS, r.MembraneTDS = 1, only(250), only(12) }, map[string]Verdict{Membrane: Watch}},
		{"resin 1 twice after 0", func(r *Readings) { r.MeterPPM, r.ProductTDS = 1, was(1, 0, 1) }, map[string]Verdict{Resin: Watch}},
		{"over twice, long ago, by a chore's clock", func(r *Readings) {
			r.ProductTDS, r.Limits.Product = was(3, 0, 3).old(80), &Limit{Value: 1, Run: 2, Held: 3, AgeDays: 80}
		}, map[string]Verdict{Resin: Act}},
		{"no chlorine at the tap either", func(r *Readings) { r.ChlorineTap = only(0) }, map[string]Verdict{Carbon: Unknown}},
		{"chlorine held back", func(r *Readings) { r.ChlorineTap = only(0.8) }, map[string]Verdict{Carbon: Sound}},
		{"restrictor first", func(r *Readings) { r.WasteFlow, r.MembraneTDS = was(8, 32), was(8, 5, 7) }, map[string]Verdict{Membrane: Unknown}},
		{"chlorine test too old", func(r *Readings) { r.ChlorineCarbon = only(0).old(90) }, map[string]Verdict{Carbon: Unknown}},
	} {
		got := verdicts(c.change)
		for stage, want := range c.want {
			if got[stage] != want {
				t.Errorf("%s: %s is %q, want %q", c.name, stage, got[stage], want)
			}
		}
	}
}

func TestDiagnosisWritesTheKeepersUnits(t *testing.T) {
	r := healthy()
	r.Show = Display{PSI: true, Fahrenheit: true, GallonsPerDay: true}
	r.WaterTemperature, r.ProductFlow = was(8, 18), was(5.5, 8)
	d := must(Diagnose(r))
	why := d.Causes[0].Because
	for _, want := range []string{"34.9 gpd", "46.4 °F", "64.4 °F in the first weeks"} {
		if !strings.Contains(why, want) {
			t.Errorf("%q does not say %q", why, want)
		}
	}
	r = healthy()
	r.Show.PSI = true
	r.MembranePressure = was(2.6, 3.5)
	d = must(Diagnose(r))
	if why := d.Causes[0].Because; !strings.Contains(why, "14.5 psi") {
		t.Errorf("%q is not in psi", why)
	}
}

func TestDiagnosisRefusals(t *testing.T) {
	for name, change := range map[string]func(*Readings){
		"TDS negative":       func(r *Readings) { r.TapTDS = only(-1) },
		"TDS NaN":            func(r *Readings) { r.ProductTDS = only(math.NaN()) },
		"pressure infinite":  func(r *Readings) { r.LinePressure = only(math.Inf(1)) },
		"ice":                func(r *Readings) { r.WaterTemperature = only(-3) },
		"pH":                 func(r *Readings) { r.ProductPH = only(15) },
		"baseline":           func(r *Readings) { r.MembraneTDS = was(5, -5) },
		"reading before":     func(r *Readings) { r.MembraneTDS = was(5, 5, math.NaN()) },
		"age":                func(r *Readings) { r.TapTDS.AgeDays = -1 },
		"minutes":            func(r *Readings) { r.TapTDS.after(-1) },
		"resolution":         func(r *Readings) { r.MeterPPM = -1 },
		"chlorine off scale": func(r *Readings) { r.ChlorineCarbon = only(40) },
	} {
		r := healthy()
		change(&r)
		_, err := Diagnose(r)
		refused(t, name, err)
	}
}

// anyReading draws a reading or none.
func anyReading(t *rapid.T, name string, hi float64) *Reading {
	if !rapid.Bool().Draw(t, name+"?") {
		return nil
	}
	r := &Reading{Value: rapid.Float64Range(0, hi).Draw(t, name), AgeDays: rapid.IntRange(0, 90).Draw(t, name+" age")}
	if rapid.Bool().Draw(t, name+" zero") {
		r.Value = 0
	}
	for label, p := range map[string]**float64{" base": &r.Baseline, " before": &r.Previous} {
		if rapid.Bool().Draw(t, name+label+"?") {
			*p = val(rapid.Float64Range(0, hi).Draw(t, name+label))
		}
	}
	if rapid.Bool().Draw(t, name+" ran?") {
		r.after(rapid.Float64Range(0, 30).Draw(t, name+" ran"))
	}
	return r
}

// Whatever is read, Diagnose answers: in order of sureness save for what needs no action, with a reason for each cause, no
// NaN in any text, something to read when there is no cause, the same again for the same readings, and never a verdict
// on readings that are all too old.
func TestDiagnoseAlwaysAnswers(t *testing.T) {
	normal := map[string]bool{"D7": true, "D8": true, "D11": true, "D12": true, "D25": true}
	rapid.Check(t, func(t *rapid.T) {
		r := Readings{
			TapTDS: anyReading(t, "tap", 600), MembraneTDS: anyReading(t, "membrane", 60), ProductTDS: anyReading(t, "product", 10),
			WasteTDS: anyReading(t, "waste", 800), ReservoirTDS: anyReading(t, "reservoir", 10),
			LinePressure: anyReading(t, "line", 8), MembranePressure: anyReading(t, "inlet", 8), WaterTemperature: anyReading(t, "c", 40),
			ProductFlow: anyReading(t, "flow", 20), WasteFlow: anyReading(t, "waste flow", 80), NormalisedFlow: anyReading(t, "normal", 150),
			ChlorineCarbon: anyReading(t, "chlorine", 2), ProductPH: anyReading(t, "pH", 14), MeterPPM: rapid.SampledFrom([]float64{0, 0.1, 1}).Draw(t, "meter"),
		}
		d := must(Diagnose(r))
		again, _ := Diagnose(r)
		if d.ids() != again.ids() || strings.Join(d.CannotTell, "|") != strings.Join(again.CannotTell, "|") {
			t.Fatalf("%s, then %s", d.ids(), again.ids())
		}
		if len(d.Causes) == 0 && len(d.CannotTell) == 0 {
			t.Fatal("nothing said")
		}
		last := Likely
		for _, c := range d.Causes {
			if c.Because == "" || strings.Contains(c.Because, "NaN") || strings.Contains(c.Because, "Inf") {
				t.Fatalf("because %q of %s", c.Because, c.ID)
			}
			if !normal[c.ID] {
				if c.Sure > last {
					t.Fatalf("out of order: %s", d.ids())
				}
				last = c.Sure
			}
		}
		if len(d.Stages) != 4 {
			t.Fatalf("%d stages", len(d.Stages))
		}
		for _, g := range gauges {
			if v := *g.of(&r); v != nil {
				v.AgeDays += 61
			}
		}
		d, err := Diagnose(r)
		if err != nil || len(d.Causes) != 0 {
			t.Fatalf("a cause from old readings: %s, %v", d.ids(), err)
		}
	})
}
