package schedule

import (
	"strconv"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	waterstation "brine/wrasse/model/station"
)

// farDays is how far ahead, in days, the reaching of an amount is no date any more.
const farDays = 36500

// countedClock counts what was used since the start: of a counter, or the grams or meq its litres carried.
type countedClock struct {
	clock  model.Clock
	start  ledger.Start
	sight  *sight
	record *record // nil where a load can't be told because its inlet was never read
	cycle  cycle
	litres *record // of the counter itself
	factor float64 // 1 + waste over product, of a stage that also passes the waste
	rate   rate    // the present one, before the factor
	unit   string
}

func openUsage(v *sight, c model.Clock, start ledger.Start) clock {
	counter, _ := v.book.Counter(c.Counter)
	of := v.record(c.Counter)
	return newCounted(v, c, start, of, of, counter.Unit)
}

func openLoad(v *sight, c model.Clock, start ledger.Start) clock {
	return newCounted(v, c, start, v.load(c), v.record(c.Counter), c.LoadUnit())
}

func newCounted(v *sight, c model.Clock, start ledger.Start, of, litres *record, unit string) clock {
	out := &countedClock{clock: c, start: start, sight: v, record: of, litres: litres, factor: 1 + c.FeedRatio, unit: unit}
	if of == nil {
		return out
	}
	n := len(of.entries)
	out.cycle = of.cycle(start, v.end, litres.seen(n, start.On))
	out.rate = of.seen(n, start.On)
	return out
}

func (c *countedClock) life() (float64, model.Rule) { return c.clock.Amount, c.clock.Rule }

func (c *countedClock) known() bool { return c.record != nil }

func (c *countedClock) perDay() float64 { return c.rate.perDay * c.factor }

// pace is the rate as known at the start of the cycle, else the present one.
func (c *countedClock) pace() rate {
	if !c.known() {
		return rate{}
	}
	of := c.record.asOf(c.start.Mark)
	if c.clock.Kind == model.ClockLoad {
		of = c.sight.loadBefore(c.clock, c.start.Mark)
	}
	if of != nil {
		if then := of.seen(of.before(c.start.Mark), c.start.On); then.positive() {
			return rate{then.perDay * c.factor, true}
		}
	}
	return rate{c.perDay(), c.rate.ok}
}

// closed counts the entries up to the date that come before the tick which ended the cycle.
func (c *countedClock) closed(start, end ledger.Start, on model.Date) (float64, bool) {
	if !c.known() {
		return 0, false
	}
	stop := model.EndOf(on)
	if end.Mark.Before(stop) {
		stop = end.Mark
	}
	record, litres := c.record.asOf(stop), c.litres.asOf(end.Mark)
	n := record.before(stop)
	if n == 0 {
		return 0, false
	}
	of := record.cycle(start, stop, litres.seen(litres.before(end.Mark), start.On))
	age := of.used()
	if last := &record.entries[n-1]; !record.meter && last.rate.ok {
		if added, _, silent := record.silence(last, on, record.usualBefore(n)); silent {
			if last.Before(start.Mark) {
				added = min(added, float64(last.rate.perDay*float64(on.Sub(start.On))))
			}
			age += added
		}
	}
	if b := of.before; !b.Record.IsZero() && (!b.Known || above(b.Amount, age/2)) {
		return 0, false
	}
	return age * c.factor, true
}

func (c *countedClock) stand(p planner) ClockStanding {
	s := ClockStanding{
		Clock: c.clock, Kind: c.clock.Kind, Unit: c.unit,
		Stated: strconv.FormatFloat(c.clock.Amount, 'f', -1, 64), Life: c.clock.Amount,
	}
	if !c.known() {
		s.Reason = ReasonNoInlet
		return s
	}
	s.Used, s.Rate, s.HasRate = c.used(), c.perDay(), c.rate.ok
	s.Age = s.Used + float64(s.Rate*float64(c.sight.on.Sub(c.lastEntry())))
	c.tell(&s)
	p.plan(&s, c)
	s.Planned, s.Limit = c.reaches(s.Plan.Age), c.reaches(s.limitAge())
	if s.Planned.IsZero() {
		s.Reason = c.why(&s)
	}
	return s
}

func (c *countedClock) used() float64 { return c.cycle.used() * c.factor }

// lastEntry is the date of the counter's last entry, or the start where that lies later.
func (c *countedClock) lastEntry() model.Date {
	return c.record.last(len(c.record.entries), c.start.On)
}

// tell fills in what was counted on without an entry.
func (c *countedClock) tell(s *ClockStanding) {
	s.Before = c.cycle.before
	s.Before.Amount *= c.factor
	for _, silence := range c.cycle.silences() {
		s.Silences = append(s.Silences, silence.times(c.factor))
	}
	if c.clock.Kind == model.ClockLoad && c.clock.Meq {
		load, _ := waterstation.LoadBefore(c.sight.book, c.clock, c.sight.end)
		s.TapOnly = load.Tap
	}
	n := len(c.record.entries)
	if n == 0 {
		s.Unlogged = true
		return
	}
	last := &c.record.entries[n-1]
	if c.record.meter || !c.rate.ok {
		return
	}
	if _, _, silent := c.record.silence(last, c.sight.on, c.record.usualBefore(n)); silent {
		since := c.lastEntry()
		days := float64(c.sight.on.Sub(since))
		s.Silences = append(s.Silences, Silence{
			Since: last.On, PerDay: c.rate.perDay, Amount: float64(c.rate.perDay * days),
		}.times(c.factor))
	}
}

func (s Silence) times(factor float64) Silence {
	s.PerDay, s.Amount = s.PerDay*factor, s.Amount*factor
	return s
}

func (c *countedClock) why(s *ClockStanding) Reason {
	switch {
	case !s.HasRate:
		return ReasonNoRate
	case s.Rate <= 0:
		return ReasonStill
	}
	return ReasonFar
}

// reaches is the date on which the present cycle reached an amount, or will at the present rate.
func (c *countedClock) reaches(amount float64) model.Date {
	if d, ok := c.cycle.reached(amount / c.factor); ok {
		return d
	}
	if !c.rate.positive() {
		return 0
	}
	days := ceil((amount - c.used()) / c.perDay())
	if days >= farDays {
		return 0
	}
	return c.lastEntry().AddDays(days)
}

func (c *countedClock) chance(s *ClockStanding, hidden bool) float64 { return lifeChance(s, hidden) }
