package schedule

import (
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// How far ahead water is looked for. Our own choice.
const (
	saidBy    = 28                 // a shortage is said that begins by this day
	coverDays = 7                  // and reckoned over so many days from its first on
	aheadDays = saidBy + coverDays // day 0 is the date itself
)

// OnHand is the water in a vessel on a date, and how long it lasts.
type OnHand struct {
	Vessel model.Vessel

	Counted  *ledger.Logged[model.Level] // the latest count; nil: it never was, and nothing else is known
	Level    float64                     // L at the end of the date; not of a vessel that a float valve fills
	Use      float64                     // L a day that nobody logs; of one that a float valve fills what runs in
	HasUse   bool                        // Use is known, else taken as 0
	Unlogged float64                     // L that were in it more than was logged, at the latest count; 0 when that is little

	Out   []Outflow // what is to be taken from it, by date, up to 34 days ahead
	Ahead []float64 // L at the end of each day from the date on, were nothing made

	Short model.Date // the first day on which less than the vessel keeps would be left; no date within four weeks
	Mixes []Mix      // salt, and fresh that nothing runs into: what must be mixed, or carried there, so that it isn't
	From  model.ID   // the vessel those are taken from

	// Of a vessel that something runs into.
	Missing float64    // L, the most that is missing in the week from Short on
	Flow    Flow       // at which it is made
	Hours   float64    // that making it takes; 0 without a flow
	StartBy model.Date // the last day to start the unit
	Ready   model.Date // when it would be there, started now; no date unless Short comes before that
	Over    float64    // L of Missing that the vessel can't hold at once
}

// Fed tells whether a counter counts what runs into the vessel.
func (o *OnHand) Fed() bool { return o.Vessel.FedBy != "" }

// Outflow is water that is to be taken from a vessel.
type Outflow struct {
	On     model.Date
	Litres float64
	Chore  model.ID                   // that takes it, if one does
	Need   *ledger.Logged[model.Need] // that wants it, if one does
	Mix    model.ID                   // the vessel that is filled with it, if one is
}

// Mix is water to be mixed in a vessel, or carried into it.
type Mix struct {
	By     model.Date
	Litres float64
}

// OpenNeed is a need that is not met yet.
type OpenNeed struct {
	ledger.Logged[model.Need]
	Litres float64 // of it that are still to be taken
}

// OnHand is the water in every vessel in use, in the order in which they were defined. It is worked out once.
func (r *Round) OnHand() []OnHand { return r.sight.onHand() }

// OnHandIn is the water in a vessel, nil when it is not in use.
func (r *Round) OnHandIn(vessel model.ID) *OnHand {
	return onHandIn(r.OnHand(), vessel)
}

func onHandIn(all []OnHand, vessel model.ID) *OnHand {
	if i := slices.IndexFunc(all, func(o OnHand) bool { return o.Vessel.ID == vessel }); i >= 0 {
		return &all[i]
	}
	return nil
}

// lookout looks ahead over the vessels of a book.
type lookout struct {
	sight   *sight
	flow    Flow
	takes   map[model.ID][]Outflow // by vessel, of the chores as projected
	vessels []OnHand               // in the order of definition
	logs    []vesselLog
}

// lookAhead works out what is on hand. standings are those of the round, in any order, of which a clock that watches a
// level has no dates yet.
func (v *sight) lookAhead(standings []Standing) []OnHand {
	l := lookout{sight: v, flow: v.productFlow(), takes: projectTakes(standings, v.on)}
	for _, d := range v.book.Vessels() {
		if retired(d.Retired, v.on) {
			continue
		}
		log := newVesselLog(v.book, d, v.on)
		o := OnHand{Vessel: d, Counted: log.counted()}
		o.Use, o.HasUse, o.Unlogged = v.unlogged(&log)
		if o.Counted != nil && !d.Auto {
			o.Level = log.levelOn(v.on, o.Use)
		}
		l.vessels, l.logs = append(l.vessels, o), append(l.logs, log)
	}
	for i := range l.vessels {
		o := &l.vessels[i]
		o.Out = l.wanted(o.Vessel.ID, l.logs[i].open(v.on))
	}
	for _, i := range l.order() {
		l.look(&l.vessels[i])
	}
	return l.vessels
}

// look finds when a vessel falls short and what that asks for.
func (l *lookout) look(o *OnHand) {
	slices.SortStableFunc(o.Out, func(a, b Outflow) int { return int(a.On) - int(b.On) })
	switch {
	case o.Vessel.Auto:
		l.float(o)
	case o.Counted == nil:
	case o.Fed():
		o.Ahead = l.ahead(o)
		l.make(o)
	default:
		o.Ahead = l.ahead(o)
		l.mix(o)
	}
}

// ahead is the level at the end of each day from the date on, were nothing made.
func (l *lookout) ahead(o *OnHand) []float64 {
	out := make([]float64, aheadDays)
	level, next := o.Level, 0
	for d := range out {
		if d > 0 {
			level -= o.Use
		}
		for ; next < len(o.Out) && o.Out[next].On <= l.sight.on.AddDays(d); next++ {
			level -= o.Out[next].Litres
		}
		out[d] = level
	}
	return out
}

// shortOn is the first day, from one on, on which less is left than a vessel keeps; -1 when there is none in time.
func shortOn(level []float64, from int, keep float64) int {
	for d := from; d <= saidBy; d++ {
		if level[d] < keep-slack {
			return d
		}
	}
	return -1
}

// missing is the most that is missing in the week from a short day on.
func missing(level []float64, short int, keep float64) float64 {
	return keep - slices.Min(level[short:short+coverDays])
}

// leastFilling is the part of a vessel's capacity for which it is mixed or filled at the least. Our own choice.
const leastFilling = 0.25

// mix finds what must be mixed in a vessel, or carried into it.
func (l *lookout) mix(o *OnHand) {
	before := 0
	if o.Vessel.Holds == model.HoldsSalt {
		before = l.sight.book.Def().DaysToMix()
	}
	level := slices.Clone(o.Ahead)
	for d := shortOn(level, 0, o.Vessel.Keep); d >= 0; d = shortOn(level, d+1, o.Vessel.Keep) {
		due := max(0, d-before)
		litres := max(missing(level, d, o.Vessel.Keep), min(leastFilling*o.Vessel.Capacity, o.Vessel.Capacity-level[due]))
		if len(o.Mixes) == 0 {
			o.Short = l.sight.on.AddDays(d)
		}
		o.Mixes = append(o.Mixes, Mix{l.sight.on.AddDays(due), litres})
		for i := due; i < len(level); i++ {
			level[i] += litres
		}
	}
	from := l.source(o)
	if from == nil {
		return
	}
	o.From = from.Vessel.ID
	for _, m := range o.Mixes {
		from.Out = append(from.Out, Outflow{On: m.By, Litres: m.Litres, Mix: o.Vessel.ID})
	}
}

// make finds what the unit must make, and when it must be started.
func (l *lookout) make(o *OnHand) {
	d := shortOn(o.Ahead, 0, o.Vessel.Keep)
	o.Flow = l.flow
	if d < 0 {
		return
	}
	on := l.sight.on
	o.Short, o.Missing = on.AddDays(d), missing(o.Ahead, d, o.Vessel.Keep)
	days := 1
	if o.Flow.Known() {
		o.Hours = o.Missing / o.Flow.LH
		days = min(ceil(o.Hours/l.sight.book.Def().HoursToRun()), mostRunDays)
	}
	o.StartBy = o.Short.AddDays(-days)
	if o.StartBy < on {
		o.StartBy = on
		if o.Flow.Known() {
			o.Ready = on.AddDays(days)
		}
	}
	room := o.Vessel.Capacity - max(0, o.Ahead[o.StartBy.Sub(on)])
	o.Over = max(0, o.Missing-room)
}

// mostRunDays is the most days of running that are told apart.
const mostRunDays = 36_500

// float is what is known of a vessel that a float valve keeps full: what its open needs and the mixes take to make.
func (l *lookout) float(o *OnHand) {
	o.Level, o.Flow = 0, l.flow
	litres := 0.0
	for _, out := range o.Out {
		if out.Chore == "" && out.On <= l.sight.on.AddDays(saidBy) {
			litres += out.Litres
		}
	}
	if o.Flow.Known() {
		o.Hours = litres / o.Flow.LH
	}
}

// order is the indices of the vessels in an order in which each comes before the one it is filled from: salt, then fresh
// that nothing runs into, then what something runs into.
func (l *lookout) order() []int {
	rest := [3][]int{}
	for i := range l.vessels {
		switch o := &l.vessels[i]; {
		case o.Vessel.Holds == model.HoldsSalt:
			rest[0] = append(rest[0], i)
		case !o.Fed() && !o.Vessel.Auto:
			rest[1] = append(rest[1], i)
		default:
			rest[2] = append(rest[2], i)
		}
	}
	out := rest[0]
	for cans := rest[1]; len(cans) > 0; {
		fills := func(i int) bool { // another can that is still to come
			return slices.ContainsFunc(cans, func(j int) bool { return j != i && l.source(&l.vessels[j]) == &l.vessels[i] })
		}
		n := max(0, slices.IndexFunc(cans, func(i int) bool { return !fills(i) })) // each fills another: in the order defined
		out = append(out, cans[n])
		cans = slices.Delete(cans, n, n+1)
	}
	return append(out, rest[2]...)
}

// source is the vessel that one is filled from: the one it was filled from last, else the first that something runs into.
func (l *lookout) source(o *OnHand) *OnHand {
	from := lastSource(l.sight.book, &o.Vessel, l.sight.on)
	if i := slices.IndexFunc(l.vessels, func(v OnHand) bool { return v.Vessel.ID == from }); from != "" && i >= 0 {
		return &l.vessels[i]
	}
	if i := slices.IndexFunc(l.vessels, func(v OnHand) bool { return v.Fed() }); i >= 0 {
		return &l.vessels[i]
	}
	return nil
}

// lastSource is the vessel that the latest batch, or into a vessel of fresh water the latest draw, came from.
func lastSource(b *ledger.Book, v *model.Vessel, on model.Date) (from model.ID) {
	if v.Holds == model.HoldsSalt {
		for _, batch := range slices.Backward(b.Batches()) {
			if batch.On <= on && batch.What.Into == v.ID && batch.What.From != "" {
				return batch.What.From
			}
		}
		return ""
	}
	var last model.Mark
	for _, other := range b.Vessels() {
		for _, d := range slices.Backward(b.Draws(other.ID)) {
			if d.On <= on && d.What.Into == v.ID {
				if last.Before(d.Mark()) {
					from, last = other.ID, d.Mark()
				}
				break
			}
		}
	}
	return from
}

// wanted is what is to be taken from a vessel: by chores as they are projected, and by open needs, which may stand for them.
func (l *lookout) wanted(vessel model.ID, open []OpenNeed) []Outflow {
	out := slices.Clone(l.takes[vessel])
	for i := range open {
		n := &open[i]
		if n.What.Chore != "" {
			out = slices.DeleteFunc(out, func(o Outflow) bool { return o.Chore == n.What.Chore && o.Need == nil && o.On <= n.What.By })
		}
		out = append(out, Outflow{On: n.What.By, Litres: n.Litres, Need: &n.Logged})
	}
	return out
}

// projectTakes is what the chores of a round take from each vessel, done when they are due and put off no longer than
// until they are put off.
func projectTakes(standings []Standing, on model.Date) map[model.ID][]Outflow {
	out := map[model.ID][]Outflow{}
	for i := range standings {
		s := &standings[i]
		if !s.HasDue || len(s.Chore.Takes) == 0 {
			continue
		}
		first := max(on, s.Due)
		if s.Deferred != nil {
			first = max(first, s.Deferred.What.Until)
		}
		for d := first; d < on.AddDays(aheadDays); d = d.AddDays(s.step) {
			for _, t := range s.Chore.Takes {
				out[t.Vessel] = append(out[t.Vessel], Outflow{On: d, Litres: t.Litres, Chore: s.Chore.ID})
			}
			if s.step == 0 {
				break
			}
		}
	}
	return out
}
