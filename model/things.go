package model

import (
	"slices"
)

// things is a set of parts of a book that are kept folded on their own: chores, counters, gauges, spares, components,
// and, with no id, what belongs to the book itself.
type things map[thing]bool

// thing names one such part, by the kind of entry that defines it.
type thing struct {
	kind Kind
	id   ID
}

// thingOf is the part that a list is kept with.
func thingOf(l list) thing {
	switch l.kind {
	case KindTick, KindDefer:
		return thing{KindChore, l.id}
	case KindUsage, KindMeterReset:
		return thing{KindCounter, l.id}
	case KindReading:
		return thing{KindGauge, l.id}
	case KindStock:
		return thing{KindSpare, l.id}
	case KindFlag, KindFault:
		return thing{KindComponent, l.id}
	}
	return thing{kind: KindBook}
}

// allThings are all parts of a book.
func (b *Book) allThings() things {
	out := things{{kind: KindBook}: true}
	for _, id := range b.chores.order {
		out[thing{KindChore, id}] = true
	}
	for _, id := range b.counters.order {
		out[thing{KindCounter, id}] = true
	}
	for _, id := range b.gauges.order {
		out[thing{KindGauge, id}] = true
	}
	for _, id := range b.spares.order {
		out[thing{KindSpare, id}] = true
	}
	for _, id := range b.components.order {
		out[thing{KindComponent, id}] = true
	}
	return out
}

func (b *Book) renewsMembrane(c *Chore) bool {
	return c.Work == WorkRenew && b.components.byID[c.Component].Stage == StageMembrane
}

func watches(c *Chore, gauge ID) bool {
	return slices.ContainsFunc(c.Clocks, func(k Clock) bool { return k.Kind == ClockReading && k.Gauge == gauge })
}

var flowRoles = []string{RoleFlowProduct, RoleFlowWaste, RolePressureLine, RolePressureMembrane, RoleTemperatureWater, RoleTDSTap}

// partsOf are the roles of the gauges that a derived one is computed from.
func partsOf(derived ID) []string {
	switch derived {
	case Rejection:
		return []string{RoleTDSTap, RoleTDSMembrane, RoleTemperatureWater}
	case WasteRatio:
		return []string{RoleFlowProduct, RoleFlowWaste}
	case PrefilterDrop:
		return []string{RolePressureLine, RolePressureMembrane}
	case NormalisedFlow:
		return flowRoles
	}
	return nil
}

// eachAsked calls each for what a chore's clocks ask, and for its component, whose faults its ticks close.
func (b *Book) eachAsked(c *Chore, each func(thing)) {
	each(thing{KindComponent, c.Component})
	for i := range c.Clocks {
		switch k := &c.Clocks[i]; k.Kind {
		case ClockUsage, ClockLoad:
			each(thing{KindCounter, k.Counter})
			if k.Kind == ClockLoad {
				each(thing{KindGauge, k.Inlet})
				if k.Outlet != "" {
					each(thing{KindGauge, k.Outlet})
				}
			}
		case ClockReading:
			if !k.Gauge.Derived() {
				each(thing{KindGauge, k.Gauge})
			}
			for _, role := range partsOf(k.Gauge) {
				if g, ok := b.GaugeByRole(role); ok {
					each(thing{KindGauge, g.ID})
				}
			}
		}
	}
}

// asks tells whether a chore's clocks ask a counter or a gauge.
func (b *Book) asks(c *Chore, t thing) bool {
	for i := range c.Clocks {
		k := &c.Clocks[i]
		switch {
		case t.kind == KindCounter && (k.Kind == ClockUsage || k.Kind == ClockLoad) && k.Counter == t.id,
			t.kind == KindGauge && k.Kind == ClockLoad && (k.Inlet == t.id || k.Outlet == t.id),
			t.kind == KindGauge && k.Kind == ClockReading && k.Gauge == t.id,
			t.kind == KindGauge && k.Kind == ClockReading && k.Gauge.Derived() &&
				slices.Contains(partsOf(k.Gauge), b.gauges.byID[t.id].Role):
			return true
		}
	}
	return false
}

// loads are what is weighed by what the water carried, each once.
func (b *Book) loads() []Counting {
	var out []Counting
	for _, id := range b.chores.order {
		c := b.chores.byID[id]
		for i := range c.Clocks {
			if of := c.Clocks[i].Counting(); c.Clocks[i].Kind == ClockLoad && !slices.Contains(out, of) {
				out = append(out, of)
			}
		}
	}
	return out
}

// loadsOf are those of them that weigh a counter's litres.
func (b *Book) loadsOf(counter ID) []Counting {
	return slices.DeleteFunc(b.loads(), func(of Counting) bool { return of.Counter != counter })
}
