package model

import (
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// kept is a store in memory: the records of a book and its log.
type kept struct {
	records map[string][]byte
	log     []Entry
}

func (k *kept) Get(key string) ([]byte, error) { return k.records[key], nil }

func (k *kept) Scan(from, to string, each func(string, []byte) error) error {
	for _, key := range slices.Sorted(maps.Keys(k.records)) {
		if key >= from && key < to {
			if err := each(key, k.records[key]); err != nil {
				return err
			}
		}
	}
	return nil
}

func (k *kept) Entry(seq Seq) (*Entry, error) {
	if seq < 1 || int(seq) > len(k.log) {
		return nil, nil
	}
	e := k.log[seq-1]
	return &e, nil
}

// put does what a store does with an act.
func (k *kept) put(b *Book, entries []Entry) error {
	changes, all, err := b.Changes()
	if err != nil {
		return err
	}
	if all {
		k.records = map[string][]byte{}
	}
	for _, c := range changes {
		if c.Value == nil {
			delete(k.records, c.Key)
			continue
		}
		k.records[c.Key] = c.Value
	}
	k.log = append(k.log, entries...)
	return nil
}

// extend writes an act as a store does: on the book at hand, on one that holds what that lacks, or on the whole log.
func (k *kept) extend(b *Book, entries []Entry) (*Book, error) {
	hold := Hold{}
	for range 4 {
		next, err := b.Extend(entries)
		switch {
		case err == nil:
			return next, k.put(next, entries)
		case errors.Is(err, ErrRebuild):
			full, err := Fold(append(slices.Clone(k.log), entries...))
			if err != nil {
				return nil, err
			}
			return full, k.put(full, entries)
		case !errors.Is(err, ErrPast):
			return nil, err
		}
		hold = hold.With(err)
		if b, err = Open(k, Seq(len(k.log)), k, hold); err != nil {
			return nil, err
		}
	}
	return nil, fmt.Errorf("still lacks something with %v", hold)
}

// longStart is a log long enough for all that a brief book drops and carries: two years of the small book, with clocks
// of every kind.
func longStart() []Entry {
	out := start()
	day := NewDate(2022, 1, 1)
	add := func(body Body) { out = append(out, NewEntry(day, body)) }
	add(Component{ID: "membrane", Name: "Membrane", Place: "cellar", Reach: 4, AccessMinutes: 9, OpensWith: "pump", Stage: StageMembrane})
	for _, g := range [][2]string{
		{"tap", RoleTDSTap}, {"permeate", RoleTDSMembrane}, {"warmth", RoleTemperatureWater}, {"product", RoleFlowProduct},
		{"waste", RoleFlowWaste}, {"line", RolePressureLine}, {"pressure", RolePressureMembrane},
	} {
		add(Gauge{ID: ID(g[0]), Name: g[0], Unit: "u", Role: g[1]})
	}
	chore := func(id, component ID, work Work, clocks ...Clock) {
		add(Chore{ID: id, Component: component, Name: string(id), Work: work, Minutes: 5, Consequence: 2, Clocks: clocks, Spares: []SpareUse{{"salt", 0.25}}})
	}
	chore("resin", "membrane", WorkRenew,
		Clock{Kind: ClockLoad, Counter: "litres", Inlet: "permeate", Amount: 9, Rule: RuleLasts},
		Clock{Kind: ClockReading, Gauge: "tds", Limit: 6, Bad: SideAbove})
	chore("carbon", "pump", WorkRenew,
		Clock{Kind: ClockLoad, Counter: "litres", Inlet: "tap", Outlet: "permeate", FeedRatio: 2, Amount: 90, Rule: RuleEvery},
		Clock{Kind: ClockReading, Gauge: PrefilterDrop, Limit: 1, Bad: SideAbove})
	chore("renew", "membrane", WorkRenew,
		Clock{Kind: ClockCalendar, Every: Span{6, SpanMonths}, Rule: RuleLasts},
		Clock{Kind: ClockReading, Gauge: Rejection, Limit: 90, Bad: SideBelow},
		Clock{Kind: ClockReading, Gauge: NormalisedFlow, Limit: 80, Bad: SideBelow})
	chore("oil", "pump", WorkClean, Clock{Kind: ClockUsage, Counter: "hours", Amount: 100, Rule: RuleEvery})
	hours := 0.0
	for i := range 730 {
		day = NewDate(2022, 1, 2).AddDays(i)
		litres, running := float64(i%37)/2, 60.0
		add(Usage{Counter: "litres", Amount: &litres})
		if i%2 == 0 {
			hours += float64(i % 11)
			meter := hours
			add(Usage{Counter: "hours", Meter: &meter})
		}
		if i%97 == 96 {
			hours = 0
			add(MeterReset{Counter: "hours"})
		}
		add(Reading{Gauge: "tds", Value: float64(i % 9), MinutesRunning: &running})
		if i%3 == 0 {
			for n, g := range []ID{"tap", "permeate", "warmth", "product", "waste", "line", "pressure"} {
				add(Reading{Gauge: g, Value: []float64{300, 5, 12, 8, 20, 5, 4.5}[n] + float64((i+n)%5)/4})
			}
		}
		for n, c := range []ID{"clean", "renew", "test", "resin", "carbon", "oil"} {
			if (i+n)%(9+4*n) == 0 {
				found := []Found{FoundClean, FoundHeavy, "", FoundLight, FoundFailed}[i%5]
				if c == "test" {
					found = FoundPassed
				}
				add(Tick{Chore: c, Found: found, Planned: day.AddDays(-i % 7), About: i%23 == 0})
			}
		}
		switch i % 20 {
		case 3:
			add(Stock{Spare: "salt", Change: 3.1})
		case 7:
			add(Batch{VolumeL: 40, SaltG: 1500})
		case 11:
			add(Note{Text: "n", OnWhat: "pump"})
		case 13:
			add(Fault{Component: "pump"})
		case 17:
			add(Defer{Chore: "clean", Until: day + 3})
		case 19:
			add(Away{Until: day + 2})
		}
	}
	for i := range out {
		out[i].Seq = Seq(i + 1)
	}
	return out
}

// TestFoldedEqualsRebuilt holds a book moved forward act by act, with only the latest events in hand, to one folded
// from the whole log: record by record, whatever the acts, and refusing what it refuses.
func TestFoldedEqualsRebuilt(t *testing.T) {
	log := longStart()
	first, err := Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	begun := &kept{}
	if err := begun.put(first, log); err != nil {
		t.Fatal(err)
	}
	dates := []Date{NewDate(2023, 12, 28), NewDate(2023, 12, 1), NewDate(2023, 6, 1), NewDate(2022, 2, 1)}
	rapid.Check(t, func(t *rapid.T) {
		store := &kept{maps.Clone(begun.records), slices.Clone(begun.log)}
		full := first
		b, err := Open(store, full.Last(), store, Hold{})
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 8).Draw(t, "acts") {
			entries := act(t, full)
			era := rapid.SampledFrom(dates).Draw(t, "era")
			for i := range entries {
				if on := entries[i].On; on != 0 {
					entries[i].On = era.AddDays(on.Sub(NewDate(2024, 1, 1)) / 3)
				}
				entries[i].Seq, entries[i].Act = full.Last()+1+Seq(i), 0
				if len(entries) > 1 {
					entries[i].Act = full.Last() + 1
				}
			}
			next, want := full.Extend(entries)
			got, err := store.extend(b, entries)
			if (err == nil) != (want == nil) {
				t.Fatalf("%v: moved forward: %v; folded: %v", entries, err, want)
			}
			if err != nil {
				continue // an act with several faults may be refused for another of them
			}
			full, b = next, got
			if rapid.Bool().Draw(t, "open anew") || !b.folded() {
				if b, err = Open(store, full.Last(), store, Hold{}); err != nil {
					t.Fatal(err)
				}
			}
			rebuilt := &kept{}
			if err := rebuilt.put(full, nil); err != nil {
				t.Fatal(err)
			}
			compare(t, store.records, rebuilt.records)
			for _, e := range full.log {
				if a, ok := e.Body.(Amend); ok {
					readsAlike(t, b, full, a.Entry)
				}
			}
			for seq := max(full.Last(), 20) - 19; seq <= full.Last(); seq++ {
				readsAlike(t, b, full, seq)
			}
		}
	})
}

// readsAlike holds how a book says an entry reads to what another one says.
func readsAlike(t interface {
	Helper()
	Fatalf(string, ...any)
}, got, want *Book, seq Seq) {
	t.Helper()
	if !reflect.DeepEqual(got.Reads(seq), want.Reads(seq)) || must(got.Struck(seq)) != must(want.Struck(seq)) {
		t.Fatalf("entry %d reads %+v, struck %t, instead of %+v, %t", seq, got.Reads(seq), must(got.Struck(seq)), want.Reads(seq), must(want.Struck(seq)))
	}
}

// TestAmendTurnedOnAnotherEntry reads a log from its file in which an amend was made to amend another entry.
func TestAmendTurnedOnAnotherEntry(t *testing.T) {
	log := longStart()
	last := Seq(len(log))
	add := func(a Amend) { log = append(log, Entry{Header{Seq: Seq(len(log) + 1), Kind: KindAmend}, a}) }
	turn := func(amend, to Seq) { add(Amend{Entry: amend, With: Fields(fmt.Sprintf(`{"entry":%d}`, to))}) }
	first, second, third := last-3000, last-40, last-2 // notes or ticks, whatever: strikes fit all
	add(Amend{Entry: first, Strike: true})
	turn(last+1, second)
	add(Amend{Entry: third, Strike: true})
	add(Amend{Entry: last + 3, Strike: true}) // taken back
	full, err := Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	store := &kept{}
	if err := store.put(full, log); err != nil {
		t.Fatal(err)
	}
	b, err := Open(store, full.Last(), store, Hold{})
	if err != nil {
		t.Fatal(err)
	}
	for seq, struck := range map[Seq]bool{first: false, second: true, third: false, last + 1: false, last + 3: true} {
		if must(full.Struck(seq)) != struck {
			t.Fatalf("of the whole log, entry %d is struck: %t", seq, must(full.Struck(seq)))
		}
		readsAlike(t, b, full, seq)
	}
}

func compare(t *rapid.T, got, want map[string][]byte) {
	for _, key := range slices.Sorted(maps.Keys(want)) {
		if string(got[key]) != string(want[key]) {
			t.Fatalf("record %s: %x, rebuilt %x", key, got[key], want[key])
		}
	}
	for key := range got {
		if want[key] == nil {
			t.Fatalf("record %s should be gone", key)
		}
	}
}

// TestOpenRefusesChunksOfAnotherForm changes a chunk in the middle of a list and the one behind its last.
func TestOpenRefusesChunksOfAnotherForm(t *testing.T) {
	log := longStart()
	full, err := Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(records map[string][]byte) (key string){
		"another version": func(records map[string][]byte) string {
			key := chunkKey(list{KindReading, "tds"}, 3)
			records[key] = append([]byte{packVersion + 1}, records[key][1:]...)
			return key
		},
		"fewer events": func(records map[string][]byte) string {
			key := chunkKey(list{KindReading, "tds"}, 3)
			records[key] = packReadings(full.Readings("tds")[3*chunkLen : 4*chunkLen-1])
			return key
		},
		"one chunk missing": func(records map[string][]byte) string {
			delete(records, chunkKey(list{KindReading, "tds"}, 4))
			return stateKey(thing{KindGauge, "tds"})
		},
	} {
		store := &kept{}
		if err := store.put(full, log); err != nil {
			t.Fatal(err)
		}
		if _, err := Open(store, full.Last(), store, HoldAll); err != nil {
			t.Fatal(err)
		}
		key := change(store.records)
		if _, err := Open(store, full.Last(), store, HoldAll); err == nil || !strings.Contains(err.Error(), key) {
			t.Errorf("%s: %v, without %q", name, err, key)
		}
	}
}
