package model

import "github.com/go-json-experiment/json/jsontext"

// Tick is a chore done, with what was found.
type Tick struct {
	Chore   ID       `json:"chore"`
	Found   Found    `json:"found,omitzero"`
	About   bool     `json:"about,omitzero"`             // the date is a guess
	Assumed bool     `json:"assumed,omitzero" since:"2"` // nobody knows whether it was ever done: the book begins to count here, and no work was done
	Minutes *int     `json:"minutes,omitzero"`
	Planned Date     `json:"planned,omitzero"`          // what the book said when it was written
	Litres  *float64 `json:"litres,omitzero" since:"2"` // really drawn of the first of the chore's takes; nil when as stated
	Offset  *float64 `json:"offset,omitzero" since:"2"` // of a check that failed: what the instrument showed too much, in its gauges' unit
	Note    string   `json:"note,omitzero"`
}

// Found is what a tick found.
type Found string

// What a tick may find. Clean to failed are for work clean and renew, the last two
// for work test (failed is shared).
const (
	FoundClean  Found = "clean"
	FoundLight  Found = "light"
	FoundHeavy  Found = "heavy"
	FoundFailed Found = "failed"
	FoundPassed Found = "passed"
)

// Usage is an amount used, or the value of a running meter: one of the two.
type Usage struct {
	Counter ID       `json:"counter"`
	Amount  *float64 `json:"amount,omitzero"`
	Meter   *float64 `json:"meter,omitzero"`
}

// Figure is the amount or, of a running meter, what it shows.
func (u Usage) Figure() float64 {
	if u.Meter != nil {
		return *u.Meter
	}
	return *u.Amount
}

// MeterReset says that a running meter starts from 0 after this.
type MeterReset struct {
	Counter ID `json:"counter"`
}

// Reading is a value of a gauge.
type Reading struct {
	Gauge          ID       `json:"gauge"`
	Value          float64  `json:"value"`
	MinutesRunning *float64 `json:"minutes_running,omitzero"` // of the unit before it was taken; nil when not said
}

// SettledMinutes is how long the unit must have run for a reading to count: before
// that, what crept through the membrane at standstill is still in the line.
// Common practice, no source.
const SettledMinutes = 5

// Counts tells whether the reading counts, or is only shown.
func (r Reading) Counts() bool {
	return r.MinutesRunning == nil || *r.MinutesRunning >= SettledMinutes
}

// Stock is a change of a spare's stock other than by a tick.
type Stock struct {
	Spare  ID       `json:"spare"`
	Change float64  `json:"change"` // + bought, - used
	Price  *float64 `json:"price,omitzero"`
}

// Flag puts a component on the rethink list, or moves it along.
type Flag struct {
	Component     ID        `json:"component"`
	State         FlagState `json:"state"`
	Cause         Cause     `json:"cause,omitzero"`
	Note          string    `json:"note,omitzero"`
	Reach         int       `json:"reach,omitzero"`          // the new grade, when rebuilt
	AccessMinutes *int      `json:"access_minutes,omitzero"` // the new minutes, when rebuilt
}

// FlagState is where a flagged component stands.
type FlagState string

// The states of a flag.
const (
	FlagFlagged FlagState = "flagged"
	FlagPlanned FlagState = "planned"
	FlagRebuilt FlagState = "rebuilt"
	FlagDropped FlagState = "dropped"
)

// Cause is why a component is hard to reach.
type Cause string

// Causes are the causes a flag may give, in the order they are offered.
var Causes = []Cause{"in-the-way", "out-of-sight", "too-tight", "must-drain", "no-shut-off", "heavy", "needs-help", "other"}

// PutOff puts a chore off until a date.
type PutOff struct {
	Chore  ID     `json:"chore"`
	Until  Date   `json:"until"`
	Reason string `json:"reason,omitzero"`
}

// Batch is a mixed batch of salt water.
type Batch struct {
	VolumeL      float64  `json:"volume_l"` // fresh water, before salt
	SaltG        float64  `json:"salt_g"`
	Salinity     *float64 `json:"salinity,omitzero"` // practical, measured
	TemperatureC *float64 `json:"temperature_c,omitzero"`
	From         ID       `json:"from,omitzero" since:"2"` // the vessel of the fresh water
	Into         ID       `json:"into,omitzero" since:"2"` // the vessel it was mixed in
}

// Away is a span of days on which nobody is there.
type Away struct {
	Until Date `json:"until"` // the first day back
}

// Fault is a component broken now.
type Fault struct {
	Component ID     `json:"component"`
	Note      string `json:"note,omitzero"`
}

// Repair ends a fault by something else than a chore: a fan was renewed, a leak stopped.
type Repair struct {
	Fault Seq        `json:"fault"` // the entry that reported it
	Note  string     `json:"note,omitzero"`
	Uses  []SpareUse `json:"uses,omitzero"` // what it took off the shelf
}

// Normal says that from its date on a component's readings are as they should be: the first weeks, against which readings
// are compared, begin there again.
type Normal struct {
	Component ID `json:"component"`
}

// Note is a remark, on a thing or on the day.
type Note struct {
	Text   string `json:"text"`
	OnWhat string `json:"on_what,omitzero"` // an id, or kind:id where several kinds have it
}

// Amend strikes an earlier entry or replaces some of its fields. Both stay in the log.
type Amend struct {
	Entry  Seq    `json:"entry"`
	Strike bool   `json:"strike,omitzero"`
	With   Fields `json:"with,omitzero"`
}

// Fields is a JSON object of fields to replace; null removes an optional one.
type Fields = jsontext.Value

// Kind implements Body.
func (Tick) Kind() Kind { return KindTick }

// Kind implements Body.
func (Usage) Kind() Kind { return KindUsage }

// Kind implements Body.
func (MeterReset) Kind() Kind { return KindMeterReset }

// Kind implements Body.
func (Reading) Kind() Kind { return KindReading }

// Kind implements Body.
func (Stock) Kind() Kind { return KindStock }

// Kind implements Body.
func (Flag) Kind() Kind { return KindFlag }

// Kind implements Body.
func (PutOff) Kind() Kind { return KindPutOff }

// Kind implements Body.
func (Batch) Kind() Kind { return KindBatch }

// Kind implements Body.
func (Away) Kind() Kind { return KindAway }

// Kind implements Body.
func (Fault) Kind() Kind { return KindFault }

// Kind implements Body.
func (Repair) Kind() Kind { return KindRepair }

// Kind implements Body.
func (Normal) Kind() Kind { return KindNormal }

// Kind implements Body.
func (Note) Kind() Kind { return KindNote }

// Kind implements Body.
func (Amend) Kind() Kind { return KindAmend }

// Regrade gives a component what its rebuilding changed.
func (w Flag) Regrade(c *Component) {
	if w.Reach != 0 {
		c.Reach = w.Reach
		c.Guess = without(c.Guess, "reach")
	}
	if w.AccessMinutes != nil {
		c.AccessMinutes = *w.AccessMinutes
		c.Guess = without(c.Guess, "access_minutes")
	}
}

func without(list []string, word string) []string {
	var out []string
	for _, s := range list {
		if s != word {
			out = append(out, s)
		}
	}
	return out
}
