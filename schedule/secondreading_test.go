package schedule_test

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/schedule/life"
	"brine/wrasse/schedule/trend"
)

// A second reading of the method that this package follows, the slow and obvious way: every question goes through the
// whole log again, and nothing is kept. It shares with the package what a log is and the fits of packages life and trend,
// and is held to the package's rounds on random books, and on the books whose rounds a third reading made.

// reader is a book as it reads on a date.
type reader struct {
	*ledger.Book
	on      model.Date
	defined []*model.Entry // components and flags, as written
	events  []*model.Entry // of dates up to on, in order of time
	slips   []float64      // by grade, fitted
}

func readAgain(b *ledger.Book, on model.Date) *reader {
	r := &reader{Book: b, on: on}
	for seq := model.Seq(1); seq <= b.Last(); seq++ {
		e := b.Reads(seq)
		switch {
		case e == nil:
		case e.Kind == model.KindComponent || e.Kind == model.KindFlag:
			r.defined = append(r.defined, e)
		case e.On <= on:
			r.events = append(r.events, e)
		}
	}
	slices.SortFunc(r.events, func(a, b *model.Entry) int { return inOrder(a.Mark(), b.Mark()) })
	r.fitSlips()
	return r
}

func inOrder(a, b model.Mark) int {
	return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Seq, b.Seq))
}

func (r *reader) daysAway(after, upTo model.Date) (n float64) {
	for d := after + 1; d <= upTo; d++ {
		if slices.ContainsFunc(r.Aways(), func(a ledger.Logged[model.Away]) bool { return a.On <= min(d, r.on) && d < a.What.Until }) {
			n++
		}
	}
	return n
}

// begin is the start of a cycle: a tick, or a date of service, of which tick is nil.
type begin struct {
	model.Mark
	tick *model.Tick
}

func (b begin) about() bool { return b.tick != nil && b.tick.About }

// starts are the starts of the cycles of a chore, in order.
func (r *reader) starts(c model.Chore) []begin {
	var out []begin
	ticked := map[model.Date]bool{}
	for _, e := range r.events {
		if tick, ok := e.Body.(model.Tick); ok && tick.Chore == c.ID {
			out = append(out, begin{e.Mark(), &tick})
			ticked[e.On] = true
		}
	}
	first, service := true, model.Date(0)
	for _, e := range r.defined {
		def, ok := e.Body.(model.Component)
		if !ok || def.ID != c.Component {
			continue
		}
		date := cmp.Or(def.InService, service, e.On, e.Written())
		counts := date > service
		if first {
			counts = true
			for d := range ticked {
				counts = counts && d >= date
			}
		}
		if counts && !ticked[date] && date <= r.on {
			out = append(out, begin{Mark: model.Mark{On: date}})
		}
		first, service = false, date
	}
	slices.SortFunc(out, func(a, b begin) int { return inOrder(a.Mark, b.Mark) })
	return out
}

// Counted clocks.

type use struct {
	model.Mark
	litres, q float64
}

// counting is a usage or load clock: the entries of its counter, and what a unit of it carries on a date.
type counting struct {
	*reader
	counter model.Counter
	uses    []use
	carries func(model.Date) float64
	rates   map[int]seenRate // seen from the n-th entry, once worked out
}

type seenRate struct {
	perDay float64
	ok     bool
}

// counting is a clock's, of what was written before a mark. It is not ok for a load whose inlet was not read.
func (r *reader) counting(clock model.Clock, before model.Mark) (c *counting, ok bool) {
	factor := 1 + clock.FeedRatio
	counter, _ := r.Counter(clock.Counter)
	c = &counting{reader: r, counter: counter, rates: map[int]seenRate{}, carries: func(model.Date) float64 { return factor }}
	if clock.Kind == model.ClockLoad {
		in, out := r.readings(clock.Inlet, model.Mark{}, before), r.readings(clock.Outlet, model.Mark{}, before)
		if len(in) == 0 {
			return nil, false
		}
		c.carries = func(d model.Date) float64 { return factor * max(0, between(in, d)-between(out, d)) / 1000 }
	}
	meter, known := 0.0, false
	for _, e := range r.events {
		if reset, ok := e.Body.(model.MeterReset); ok && reset.Counter == clock.Counter {
			known = false
		}
		u, ok := e.Body.(model.Usage)
		if !ok || u.Counter != clock.Counter || !e.Mark().Before(before) {
			continue
		}
		q := 0.0
		if u.Amount != nil {
			q = *u.Amount
		} else {
			if known {
				q = *u.Meter - meter
			}
			meter, known = *u.Meter, true
		}
		c.uses = append(c.uses, use{e.Mark(), q, q * c.carries(e.On)})
	}
	return c, true
}

// between is the value of a gauge on a date: on the line between the readings around it, the last of each date.
func between(readings []value, d model.Date) float64 {
	var before, after value
	for _, v := range readings {
		if v.On <= d {
			before = v
		}
		if v.On >= d && (after.On == 0 || v.On == after.On) {
			after = v
		}
	}
	switch {
	case before.On == 0 || before.On == after.On:
		return after.v
	case after.On == 0:
		return before.v
	}
	return before.v + (after.v-before.v)*float64(d.Sub(before.On))/float64(after.On.Sub(before.On))
}

// usualGap is that of a gap which begins at the last of some entries.
func usualGap(uses []use) float64 {
	var gaps []float64
	for i := len(uses) - 1; i > 0 && len(gaps) < 20; i-- {
		if gap := uses[i].On.Sub(uses[i-1].On); gap > 0 {
			gaps = append(gaps, float64(gap))
		}
	}
	slices.Sort(gaps)
	switch n := len(gaps); {
	case n == 0:
		return 7
	case n < 3:
		return max(7, gaps[n-1])
	default:
		return max(1, (gaps[(n-1)/2]+gaps[n/2])/2)
	}
}

// silence is what is counted on when nothing was written from the last of some entries up to a date.
func (c *counting) silence(uses []use, to model.Date) (counted, rate, usual float64, silent bool) {
	last := uses[len(uses)-1].On
	there := float64(to.Sub(last)) - c.daysAway(last, to)
	usual = usualGap(uses)
	rate, ok := c.rate(uses, 0)
	if !ok || c.counter.Style != model.StyleAmount || there <= 4*usual {
		return 0, 0, 0, false
	}
	return rate * min(there-usual, 400), rate, usual, true
}

// gap is what is counted on before the i-th of some entries, and how many days the entry stands for.
func (c *counting) gap(uses []use, i int) (counted, rate, days float64, silent bool) {
	for _, u := range uses {
		if u.On == uses[i].On && u.litres == 0 {
			return 0, 0, float64(uses[i].On.Sub(uses[i-1].On)), false
		}
	}
	if counted, rate, days, silent = c.silence(uses[:i], uses[i].On); !silent {
		days = float64(uses[i].On.Sub(uses[i-1].On))
	}
	return counted, rate, days, silent
}

// rate is that seen from the last of some entries; without any, from the date given.
func (c *counting) rate(uses []use, start model.Date) (float64, bool) {
	if len(uses) == 0 {
		return c.counter.DeclaredRate * c.carries(start), c.counter.DeclaredRate > 0
	}
	if _, known := c.rates[len(uses)]; !known {
		rate, ok := c.rateOf(uses)
		c.rates[len(uses)] = seenRate{rate, ok}
	}
	seen := c.rates[len(uses)]
	return seen.perDay, seen.ok
}

func (c *counting) rateOf(uses []use) (float64, bool) {
	const half, prior = 60, 30
	declared := c.counter.DeclaredRate > 0
	n := len(uses) - 1
	sum, t := 0.0, 0.0
	for i := n; i > 0; i-- {
		_, _, days, _ := c.gap(uses, i)
		stands := days
		first := slices.IndexFunc(uses, func(u use) bool { return u.On == uses[i].On })
		if first == 0 {
			stands = 0
		} else if first < i {
			_, _, stands, _ = c.gap(uses, first)
		}
		if w := math.Exp2(-t / half); stands == 0 {
			sum += uses[i].q * w
		} else {
			sum += uses[i].q * half / math.Ln2 * (w - math.Exp2(-(t+stands)/half)) / stands
		}
		t += days
	}
	weight := half / math.Ln2 * (1 - math.Exp2(-t/half))
	if declared {
		p := prior * math.Exp2(-t/half)
		return (p*c.counter.DeclaredRate*c.carries(uses[n].On) + sum) / (p + weight), true
	}
	if t < 7 {
		return 0, false
	}
	return sum / weight, true
}

// stretch is how an entry moved the running sum of a cycle.
type stretch struct {
	since, day    model.Date
	before, after float64
	spread        bool // over the days between
}

// run walks through the entries of a cycle. c0 is what it counts on before the record, ok is false when it should and no rate is known.
func (c *counting) run(start model.Mark, uses []use, litresADay float64, known bool) (run []stretch, c0 float64, ok bool) {
	ok = true
	sum := 0.0
	for i, u := range uses {
		if !start.Before(u.Mark) {
			continue
		}
		s := stretch{since: start.On, day: u.On, before: sum, spread: c.counter.Style == model.StyleMeter}
		switch {
		case i == 0:
			ok = known
			if known {
				c0 = litresADay * c.carries(start.On) * (float64(u.On.Sub(start.On)) - c.daysAway(start.On, u.On))
			}
			sum += max(c0, u.q)
			s.spread = s.spread || c0 > 0
		default:
			counted, rate, _, silent := c.gap(uses, i)
			if uses[i-1].Mark.Before(start) {
				counted = min(counted, rate*float64(u.On.Sub(start.On)))
			} else {
				s.since = uses[i-1].On
			}
			sum += counted + u.q
			s.spread = s.spread || silent
		}
		s.after = sum
		run = append(run, s)
	}
	return run, c0, ok
}

func total(run []stretch) float64 {
	if len(run) == 0 {
		return 0
	}
	return run[len(run)-1].after
}

// litresADay is the declared rate of the counter, else its rate seen from the last of some entries.
func (c *counting) litresADay(uses []use) (float64, bool) {
	if c.counter.DeclaredRate > 0 {
		return c.counter.DeclaredRate, true
	}
	plain := *c
	plain.carries, plain.rates = func(model.Date) float64 { return 1 }, map[int]seenRate{}
	var again []use
	for _, u := range uses {
		again = append(again, use{u.Mark, u.litres, u.litres})
	}
	return plain.rate(again, 0)
}

// closedAge is the age that a cycle had reached on a day of it; ok is false when it teaches nothing.
func (c *counting) closedAge(start, tick model.Mark, day model.Date) (age float64, ok bool) {
	var upTo, asOf []use
	for _, u := range c.uses {
		if u.Before(tick) {
			asOf = append(asOf, u)
			if u.On <= day {
				upTo = append(upTo, u)
			}
		}
	}
	if len(upTo) == 0 {
		return 0, false
	}
	perDay, known := c.litresADay(asOf)
	run, c0, ok := c.run(start, upTo, perDay, known)
	age = total(run)
	counted, rate, _, _ := c.silence(upTo, day)
	if upTo[len(upTo)-1].Mark.Before(start) {
		counted = min(counted, rate*float64(day.Sub(start.On)))
	}
	age += counted
	return age, ok && c0 <= age/2*(1+1e-9)
}

// reaches is the date on which a cycle reaches an amount.
func (c *counting) reaches(amount float64, start model.Date, run []stretch, rate float64) model.Date {
	for _, s := range run {
		if s.after >= amount*(1-1e-9) {
			if s.spread && s.day > s.since {
				part := float64(s.day.Sub(s.since)) * (amount - s.before) / (s.after - s.before)
				return max(s.since.AddDays(int(math.Ceil(part-1e-9))), s.since+1)
			}
			return s.day
		}
	}
	days := math.Ceil((amount-total(run))/rate - 1e-9)
	if rate <= 0 || days >= 36500 {
		return 0
	}
	return c.last(start).AddDays(int(days))
}

// last is the date of the counter's last entry, or that of the start.
func (c *counting) last(start model.Date) model.Date {
	for _, u := range c.uses {
		start = max(start, u.On)
	}
	return start
}

// Readings.

type value struct {
	model.Mark
	v    float64
	held float64 // as it is held against a limit
}

// readings are those of a gauge that count, after one mark and before another.
func (r *reader) readings(gauge model.ID, after, before model.Mark) (out []value) {
	for _, e := range r.events {
		if m, ok := e.Body.(model.Reading); ok && m.Gauge == gauge && after.Before(e.Mark()) && e.Mark().Before(before) &&
			(m.MinutesRunning == nil || *m.MinutesRunning >= 5) {
			out = append(out, value{e.Mark(), m.Value, m.Value})
		}
	}
	return out
}

// of is the last reading of a role on a date.
func (r *reader) of(role string, d model.Date) (v float64, ok bool) {
	gauge, _ := r.GaugeByRole(role)
	for _, m := range r.readings(gauge.ID, model.Mark{On: d}, model.EndOf(d)) {
		v, ok = m.v, true
	}
	return v, ok
}

// series is what a reading clock watches in a cycle. Of the derived gauges the reading knows the rejection alone.
func (r *reader) series(clock model.Clock, after, before model.Mark) (out []value) {
	if clock.Gauge != model.Rejection {
		return r.readings(clock.Gauge, after, before)
	}
	membrane, _ := r.GaugeByRole("tds-membrane")
	for _, m := range r.readings(membrane.ID, after, before) {
		if n := len(out); n > 0 && out[n-1].On == m.On {
			out = out[:n-1] // the last of a date counts
		}
		if v, ok := r.rejection(m, clock.Bad); ok {
			out = append(out, v)
		}
	}
	return out
}

func (r *reader) rejection(m value, bad model.Side) (value, bool) {
	tap, ok := r.of("tds-tap", m.On)
	warm := 1.0
	for d := m.On; d >= m.On-14; d-- {
		if t, known := r.of("temperature-water", d); known {
			warm = math.Pow(1.03, min(0, 20-t))
			break
		}
	}
	passes := m.v / tap
	if m.v == math.Round(m.v) && tap == math.Round(tap) {
		passes = max(0, m.v-0.5) / (tap + 0.5)
		if bad == model.SideAbove {
			passes = (m.v + 0.5) / (tap - 0.5)
		}
	}
	return value{m.Mark, 100 * (1 - warm*m.v/tap), 100 * (1 - warm*passes)}, ok
}

// crossing is the trailing run of readings beyond the limit.
func crossing(clock model.Clock, all []value) (run []value) {
	for i := len(all) - 1; i >= 0 && clock.Beyond(all[i].held); i-- {
		run = append([]value{all[i]}, run...)
	}
	return run
}

// foretold are the dates of a reading clock that has not crossed its limit.
func foretold(clock model.Clock, all []value) (planned, limit model.Date) {
	var x, y []float64
	for i, v := range all {
		if i+1 == len(all) || all[i+1].On != v.On {
			x, y = append(x, float64(v.On)), append(y, v.v)
		}
	}
	x, y = x[max(0, len(x)-200):], y[max(0, len(y)-200):]
	n := len(x)
	if n < 5 || x[n-1]-x[0] < 14 {
		return 0, 0
	}
	line, ok := trend.TheilSen(x, y, trend.Confidence95)
	steep := line.High
	toward := line.Slope > 0
	if clock.Bad == model.SideBelow {
		steep, toward = line.Low, line.Slope < 0
	}
	if !ok || !toward || trend.MannKendall(x, y).P > 0.10*(1+1e-9) {
		return 0, 0
	}
	crosses := func(slope float64) model.Date {
		at := line.MidT + (clock.Limit-line.MidY)/slope
		if at > x[n-1]+730 {
			return 0
		}
		return model.Date(max(x[n-1], math.Ceil(at-1e-9)))
	}
	return crosses(steep), crosses(line.Slope)
}

// Lives.

// lesson is what a closed cycle teaches. Of good, heavy, failed and exact, the first three are words.
type lesson struct {
	what string
	age  float64
}

func (r *reader) lessons(c model.Chore) (out []lesson) {
	learner := c.Learner()
	if learner < 0 || c.Fixed || c.Work == model.WorkTest || c.Work == model.WorkRead {
		return nil
	}
	clock := c.Clocks[learner]
	starts := r.starts(c)
	for i := 1; i < len(starts); i++ {
		from, to := starts[i-1], starts[i]
		if to.tick == nil || from.about() || to.about() {
			continue
		}
		age := func(day model.Date) (float64, bool) { return float64(day.Sub(from.On)), true }
		if clock.Kind != model.ClockCalendar {
			counted, ok := r.counting(clock, model.EndOf(r.on))
			if !ok {
				return nil
			}
			age = func(day model.Date) (float64, bool) { return counted.closedAge(from.Mark, to.Mark, day) }
		}
		at, teaches := age(to.On)
		if teaches && at <= 0 {
			continue
		}
		crossed, recent, beyond := model.Date(0), false, false
		for _, reading := range c.Clocks {
			if reading.Kind != model.ClockReading {
				continue
			}
			all := r.series(reading, from.Mark, to.Mark)
			run := crossing(reading, all)
			if len(run) >= 2 && (crossed == 0 || run[0].On < crossed) {
				crossed = run[0].On
			}
			recent = recent || len(all) > 0 && to.On.Sub(all[len(all)-1].On) <= 7
			beyond = beyond || len(run) > 0
		}
		word := map[model.Found]string{model.FoundClean: "good", model.FoundLight: "good", model.FoundHeavy: "heavy", model.FoundFailed: "failed"}[to.tick.Found]
		if word != "" && recent && !beyond {
			word = "good"
		}
		if crossed != 0 {
			word = "exact"
			at, teaches = age(crossed)
		}
		if word != "" && teaches && at > 0 {
			out = append(out, lesson{word, at})
		}
	}
	return out
}

// deal is what a planned age rests on, beside the lessons.
type deal struct {
	x       float64 // the life as stated
	every   bool
	cost    *model.Cost
	stake   float64 // (35/24) k m/w
	perDay  float64 // of the clock's unit; 0: not known
	history []lesson
}

// plan is the planned age that some lessons give, and the life behind it.
func (d *deal) plan(lessons []lesson) (age float64, fit life.Fit) {
	usual := math.Pow(-math.Log(0.8)/math.Ln2, 1.0/6)
	m := d.x
	if d.every {
		m = d.x / usual
	}
	var all []life.Observation
	for _, l := range lessons {
		switch l.what {
		case "good":
			all = append(all, life.Survived(min(l.age, 3*m)))
		case "heavy":
			all = append(all, life.Worn(l.age, usual*m))
		case "failed":
			all = append(all, life.FailedBy(l.age))
		case "exact":
			all = append(all, life.FailedAt(l.age))
		}
	}
	fit = life.Mode(life.Prior{Shape: 6, Median: m, ShapeSpan: 0.5, MedianSpan: 0.4}, all)
	q := 0.20
	if d.perDay > 0 {
		q = min(0.5, max(0.005, d.stake/(fit.Median/d.perDay)))
	}
	age = fit.Quantile(q)
	switch {
	case d.cost != nil:
		best, ok := fit.ReplacementAge(d.cost.Planned, d.cost.Failure)
		if age = min(best, fit.Median); !ok {
			age = fit.Median
		}
	case len(lessons) == 0 && d.every:
		age = d.x
	case len(lessons) == 0:
		age = max(age, 0.7*d.x)
	}
	if d.every {
		age = min(age, d.x)
	}
	if n := len(lessons); n > 0 && lessons[n-1].what == "failed" {
		age = min(age, lessons[n-1].age)
	}
	return age, fit
}

// ages are the planned age and that of the limit.
func (d *deal) ages() (planned, limit float64, fit life.Fit) {
	planned, fit = d.plan(d.history)
	n := len(d.history)
	if n == 0 || d.history[n-1].what == "exact" {
		return planned, fit.Median, fit
	}
	last := d.history[n-1]
	instead := func(what string) {
		age, _ := d.plan(append(slices.Clone(d.history[:n-1]), lesson{what, last.age}))
		planned = max(planned, age)
	}
	switch last.what {
	case "good":
		instead("heavy")
		instead("failed")
		run := n
		for run > 0 && d.history[run-1].what == "good" {
			run--
		}
		before, _ := d.plan(d.history[:run])
		planned = max(planned, before)
	case "heavy":
		instead("failed")
	case "failed":
		return planned, fit.Median, fit
	}
	return planned, max(planned, fit.Median), fit
}

// Reach.

// gradeBefore is the grade that a component had when an entry was written.
func (r *reader) gradeBefore(component model.ID, seq model.Seq) (grade int) {
	for _, e := range r.defined {
		given := 0
		switch body := e.Body.(type) {
		case model.Component:
			if body.ID == component {
				given = body.Reach
			}
		case model.Flag:
			if body.Component == component && body.State == model.FlagRebuilt {
				given = body.Reach
			}
		}
		if given > 0 && (grade == 0 || e.Seq < seq) {
			grade = given
		}
	}
	return grade
}

func (r *reader) fitSlips() {
	prior := [5]float64{0, 0.02, 0.05, 0.10, 0.15}
	var n, sum [5]float64
	for _, c := range r.Chores() {
		starts := r.starts(c)
		for i := 1; i < len(starts); i++ {
			from, to := starts[i-1], starts[i]
			if to.tick == nil || to.about() || from.about() || to.tick.Planned.IsZero() || to.tick.Planned <= from.On {
				continue
			}
			planned := to.tick.Planned
			slip := (float64(to.On.Sub(planned)) - r.daysAway(planned, to.On)) / float64(planned.Sub(from.On))
			g := r.gradeBefore(c.Component, to.Seq) - 1
			n[g]++
			sum[g] += min(0.5, max(0, slip))
		}
	}
	var points []trend.Weighted
	for g := range prior {
		points = append(points, trend.Weighted{Level: float64(g), Value: (4*prior[g] + sum[g]) / (4 + n[g]), Weight: 4 + n[g]})
	}
	r.slips = trend.Isotonic(points)
}

// The round.

// row is what the reading gives of a chore, with its clocks.
type row struct {
	id                  model.ID
	state               schedule.State
	pastLimit           bool
	planned, limit, due model.Date
	governs             model.ClockKind
	lead                int
	risk                float64
	clocks              []clockRow
}

type clockRow struct {
	kind                model.ClockKind
	planned, limit, due model.Date
	crossed, confirmed  bool
	used, age, rate     float64
	shape, median       float64
}

func (r *reader) clock(c model.Chore, i int, start model.Mark) clockRow {
	clock, end := c.Clocks[i], model.EndOf(r.on)
	part, _ := r.Component(c.Component)
	out := clockRow{kind: clock.Kind}
	if clock.Kind == model.ClockReading {
		all := r.series(clock, start, end)
		run := crossing(clock, all)
		switch len(run) {
		case 0:
			out.planned, out.limit = foretold(clock, all)
		case 1:
			out.crossed, out.planned = true, run[0].On
		default:
			out.crossed, out.confirmed, out.planned, out.limit = true, true, run[0].On, run[0].On
		}
	} else {
		opened, _ := r.Component(cmp.Or(part.OpensWith, part.ID))
		minutes := float64(c.Minutes + opened.AccessMinutes)
		for _, s := range c.Spares {
			if spare, _ := r.Spare(s.Spare); spare.Price != nil {
				minutes += *spare.Price * s.Quantity / cmp.Or(r.Def().MinuteValue, 0.3)
			}
		}
		care := map[model.Care]float64{model.CareCareful: 0.5, model.CareUsual: 1, "": 1, model.CareEasy: 2}[r.Def().Care]
		d := deal{x: clock.Amount, every: clock.Rule == model.RuleEvery, cost: c.Cost, perDay: 1,
			stake: 35.0 / 24 * care * max(1, minutes) / weightOf(c)}
		if i == c.Learner() {
			d.history = r.lessons(c)
		}
		if clock.Kind == model.ClockCalendar {
			d.x = float64(clock.Every.From(start.On).Sub(start.On))
			planned, limit, fit := d.ages()
			out.planned = start.On.AddDays(int(math.Floor(planned + 0.5 + 1e-9)))
			out.limit = start.On.AddDays(int(math.Floor(limit + 0.5 + 1e-9)))
			out.used = float64(r.on.Sub(start.On))
			out.age, out.rate, out.shape, out.median = out.used, 1, fit.Shape, fit.Median
		} else if counted, ok := r.counting(clock, end); ok {
			out.rate, _ = counted.rate(counted.uses, start.On)
			d.perDay = out.rate
			if then, ok := r.counting(clock, start); ok {
				if rate, ok := then.rate(then.uses, start.On); ok && rate > 0 {
					d.perDay = rate
				}
			}
			planned, limit, fit := d.ages()
			litres, known := counted.litresADay(counted.uses)
			run, _, _ := counted.run(start, counted.uses, litres, known)
			out.planned = counted.reaches(planned, start.On, run, out.rate)
			out.limit = counted.reaches(limit, start.On, run, out.rate)
			out.used = total(run)
			out.age = out.used + out.rate*float64(r.on.Sub(counted.last(start.On)))
			out.shape, out.median = fit.Shape, fit.Median
		}
	}
	if out.due = out.planned; out.planned != 0 && !out.crossed {
		base := out.planned.Sub(start.On)
		slip := r.slips[part.Reach-1]
		lead := max(0, min(28, int(math.Floor(float64(base)/4)), int(math.Floor(slip*float64(base)+0.5+1e-9))))
		out.due = max(out.planned.AddDays(-lead), start.On+1)
	}
	return out
}

func weightOf(c model.Chore) float64 { return [...]float64{1, 3, 10}[c.Consequence-1] }

// governing is the clock that decides, nil when none has a date.
func governing(clocks []clockRow) (best *clockRow) {
	ties := []model.ClockKind{model.ClockReading, model.ClockLoad, model.ClockUsage, model.ClockCalendar}
	rank := func(c *clockRow) (first int) {
		if !c.confirmed {
			first = 1
		}
		return first
	}
	for i := range clocks {
		c := &clocks[i]
		if c.planned != 0 && (best == nil || cmp.Or(rank(c)-rank(best), cmp.Compare(c.due, best.due),
			slices.Index(ties, c.kind)-slices.Index(ties, best.kind), cmp.Compare(c.planned, best.planned)) < 0) {
			best = c
		}
	}
	return best
}

func (r *reader) chore(c model.Chore) (out row, ok bool) {
	part, _ := r.Component(c.Component)
	starts := r.starts(c)
	gone := func(d model.Date) bool { return d != 0 && d <= r.on }
	if gone(c.Retired) || gone(part.Retired) || len(starts) == 0 {
		return row{}, false
	}
	start := starts[len(starts)-1].Mark
	out.id = c.ID
	earlier := func(d *model.Date, e model.Date) {
		if e != 0 && (*d == 0 || e < *d) {
			*d = e
		}
	}
	for i := range c.Clocks {
		k := r.clock(c, i, start)
		out.clocks = append(out.clocks, k)
		earlier(&out.planned, k.planned)
		earlier(&out.limit, k.limit)
		earlier(&out.due, k.due)
	}
	out.lead = max(0, out.planned.Sub(out.due))
	out.pastLimit = out.limit != 0 && r.on > out.limit
	until := model.Date(0)
	for _, e := range r.events {
		if put, ok := e.Body.(model.PutOff); ok && put.Chore == c.ID && start.Before(e.Mark()) {
			until = put.Until
		}
	}
	switch {
	case out.due == 0:
		out.state = schedule.StateIdle
	case until > r.on:
		out.state = schedule.StateDeferred
	case r.on > out.due:
		out.state = schedule.StateLate
	case r.on == out.due:
		out.state = schedule.StateDue
	case out.due <= r.on+7:
		out.state = schedule.StateSoon
	default:
		out.state = schedule.StateAhead
	}
	if k := governing(out.clocks); k != nil {
		out.governs = k.kind
		hazard := func(age float64) float64 { return math.Ln2 * math.Pow(age/k.median, k.shape) }
		p := 0.0
		switch {
		case k.confirmed:
			p = 1
		case k.crossed:
			p = 0.5
		case k.kind == model.ClockReading:
			if k.limit != 0 && k.limit.Sub(r.on) <= 7 {
				p = 1
			}
		case c.Hidden || c.Work == model.WorkTest:
			p = -math.Expm1(-hazard(k.age + 7*k.rate))
		default:
			p = -math.Expm1(hazard(k.age) - hazard(k.age+7*k.rate))
		}
		out.risk = p * weightOf(c)
	}
	return out, true
}

func (r *reader) round() (out []row) {
	for _, c := range r.Chores() {
		if row, ok := r.chore(c); ok {
			out = append(out, row)
		}
	}
	states := []schedule.State{schedule.StateLate, schedule.StateDue, schedule.StateSoon, schedule.StateDeferred, schedule.StateAhead, schedule.StateIdle}
	slices.SortFunc(out, func(a, b row) int {
		nine := func(v float64) float64 { return math.Round(v * 1e9) }
		return cmp.Or(cmp.Compare(slices.Index(states, a.state), slices.Index(states, b.state)), cmp.Compare(nine(b.risk), nine(a.risk)),
			cmp.Compare(a.due, b.due), cmp.Compare(a.id, b.id))
	})
	return out
}

// differs tells what the package makes of a book otherwise than the second reading, "" for nothing.
func differs(b *ledger.Book, on model.Date) string {
	round, want := schedule.Make(b, on), readAgain(b, on).round()
	differ := func(got, want any, numbers ...float64) bool {
		for i := 0; i < len(numbers); i += 2 {
			if math.Abs(numbers[i]-numbers[i+1]) > 1e-6*math.Abs(numbers[i+1])+1e-9 {
				return true
			}
		}
		return fmt.Sprint(got) != fmt.Sprint(want)
	}
	for i, w := range want {
		g := round.Of(w.id)
		if g == nil || len(round.Standings) != len(want) {
			return fmt.Sprintf("%s is not in a round of %d", w.id, len(round.Standings))
		}
		for n, k := range g.Clocks {
			c, x := clockRow{k.Kind, k.Planned, k.Limit, k.Due, k.Crossed, k.Confirmed, 0, 0, 0, 0, 0}, w.clocks[n]
			of := x
			of.used, of.age, of.rate, of.shape, of.median = 0, 0, 0, 0, 0
			if differ(c, of, k.Used, x.used, k.Age, x.age, k.Rate, x.rate, k.Shape, x.shape, k.Median, x.median) {
				return fmt.Sprintf("%s clock %d: want %+v\ngot %+v", w.id, n, x, k)
			}
		}
		have := row{g.Chore.ID, g.State, g.PastLimit, g.Planned, g.Limit, g.Due, "", g.LeadDays, w.risk, w.clocks}
		if k := g.Governing(); k != nil {
			have.governs = k.Kind
		}
		if differ(have, w, g.Risk, w.risk) {
			return fmt.Sprintf("%+v, risk %v, want %+v", have, g.Risk, w)
		}
		if at := round.Standings[i].Chore.ID; at != w.id {
			return fmt.Sprintf("%s in place %d, want %s", at, i, w.id)
		}
	}
	return ""
}
