package station

import (
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/water"
)

// part is a part of the station that its readings judge: since when it is the one in use, and the clock whose threshold
// decides about it, if a chore has one.
type part struct {
	since  model.Mark // its present cycle's start: what was read before judges nothing
	start  ledger.Start
	anew   bool // it was renewed then, as far as the log tells for certain
	clocks []owned
}

// owned is a reading clock and the start of its chore's cycle.
type owned struct {
	clock model.Clock
	start model.Mark
}

// parts are those of the station.
type parts struct {
	on model.Date

	sediment, carbon, membrane, resin, restrictor, supply part
}

// partsOf finds the parts of a book on a date.
func partsOf(b *ledger.Book, on model.Date) parts {
	product, chlorine := gaugeID(b, model.RoleTDSProduct), gaugeID(b, model.RoleChlorineCarbon)
	staged := func(s model.Stage) func(model.Component) bool {
		return func(c model.Component) bool { return c.Stage == s }
	}
	return parts{
		on:         on,
		sediment:   partOf(b, on, staged(model.StageSediment), model.PrefilterDrop),
		carbon:     partOf(b, on, staged(model.StageCarbon), chlorine),
		membrane:   partOf(b, on, staged(model.StageMembrane), model.Rejection, model.NormalisedFlow),
		resin:      partOf(b, on, staged(model.StageResin), product),
		restrictor: partOf(b, on, func(c model.Component) bool { return isRestrictor(b, c) }, model.WasteRatio),
		supply:     partOf(b, on, func(c model.Component) bool { return isSupply(b, c) }),
	}
}

func gaugeID(b *ledger.Book, role string) model.ID {
	g, _ := b.GaugeByRole(role)
	return g.ID
}

// partOf is a part: its cycle is that of the chore that has the clock, so that verdict and round begin anew together, else
// that of its latest renewal.
func partOf(b *ledger.Book, on model.Date, is func(model.Component) bool, gauges ...model.ID) part {
	var p part
	for _, g := range gauges {
		if c, k, ok := watcher(b, on, g, is); ok && g != "" {
			start := lastStart(b, c.ID, on)
			p.clocks = append(p.clocks, owned{k, start.Mark})
			if p.since.Before(start.Mark) {
				p.since, p.start, p.anew = start.Mark, start, renewed(b, c, start)
			}
		}
	}
	if len(p.clocks) > 0 {
		return p
	}
	for _, c := range b.Chores() {
		part, _ := b.Component(c.Component)
		if c.Work != model.WorkRenew || !is(part) || retired(c.Retired, on) || retired(part.Retired, on) {
			continue
		}
		if start := lastStart(b, c.ID, on); p.since.Before(start.Mark) {
			p.since, p.start, p.anew = start.Mark, start, renewed(b, c, start)
		}
	}
	return p
}

func retired(d, on model.Date) bool { return !d.IsZero() && d <= on }

func lastStart(b *ledger.Book, chore model.ID, on model.Date) ledger.Start {
	starts := b.Starts(chore, on)
	if len(starts) == 0 {
		return ledger.Start{}
	}
	return starts[len(starts)-1]
}

// renewed tells whether a cycle began with a new part for certain: by a tick of a renewal that is no guess, or when a part
// was swapped.
func renewed(b *ledger.Book, c model.Chore, s ledger.Start) bool {
	if s.Tick != nil {
		return c.Work == model.WorkRenew && !s.Tick.About
	}
	versions := b.Versions(c.Component)
	return s.On != 0 && len(versions) > 0 && versions[0].InService != s.On
}

// watcher is the chore in use that keeps a gauge to a threshold, that of a wanted component before all.
func watcher(b *ledger.Book, on model.Date, gauge model.ID, wanted func(model.Component) bool) (model.Chore, model.Clock, bool) {
	var found model.Chore
	var clock model.Clock
	best := 0
	for _, c := range b.Chores() {
		part, _ := b.Component(c.Component)
		if retired(c.Retired, on) || retired(part.Retired, on) {
			continue
		}
		rank := 1
		if wanted != nil && wanted(part) {
			rank++
		}
		if c.Work == model.WorkRenew {
			rank++
		}
		for _, k := range c.Clocks {
			if k.Kind == model.ClockReading && k.Gauge == gauge && k.Bad == badSide(gauge) && rank > best {
				found, clock, best = c, k, rank
			}
		}
	}
	return found, clock, best > 0
}

// badSide is the side of a threshold on which a gauge of the station is bad.
func badSide(gauge model.ID) model.Side {
	switch gauge {
	case model.Rejection, model.NormalisedFlow, model.WasteRatio:
		return model.SideBelow
	}
	return model.SideAbove
}

// limits are the thresholds of the parts' clocks, and how the readings of their cycles stand to them: what the round sees.
func (p parts) limits(series *ledger.Series) water.Limits {
	var out water.Limits
	for _, of := range []part{p.sediment, p.carbon, p.membrane, p.resin, p.restrictor} {
		for _, k := range of.clocks {
			switch k.clock.Gauge {
			case model.PrefilterDrop:
				out.Drop = k.limit(series)
			case model.Rejection:
				out.Rejection = k.limit(series)
			case model.NormalisedFlow:
				out.Flow = k.limit(series)
			case model.WasteRatio:
				out.Ratio = k.limit(series)
			case gaugeID(series.Book(), model.RoleTDSProduct):
				out.Product = k.limit(series)
			case gaugeID(series.Book(), model.RoleChlorineCarbon):
				out.Chlorine = k.limit(series)
			}
		}
	}
	return out
}

func (k owned) limit(series *ledger.Series) *water.Limit {
	values := series.Against(&k.clock, k.start, model.EndOf(series.On()))
	l := &water.Limit{Value: k.clock.Limit, Run: ledger.RunBeyond(&k.clock, values)}
	if n := len(values); n > 0 {
		l.Held, l.AgeDays = values[n-1].Value, series.On().Sub(values[n-1].On)
	}
	return l
}

// cut is the place before which a gauge's readings judge nothing any more.
func (p parts) cut(b *ledger.Book, g model.Gauge) model.Mark {
	switch g.Role {
	case model.RoleTDSMembrane:
		return p.membrane.since
	case model.RoleTDSProduct, RoleProductPH:
		return p.resin.since
	case model.RoleChlorineCarbon:
		return p.carbon.since
	case model.RoleFlowWaste:
		return p.restrictor.since
	case model.RolePressureLine:
		return p.supply.since
	case model.RolePressureMembrane:
		return later(p.sediment.since, p.supply.since)
	case model.RoleFlowProduct:
		return p.flowCut(b)
	case RoleTDSReservoir:
		return cleaned(b, g.Component, p.on)
	}
	return model.Mark{}
}

// flowCut is that of the product flow: with no gauge behind the prefilters it judges them as well.
func (p parts) flowCut(b *ledger.Book) model.Mark {
	if hasReadings(b, model.RolePressureMembrane, p.on) {
		return p.membrane.since
	}
	return later(p.membrane.since, later(p.sediment.since, p.carbon.since))
}

func later(a, b model.Mark) model.Mark {
	if a.Before(b) {
		return b
	}
	return a
}

// EverRead tells whether a gauge was ever read up to a date; of one that is computed from others, whether the one that
// judges was.
func EverRead(b *ledger.Book, gauge model.ID, on model.Date) bool {
	judges := map[model.ID]string{model.Rejection: model.RoleTDSMembrane, model.NormalisedFlow: model.RoleFlowProduct,
		model.PrefilterDrop: model.RolePressureMembrane, model.WasteRatio: model.RoleFlowWaste}
	if role, derived := judges[gauge]; derived {
		return hasReadings(b, role, on)
	}
	return len(b.ReadingsWithin(gauge, model.Mark{}, model.EndOf(on))) > 0
}

func hasReadings(b *ledger.Book, role string, on model.Date) bool {
	g, ok := b.GaugeByRole(role)
	if !ok {
		return false
	}
	return len(b.ReadingsWithin(g.ID, model.Mark{}, model.EndOf(on))) > 0
}

// cleaned is when a vessel was cleaned or renewed last.
func cleaned(b *ledger.Book, component model.ID, on model.Date) model.Mark {
	var last model.Mark
	for _, c := range b.Chores() {
		if component != "" && c.Component == component && (c.Work == model.WorkClean || c.Work == model.WorkRenew) {
			for _, t := range b.TicksUpTo(c.ID, on) {
				if !t.About {
					last = later(last, t.Mark())
				}
			}
		}
	}
	return last
}

// renewalsOf are the starts that ticks of a component's renewals make, guesses left out.
func renewalsOf(b *ledger.Book, component model.ID, on model.Date) []ledger.Start {
	var out []ledger.Start
	for _, c := range b.Chores() {
		if c.Component != component || c.Work != model.WorkRenew {
			continue
		}
		for _, s := range b.Starts(c.ID, on) {
			if s.Tick != nil && !s.About() {
				out = append(out, s)
			}
		}
	}
	return out
}

// isRestrictor tells a waste restrictor: by its chore's clock on the waste ratio, or by its name.
func isRestrictor(b *ledger.Book, c model.Component) bool {
	if c.Stage != "" {
		return false
	}
	for _, chore := range b.Chores() {
		if chore.Component == c.ID && slices.ContainsFunc(chore.Clocks, func(k model.Clock) bool {
			return k.Kind == model.ClockReading && k.Gauge == model.WasteRatio
		}) {
			return true
		}
	}
	return named(c, "restrictor")
}

// isSupply tells a booster pump or a pressure regulator of the station by its name: a book has no other tie between the
// two. A calcium reactor has a regulator, too, but stands elsewhere.
func isSupply(b *ledger.Book, c model.Component) bool {
	if c.Stage != "" || !named(c, "booster", "regulator") || named(c, "co2") {
		return false
	}
	return slices.ContainsFunc(b.Components(), func(o model.Component) bool { return o.Stage != "" && o.Place == c.Place })
}

func named(c model.Component, words ...string) bool {
	for _, w := range words {
		if strings.Contains(strings.ToLower(c.Name), w) || strings.Contains(string(c.ID), w) {
			return true
		}
	}
	return false
}
