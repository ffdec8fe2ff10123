package model

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// packing is one of the pairs of functions under test, its lists as any.
type packing struct {
	kind   Kind
	draw   func(*rapid.T) any // a list as a book has it, headers full
	expect func(any) any      // what must come back of it
	pack   func(any) []byte
	unpack func([]byte) (any, error)
}

// packings are all of them. The things they belong to are called "thing".
func packings() []packing {
	const thing ID = "thing"
	ticks := func(data []byte) ([]TickRecord, error) { return unpackTicks(nil, thing, data) }
	return []packing{
		packingOf(KindTick, packTicks, ticks, headerOfTick, func(t *rapid.T) TickRecord {
			r := TickRecord{Tick: Tick{
				Chore:   thing,
				Found:   rapid.SampledFrom(append([]Found{""}, packedFounds...)).Draw(t, "found"),
				About:   rapid.Bool().Draw(t, "about"),
				Minutes: rapid.Ptr(rapid.Int(), true).Draw(t, "minutes"),
				Planned: anyDate(t, "planned"),
				Note:    rapid.String().Draw(t, "note"),
			}}
			r.Reach = rapid.SampledFrom([]int{0, 1, 4, 5, -1, math.MaxInt}).Draw(t, "reach")
			r.Uses = rapid.SampledFrom([][]SpareUse{nil, {{"salt", 0.5}}, {{"salt", 1}, {"", math.Pi}}, {{"s", 0}}}).Draw(t, "uses")
			return r
		}),
		packingOfLogged(packUsages, thing, unpackUsages, func(t *rapid.T) Usage {
			if n := anyNumber(t, "n"); rapid.Bool().Draw(t, "meter") {
				return Usage{Counter: thing, Meter: &n}
			} else {
				return Usage{Counter: thing, Amount: &n}
			}
		}),
		packingOfLogged(packResets, thing, unpackResets, func(*rapid.T) MeterReset { return MeterReset{thing} }),
		packingOfLogged(packReadings, thing, unpackReadings, func(t *rapid.T) Reading {
			return Reading{thing, anyNumber(t, "value"), anyOption(t, "running")}
		}),
		packingOfLogged(packStocks, thing, unpackStocks, func(t *rapid.T) Stock {
			return Stock{thing, anyNumber(t, "change"), anyOption(t, "price")}
		}),
		packingOfLogged(packFlags, thing, unpackFlags, func(t *rapid.T) Flag {
			return Flag{
				Component:     thing,
				State:         rapid.SampledFrom(packedStates).Draw(t, "state"),
				Cause:         rapid.SampledFrom(append([]Cause{""}, Causes...)).Draw(t, "cause"),
				Note:          rapid.String().Draw(t, "note"),
				Reach:         rapid.IntRange(-1, 5).Draw(t, "reach"),
				AccessMinutes: rapid.Ptr(rapid.IntRange(0, 1440), true).Draw(t, "access"),
			}
		}),
		packingOfLogged(packDefers, thing, unpackDefers, func(t *rapid.T) Defer {
			return Defer{thing, anyDate(t, "until"), rapid.String().Draw(t, "reason")}
		}),
		packingOfLogged(packFaults, thing, unpackFaults, func(t *rapid.T) Fault {
			return Fault{thing, rapid.String().Draw(t, "note")}
		}),
		packingOfLogged(packNotes, "", idless(unpackNotes), func(t *rapid.T) Note {
			return Note{rapid.String().Draw(t, "text"), rapid.String().Draw(t, "on what")}
		}),
		packingOfLogged(packAways, "", idless(unpackAways), func(t *rapid.T) Away { return Away{anyDate(t, "until")} }),
		packingOfLogged(packBatches, "", idless(unpackBatches), func(t *rapid.T) Batch {
			return Batch{anyNumber(t, "volume"), anyNumber(t, "salt"), anyOption(t, "salinity"), anyOption(t, "temperature")}
		}),
	}
}

func idless[E any](unpack func([]E, []byte) ([]E, error)) func([]E, ID, []byte) ([]E, error) {
	return func(into []E, _ ID, data []byte) ([]E, error) { return unpack(into, data) }
}

func packingOfLogged[B Body](pack func([]Logged[B]) []byte, thing ID, unpack func([]Logged[B], ID, []byte) ([]Logged[B], error), draw func(*rapid.T) B) packing {
	var zero B
	return packingOf(zero.Kind(), pack,
		func(data []byte) ([]Logged[B], error) { return unpack(nil, thing, data) }, headerOf,
		func(t *rapid.T) Logged[B] { return Logged[B]{What: draw(t)} })
}

func packingOf[E any](kind Kind, pack func([]E) []byte, unpack func([]byte) ([]E, error), header func(*E) *Happening, draw func(*rapid.T) E) packing {
	event := rapid.Custom(func(t *rapid.T) E {
		e := draw(t)
		*header(&e) = Happening{
			Seq: rapid.OneOf(rapid.Map(rapid.IntRange(1, 1e6), func(n int) Seq { return Seq(n) }), rapid.Map(rapid.Uint64(), func(n uint64) Seq { return Seq(n) })).Draw(t, "seq"),
			On:  anyDate(t, "on"),
			By:  rapid.SampledFrom([]string{"", "kit", "alex", "a longer name"}).Draw(t, "by"),
		}
		return e
	})
	return packing{
		kind: kind,
		draw: func(t *rapid.T) any { return rapid.SliceOfN(event, 0, 20).Draw(t, "events") },
		expect: func(list any) any {
			out := slices.Clone(list.([]E))
			if len(out) == 0 {
				return []E(nil)
			}
			return out
		},
		pack:   func(list any) []byte { return pack(list.([]E)) },
		unpack: func(data []byte) (any, error) { return unpack(data) },
	}
}

func anyDate(t *rapid.T, label string) Date {
	return Date(rapid.OneOf(rapid.Int32Range(0, int32(LastDate)), rapid.Int32()).Draw(t, label))
}

// anyNumber is a whole number, a decimal, or a float of any bits at all.
func anyNumber(t *rapid.T, label string) float64 {
	return rapid.OneOf(
		rapid.Map(rapid.IntRange(-2000, 2000), func(n int) float64 { return float64(n) }),
		rapid.Map(rapid.IntRange(-2e6, 2e6), func(n int) float64 { return float64(n) / 1000 }),
		rapid.Map(rapid.Uint64(), math.Float64frombits),
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), math.Inf(1), math.NaN(), 1<<53 - 1, 1 << 53, 5 * 3.785411784, 1. / 3}),
	).Draw(t, label)
}

func anyOption(t *rapid.T, label string) *float64 {
	if !rapid.Bool().Draw(t, label+" said") {
		return nil
	}
	v := anyNumber(t, label)
	return &v
}

// same is reflect.DeepEqual with floats compared bit for bit.
func same(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Float64:
		return math.Float64bits(a.Float()) == math.Float64bits(b.Float())
	case reflect.Pointer:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return same(a.Elem(), b.Elem())
	case reflect.Struct:
		for i := range a.NumField() {
			if !same(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.IsNil() != b.IsNil() || a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !same(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	}
	return reflect.DeepEqual(a.Interface(), b.Interface())
}

func sameLists(a, b any) bool { return same(reflect.ValueOf(a), reflect.ValueOf(b)) }

// Every list comes back as it was but for at and act, cut short or added to it never does,
// and it packs to the same bytes whether it is the list itself or what came back.
func TestPackedComesBack(t *testing.T) {
	for _, p := range packings() {
		t.Run(string(p.kind), rapid.MakeCheck(func(t *rapid.T) {
			list := p.draw(t)
			data := p.pack(list)
			back, err := p.unpack(data)
			if err != nil {
				t.Fatal(err)
			}
			if want := p.expect(list); !sameLists(back, want) {
				t.Fatalf("packed\n%+v\ncame back\n%+v", want, back)
			}
			if again := p.pack(back); string(again) != string(data) {
				t.Fatalf("packed % x, packed again % x", data, again)
			}
			cut := rapid.IntRange(0, len(data)-1).Draw(t, "cut")
			if _, err := p.unpack(data[:cut]); err == nil {
				t.Fatalf("% x cut to %d bytes was accepted", data, cut)
			}
			if _, err := p.unpack(append(slices.Clip(data), 0)); err == nil {
				t.Fatalf("% x and a byte was accepted", data)
			}
		}))
	}
}

func TestPackingsCoverEveryEvent(t *testing.T) {
	seen := map[Kind]bool{}
	for _, p := range packings() {
		seen[p.kind] = true
	}
	for _, k := range Kinds() {
		if k.dated() && !seen[k] {
			t.Errorf("events of kind %s can't be packed", k)
		}
	}
}

// The words of a file must keep their places: the lists of the model may be put in another
// order, those of the packed form may only grow.
func TestPackedWords(t *testing.T) {
	if got, want := fmt.Sprint(packedFounds, packedStates, packedCauses),
		"[clean light heavy failed passed] [flagged planned rebuilt dropped] "+
			"[in-the-way out-of-sight too-tight must-drain no-shut-off heavy needs-help other]"; got != want {
		t.Errorf("packed words %s, in version 1 they are %s", got, want)
	}
	for _, w := range []Work{WorkClean, WorkRenew, WorkTest, WorkRead} {
		for _, f := range FoundWords(w) {
			if !slices.Contains(packedFounds, f) {
				t.Errorf("%s can't be packed", f)
			}
		}
	}
	for _, c := range Causes {
		if !slices.Contains(packedCauses, c) {
			t.Errorf("%s can't be packed", c)
		}
	}
}

func TestUnknownWordIsNotPacked(t *testing.T) {
	for name, pack := range map[string]func(){
		"found": func() { packTicks([]TickRecord{{Tick: Tick{Found: "odd"}}}) },
		"state": func() { packFlags([]Logged[Flag]{{What: Flag{}}}) },
		"cause": func() { packFlags([]Logged[Flag]{{What: Flag{State: FlagFlagged, Cause: "odd"}}}) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("packed")
				}
			}()
			pack()
		})
	}
}

// A chore without spares has none whether its list is empty or missing, and its ticks must
// not make two books of that.
func TestNoSparesPackAlike(t *testing.T) {
	none := packTicks([]TickRecord{{}, {Uses: nil}})
	empty := packTicks([]TickRecord{{Uses: []SpareUse{}}, {Uses: []SpareUse{}}})
	if string(none) != string(empty) {
		t.Errorf("no list % x, an empty one % x", none, empty)
	}
}

func TestNumbersAreShort(t *testing.T) {
	for _, c := range []struct {
		v    float64
		most int
	}{
		{0, 1}, {15, 1}, {16, 2}, {2000, 2}, {12.5, 2}, {0.5, 1}, {34.95, 3}, {1234.5, 3}, {-2, 2}, {0.001, 1},
		{5 * 3.785411784, 6},                       // 5 US gal in L
		{60 * 0.0689475729, 6},                     // 60 psi in bar, to ten decimals
		{1. / 3, 9}, {1e300, 9}, {math.Inf(-1), 9}, // as they are
	} {
		if got := appendNumber(nil, c.v); len(got) > c.most {
			t.Errorf("%v takes %d bytes (% x), at most %d will do", c.v, len(got), got, c.most)
		}
	}
}

func TestUnpackRefuses(t *testing.T) {
	kinds := map[Kind]packing{}
	for _, p := range packings() {
		kinds[p.kind] = p
	}
	raw := strings.Repeat("\xff", 8)
	for _, c := range []struct {
		name string
		kind Kind
		data string
		want string
	}{
		{"nothing", KindReading, "", "break off"},
		{"version 0", KindReading, "\x00\x00\x00", "version"},
		{"version 2", KindReading, "\x02\x00\x00", "version"},
		{"no count", KindReading, "\x01", "break off"},
		{"no number of options", KindReading, "\x01\x00", "break off"},
		{"a count beyond the bytes", KindReading, "\x01\x02\x00\x02\x02\x00\x10", "more events than"},
		{"a count of 2^63", KindTick, "\x01\x80\x80\x80\x80\x80\x80\x80\x80\x80\x01\x00", "more events than"},
		{"a count of 70 bits", KindTick, "\x01\xff\xff\xff\xff\xff\xff\xff\xff\xff\x7f\x00", "64 bits"},
		{"options beyond the bytes", KindReading, "\x01\x01\x09\x02\x02\x00\x10", "more numbers than"},
		{"an option too few", KindReading, "\x01\x01\x00\x02\x02\x02\x10\x10", "more optional numbers"},
		{"an option too many", KindReading, "\x01\x01\x01\x02\x02\x00\x10", "fewer optional numbers"},
		{"an optional minute too few", KindTick, "\x01\x01\x00\x02\x02\x08\x02", "more optional numbers"},
		{"a byte more", KindReading, "\x01\x01\x00\x02\x02\x00\x10\x00", "bytes after"},
		{"a byte after none", KindReading, "\x01\x00\x00\x00", "bytes after"},
		{"an unknown flag", KindReading, "\x01\x01\x00\x02\x02\x04\x10", "flag"},
		{"a flag of another kind", KindAway, "\x01\x01\x00\x02\x02\x02\x10", "flag"},
		{"a date of 33 bits", KindAway, "\x01\x01\x00\x80\x80\x80\x80\x20\x02\x00\x02", "date"},
		{"a date back of 33 bits", KindAway, "\x01\x01\x00\x02\x02\x00\xff\xff\xff\xff\x3f", "date"},
		{"a name of the future", KindAway, "\x01\x01\x00\x02\x02\x01\x02\x02", "name"},
		{"a name too long", KindAway, "\x01\x01\x00\x02\x02\x01\x01\x05kit", "text longer"},
		{"a name of 2^63 bytes", KindAway, "\x01\x01\x00\x02\x02\x01\x01\xff\xff\xff\xff\xff\xff\xff\xff\xff\x01", "text longer"},
		{"a tenth scale", KindReading, "\x01\x01\x00\x02\x02\x00\x0f", "scale"},
		{"a number of the sign of a sign", KindReading, "\x01\x01\x00\x02\x02\x00\x06\x06\x10", "scale"},
		{"a raw number of a sign", KindReading, "\x01\x01\x00\x02\x02\x00\x06\x07" + raw, "scale"},
		{"a sign alone", KindReading, "\x01\x01\x00\x02\x02\x00\x06", "break off"},
		{"half a float", KindReading, "\x01\x01\x00\x02\x02\x00\x07\x00\x00\x00", "break off"},
		{"a found word", KindTick, "\x01\x01\x00\x02\x02\x02\x05", "word"},
		{"a state", KindFlag, "\x01\x01\x00\x02\x02\x00\x04", "word"},
		{"a cause", KindFlag, "\x01\x01\x00\x02\x02\x02\x00\x08", "word"},
		{"neither amount nor meter", KindUsage, "\x01\x01\x00\x02\x02\x00\x10", "one of amount and meter"},
		{"both amount and meter", KindUsage, "\x01\x01\x02\x02\x02\x06\x10\x10", "one of amount and meter"},
		{"an unknown list of spares", KindTick, "\x01\x01\x00\x02\x02\x80\x02", "list of spares not met"},
		{"an empty list of spares", KindTick, "\x01\x01\x00\x02\x02\x80\x01\x00", "empty list"},
		{"a list of spares beyond the bytes", KindTick, "\x01\x01\x00\x02\x02\x80\x01\x02\x00\x10", "more spares than"},
		{"a note beyond the bytes", KindTick, "\x01\x01\x00\x02\x02\x20\x02n", "text longer"},
		{"raw and a byte", KindReading, "\x01\x01\x00\x02\x02\x00\x07" + raw + "\x00", "bytes after"},
	} {
		list, err := kinds[c.kind].unpack([]byte(c.data))
		if err == nil {
			t.Errorf("%s: % x was read as %+v", c.name, c.data, list)
			continue
		}
		if msg := err.Error(); !strings.Contains(msg, c.want) || !strings.Contains(msg, string(c.kind)) || !printable(msg) {
			t.Errorf("%s: %q, want one line with %q and the kind", c.name, msg, c.want)
		}
		if !reflect.ValueOf(list).IsNil() {
			t.Errorf("%s: a list came with the error", c.name)
		}
	}
}

func FuzzUnpack(f *testing.F) {
	all := packings()
	for i, p := range all {
		for seed := range 3 {
			list := rapid.Custom(p.draw).Example(seed)
			f.Add(byte(i), p.pack(list))
		}
	}
	f.Fuzz(func(t *testing.T, which byte, data []byte) {
		p := all[int(which)%len(all)]
		list, err := p.unpack(data)
		if err != nil {
			if !printable(err.Error()) || !reflect.ValueOf(list).IsNil() {
				t.Fatalf("error %q with %+v", err, list)
			}
			return
		}
		packed := p.pack(list)
		again, err := p.unpack(packed)
		if err != nil {
			t.Fatalf("% x was read, but what was made of it, % x, is not: %v", data, packed, err)
		}
		if !sameLists(list, again) {
			t.Fatalf("read\n%+v\nand back\n%+v", list, again)
		}
	})
}
