package schedule

import (
	"math"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// diary writes the log of a small station for the tests: one place, a membrane, a pump that opens with it, counters
// "water" (amounts) and "hours" (a meter), the gauges of the station, and a spare.
type diary struct {
	testing.TB
	entries []model.Entry
}

const station = `
{"kind":"book","name":"Test","units":{"volume":"L","temperature":"C","pressure":"bar"}}
{"kind":"place","id":"cellar","name":"Cellar","minutes":6}
{"kind":"component","id":"part","name":"Part","place":"cellar","reach":1,"access_minutes":10,"in_service":"2025-01-01","stage":"membrane"}
{"kind":"counter","id":"water","name":"Water","unit":"L","style":"amount"}
{"kind":"counter","id":"declared","name":"Declared","unit":"L","style":"amount","declared_rate":10}
{"kind":"counter","id":"hours","name":"Hours","unit":"h","style":"meter"}
{"kind":"gauge","id":"tap","name":"Tap","unit":"ppm","role":"tds-tap"}
{"kind":"gauge","id":"mem","name":"Membrane","unit":"ppm","role":"tds-membrane"}
{"kind":"gauge","id":"prod","name":"Product","unit":"ppm","role":"tds-product"}
{"kind":"gauge","id":"temp","name":"Water temperature","unit":"C","role":"temperature-water"}
{"kind":"gauge","id":"line","name":"Line","unit":"bar","role":"pressure-line"}
{"kind":"gauge","id":"feed","name":"Feed","unit":"bar","role":"pressure-membrane"}
{"kind":"gauge","id":"flow","name":"Product flow","unit":"L/h","role":"flow-product"}
{"kind":"gauge","id":"waste","name":"Waste flow","unit":"L/h","role":"flow-waste"}
{"kind":"spare","id":"filter","name":"Filter","unit":"pc","lead_days":14,"price":8}
`

func newDiary(t testing.TB) *diary {
	d := &diary{TB: t}
	return d.lines(station)
}

// lines adds entries in the book format.
func (d *diary) lines(text string) *diary {
	d.Helper()
	for _, e := range DecodeLines(d, text) {
		d.add(e)
	}
	return d
}

func (d *diary) add(e model.Entry) *diary {
	e.Seq = model.Seq(len(d.entries) + 1)
	d.entries = append(d.entries, e)
	return d
}

func (d *diary) did(on string, body model.Body) *diary {
	d.Helper()
	return d.add(model.NewEntry(date(d, on), body))
}

// chore defines the chore "job" on "part" with the given clocks, changed as the functions say.
func (d *diary) chore(clocks []model.Clock, changes ...func(*model.Chore)) *diary {
	c := model.Chore{ID: "job", Component: "part", Name: "Job", Work: model.WorkRenew, Minutes: 20, Consequence: 2, Clocks: clocks}
	for _, change := range changes {
		change(&c)
	}
	return d.add(model.NewEntry(0, c))
}

func (d *diary) tick(on string, found model.Found) *diary {
	d.Helper()
	return d.did(on, model.Tick{Chore: "job", Found: found})
}

func (d *diary) guess(on string) *diary {
	d.Helper()
	return d.did(on, model.Tick{Chore: "job", About: true})
}

// stamped is a tick that carries the planned date it had.
func (d *diary) stamped(on, planned string) *diary {
	d.Helper()
	return d.did(on, model.Tick{Chore: "job", Planned: date(d, planned)})
}

func (d *diary) use(on string, counter model.ID, amount float64) *diary {
	d.Helper()
	return d.did(on, model.Usage{Counter: counter, Amount: &amount})
}

func (d *diary) meter(on string, value float64) *diary {
	d.Helper()
	return d.did(on, model.Usage{Counter: "hours", Meter: &value})
}

func (d *diary) read(on string, gauge model.ID, value float64) *diary {
	d.Helper()
	return d.did(on, model.Reading{Gauge: gauge, Value: value})
}

func (d *diary) readEarly(on string, gauge model.ID, value, minutes float64) *diary {
	d.Helper()
	return d.did(on, model.Reading{Gauge: gauge, Value: value, MinutesRunning: &minutes})
}

func (d *diary) book() *ledger.Book {
	d.Helper()
	return Fold(d, d.entries)
}

func (d *diary) round(on string) *Round {
	d.Helper()
	return Make(d.book(), date(d, on))
}

// job is the standing of the chore "job".
func (d *diary) job(on string) *Standing {
	d.Helper()
	return find(d, d.round(on), "job")
}

func find(t testing.TB, r *Round, chore model.ID) *Standing {
	t.Helper()
	for i := range r.Standings {
		if r.Standings[i].Chore.ID == chore {
			return &r.Standings[i]
		}
	}
	t.Fatalf("%s is not in the round", chore)
	return nil
}

func every(span string) model.Clock {
	return model.Clock{Kind: model.ClockCalendar, Every: mustSpan(span), Rule: model.RuleEvery}
}

func lasts(span string) model.Clock {
	return model.Clock{Kind: model.ClockCalendar, Every: mustSpan(span), Rule: model.RuleLasts}
}

func mustSpan(s string) model.Span {
	span, err := model.ParseSpan(s)
	if err != nil {
		panic(err)
	}
	return span
}

func everyUsed(counter model.ID, amount float64) model.Clock {
	return model.Clock{Kind: model.ClockUsage, Counter: counter, Amount: amount, Rule: model.RuleEvery}
}

func lastsUsed(counter model.ID, amount float64) model.Clock {
	return model.Clock{Kind: model.ClockUsage, Counter: counter, Amount: amount, Rule: model.RuleLasts}
}

func everyLoad(counter model.ID, grams float64, outlet model.ID) model.Clock {
	return model.Clock{Kind: model.ClockLoad, Counter: counter, Inlet: "mem", Outlet: outlet, Amount: grams, Rule: model.RuleEvery}
}

func above1(gauge model.ID) model.Clock {
	return model.Clock{Kind: model.ClockReading, Gauge: gauge, Limit: 1, Bad: model.SideAbove}
}

func clocks(list ...model.Clock) []model.Clock { return list }

func equalDate(t testing.TB, what string, got model.Date, want string) {
	t.Helper()
	if got.String() != want {
		t.Errorf("%s is %q, want %q", what, got, want)
	}
}

func equalNumber(t testing.TB, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
		t.Errorf("%s is %.12g, want %.12g", what, got, want)
	}
}
