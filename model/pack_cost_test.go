package model

import (
	"encoding/binary"
	"slices"
	"testing"
)

// Names and lists of spares that come again are read once, and optional numbers share
// their memory: a list must not cost an allocation an event.
func TestUnpackAllocatesPerList(t *testing.T) {
	const few = 16
	usages, readings, ticks := packUsages(someUsages(5000)), packReadings(someReadings(5000)), packTicks(someTicks(5000))
	for name, unpack := range map[string]func(){
		"usages":   func() { _, _ = unpackUsages(nil, "c", usages) },
		"readings": func() { _, _ = unpackReadings(nil, "g", readings) },
		"ticks":    func() { _, _ = unpackTicks(nil, "c", ticks) },
	} {
		if n := testing.AllocsPerRun(5, unpack); n > few {
			t.Errorf("%s: %v allocations for 5000 events, want at most %d", name, n, few)
		}
	}
}

// What a log mostly consists of must stay small: a book of a million entries is read
// whole when it is opened wide.
func TestPackedSizes(t *testing.T) {
	const n = 5000
	for _, c := range []struct {
		name string
		data []byte
		most float64 // bytes an event
	}{
		{"readings", packReadings(someReadings(n)), 8},
		{"usages", packUsages(someUsages(n)), 8},
		{"ticks", packTicks(someTicks(n)), 10},
	} {
		if each := float64(len(c.data)) / n; each > c.most {
			t.Errorf("%s: %.2f bytes an event, want at most %v", c.name, each, c.most)
		} else {
			t.Logf("%s: %.2f bytes an event", c.name, each)
		}
	}
}

// someHappening is when and by whom the nth event of its thing, in a book of 27 entries a day
// whose things have an event a few days apart, written by two people.
func someHappening(n int) Happening {
	return Happening{Seq: Seq(30 + 100*n + n%17), On: NewDate(2000, 1, 1).AddDays(4*n + n%3), By: []string{"kit", "kit", "alex", "kit", "kit", "kit", "alex"}[n%7]}
}

func someReadings(n int) []Logged[Reading] {
	out := make([]Logged[Reading], n)
	for i := range out {
		out[i] = Logged[Reading]{someHappening(i), Reading{Gauge: "g", Value: float64(3000+i%700) / 100}}
		if i%2 == 0 {
			running := float64(5 + i%10)
			out[i].What.MinutesRunning = &running
		}
	}
	return out
}

func someUsages(n int) []Logged[Usage] {
	out := make([]Logged[Usage], n)
	for i := range out {
		litres := float64(20+i%40) + 0.5*float64(i%2)
		out[i] = Logged[Usage]{someHappening(i), Usage{Counter: "c", Amount: &litres}}
	}
	return out
}

func someTicks(n int) []TickRecord {
	out := make([]TickRecord, n)
	for i := range out {
		h := someHappening(i)
		out[i] = TickRecord{h, Tick{Chore: "c", Found: packedFounds[i%4], Planned: h.On.AddDays(i%9 - 4)}, 3, []SpareUse{{"cartridge", 1}}}
		if i%2 == 0 {
			minutes := 10 + i%7
			out[i].Minutes = &minutes
		}
	}
	return out
}

const benchmarked = 5000 // events in a list

// benchmarkUnpack is the reading of a list beside a floor: the same bytes walked as
// varints with nothing made of them, and the memory of the list filled by copying one.
func benchmarkUnpack[E any](b *testing.B, data []byte, unpack func([]byte) ([]E, error)) {
	list, err := unpack(data)
	if err != nil {
		b.Fatal(err)
	}
	each := func(b *testing.B) {
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/benchmarked, "ns/event")
		b.ReportMetric(float64(len(data))/benchmarked, "B/event")
	}
	b.Run("unpack", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := unpack(data); err != nil {
				b.Fatal(err)
			}
		}
		each(b)
	})
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			sum := uint64(len(slices.Clone(list)))
			for rest := data; len(rest) > 0; {
				v, n := binary.Uvarint(rest)
				sum, rest = sum+v, rest[max(n, 1):]
			}
			if sum == 0 {
				b.Fatal("nothing walked")
			}
		}
		each(b)
	})
}

func BenchmarkUnpackReadings(b *testing.B) {
	benchmarkUnpack(b, packReadings(someReadings(benchmarked)), func(data []byte) ([]Logged[Reading], error) {
		return unpackReadings(nil, "g", data)
	})
}

func BenchmarkUnpackUsages(b *testing.B) {
	benchmarkUnpack(b, packUsages(someUsages(benchmarked)), func(data []byte) ([]Logged[Usage], error) {
		return unpackUsages(nil, "c", data)
	})
}

func BenchmarkUnpackTicks(b *testing.B) {
	benchmarkUnpack(b, packTicks(someTicks(benchmarked)), func(data []byte) ([]TickRecord, error) {
		return unpackTicks(nil, "c", data)
	})
}
