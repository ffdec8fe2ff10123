package schedule

import (
	"math"
	"slices"

	"pgregory.net/rapid"

	"brine/wrasse/model"
)

// plainly works out sections of a record from their definitions, entry by entry and sum by sum, to hold the record to.
type plainly struct {
	meter        bool
	declared     float64
	on           []model.Date
	seq          []model.Seq
	qty, carried []float64                  // in the counter's unit; and of a load in grams
	grams        func(d model.Date) float64 // carried by a unit of the counter
	away         map[model.Date]bool
}

func (p *plainly) daysAway(after, upTo model.Date) (n float64) {
	for d := after + 1; d <= upTo; d++ {
		if p.away[d] {
			n++
		}
	}
	return n
}

// gap is the days before an entry, and after the one before it.
func (p *plainly) gap(i int) float64 { return float64(p.on[i].Sub(p.on[i-1])) }

func (p *plainly) usual(i int) float64 {
	var gaps []float64
	for k := i - 1; k > 0 && len(gaps) < 20; k-- {
		if p.gap(k) > 0 {
			gaps = append(gaps, p.gap(k))
		}
	}
	slices.Sort(gaps)
	n := len(gaps)
	switch {
	case n == 0:
		return 7
	case n < 3:
		return max(7, gaps[n-1])
	}
	return max(1, (gaps[(n-1)/2]+gaps[n/2])/2)
}

// silence is what is counted on before an entry, and the days it stands for.
func (p *plainly) silence(i int) (counted, days float64, silent bool) {
	rate, ok := p.rate(i - 1)
	there := p.gap(i) - p.daysAway(p.on[i-1], p.on[i])
	for k := range p.on {
		ok = ok && !(p.on[k] == p.on[i] && p.qty[k] == 0)
	}
	if p.meter || !ok || there <= 4*p.usual(i) {
		return 0, p.gap(i), false
	}
	return rate * min(there-p.usual(i), 400), p.usual(i), true
}

// rate is that seen from an entry.
func (p *plainly) rate(n int) (float64, bool) {
	const halfLife = 60
	faded := func(from, to float64) float64 { // of the days between two ages
		return halfLife / math.Ln2 * (math.Exp2(-from/halfLife) - math.Exp2(-to/halfLife))
	}
	sum, t := 0.0, 0.0
	for i := n; i > 0; i-- {
		_, e, _ := p.silence(i)
		days := e
		for k := i; k > 0 && p.on[k] == p.on[i]; k-- { // the first of its date
			_, days, _ = p.silence(k)
			if p.on[k-1] != p.on[k] {
				break
			}
			if k == 1 {
				days = 0
			}
		}
		if days > 0 {
			sum += p.carried[i] * faded(t, t+days) / days
		} else {
			sum += p.carried[i] * math.Exp2(-t/halfLife)
		}
		t += e
	}
	if p.declared > 0 {
		prior := 30 * math.Exp2(-t/halfLife)
		return (prior*p.declared*p.grams(p.on[n]) + sum) / (prior + faded(0, t)), true
	}
	return sum / faded(0, t), t >= 7
}

// checkCounted holds the usage and load clocks of a standing to what plainly makes of the book.
func checkCounted(t *rapid.T, b *model.Book, r *Round, s *Standing) {
	start := model.Mark{On: s.Start}
	for _, tick := range b.Ticks(s.Chore.ID) {
		if tick.On <= r.On && s.StartTick {
			start = tick.Mark()
		}
	}
	for _, c := range s.Clocks {
		if c.Kind != model.ClockUsage && c.Kind != model.ClockLoad || c.Reason == ReasonNoInlet {
			continue
		}
		counter, _ := b.Counter(c.Clock.Counter)
		litres := &plainly{meter: counter.Style == model.StyleMeter, declared: counter.DeclaredRate, away: map[model.Date]bool{}}
		litres.grams = func(model.Date) float64 { return 1 }
		for _, a := range b.Aways() {
			for d := a.On; a.On <= r.On && d < a.What.Until; d++ {
				litres.away[d] = true
			}
		}
		for _, a := range b.Amounts(counter.ID) {
			if a.On <= r.On {
				litres.on, litres.seq = append(litres.on, a.On), append(litres.seq, a.Seq)
				litres.qty = append(litres.qty, a.Qty)
			}
		}
		litres.carried = litres.qty
		p := *litres
		if c.Kind == model.ClockLoad {
			carried, _ := b.Concentration(c.Clock, r.On)
			p.grams = func(d model.Date) float64 { return carried.At(d) / 1000 }
			p.carried = nil
			for i, q := range p.qty {
				p.carried = append(p.carried, q*p.grams(p.on[i]))
			}
		}
		p.check(t, litres, start, r.On, &c)
	}
}

// check works out what the present cycle used, and when it reached or will reach the ages that the clock plans.
func (p *plainly) check(t *rapid.T, litres *plainly, start model.Mark, on model.Date, c *ClockStanding) {
	factor := 1 + c.Clock.FeedRatio
	n := len(p.on)
	rate, ok := p.declared*p.grams(start.On), p.declared > 0
	last := start.On
	if n > 0 {
		rate, ok = p.rate(n - 1)
		last = max(last, p.on[n-1])
	}
	if !ok {
		rate = 0
	}
	sum := 0.0
	reached := func(model.Date, model.Date, float64, float64, bool) {}
	walk := func() {
		sum = 0
		for i := range p.on {
			at := model.Mark{On: p.on[i], Seq: p.seq[i]}
			if !start.Before(at) {
				continue
			}
			since, before, between := start.On, sum, p.meter
			if i == 0 {
				perDay, known := p.declared, p.declared > 0
				if !known {
					perDay, known = litres.rate(n - 1)
				}
				guess := 0.0
				if known {
					guess = perDay * p.grams(start.On) * (float64(at.On.Sub(start.On)) - p.daysAway(start.On, at.On))
				}
				sum += max(guess, p.carried[0])
				between = between || guess > 0
			} else {
				counted, _, silent := p.silence(i)
				if begun := !(model.Mark{On: p.on[i-1], Seq: p.seq[i-1]}).Before(start); begun {
					since = p.on[i-1]
				} else if silent {
					of, _ := p.rate(i - 1)
					counted = min(counted, of*float64(at.On.Sub(start.On)))
				}
				sum += counted + p.carried[i]
				between = between || silent
			}
			reached(since, at.On, before*factor, sum*factor, between)
		}
	}
	walk()
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-7*math.Abs(want)+1e-12 {
			t.Errorf("%s of %+v: %v, want %v", what, c.Clock, got, want)
		}
	}
	near("used", c.Used, sum*factor)
	near("rate", c.Rate, rate*factor)
	near("age", c.Age, (sum+rate*float64(on.Sub(last)))*factor)
	used := sum * factor
	for what, of := range map[string]struct {
		age float64
		got model.Date
	}{"planned": {c.Plan.Age, c.Planned}, "limit": {max(c.Median, c.Plan.Age), c.Limit}} {
		want := model.Date(0)
		reached = func(since, at model.Date, before, after float64, between bool) {
			if want != 0 || after < of.age*(1-1e-9) {
				return
			}
			if want = at; between && at > since {
				days := math.Ceil(float64(at.Sub(since))*(of.age-before)/(after-before) - 1e-9)
				want = since.AddDays(int(max(1, days)))
			}
		}
		walk()
		if want == 0 && rate > 0 {
			if days := math.Ceil((of.age-used)/(rate*factor) - 1e-9); days < 36500 {
				want = last.AddDays(int(days))
			}
		}
		if of.got != want {
			t.Errorf("%s of %+v at %v: %v, want %v; used %v by %v, %v a day", what, c.Clock, of.age, of.got, want, c.Used, last, c.Rate)
		}
	}
}
