package request

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/schedule"
)

var arrangeDay = model.NewDate(2026, 11, 25)

// library is the demo's book: five places full of components, counters and gauges.
func library(t *testing.T) *ledger.Book {
	t.Helper()
	b, err := new(ledger.Book).Append(starter.Demo(arrangeDay)...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func at(b *ledger.Book, place model.ID) (components []model.Component, chores int) {
	for _, c := range b.Components() {
		if c.Place != place || !c.Retired.IsZero() {
			continue
		}
		components = append(components, c)
		for _, ch := range b.Chores() {
			if ch.Component == c.ID && ch.Retired.IsZero() {
				chores++
			}
		}
	}
	return components, chores
}

func TestCopyEveryPlace(t *testing.T) {
	b := library(t)
	round := schedule.Make(b, arrangeDay)
	for _, p := range b.Places() {
		next := did(t, b, CopyPlace{Stamp{On: arrangeDay}, p.ID, "Second"}.Entries)
		wantParts, wantChores := at(b, p.ID)
		parts, chores := at(next, "second")
		if len(parts) != len(wantParts) || chores != wantChores {
			t.Errorf("%s: %d components with %d chores, want %d with %d", p.ID, len(parts), chores, len(wantParts), wantChores)
		}
		for _, c := range parts {
			if with, ok := next.Component(c.OpensWith); c.OpensWith != "" && (!ok || with.Place != "second") {
				t.Errorf("%s opens with %s", c.ID, c.OpensWith)
			}
		}
		sameCalls(t, b, next, p.ID, "second")
		// The original does not notice: no date of it moves.
		then := schedule.Make(next, arrangeDay)
		for i := range round.Standings {
			s := &round.Standings[i]
			if _, fills := b.Fills(s.Chore.ID); fills {
				continue // the copy takes water too
			}
			j := slices.IndexFunc(then.Standings, func(o schedule.Standing) bool { return o.Chore.ID == s.Chore.ID })
			if j < 0 || then.Standings[j].Due != s.Due || then.Standings[j].Limit != s.Limit {
				t.Errorf("copying %s moved %s", p.ID, s.Chore.ID)
			}
		}
	}
}

// sameCalls fails unless each chore of a copied place calls for what the original did: the copy of it where it was copied
// too, else the same; and unless nothing else calls for a copy.
func sameCalls(t *testing.T, b, next *ledger.Book, place, copied model.ID) {
	t.Helper()
	placeOf := func(chore model.ID) model.ID {
		c, _ := next.Chore(chore)
		comp, _ := next.Component(c.Component)
		return comp.Place
	}
	named := map[string]int{} // calls by the names of both chores, and whether the called one stands in the place
	count := func(b *ledger.Book, of model.ID, by int) {
		for _, c := range b.Chores() {
			if placeOf(c.ID) != of || !c.Retired.IsZero() {
				continue
			}
			for _, call := range c.Then {
				other, _ := next.Chore(call.Chore)
				named[fmt.Sprint(c.Name, " calls ", other.Name, " ", call.After, " here ", placeOf(call.Chore) == of)] += by
			}
		}
	}
	count(b, place, 1)
	count(next, copied, -1)
	for call, n := range named {
		if n != 0 {
			t.Errorf("copying %s: %s, %d too few", place, call, n)
		}
	}
	for _, c := range next.Chores() {
		if old, ok := b.Chore(c.ID); ok && !slices.Equal(c.Then, old.Then) {
			t.Errorf("copying %s: %s calls for %+v now", place, c.ID, c.Then)
		}
	}
}

func TestReplaceEveryComponent(t *testing.T) {
	b := library(t)
	for _, c := range b.Components() {
		next := did(t, b, Replace(Stamp{On: arrangeDay}, c.ID, c.Name).Entries)
		old, _ := next.Component(c.ID)
		if old.Retired != arrangeDay {
			t.Errorf("%s is not retired", c.ID)
		}
		for _, chore := range next.Chores() {
			if comp, _ := next.Component(chore.Component); !comp.Retired.IsZero() {
				continue
			}
			for _, call := range chore.Then {
				if called, _ := next.Chore(call.Chore); called.Component == c.ID {
					t.Errorf("%s: %s still calls for %s", c.ID, chore.ID, call.Chore)
				}
			}
		}
		if left := Followers(next, c.ID); len(left) > 0 {
			t.Errorf("%s still opens with %s", left[0].ID, c.ID)
		}
		for _, g := range next.Gauges() {
			if g.Component == c.ID && g.Retired.IsZero() {
				t.Errorf("%s still hangs on %s", g.ID, c.ID)
			}
		}
	}
}

func TestMoveEveryComponent(t *testing.T) {
	b := library(t)
	for _, c := range b.Components() {
		for _, p := range b.Places() {
			a := Move(Stamp{On: arrangeDay}, c.ID, p.ID)
			if c.Place == p.ID {
				if _, err := a.Entries(b); err == nil {
					t.Errorf("%s moved to where it is", c.ID)
				}
				continue
			}
			next := did(t, b, a.Entries)
			if got, _ := next.Component(c.ID); got.Place != p.ID || got.InService != c.InService {
				t.Errorf("%s at %s since %s", c.ID, got.Place, got.InService)
			}
		}
	}
}

func TestRetireTwiceBringsBack(t *testing.T) {
	b := library(t)
	s := Stamp{On: arrangeDay}
	for kind, id := range map[model.Kind]model.ID{
		model.KindComponent: "membrane", model.KindChore: "renew-resin", model.KindCounter: "batches",
		model.KindGauge: "tds-tap", model.KindSpare: "mixed-resin",
	} {
		once := did(t, b, Retire(s, kind, id).Entries)
		twice := did(t, once, Retire(s, kind, id).Entries)
		if dates := []model.Date{retiredOn(once, kind, id), retiredOn(twice, kind, id)}; dates[0] != arrangeDay || dates[1] != 0 {
			t.Errorf("%s %s is retired on %v", kind, id, dates)
		}
	}
	if _, err := Retire(s, model.KindPlace, "display").Entries(b); err == nil {
		t.Error("a place was retired")
	}
}

func retiredOn(b *ledger.Book, kind model.Kind, id model.ID) model.Date {
	switch kind {
	case model.KindComponent:
		c, _ := b.Component(id)
		return c.Retired
	case model.KindChore:
		c, _ := b.Chore(id)
		return c.Retired
	case model.KindCounter:
		c, _ := b.Counter(id)
		return c.Retired
	case model.KindGauge:
		g, _ := b.Gauge(id)
		return g.Retired
	}
	s, _ := b.Spare(id)
	return s.Retired
}

func TestForesee(t *testing.T) {
	b := library(t)
	now := schedule.Make(b, arrangeDay)
	tick := Tick{Done: []Done{{On: arrangeDay, What: model.Tick{Chore: "scrape-glass"}}}}
	entries, err := tick.Entries(b)
	if err != nil {
		t.Fatal(err)
	}
	effect, err := Foresee(b, now, entries)
	if err != nil {
		t.Fatal(err)
	}
	if len(effect.Shifts) != 1 || effect.Shifts[0].Chore.ID != "scrape-glass" || effect.Shifts[0].After.Due <= arrangeDay {
		t.Errorf("a tick shifts %+v", effect.Shifts)
	}
	if b.Last() == effect.Book.Last() || now.Standings[0].Chore.ID == "" {
		t.Error("looking ahead is not apart from the book")
	}
	wrong := []model.Entry{model.NewEntry(arrangeDay, model.Tick{Chore: "no-such"})}
	if _, err := Foresee(b, now, wrong); err == nil {
		t.Error("what can't be written was foreseen")
	}
	// Retiring takes a chore out, and striking its fault mends a component.
	retire, err := Retire(Stamp{On: arrangeDay}, model.KindComponent, "lights").Entries(b)
	if err != nil {
		t.Fatal(err)
	}
	gone, err := Foresee(b, now, retire)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range gone.Shifts {
		if s.Chore.Component == "lights" && s.After != nil {
			t.Errorf("%s of a retired component is due %s", s.Chore.ID, s.After.Due)
		}
	}
	faults := b.Faults("lights")
	strike, err := Log{What: model.Amend{Entry: faults[len(faults)-1].Seq, Strike: true}}.Entries(b)
	if err != nil {
		t.Fatal(err)
	}
	mended, err := Foresee(b, now, strike)
	if err != nil {
		t.Fatal(err)
	}
	if len(mended.Mended) != 1 || mended.Mended[0].ID != "lights" || len(mended.Broken) != 0 {
		t.Errorf("striking the fault mends %+v", mended.Mended)
	}
}

func TestPutSpareWritesOnlyWhatChanged(t *testing.T) {
	b := library(t)
	sp, _ := b.Spare("mixed-resin")
	hand := b.OnHand(sp.ID, arrangeDay)
	put := PutSpare{Stamp{On: arrangeDay}, sp, &hand}
	if entries, err := put.Entries(b); err != nil || len(entries) != 0 {
		t.Errorf("nothing changed and %d entries written, %v", len(entries), err)
	}
	hand += 2
	sp.LeadDays++
	next := did(t, b, PutSpare{Stamp{On: arrangeDay}, sp, &hand}.Entries)
	if got := next.OnHand(sp.ID, arrangeDay); math.Abs(got-hand) > 1e-9 {
		t.Errorf("on hand %g, want %g", got, hand)
	}
	if next.Last() != b.Last()+2 {
		t.Errorf("%d entries written", next.Last()-b.Last())
	}
}

func TestDefineNeedsSomething(t *testing.T) {
	b := library(t)
	if _, err := (Define{Make: func(*ledger.Book) ([]model.Body, error) { return nil, nil }}).Entries(b); err == nil {
		t.Error("nothing was written as an act")
	}
	if _, err := EditChore(Stamp{}, "no-such", func(*model.Chore) {}).Entries(b); err == nil {
		t.Error("an unknown chore was edited")
	}
	if _, err := taken(b, EditComponent(Stamp{}, "membrane", func(c *model.Component) { c.Reach = 7 }).Entries); err == nil {
		t.Error("reach 7 was taken")
	}
}
