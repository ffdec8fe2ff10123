package water

import (
	"slices"
	"strings"
)

// A Reading is the latest value of one gauge and what is known around it. Nil means not known.
type Reading struct {
	Value          float64
	AgeDays        int      // whole days since it was taken
	MinutesRunning *float64 // running time of the unit before it was taken
	Baseline       *float64 // the same gauge in the part's own first weeks
	Previous       *float64 // the last before this one that counts (taken after 5 minutes of running or more)
}

// Readings are the latest of each gauge; any of them may be nil. All TDS readings are of one meter. What was read of a part
// before it was renewed is left out, as Reading and as Previous: it judges nothing.
type Readings struct {
	TapTDS, MembraneTDS, ProductTDS *Reading // ppm
	WasteTDS, ReservoirTDS          *Reading // ppm
	LinePressure, MembranePressure  *Reading // bar, read while the unit runs
	WaterTemperature                *Reading // degC
	ProductFlow, WasteFlow          *Reading // L/h
	ChlorineTap, ChlorineCarbon     *Reading // mg/L total chlorine, at the tap and after the carbon
	ProductPH, TapPH                *Reading
	TapAlkalinity                   *Reading // mg/L as CaCO3

	NormalisedFlow *Reading // percent of the baseline; this and the next two are worked out from the others when nil
	Drop           *Reading // bar over the prefilters
	Ratio          *Reading // waste over product

	MeterPPM float64 // resolution of the TDS meter, ppm; 0 stands for 1
	Limits   Limits
	Parts    Parts
	Seen     Sightings
	Show     Display
}

// Parts is what the log tells of the parts beside the latest readings; nil means not known.
type Parts struct {
	ElementDays   *int     // from the element's renewal to the latest reading after the membrane
	BestRejection *float64 // percent, held against its limit: the best since the element was renewed
	JumpedFrom    *float64 // the salt passage before a rise by a factor of 3 or more from one reading to the next, that still stands
	BothRose      *Rise    // what membrane and product rose by at once, while it still stands
	BedLitres     *float64 // from the bed's renewal to the latest reading after the resin
	BedDays       *int
	BedLowest     *float64 // the lowest reading of a bed that was read from its first weeks on, ppm
	Rated         *Rated   // the element's label
	GaugeBehind   bool     // there is a gauge behind the prefilters, though it may not have been read of late
	TapTested     bool     // chlorine was looked for at the tap once, and found
	Unread        []Unread
}

// Rated is an element's label: the flow in L/h it gives at a pressure in bar, at 25 degC.
type Rated struct{ FlowLH, PressureBar float64 }

// Unread is a part that was renewed after it was read last. Stage is Supply for a booster or regulator, Restrictor for
// that of the waste.
type Unread struct {
	Stage     string
	Renewed   string // the date in words: "14 Jun"
	ReadLast  string
	NotBefore bool // it went into service then, and was not there before
}

// Sightings are what a keeper sees without a meter.
type Sightings struct {
	WasteRunsWhenFull   bool // water runs to waste with the reservoir full
	DiatomFilm          bool // brown film in the tank with good readings
	SilicaFound         bool // a silica test of the product is positive
	PressureSwings      bool // the pressure goes up and down while running
	PressureSagsOverDay bool // it falls slowly over hours
}

// Display says in which units the explanations are written; the readings themselves are always metric.
type Display struct{ PSI, Fahrenheit, GallonsPerDay bool }

// Sureness is how far the readings carry a cause. There is no certainty.
type Sureness int

const (
	// Hint rests on one reading that its instrument can hardly carry.
	Hint Sureness = iota + 1
	// Possible fits what was read.
	Possible
	// Likely was read twice, or a second kind of reading speaks for it.
	Likely
)

// String is the word for it.
func (s Sureness) String() string { return [...]string{"", "hint", "possible", "likely"}[s] }

// A Cause is one explanation of the readings.
type Cause struct {
	ID      string // of the pattern it comes from, D1 to D45
	Cause   string
	Sure    Sureness
	Because string // the readings it rests on
	Next    string // what to do next

	stage string // whose verdict it carries
}

// Said is the cause and how sure it is: "resin spent, likely". That a part is to be read again is no matter of likelihood.
func (c Cause) Said() string {
	if c.ID == "D45" {
		return c.Cause + ": read again"
	}
	if c.Sure == Hint {
		return c.Cause + ", a hint only"
	}
	return c.Cause + ", " + c.Sure.String()
}

// A Diagnosis is what a set of readings says.
type Diagnosis struct {
	Causes     []Cause // the likeliest first; empty when nothing can be said
	CannotTell []string
	Stages     []StageVerdict // sediment, carbon, membrane, resin
}

// Diagnose weighs the readings against the patterns of fault isolation. It refuses readings no instrument of this
// trade shows; improbable ones it weighs, and suspects the meter.
//
// Source: the patterns are common practice and inference from the physics in this package; no published chart.
func Diagnose(r Readings) (Diagnosis, error) {
	if err := r.check(); err != nil {
		return Diagnosis{}, err
	}
	fresh := r.fresh().judged()
	e := fresh.evidence()
	d := Diagnosis{Causes: fresh.matches(e)}
	d.CannotTell = r.open(e, len(d.Causes) > 0)
	d.Stages = fresh.stages(e, d.Causes)
	return d, nil
}

// matches lists the patterns the evidence fits, in order.
func (r *Readings) matches(e evidence) []Cause {
	type match struct {
		Cause
		rank Sureness
	}
	var found []match
	for _, p := range patterns {
		sure, ok := p.weigh(e)
		if !ok {
			continue
		}
		rank := sure
		if p.behind { // what needs no action stands behind what may
			rank--
		}
		found = append(found, match{Cause{p.id, p.cause, sure, p.because(e), p.step(sure, r), p.stage}, rank})
	}
	slices.SortStableFunc(found, func(a, b match) int { return int(b.rank - a.rank) })
	var causes []Cause
	for _, m := range found {
		causes = append(causes, m.Cause)
	}
	if len(causes) == 0 {
		causes = allWell(e)
	}
	return causes
}

// allWell is D1, when all that is known is well and nothing is left to explain.
func allWell(e evidence) []Cause {
	if !e.has(productGood) || !e.has(passageSteady) || len(e.unexplained()) > 0 {
		return nil
	}
	sure := Likely
	if e.hasAny(nearLimit...) {
		sure = Possible
	}
	return []Cause{{"D1", "nothing stands out", sure, e.why(append([]sign{productGood, passageSteady}, nearLimit...)...), "keep reading as you do", ""}}
}

// step is what to do next: what costs a part only when it is likely, and when the chore's own clock has confirmed it.
func (p *pattern) step(sure Sureness, r *Readings) string {
	if p.again != "" && (sure != Likely || p.owner != nil && !p.owner(&r.Limits).confirmed()) {
		return p.again
	}
	return p.next
}

// weigh says whether the evidence fits the pattern and how surely.
func (p *pattern) weigh(e evidence) (Sureness, bool) {
	for _, s := range p.not {
		if e.has(s) {
			return 0, false
		}
	}
	sure, weak := Possible, false
	for _, s := range p.needs {
		f, ok := e[s]
		if !ok {
			return 0, false
		}
		if f.firm {
			sure = Likely
		}
		weak = weak || f.weak
	}
	if slices.ContainsFunc(p.backs, e.has) {
		sure = Likely
	}
	if weak {
		sure = Hint
	}
	if p.most != 0 {
		sure = min(sure, p.most)
	}
	return sure, true
}

// because names the readings the pattern rests on, those that back it included.
func (p *pattern) because(e evidence) string {
	return e.why(append(slices.Clone(p.needs), p.backs...)...)
}

// A finding is one sign seen in the readings.
type finding struct {
	why  string
	weak bool // rests on one reading that its instrument can hardly carry
	firm bool // was so the time before, too
}

type evidence map[sign]finding

func (e evidence) has(s sign) bool { _, ok := e[s]; return ok }

// hasAny says whether one of the signs was seen.
func (e evidence) hasAny(signs ...sign) bool { return slices.ContainsFunc(signs, e.has) }

// unexplained are the signs that keep the readings from being called fine. A flow that pressure and cold account for is
// none of them.
func (e evidence) unexplained() []sign {
	var out []sign
	for _, s := range unexplained {
		if e.has(s) && !(e.has(normalSteady) && (s == flowDown || s == flowUp)) {
			out = append(out, s)
		}
	}
	return out
}

// why joins the reasons of the signs that were seen, each once: one that another says too is left out.
func (e evidence) why(signs ...sign) string {
	var parts []string
	for _, s := range signs {
		why := e[s].why
		within := func(part string) bool { return strings.Contains(why, part) }
		if why == "" || slices.ContainsFunc(parts, func(part string) bool { return strings.Contains(part, why) }) {
			continue
		}
		parts = append(slices.DeleteFunc(parts, within), why)
	}
	return strings.Join(parts, "; ")
}
