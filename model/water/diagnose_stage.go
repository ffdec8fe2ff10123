package water

import (
	"strconv"
	"strings"
)

// A Verdict is what can be said of one stage.
type Verdict string

// The verdicts. Act is said when a limit of the part's chore was crossed and confirmed, or must not wait for that; ReadAgain
// when the part was renewed after it was read last; Unknown while there is nothing to judge by.
const (
	Sound     Verdict = "sound"
	Watch     Verdict = "watch"
	Act       Verdict = "act"
	ReadAgain Verdict = "read again"
	Unknown   Verdict = "can't tell"
)

// A StageVerdict is the verdict on one stage and the reading it rests on, or the reading it wants.
type StageVerdict struct {
	Stage   string
	Verdict Verdict
	Because string
}

// held is a limit by which a stage is judged, and how its value is said.
type held struct {
	limit *Limit
	say   func(v float64) string
	below bool
}

// stages judges the four stages in the order the water flows.
func (r *Readings) stages(e evidence, causes []Cause) []StageVerdict {
	l := r.Limits
	percents := func(name string) func(float64) string {
		return func(v float64) string { return name + " " + short(v) + " %" }
	}
	flow := held{l.Flow, percents("normalised flow"), true}
	return []StageVerdict{
		r.stage(Sediment, e, causes, []held{{l.Drop, func(v float64) string { return "prefilters take " + r.Show.inBar(v) }, false}},
			"read the line and the membrane pressure while it runs", dropFine),
		r.stage(Carbon, e, causes, []held{{l.Chlorine, func(v float64) string { return "total chlorine " + inMgL(v) }, false}}, carbonWish(e), chlorineNone),
		r.stage(Membrane, e, causes, []held{{l.Rejection, percents("rejection"), true}, flow}, membraneWish(e), r.membraneWell(e)...),
		r.stage(Resin, e, causes, []held{{l.Product, func(v float64) string { return "after resin " + inPPM(v) }, false}}, resinWish(e), r.resinWell(e)...),
	}
}

// resinWell are the signs that clear the resin: none beside a meter that is suspect.
func (r *Readings) resinWell(e evidence) []sign {
	if e.hasAny(meterWrong...) || e.has(membraneZero) {
		return nil
	}
	return []sign{productGood}
}

// membraneWell are the signs that clear the membrane: none beside a meter that is suspect.
func (r *Readings) membraneWell(e evidence) []sign {
	if e.hasAny(meterWrong...) {
		return nil
	}
	return []sign{passageSteady, passageByLow}
}

// stage says what the clocks of the stage's chore say, in the words of the surest cause that lies with it; else what
// that cause says, a sign that all is well, or what to read.
func (r *Readings) stage(name string, e evidence, causes []Cause, limits []held, wish string, well ...sign) StageVerdict {
	why := ""
	for _, c := range causes {
		if c.stage == name && c.ID != "D45" {
			why = c.Said() + ": " + c.Because
			break
		}
	}
	for _, confirmed := range []bool{true, false} {
		for _, h := range limits {
			if !h.limit.crossed() || h.limit.confirmed() != confirmed {
				continue
			}
			verdict, because := Act, why
			if why == "" {
				because = h.words(causes)
			}
			if !confirmed {
				verdict = Watch
				because += "; read once: read again to decide"
			}
			return StageVerdict{name, verdict, because}
		}
	}
	for _, u := range r.Parts.Unread {
		if u.Stage == name {
			return StageVerdict{name, ReadAgain, u.words()}
		}
	}
	switch {
	case why != "":
		return StageVerdict{name, Watch, why}
	case name == Membrane && e.has(passageNear):
		return StageVerdict{name, Watch, e.why(passageNear)}
	case name == Membrane && e.hasAny(normalDown):
		return StageVerdict{name, Watch, e.why(normalDown)}
	case e.hasAny(well...):
		return StageVerdict{name, Sound, e.why(well...)}
	}
	return StageVerdict{name, Unknown, wish}
}

// words says that a limit was crossed where no cause lies with the stage, and what the readings say instead.
func (h held) words(causes []Cause) string {
	side := "over "
	if h.below {
		side = "under "
	}
	s := h.say(h.limit.Held) + ", " + side + short(h.limit.Value)
	if h.limit.confirmed() {
		s += ", read twice"
	}
	if h.limit.AgeDays > sameDays {
		s += " (" + strconv.Itoa(h.limit.AgeDays) + " d ago)"
	}
	if len(causes) > 0 && causes[0].ID != "D1" {
		s += "; but look first at: " + causes[0].Cause
	}
	return s
}

// words is what is said of a part that was renewed after it was read last: "renewed 14 Jun: read again".
func (u Unread) words() string {
	if u.NotBefore {
		return "in use since " + u.Renewed + ": read again"
	}
	return "renewed " + u.Renewed + ": read again"
}

// unreadSigns see parts that were renewed after they were read last.
func (r *Readings) unreadSigns(e evidence) {
	signs := map[string]sign{Sediment: unreadSediment, Carbon: unreadCarbon, Membrane: unreadMembrane, Resin: unreadResin,
		Restrictor: unreadRestrictor, Supply: unreadSupply}
	for _, u := range r.Parts.Unread {
		e[signs[u.Stage]] = finding{why: u.words() + "; read last " + u.ReadLast, firm: true}
	}
}

func carbonWish(e evidence) string {
	switch {
	case e.has(chlorineNowhere):
		return "test again when the tap has chlorine: " + e.why(chlorineNowhere)
	case e.has(chlorineUntold):
		return "test the tap with the same kit: " + e.why(chlorineUntold)
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
	for _, s := range []string{f.openSalt(e), f.openProduct(e), f.openFlow(e)} {
		if s != "" {
			out = append(out, s)
		}
	}
	if left := e.unexplained(); len(out) == 0 && !explained && len(left) > 0 {
		out = append(out, "can't tell yet what this means: "+e.why(left...)+": read again on another day")
	}
	if e.has(chlorineUntold) {
		out = append(out, "can't tell yet about the carbon: test the tap for total chlorine with the same kit")
	}
	return out
}

// old names the readings that are too old, with their age.
func (r *Readings) old() []string {
	var out []string
	for _, g := range gauges {
		if v := *g.of(r); v != nil && v.AgeDays > g.stale && !g.derived {
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
	case e.hasAny(noPressure, noProduct, unreadMembrane):
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
	case e.hasAny(noPressure, noProduct, unreadResin):
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
