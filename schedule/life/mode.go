package life

import "math"

// Fit is the most probable life and what it took to find it.
type Fit struct {
	Weibull
	Observations int // observations that taught something
	Evaluations  int // evaluations of the likelihood with its derivatives
}

// farFailure is the fraction of the prior median below which a failure sends the search out from several places:
// so early a failure can be explained by a short life or by a life that fails at random, and each is a mode.
const farFailure = 0.25

// Where the grid of those places begins: the least shape, and the least multiple of the prior median.
const (
	leastShape = 1.5
	leastTimes = 0.1
)

// Mode returns the posterior mode of the life over (ln shape, ln median), the highest if there are several; with no
// observations it is the prior's own. The shape stays within [0.05, 400]. The same input gives the same answer.
func Mode(prior Prior, observations []Observation) Fit {
	var room [32]term // keeps a log of ordinary length off the heap
	terms := room[:0]
	early, longest := false, math.Inf(-1)
	all, failures, lnFailures := 0, 0, 0.0
	met := map[Observation]int{} // ages in days repeat, and a long log has many
	for _, o := range observations {
		if !o.teaches() {
			continue
		}
		all++
		at, known := met[o]
		if known {
			terms[at].times++
		} else {
			met[o] = len(terms)
			at = len(terms)
			terms = append(terms, newTerm(o))
		}
		t := terms[at]
		if t.kind != leftCensored {
			longest = math.Max(longest, t.lnAge)
		}
		if o.kind != rightCensored {
			early = early || o.age < farFailure*prior.Median
			failures++
			lnFailures += math.Log(o.age)
		}
	}
	if len(terms) == 0 {
		return Fit{Weibull: Weibull{Shape: prior.Shape, Median: prior.Median}}
	}
	p := posterior{
		terms:   terms,
		all:     all,
		longest: longest,
		centre:  point{math.Log(prior.Shape), math.Log(prior.Median)},
		wx:      1 / (prior.ShapeSpan * prior.ShapeSpan),
		wm:      1 / (prior.MedianSpan * prior.MedianSpan),
	}
	best := p.highest(early, lnFailures/float64(failures))
	return Fit{
		Weibull:      Weibull{Shape: math.Exp(best.lnShape), Median: math.Exp(best.lnMedian)},
		Observations: all,
		Evaluations:  p.evaluations,
	}
}

// highest climbs from the prior's centre and, when asked, from a grid of shapes and multiples of the prior's median,
// and returns the highest mode reached. Failures that lie below the whole grid, as after a stated life that is
// thousands of times too long, have a mode that no climb from it need find: one more starts at their usual age.
func (p *posterior) highest(restart bool, lnFailures float64) point {
	found := []summit{p.climb(p.begin(p.centre), nil)}
	if !restart {
		return found[0].point
	}
	for _, shape := range [...]float64{leastShape, 6, 20} {
		last := point{math.NaN(), math.NaN()}
		for _, times := range [...]float64{leastTimes, 0.25, 0.5, 1, 2} {
			start := p.begin(point{math.Log(shape), p.centre.lnMedian + math.Log(times)})
			if start != last { // not lifted to where the one before began
				found = append(found, p.climb(start, found))
			}
			last = start
		}
	}
	if lnFailures < p.centre.lnMedian+math.Log(leastTimes) {
		found = append(found, p.climb(p.begin(point{math.Log(leastShape), lnFailures}), found))
	}
	best := found[0]
	for _, s := range found[1:] {
		if s.value > best.value {
			best = s
		}
	}
	return best.point
}
