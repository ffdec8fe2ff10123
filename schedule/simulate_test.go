package schedule

import (
	"fmt"
	"strings"
	"testing"

	"brine/wrasse/model"
)

// outcome is what a way of planning led to.
type outcome struct {
	services   int
	failedDays float64 // days on which a part was spent and not yet seen to
	harm       float64 // failed days weighted 1, 3 or 10 by consequence
}

func (o *outcome) add(p outcome) {
	o.services += p.services
	o.failedDays += p.failedDays
	o.harm += p.harm
}

// plan says on a day which date a chore is due on; ok is false when there is none.
type plan interface {
	due(day int, chore int) (due int, ok bool)
	// looked tells the plan that the keeper looks on this day, at these parts.
	looked(day int, now []held)
	// done tells the plan what was found.
	done(day int, chore int, what model.Found)
}

// held is the part that a chore looks after now.
type held struct {
	n, start  int
	age, life float64
	slip      float64
}

// live by a plan.
func (h *home) live(p plan) outcome {
	now := make([]held, len(h.chores))
	for c := range now {
		now[c].life, now[c].slip = h.draw(c, 0)
	}
	var out outcome
	for day := range years {
		look := day%lookEvery == 0
		if look {
			p.looked(day, now)
		}
		for c := range now {
			part, duty := &now[c], &h.chores[c]
			due, ok := p.due(day, c)
			if look && ok && float64(day) >= float64(due)+part.slip*float64(min(due-part.start, longJob)) && day > part.start {
				p.done(day, c, found(part.age, part.life))
				out.services++
				*part = held{n: part.n + 1, start: day}
				part.life, part.slip = h.draw(c, part.n)
			}
			used := h.used(duty.measured, day)
			part.age += used
			if spent := min(1, (part.age-part.life)/used); spent > 0 {
				out.failedDays += spent
				out.harm += spent * harm[duty.Consequence]
			}
		}
	}
	return out
}

// lookEvery is how often a keeper looks at the round, in days: a morning check as often as work allows.
const lookEvery = 2

// logEvery is how often a keeper logs what was used, in days.
const logEvery = 6

// longJob is the interval, in days, beyond which nobody puts a job off any longer.
const longJob = 90

// byManual plans at fixed intervals: what the manual says, all times one factor.
type byManual struct {
	home   *home
	factor float64
	start  []int
}

func (m *byManual) due(_, c int) (int, bool) {
	return m.start[c] + max(1, int(m.home.chores[c].nominal*m.factor+0.5)), true
}
func (m *byManual) looked(int, []held)             {}
func (m *byManual) done(day, c int, _ model.Found) { m.start[c] = day }

// byRound plans by the rounds of a book that the keeper writes.
type byRound struct {
	testing.TB
	home *home
	book *model.Book
	due_ map[model.ID]int
	sums map[model.ID]float64
	last int
}

func newByRound(t testing.TB, h *home) *byRound {
	p := &byRound{TB: t, home: h, due_: map[model.ID]int{}, sums: map[model.ID]float64{}}
	entries := decodeLines(t, h.definitions())
	for _, d := range h.chores {
		e := model.NewEntry(0, d.Chore)
		e.Seq = model.Seq(len(entries) + 1)
		entries = append(entries, e)
	}
	b, err := model.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	p.book = b
	return p
}

func (p *byRound) write(bodies ...model.Entry) {
	for i := range bodies {
		bodies[i].Seq = p.book.Last() + model.Seq(i) + 1
	}
	b, err := p.book.Extend(bodies)
	if err != nil {
		p.Fatal(err)
	}
	p.book = b
}

// looked logs, once in a while, what was used and what the gauges show, and reads the round.
func (p *byRound) looked(day int, now []held) {
	on := firstDay.AddDays(day)
	if day%logEvery == 0 {
		var log []model.Entry
		for _, id := range []model.ID{"water", "batches", "hours"} {
			amount := 0.0
			for d := p.last; d < day; d++ {
				amount += p.home.used(id, d)
			}
			log = append(log, model.NewEntry(on, model.Usage{Counter: id, Amount: &amount}))
		}
		for c := range now {
			if d := &p.home.chores[c]; d.wear > 0 && day > 0 {
				log = append(log, model.NewEntry(on, model.Reading{Gauge: gaugeOf(d.ID), Value: p.home.reads(d, &now[c], day)}))
			}
		}
		p.write(log...)
		p.last = day
	}
	clear(p.due_)
	for _, s := range Make(p.book, on).Standings {
		if s.HasDue {
			p.due_[s.Chore.ID] = s.Due.Sub(firstDay)
		}
	}
}

func (p *byRound) due(_, c int) (int, bool) {
	due, ok := p.due_[p.home.chores[c].ID]
	return due, ok
}

func (p *byRound) done(day, c int, what model.Found) {
	on := firstDay.AddDays(day)
	id := p.home.chores[c].ID
	planned, _ := PlannedAt(p.book, id, on)
	p.write(model.NewEntry(on, model.Tick{Chore: id, Found: what, Planned: planned}))
	delete(p.due_, id)
}

// sameServices is how households fare by the manual with its intervals scaled until they are served as often as n.
func sameServices(homes []*home, n int) (total outcome, each []outcome, factor float64) {
	run := func(factor float64) {
		total, each = outcome{}, nil
		for _, h := range homes {
			o := h.live(&byManual{home: h, factor: factor, start: make([]int, len(h.chores))})
			total.add(o)
			each = append(each, o)
		}
	}
	low, high := 0.2, 3.0
	for range 16 {
		factor = (low + high) / 2
		if run(factor); total.services > n {
			low = factor
		} else {
			high = factor
		}
	}
	run(high)
	return total, each, high
}

// compare runs a number of households both ways.
func compare(t testing.TB, seed uint64, n int) (method, manual outcome, table string) {
	homes := make([]*home, n)
	var each []outcome
	for i := range homes {
		homes[i] = newHome(seed + uint64(i))
		o := homes[i].live(newByRound(t, homes[i]))
		method.add(o)
		each = append(each, o)
	}
	manual, others, factor := sameServices(homes, method.services)
	var b strings.Builder
	line := func(name string, a, z outcome, homes int) {
		span := float64(homes) * years / 365
		fmt.Fprintf(&b, "%-10s %8.1f %8.1f   %8.1f %8.1f %6.2f   %9.1f %9.1f %6.2f\n", name,
			float64(a.services)/span, float64(z.services)/span,
			a.failedDays/span, z.failedDays/span, a.failedDays/max(1, z.failedDays),
			a.harm/span, z.harm/span, a.harm/max(1, z.harm))
	}
	fmt.Fprintf(&b, "a year and household; the manual's intervals times %.3f\n", factor)
	fmt.Fprintf(&b, "%-10s %17s   %24s   %26s\n", "", "services", "failed days", "harm")
	fmt.Fprintf(&b, "%-10s %8s %8s   %8s %8s %6s   %9s %9s %6s\n", "household", "round", "manual", "round", "manual", "ratio", "round", "manual", "ratio")
	for i := range homes {
		line(fmt.Sprint(i+1), each[i], others[i], 1)
	}
	line("all", method, manual, n)
	return method, manual, b.String()
}

// TestRoundBeatsTheManual holds the method to what it is for: at the same number of services, far fewer days on which
// something is spent, and far less harm.
func TestRoundBeatsTheManual(t *testing.T) {
	method, manual, table := compare(t, 1, 12)
	failed := method.failedDays / manual.failedDays
	harm := method.harm / manual.harm
	t.Logf("at %d and %d services: failed days %.3f, harm %.3f of fixed intervals'\n%s", method.services, manual.services, failed, harm, table)
	if off := method.services - manual.services; off < -method.services/50 || off > method.services/50 {
		t.Errorf("%d services against %d are not the same number", method.services, manual.services)
	}
	if failed > 0.45 {
		t.Errorf("failed days %.3f of fixed intervals', want at most 0.45", failed)
	}
	if harm > 0.30 {
		t.Errorf("harm %.3f of fixed intervals', want at most 0.30", harm)
	}
}

// BenchmarkRoundAgainstTheManual prints the table for 36 households.
func BenchmarkRoundAgainstTheManual(b *testing.B) {
	for b.Loop() {
		method, manual, table := compare(b, 100, 36)
		b.ReportMetric(method.failedDays/manual.failedDays, "failed-days-ratio")
		b.ReportMetric(method.harm/manual.harm, "harm-ratio")
		fmt.Print("\n", table)
	}
}
