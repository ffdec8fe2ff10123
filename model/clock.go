package model

import (
	"fmt"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// ClockKind is what a clock counts.
type ClockKind string

// The kinds of clock.
const (
	ClockCalendar ClockKind = "calendar"
	ClockUsage    ClockKind = "usage"
	ClockLoad     ClockKind = "load"
	ClockReading  ClockKind = "reading"
	ClockLevel    ClockKind = "level"
)

// HasLife tells whether clocks of a kind run through a life that is stated.
func (k ClockKind) HasLife() bool { return k != ClockReading && k != ClockLevel }

// Rule says how a life is meant: `every X` is a rule that the log may shorten and
// never lengthens, `lasts X` a usual life that the log moves both ways.
type Rule string

// The two rules.
const (
	RuleEvery Rule = "every"
	RuleLasts Rule = "lasts"
)

// Side is the side of a reading's threshold that is bad.
type Side string

// The two sides.
const (
	SideAbove Side = "above"
	SideBelow Side = "below"
)

// Clock is what makes a chore due. Kind says which of the fields below it hold.
type Clock struct {
	Kind ClockKind

	Every Span // calendar: the life

	Counter   ID      // usage and load: the counter
	Amount    float64 // usage: the life in the counter's unit; load: the life in grams, or in meq
	Meq       bool    // load: the life is in meq of dissolved salt and carbon dioxide
	FeedRatio float64 // usage and load: waste volume over product volume of a stage that also passes the waste

	Inlet  ID // load: the gauge of what comes in
	Outlet ID // load: the gauge of what goes out, if one is named

	Gauge ID      // reading: the gauge, or a derived one
	Limit float64 // reading: the threshold, in the gauge's unit
	Bad   Side    // reading: which side of it is bad

	Vessel ID // level: the vessel that must be filled in time

	Rule Rule // calendar, usage and load
}

// clockFields is a clock as the book format writes it.
type clockFields struct {
	Calendar  *Span    `json:"calendar,omitzero"`
	Usage     *ID      `json:"usage,omitzero"`
	Amount    *float64 `json:"amount,omitzero"`
	Load      *ID      `json:"load,omitzero"`
	Inlet     *ID      `json:"inlet,omitzero"`
	Outlet    *ID      `json:"outlet,omitzero"`
	Grams     *float64 `json:"grams,omitzero"`
	Meq       *float64 `json:"meq,omitzero"`
	FeedRatio *float64 `json:"feed_ratio,omitzero"`
	Reading   *ID      `json:"reading,omitzero"`
	Limit     *float64 `json:"limit,omitzero"`
	Bad       *Side    `json:"bad,omitzero"`
	Level     *ID      `json:"level,omitzero"`
	Rule      *Rule    `json:"rule,omitzero"`
}

func value[T any](p *T) T {
	if p == nil {
		var zero T
		return zero
	}
	return *p
}

func nonZero[T comparable](v T) *T {
	var zero T
	if v == zero {
		return nil
	}
	return &v
}

// loadField is the field that states the life of a load clock.
func (c *Clock) loadField() string {
	if c.Meq {
		return "meq"
	}
	return "grams"
}

// LoadUnit is the unit in which a load clock counts what its stage takes up.
func (c *Clock) LoadUnit() string {
	if c.Meq {
		return "meq"
	}
	return "g"
}

// MarshalJSONTo writes the clock's own fields only.
func (c Clock) MarshalJSONTo(enc *jsontext.Encoder) error {
	f := clockFields{Rule: nonZero(c.Rule), FeedRatio: nonZero(c.FeedRatio)}
	switch c.Kind {
	case ClockCalendar:
		f.Calendar = &c.Every
	case ClockUsage:
		f.Usage, f.Amount = &c.Counter, &c.Amount
	case ClockLoad:
		f.Load, f.Inlet, f.Outlet, f.Grams = &c.Counter, &c.Inlet, nonZero(c.Outlet), &c.Amount
		if c.Meq {
			f.Grams, f.Meq = nil, &c.Amount
		}
	case ClockReading:
		f.Reading, f.Limit, f.Bad = &c.Gauge, &c.Limit, &c.Bad
	case ClockLevel:
		f.Level = &c.Vessel
	default:
		return fmt.Errorf("clock of unknown kind %q", c.Kind)
	}
	return json.MarshalEncode(enc, f)
}

// clockKeys are the fields of each kind of clock, as its file names them.
var clockKeys = map[ClockKind]string{
	ClockCalendar: "calendar and rule",
	ClockUsage:    "usage, amount, feed_ratio and rule",
	ClockLoad:     "load, inlet, outlet, grams or meq, feed_ratio and rule",
	ClockReading:  "reading, limit and bad",
	ClockLevel:    "level",
}

// UnmarshalJSONFrom reads a clock and refuses fields that are not of its kind.
func (c *Clock) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	var f clockFields
	if err := json.UnmarshalDecode(dec, &f, json.RejectUnknownMembers(true)); err != nil {
		return err
	}
	*c = Clock{Rule: value(f.Rule), FeedRatio: value(f.FeedRatio)}
	allowed := clockFields{}
	switch {
	case f.Calendar != nil:
		c.Kind, c.Every = ClockCalendar, *f.Calendar
		allowed = clockFields{Calendar: f.Calendar, Rule: f.Rule}
	case f.Usage != nil:
		c.Kind, c.Counter, c.Amount = ClockUsage, *f.Usage, value(f.Amount)
		allowed = clockFields{Usage: f.Usage, Amount: f.Amount, FeedRatio: f.FeedRatio, Rule: f.Rule}
	case f.Load != nil:
		c.Kind, c.Counter, c.Inlet, c.Outlet, c.Amount = ClockLoad, *f.Load, value(f.Inlet), value(f.Outlet), value(f.Grams)
		allowed = clockFields{Load: f.Load, Inlet: f.Inlet, Outlet: f.Outlet, Grams: f.Grams, FeedRatio: f.FeedRatio, Rule: f.Rule}
		if f.Meq != nil && f.Grams == nil {
			c.Meq, c.Amount = true, *f.Meq
			allowed.Meq = f.Meq
		}
	case f.Reading != nil:
		c.Kind, c.Gauge, c.Bad = ClockReading, *f.Reading, value(f.Bad)
		if f.Limit == nil {
			return &FieldError{Field: "limit", Want: "a number: the threshold of the reading"}
		}
		c.Limit = *f.Limit
		allowed = clockFields{Reading: f.Reading, Limit: f.Limit, Bad: f.Bad}
	case f.Level != nil:
		c.Kind, c.Vessel = ClockLevel, *f.Level
		allowed = clockFields{Level: f.Level}
	default:
		return &FieldError{Field: "clocks", Want: "one of calendar, usage, load, reading, level in each clock"}
	}
	if f != allowed {
		return Wrong("clocks", c.Kind, "only %s in a clock of that kind", clockKeys[c.Kind])
	}
	return nil
}

// Beyond tells whether a value lies strictly on the bad side of a reading clock's threshold, by more than rounding.
func (c *Clock) Beyond(v float64) bool {
	limit := c.Limit
	if c.Bad == SideBelow {
		v, limit = -v, -limit
	}
	return v > limit+float64(1e-9*max(limit, -limit))
}

// ConfirmedRun is how many readings in a row beyond a threshold confirm that it was crossed.
const ConfirmedRun = 2

// Counting is a sum over the amounts of a counter: as they are or, where an inlet is named, weighted by what the water
// carried, in grams or in meq.
type Counting struct {
	Counter, Inlet, Outlet ID
	Meq                    bool
}

// Counting is what a usage or load clock counts.
func (c *Clock) Counting() Counting { return Counting{c.Counter, c.Inlet, c.Outlet, c.Meq} }
