package model

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// packedRun is a list as a book opened from records holds it.
func packedRun[E any](list []E, of ID, pack func([]E) []byte, unpack func([]E, ID, []byte) ([]E, error)) *run[E] {
	r := &run[E]{n: len(list), unpack: func(into []E, data []byte) ([]E, error) { return unpack(into, of, data) }}
	for chunk := range slices.Chunk(list, chunkLen) {
		r.packed = append(r.packed, packedChunk{"chunk", pack(chunk)})
	}
	return r
}

// readingsFor are n readings of a gauge, several on some dates.
func readingsFor(t *rapid.T, gauge ID, n int) []Logged[Reading] {
	gaps := rapid.SliceOfN(rapid.IntRange(0, 3), 1, 50).Draw(t, "days between")
	list := make([]Logged[Reading], n)
	on := FirstDate + 400
	for i := range list {
		on = on.AddDays(gaps[i%len(gaps)])
		list[i] = Logged[Reading]{Happening{Seq: Seq(7 + 2*i), On: on}, Reading{Gauge: gauge, Value: float64(i)}}
	}
	return list
}

// A packed list, long or not, gives whatever is asked of it as a list of events does.
func TestPackedListsAnswerAsOthers(t *testing.T) {
	const gauge ID = "tds"
	rapid.Check(t, func(t *rapid.T) {
		list := readingsFor(t, gauge, rapid.SampledFrom([]int{0, 1, 63, 64, 65, 300, long - 1, long, long + 1, long + 200}).Draw(t, "n"))
		held := &run[Logged[Reading]]{list: list}
		place := func(name string) Mark {
			switch last := len(list); rapid.IntRange(0, 3).Draw(t, name+" kind") {
			case 0:
				return Mark{}
			case 1:
				return EndOf(LastDate)
			case 2:
				return Mark{On: rapid.Custom(func(t *rapid.T) Date { return FirstDate + 380 + Date(rapid.IntRange(0, 2*last+40).Draw(t, "day")) }).Draw(t, name)}
			default:
				if last == 0 {
					return Mark{}
				}
				return list[rapid.IntRange(0, last-1).Draw(t, name)].Mark()
			}
		}
		after, end := place("after"), place("end")
		want := within(list, markOf, after, end)
		if end.Before(after) {
			want = nil
		}
		packed := packedRun(list, gauge, packReadings, unpackReadings)
		for name, r := range map[string]*run[Logged[Reading]]{"held": held, "packed": packed} {
			if r.len() != len(list) {
				t.Fatalf("%s: %d events instead of %d", name, r.len(), len(list))
			}
			var each, latest []Logged[Reading]
			for e := range r.each(markOf, after, end) {
				each = append(each, *e)
			}
			for e := range r.latest(markOf, end) {
				latest = append(latest, *e)
			}
			slices.Reverse(latest)
			for what, got := range map[string][]Logged[Reading]{"each": each, "between": r.between(markOf, after, end)} {
				if len(got) != len(want) || len(got) > 0 && !reflect.DeepEqual(got, want) {
					t.Fatalf("%s, %s from %v to %v: %d events instead of %d", name, what, after, end, len(got), len(want))
				}
			}
			if before := upTo(list, markOf, end); len(latest) != len(before) || len(before) > 0 && !reflect.DeepEqual(latest, before) {
				t.Fatalf("%s, latest before %v: %d events instead of %d", name, end, len(latest), len(before))
			}
			if all := r.all(); len(all) != len(list) || len(list) > 0 && !reflect.DeepEqual(all, list) {
				t.Fatalf("%s: %d of %d events", name, len(all), len(list))
			}
		}
	})
}

// Whoever asks first unpacks, the others wait.
func TestPackedListIsAskedBySeveral(t *testing.T) {
	const gauge ID = "tds"
	list := rapid.Custom(func(t *rapid.T) []Logged[Reading] { return readingsFor(t, gauge, 500) }).Example(1)
	r := packedRun(list, gauge, packReadings, unpackReadings)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if got := r.all(); !reflect.DeepEqual(got, list) {
				t.Errorf("%d events", len(got))
			}
		})
	}
	all.Wait()
	if a, b := r.all(), r.all(); &a[0] != &b[0] {
		t.Error("unpacked twice")
	}
}

// What a long list counted between two places is what its tally says.
func TestCountedBetween(t *testing.T) {
	const counter ID = "made"
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{0, 100, long + 300}).Draw(t, "n")
		meter := rapid.Bool().Draw(t, "meter")
		at := readingsFor(t, counter, n)
		usages := make([]Logged[Usage], n)
		var resets []Logged[MeterReset]
		value := 0.0
		for i := range usages {
			qty := float64(i%7) / 8 // so that sums are exact in any order
			u := Usage{Counter: counter, Amount: &qty}
			if value += qty; meter {
				if i%100 == 99 {
					resets = append(resets, Logged[MeterReset]{Happening{Seq: at[i].Seq - 1, On: at[i].On}, MeterReset{counter}})
					value = 0
				}
				v := value
				u = Usage{Counter: counter, Meter: &v}
			}
			usages[i] = Logged[Usage]{at[i].Happening, u}
		}
		b := &Book{
			usages: events[Logged[Usage]]{counter: packedRun(usages, counter, packUsages, unpackUsages)},
			resets: events[Logged[MeterReset]]{counter: {list: resets}},
		}
		held := counting{counter: counter, usages: &run[Logged[Usage]]{list: usages}, resets: b.resets[counter]}
		tally, err := held.make()
		if err != nil {
			t.Fatal(err)
		}
		b.tallies = map[ID]*count{counter: {of: b.counting(counter)}}
		if got := b.Tally(counter).amounts; !slices.Equal(got, tally.amounts) {
			t.Fatalf("%d amounts, or others, instead of %d", len(got), len(tally.amounts))
		}
		after, end := Mark{}, EndOf(LastDate)
		if n > 0 {
			after, end = at[rapid.IntRange(0, n-1).Draw(t, "after")].Mark(), EndOf(at[rapid.IntRange(0, n-1).Draw(t, "end")].On)
		}
		if got, want := b.CountedBetween(counter, after, end), tally.Between(after, end); got != want {
			t.Errorf("%v counted instead of %v", got, want)
		}
	})
}

// What can't be unpacked is never taken for a list without events, however often it is asked for.
func TestPackedListThatCannotBeRead(t *testing.T) {
	const counter ID = "made"
	bad := &run[Logged[Usage]]{n: 2, packed: []packedChunk{{"event/usage/made/000000", []byte{packVersion, 2, 0, 9}}},
		unpack: func(into []Logged[Usage], data []byte) ([]Logged[Usage], error) {
			return unpackUsages(into, counter, data)
		}}
	b := &Book{usages: events[Logged[Usage]]{counter: bad}}
	b.tallies = map[ID]*count{counter: {of: b.counting(counter)}}
	for name, ask := range map[string]func(){
		"events": func() { b.Usages(counter) },
		"tally":  func() { b.Tally(counter) },
	} {
		for i := range 3 {
			func() {
				defer func() {
					if said := fmt.Sprint(recover()); !strings.Contains(said, "made") {
						t.Errorf("%s, asked %d times before: %s", name, i, said)
					}
				}()
				ask()
			}()
		}
	}
}
