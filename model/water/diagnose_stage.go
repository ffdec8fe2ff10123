package water

import (
	"strconv"
	"strings"
)

// A Verdict is what can be said of one stage.
type Verdict string

// The verdicts, from good to bad; Unknown is none of them.
const (
	Sound   Verdict = "sound"
	Watch   Verdict = "watch"
	Act     Verdict = "act"
	Unknown Verdict = "can't tell"
)

// A StageVerdict is the verdict on one stage and the reading it rests on, or the reading it wants.
type StageVerdict struct {
	Stage   string
	Verdict Verdict
	Because string
}

// stages judges the four stages in the order the water flows.
func (r Readings) stages(e evidence, causes []Cause) []StageVerdict {
	resinWell := []sign{productGood}
	if e.hasAny(meterWrong...) || e.has(membraneZero) {
		resinWell = nil // a suspect meter clears nothing
	}
	return []StageVerdict{
		stage(Sediment, e, causes, "read the line and the membrane pressure while it runs", dropFine),
		stage(Carbon, e, causes, carbonWish(e), chlorineNone),
		stage(Membrane, e, causes, membraneWish(e), passageSteady, passageByLow),
		stage(Resin, e, causes, resinWish(e), resinWell...),
	}
}

// stage takes the surest cause that lies with it, else a sign that all is well, else says what to read.
func stage(name string, e evidence, causes []Cause, wish string, well ...sign) StageVerdict {
	for _, c := range causes {
		if c.stage != name {
			continue
		}
		verdict := Watch
		if c.Sure == Likely || name == Carbon {
			verdict = Act // chlorine harms the membrane from the first day
		}
		return StageVerdict{name, verdict, c.Cause + ", " + c.Sure.String() + ": " + c.Because}
	}
	if e.hasAny(well...) {
		return StageVerdict{name, Sound, e.why(well...)}
	}
	return StageVerdict{name, Unknown, wish}
}

func carbonWish(e evidence) string {
	if e.has(chlorineNowhere) {
		return "test again when the tap has chlorine: " + e.why(chlorineNowhere)
	}
	return "test for total chlorine after the carbon"
}

func membraneWish(e evidence) string {
	switch {
	case e.hasAny(append([]sign{membraneZero}, meterWrong...)...):
		return "check the meter first"
	case e.has(creeping):
		return "read again after 10 min of running"
	case e.has(passageUnclear):
		return "read again on two more days: " + e.why(passageUnclear)
	case e.hasAny(passageUp, passageJumped): // laid to the restrictor, so no cause of its own
		return "see to the waste restrictor, then read again: " + e.why(passageUp, passageJumped)
	}
	return "read the tap and after the membrane on one day, after 10 min of running"
}

func resinWish(e evidence) string {
	switch {
	case e.hasAny(meterWrong...) || e.has(membraneZero):
		return "check the meter first"
	case e.has(productCreep):
		return "read again after 10 min of running"
	}
	return "read after the resin"
}

// open lists what can't be told yet and the reading that would tell; explained says that causes were found.
func (r Readings) open(e evidence, explained bool) []string {
	var out []string
	if old := r.old(); len(old) > 0 {
		out = append(out, "too old to judge: "+strings.Join(old, ", ")+": read again")
	}
	f := r.fresh()
	if s := f.openSalt(e); s != "" {
		out = append(out, s)
	}
	if s := f.openProduct(e); s != "" {
		out = append(out, s)
	}
	if s := f.openFlow(e); s != "" {
		out = append(out, s)
	}
	if len(out) == 0 && !explained && e.hasAny(unexplained...) {
		out = append(out, "can't tell yet what this means: "+e.why(unexplained...)+": read again on another day")
	}
	return out
}

// old names the readings that are too old, with their age.
func (r *Readings) old() []string {
	var out []string
	for _, g := range gauges {
		if v := *g.of(r); v != nil && v.AgeDays > g.stale {
			out = append(out, g.name+" ("+strconv.Itoa(v.AgeDays)+" d)")
		}
	}
	return out
}

// openSalt says what is missing to judge the membrane by its salt.
func (r *Readings) openSalt(e evidence) string {
	const about = "can't tell yet about the membrane: "
	tap, m := r.TapTDS, r.MembraneTDS
	switch {
	case e.hasAny(noPressure, noProduct):
		return ""
	case tap == nil && m == nil:
		return about + "read the tap and after the membrane"
	case m == nil:
		return about + "read after the membrane"
	case tap == nil:
		return about + "read the tap, else a change of the supply looks the same"
	case m.ranFor(creepMinutes):
		return about + tooSoon(m)
	case e.hasAny(meterWrong...) || e.has(membraneZero):
		return about + "check the meter first"
	case !together(tap, m):
		return about + "tap and after membrane were read " + strconv.Itoa(max(tap.AgeDays, m.AgeDays)-min(tap.AgeDays, m.AgeDays)) + " d apart; read both on one day"
	}
	return ""
}

// openProduct says what is missing to judge the resin.
func (r *Readings) openProduct(e evidence) string {
	const about = "can't tell yet about the resin: "
	switch p := r.ProductTDS; {
	case e.hasAny(noPressure, noProduct):
		return ""
	case p == nil:
		return about + "read after the resin"
	case p.ranFor(creepMinutes):
		return about + tooSoon(p)
	}
	return ""
}

func tooSoon(r *Reading) string {
	return "it was read after " + short(*r.MinutesRunning) + " min of running; read again after 10 min of running"
}

// openFlow says what is missing to tell cold or low pressure from a failing membrane, once the flow is down.
func (r *Readings) openFlow(e evidence) string {
	if !e.has(flowDown) || e.hasAny(normalSteady, normalDown, normalUp) {
		return ""
	}
	var missing []string
	for _, g := range []struct {
		name string
		r    *Reading
	}{{"the water temperature", r.WaterTemperature}, {"the pressure at the membrane", r.inlet()}, {"the tap", r.TapTDS}} {
		switch {
		case g.r == nil:
			missing = append(missing, "read "+g.name)
		case g.r.Baseline == nil:
			missing = append(missing, g.name+" of the first weeks is not known")
		case !together(g.r, r.ProductFlow):
			missing = append(missing, "read "+g.name+" on the day of the flow")
		}
	}
	if len(missing) == 0 {
		return ""
	}
	return "can't tell yet cold or low pressure from a failing membrane (" + e.why(flowDown, coldShort) + "): " + strings.Join(missing, ", ")
}
