package schedule

import (
	"math"
	"slices"
	"sort"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// The rate of use, and what is counted on where nothing was logged. Our own choice.
const (
	halfLife    = 60.0 // days after which an amount, and a day, counts half for the rate
	priorSpan   = 30.0 // days of logging that a declared rate counts for when the record opens
	leastRecord = 7.0  // days of record that a rate needs where none is declared
	silentTimes = 4    // a gap is silent beyond so many usual gaps
	usualOf     = 20   // the usual gap is the median of so many gaps
	fewGaps     = 3    // with fewer gaps than this their largest is usual
	leastOfFew  = 7.0  // days, and at least this
	leastUsual  = 1.0  // days, the least usual gap
	mostCounted = 400  // days of a silence that are counted on
	meanAge     = halfLife / math.Ln2
)

// record is what a counter counted up to a date, with what is counted on in its silences: in the counter's unit or, of a
// load, in the grams that its litres carried. It is never changed.
type record struct {
	entries []recorded   // in order of time
	sums    []ledger.Sum // sums[i] is what the first i entries come to, with what is counted on
	meter   bool
	away    ledger.Absence
	carries func(model.Date) float64 // unit of the record for each unit of the counter, by date
	stated  float64                  // declared rate, in the counter's unit a day
	states  bool                     // a rate is declared

	amounts []ledger.Amount // what it was made of
}

// recorded is an entry of a counter.
type recorded struct {
	model.Mark
	qty    float64
	silent bool    // the gap before it is silent
	added  float64 // what is counted on in that gap
	rate   rate    // as seen from this entry
}

// rate is how fast something is used; ok is false while there is no telling.
type rate struct {
	perDay float64
	ok     bool
}

func (r rate) positive() bool { return r.ok && r.perDay > 0 }

// fading is the weight of a day or an amount of the given age in days.
func fading(age float64) float64 { return math.Exp2(-age / halfLife) }

// daysCounted is the weight of so many days up to now: the integral of fading.
func daysCounted(span float64) float64 { return -math.Expm1(-span/meanAge) * meanAge }

// newRecord makes the record of a counter, a running meter or one of amounts, from the rate that is declared and its
// amounts. carries is nil where they count as they are.
func newRecord(meter bool, stated rate, amounts []ledger.Amount, away ledger.Absence, carries func(model.Date) float64) *record {
	if carries == nil {
		carries = func(model.Date) float64 { return 1 }
	}
	r := &record{
		entries: make([]recorded, len(amounts)), sums: make([]ledger.Sum, len(amounts)+1), meter: meter,
		away: away, carries: carries, stated: stated.perDay, states: stated.ok, amounts: amounts,
	}
	var (
		usual  usualGap
		span   float64 // days of record, silences taken as usual gaps
		used   float64 // the amounts after the first, each spread over the days it stands for and fading
		spread float64 // days that the amounts of the date stand for
	)
	for i, a := range amounts {
		e := &r.entries[i]
		*e = recorded{Mark: model.Mark{On: a.On, Seq: a.Seq}, qty: float64(a.Qty * carries(a.On))}
		days := 0.0
		if i > 0 {
			last := &r.entries[i-1]
			if gap := a.On.Sub(last.On); gap > 0 {
				days = float64(gap)
				if nothing := nothingUsed(amounts[i:]); !r.meter && last.rate.ok && !nothing {
					e.added, days, e.silent = r.silence(last, a.On, &usual)
				}
				spread = days
				usual.add(float64(gap))
			}
			weight := 1.0
			if spread > 0 {
				weight = daysCounted(spread) / spread
			}
			span += days
			used = float64(used*fading(days)) + float64(e.qty*weight)
		}
		e.rate = r.rateFrom(a.On, span, used)
		r.sums[i+1] = r.sums[i].Plus(e.qty).Plus(e.added)
	}
	return r
}

// nothingUsed tells whether one of the amounts of the first one's date is 0: the keeper says that nothing was used.
func nothingUsed(amounts []ledger.Amount) bool {
	for _, a := range amounts {
		if a.On != amounts[0].On {
			break
		}
		if a.Qty == 0 {
			return true
		}
	}
	return false
}

// silence looks at the gap from an entry to a date: what is counted on in it, and the days it stands for in the rate.
func (r *record) silence(last *recorded, until model.Date, usual *usualGap) (added, days float64, silent bool) {
	gap := float64(until.Sub(last.On))
	if gap <= silentTimes*leastUsual { // most are: the usual gap needn't be known
		return 0, gap, false
	}
	there := gap - float64(r.away.Days(last.On, until))
	g := usual.days()
	if !above(there, silentTimes*g) {
		return 0, gap, false
	}
	return float64(last.rate.perDay * min(there-g, mostCounted)), g, true
}

func (r *record) rateFrom(on model.Date, span, used float64) rate {
	weight := daysCounted(span)
	if r.states {
		prior := float64(priorSpan * fading(span))
		return rate{(float64(prior*float64(r.stated*r.carries(on))) + used) / (prior + weight), true}
	}
	if span < least(leastRecord) {
		return rate{}
	}
	return rate{used / weight, true}
}

// usualGap remembers the latest gaps above 0 between entries.
type usualGap struct {
	latest [usualOf]float64
	n      int // gaps seen
}

func (u *usualGap) add(gap float64) {
	u.latest[u.n%usualOf] = gap
	u.n++
}

// days is the usual gap.
func (u *usualGap) days() float64 {
	known := u.latest // a copy
	gaps := known[:min(u.n, usualOf)]
	slices.Sort(gaps)
	n := len(gaps)
	switch {
	case n == 0:
		return leastOfFew
	case n < fewGaps:
		return max(leastOfFew, gaps[n-1])
	case n%2 == 1:
		return max(leastUsual, gaps[n/2])
	}
	return max(leastUsual, (gaps[n/2-1]+gaps[n/2])/2)
}

// usualBefore is the usual gap of one that begins after the first n entries.
func (r *record) usualBefore(n int) *usualGap {
	var gaps []float64 // the latest first
	for i := n - 1; i > 0 && len(gaps) < usualOf; i-- {
		if gap := r.entries[i].On.Sub(r.entries[i-1].On); gap > 0 {
			gaps = append(gaps, float64(gap))
		}
	}
	u := &usualGap{}
	for _, gap := range slices.Backward(gaps) {
		u.add(gap)
	}
	return u
}

// before is how many entries stand before a place.
func (r *record) before(m model.Mark) int {
	return sort.Search(len(r.entries), func(i int) bool { return !r.entries[i].Before(m) })
}

// asOf is the record as it read at a place: a 0 written behind it on the same date has not yet denied a silence there.
func (r *record) asOf(m model.Mark) *record {
	n := r.before(m)
	if n == 0 || n == len(r.entries) || r.entries[n].On != r.entries[n-1].On || !nothingUsed(r.amounts[n:]) {
		return r
	}
	return newRecord(r.meter, rate{r.stated, r.states}, r.amounts[:n], r.away, r.carries)
}

// seen is the rate as seen from the last of the first n entries; with none, as declared, by what is carried on a date.
func (r *record) seen(n int, on model.Date) rate {
	if n > 0 {
		return r.entries[n-1].rate
	}
	return rate{float64(r.stated * r.carries(on)), r.states}
}

// last is the date of the last of the first n entries, or a date where there is none or it lies further back.
func (r *record) last(n int, since model.Date) model.Date {
	if n == 0 {
		return since
	}
	return max(since, r.entries[n-1].On)
}
