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

// Readings are the latest of each gauge; any of them may be nil. All TDS readings are of one meter.
type Readings struct {
	TapTDS, MembraneTDS, ProductTDS *Reading // ppm
	WasteTDS, ReservoirTDS          *Reading // ppm
	LinePressure, MembranePressure  *Reading // bar, read while the unit runs
	WaterTemperature                *Reading // degC
	ProductFlow, WasteFlow          *Reading // L/h
	NormalisedFlow                  *Reading // percent of the baseline; worked out from the others when nil
	ChlorineTap, ChlorineCarbon     *Reading // mg/L total chlorine, at the tap and after the carbon
	ProductPH                       *Reading

	MeterPPM   float64 // resolution of the TDS meter, ppm; 0 stands for 1
	ProductPPM float64 // change the resin above this, ppm; 0 stands for 1

	Seen Sightings
	Show Display
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
	ID      string // of the pattern it comes from
	Cause   string
	Sure    Sureness
	Because string // the readings it rests on
	Next    string // what to do next

	stage string // whose verdict it carries
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
	e := r.evidence()
	d := Diagnosis{Causes: matches(e)}
	d.CannotTell = r.open(e, len(d.Causes) > 0)
	d.Stages = r.stages(e, d.Causes)
	return d, nil
}

// matches lists the patterns the evidence fits, in order.
func matches(e evidence) []Cause {
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
		if p.normal { // what needs no action stands behind what may
			rank--
		}
		found = append(found, match{Cause{p.id, p.cause, sure, p.because(e), p.next, p.stage}, rank})
	}
	slices.SortStableFunc(found, func(a, b match) int { return int(b.rank - a.rank) })
	var causes []Cause
	for _, m := range found {
		causes = append(causes, m.Cause)
	}
	if len(causes) == 0 && e.has(productGood) && e.has(passageSteady) && !e.hasAny(unexplained...) {
		causes = append(causes, Cause{"D1", "nothing stands out", Likely, e.why(productGood, passageSteady), "keep reading as you do", ""})
	}
	return causes
}

// weigh says whether the evidence fits the pattern and how surely.
func (p pattern) weigh(e evidence) (Sureness, bool) {
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
	return sure, true
}

// because names the readings the pattern rests on, those that back it included.
func (p pattern) because(e evidence) string {
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

// why joins the reasons of the signs that were seen, each once.
func (e evidence) why(signs ...sign) string {
	var parts []string
	for _, s := range signs {
		if f, ok := e[s]; ok && f.why != "" && !slices.Contains(parts, f.why) {
			parts = append(parts, f.why)
		}
	}
	return strings.Join(parts, "; ")
}
