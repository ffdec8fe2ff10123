package model

import (
	"cmp"
	"math"
	"slices"
	"unicode/utf8"
)

// Limits of a book, as the book format states them.
const (
	MaxNameLen  = 200
	MaxNoteLen  = 10_000
	MaxSteps    = 60
	MaxClocks   = 4
	MaxActLen   = 500
	MaxAmount   = 1e9
	maxMinutes  = 1440
	maxCostRate = 1000
	maxLeadDays = 3650
)

func checkID(field string, id ID) error {
	if id == "" {
		return Missing(field, "1 to 64 of a-z, 0-9, '-' and '.'")
	}
	if !id.Valid() {
		return Wrong(field, id, "1 to 64 of a-z, 0-9, '-' and '.'")
	}
	return nil
}

func checkOptionalID(field string, id ID) error {
	if id == "" {
		return nil
	}
	return checkID(field, id)
}

func checkName(field, s string) error {
	if s == "" {
		return Missing(field, "1 to 200 characters")
	}
	return checkText(field, s, MaxNameLen)
}

func checkText(field, s string, most int) error {
	if n := utf8.RuneCountInString(s); n > most {
		return Wrong(field, s, "at most %d characters, not %d", most, n)
	}
	return nil
}

func checkInt(field string, v, low, high int) error {
	if v < low || v > high {
		return Wrong(field, v, "a whole number from %d to %d", low, high)
	}
	return nil
}

func checkMinutes(field string, v int) error { return checkInt(field, v, 0, maxMinutes) }

func checkNumber(field string, v, low, high float64) error {
	if math.IsNaN(v) || v < low || v > high {
		return Wrong(field, v, "a number from %.10g to %.10g", low, high)
	}
	return nil
}

func checkPositive(field string, v float64) error {
	if !(v > 0) || v > MaxAmount {
		return Wrong(field, v, "a number above 0, at most %.10g", float64(MaxAmount))
	}
	return nil
}

func checkOptional(field string, v *float64, low, high float64) error {
	if v == nil {
		return nil
	}
	return checkNumber(field, *v, low, high)
}

func checkWord[T ~string](field string, v T, accepted ...T) error {
	if v == "" {
		return Missing(field, OneOf(accepted...))
	}
	if !slices.Contains(accepted, v) {
		return Wrong(field, v, "%s", OneOf(accepted...))
	}
	return nil
}

func checkOptionalWord[T ~string](field string, v T, accepted ...T) error {
	if v == "" {
		return nil
	}
	return checkWord(field, v, accepted...)
}

func checkGuess(guess []string, fields ...string) error {
	for _, g := range guess {
		if !slices.Contains(fields, g) {
			return Wrong("guess", g, "%s", OneOf(fields...))
		}
	}
	return nil
}

func (b BookDef) check() error {
	return cmp.Or(
		checkName("name", b.Name),
		checkWord("units.volume", b.Units.Volume, "L", "gal"),
		checkWord("units.temperature", b.Units.Temperature, "C", "F"),
		checkWord("units.pressure", b.Units.Pressure, "bar", "psi"),
		checkNumber("minute_value", b.MinuteValue, 0, MaxAmount),
		checkOptionalWord("care", b.Care, CareCareful, CareUsual, CareEasy),
		checkNumber("run_hours", b.RunHours, 0, 24),
		b.checkMixDays(),
		checkText("contact", b.Contact, MaxNoteLen),
	)
}

func (b BookDef) checkMixDays() error {
	if b.MixDays == nil {
		return nil
	}
	return checkInt("mix_days", *b.MixDays, 0, 28)
}

func (p Place) check() error {
	return cmp.Or(
		checkID("id", p.ID),
		checkName("name", p.Name),
		checkMinutes("minutes", p.Minutes),
		checkGuess(p.Guess, "minutes"),
	)
}

func (c Component) check() error {
	return cmp.Or(
		checkID("id", c.ID),
		checkName("name", c.Name),
		checkID("place", c.Place),
		checkInt("reach", c.Reach, 1, 5),
		checkMinutes("access_minutes", c.AccessMinutes),
		checkOptionalID("opens_with", c.OpensWith),
		checkOptionalWord("stage", c.Stage, StageSediment, StageCarbon, StageMembrane, StageResin),
		c.Rated.check(),
		checkGuess(c.Guess, "reach", "access_minutes", guessService),
	)
}

func (r *Rated) check() error {
	if r == nil {
		return nil
	}
	return cmp.Or(checkPositive("rated.flow_l_h", r.FlowLH), checkPositive("rated.pressure_bar", r.PressureBar))
}

func (c Counter) check() error {
	return cmp.Or(
		checkID("id", c.ID),
		checkName("name", c.Name),
		checkName("unit", c.Unit),
		checkWord("style", c.Style, StyleAmount, StyleMeter),
		checkOptionalWord("role", c.Role, RoleWaterMade, RoleBatches),
		checkNumber("declared_rate", c.DeclaredRate, 0, MaxAmount),
		checkGuess(c.Guess, "declared_rate"),
	)
}

func (g Gauge) check() error {
	if g.ID.Derived() {
		return Wrong("id", g.ID, "another id: this one is computed from readings and reserved")
	}
	return cmp.Or(
		checkID("id", g.ID),
		checkName("name", g.Name),
		checkName("unit", g.Unit),
		checkOptionalID("role", ID(g.Role)),
		checkOptionalID("component", g.Component),
		checkOptionalID("instrument", g.Instrument),
		checkText("scale", g.Scale, MaxNameLen),
		g.Safe.check(),
		checkGuess(g.Guess),
	)
}

func (r *Range) check() error {
	if r == nil {
		return nil
	}
	if r.Low == nil && r.High == nil {
		return Missing("safe", "low, high or both")
	}
	if r.Low != nil && r.High != nil && *r.Low > *r.High {
		return Wrong("safe.low", *r.Low, "at most safe.high, %.10g", *r.High)
	}
	return cmp.Or(checkOptional("safe.low", r.Low, -MaxAmount, MaxAmount), checkOptional("safe.high", r.High, -MaxAmount, MaxAmount))
}

func (s Spare) check() error {
	return cmp.Or(
		checkID("id", s.ID),
		checkName("name", s.Name),
		checkName("unit", s.Unit),
		checkInt("lead_days", s.LeadDays, 0, maxLeadDays),
		checkOptional("price", s.Price, 0, MaxAmount),
		checkOptionalWord("role", s.Role, RoleSalt),
		checkText("part", s.Part, MaxNameLen),
		checkText("source", s.Source, MaxNameLen),
		checkGuess(s.Guess, "lead_days", "price"),
	)
}

var hazards = []Hazard{HazardMains, HazardAcid, HazardCaustic, HazardChlorine, HazardPressure, HazardLift,
	HazardGlass, HazardCO2, HazardOzone, HazardUV, HazardPalytoxin}

func (c Chore) check() error {
	err := cmp.Or(
		checkID("id", c.ID),
		checkID("component", c.Component),
		checkName("name", c.Name),
		checkWord("work", c.Work, WorkClean, WorkRenew, WorkTest, WorkRead),
		checkMinutes("minutes", c.Minutes),
		checkInt("consequence", c.Consequence, 1, 3),
		checkGuess(c.Guess, "minutes"),
		c.Cost.check(),
	)
	if err != nil {
		return err
	}
	if n := len(c.Clocks); n < 1 || n > MaxClocks {
		return Wrong("clocks", n, "1 to %d clocks", MaxClocks)
	}
	if n := len(c.Steps); n > MaxSteps {
		return Wrong("steps", n, "at most %d steps", MaxSteps)
	}
	if len(c.DoneBy) > 0 && c.Work != WorkRead {
		return Wrong("done_by", c.DoneBy[0], "gauges only for work read")
	}
	for _, clock := range c.Clocks {
		if err := clock.check(); err != nil {
			return err
		}
	}
	if err := checkUses("spares", c.Spares); err != nil {
		return err
	}
	for _, s := range c.Steps {
		if s.Text == "" {
			return Missing("steps.text", "what to do in this step")
		}
		if err := cmp.Or(checkText("steps.text", s.Text, MaxNoteLen), checkMinutes("timer_minutes", s.TimerMinutes)); err != nil {
			return err
		}
	}
	for _, t := range c.Takes {
		if err := t.check(); err != nil {
			return err
		}
	}
	for _, h := range c.Hazards {
		if err := checkWord("hazards", h, hazards...); err != nil {
			return err
		}
	}
	for _, s := range c.Cautions {
		if err := checkText("cautions", s, MaxNoteLen); err != nil {
			return err
		}
	}
	for _, id := range c.DoneBy {
		if err := checkID("done_by", id); err != nil {
			return err
		}
	}
	return c.checkCalls()
}

// MaxCalls is how many other chores a tick may call for.
const MaxCalls = 20

func (c Chore) checkCalls() error {
	if n := len(c.Then); n > MaxCalls {
		return Wrong("then", n, "at most %d chores", MaxCalls)
	}
	for i, call := range c.Then {
		if err := checkID("then.chore", call.Chore); err != nil {
			return err
		}
		switch {
		case call.Chore == c.ID:
			return Wrong("then.chore", call.Chore, "another chore")
		case slices.ContainsFunc(c.Then[:i], func(other Call) bool { return other.Chore == call.Chore }):
			return Wrong("then.chore", call.Chore, "each chore once")
		case call.After.IsZero():
			return Missing("then.after", "a length of time, such as 1d")
		}
	}
	return nil
}

func checkUses(field string, uses []SpareUse) error {
	for _, s := range uses {
		if err := cmp.Or(checkID(field+".spare", s.Spare), checkPositive(field+".quantity", s.Quantity)); err != nil {
			return err
		}
	}
	return nil
}

func (c *Cost) check() error {
	if c == nil {
		return nil
	}
	if !(c.Planned > 0) || c.Planned > MaxAmount {
		return Wrong("cost.planned", c.Planned, "a number above 0")
	}
	if !(c.Failure > c.Planned) || c.Failure > maxCostRate*c.Planned {
		return Wrong("cost.failure", c.Failure, "more than cost.planned and at most %d times it", maxCostRate)
	}
	return nil
}

const maxFeedRatio = 100

func (c Clock) check() error {
	switch c.Kind {
	case ClockCalendar:
		return checkWord("rule", c.Rule, RuleEvery, RuleLasts)
	case ClockUsage:
		return cmp.Or(
			checkID("usage", c.Counter),
			checkPositive("amount", c.Amount),
			checkNumber("feed_ratio", c.FeedRatio, 0, maxFeedRatio),
			checkWord("rule", c.Rule, RuleEvery, RuleLasts),
		)
	case ClockLoad:
		return cmp.Or(
			checkID("load", c.Counter),
			checkID("inlet", c.Inlet),
			checkOptionalID("outlet", c.Outlet),
			checkPositive(c.loadField(), c.Amount),
			checkNumber("feed_ratio", c.FeedRatio, 0, maxFeedRatio),
			checkWord("rule", c.Rule, RuleEvery, RuleLasts),
		)
	case ClockLevel:
		return checkID("level", c.Vessel)
	default:
		return cmp.Or(
			checkID("reading", c.Gauge),
			checkNumber("limit", c.Limit, -MaxAmount, MaxAmount),
			checkWord("bad", c.Bad, SideAbove, SideBelow),
		)
	}
}
