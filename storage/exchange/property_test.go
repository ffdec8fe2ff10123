package exchange

import (
	"bytes"
	"math"
	"reflect"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// drawn is an entry of any text, number and date on the things of the small book.
func drawn(t *rapid.T) model.Entry {
	on := model.Date(rapid.Int32Range(int32(model.FirstDate), int32(model.LastDate)-1).Draw(t, "on"))
	text := rapid.StringN(1, 40, -1).Draw(t, "text")
	number := rapid.Float64Range(0, model.MaxAmount).Draw(t, "number")
	until := on.AddDays(1)
	e := model.NewEntry(on, rapid.SampledFrom([]model.Body{
		model.Note{Text: text},
		model.Tick{Chore: "clean-pump", Note: text, Found: model.FoundHeavy},
		model.Usage{Counter: "litres", Amount: &number},
		model.Reading{Gauge: "tds", Value: math.Copysign(number, rapid.Float64Range(-1, 1).Draw(t, "sign"))},
		model.Batch{VolumeL: 1 + number/2, SaltG: number, TemperatureC: new(float64)},
		model.Away{Until: until},
		model.PutOff{Chore: "clean-pump", Until: until, Reason: text},
		model.Fault{Component: "pump", Note: text},
		model.Place{ID: "cellar", Name: text, Minutes: 1},
		model.Component{ID: "pump", Name: text, Place: "cellar", Reach: 5},
		model.Amend{Entry: 1, With: model.Fields(`{"minute_value":0.5}`)},
	}).Draw(t, "body"))
	if rapid.Bool().Draw(t, "stamped") {
		e.At = "2026-03-31T07:30:15+02:00"
		e.By = rapid.StringN(0, 20, -1).Draw(t, "by")
	}
	return e
}

func TestGeneratedBooksSurvive(t *testing.T) {
	base := must(Import(bytes.NewReader([]byte(sound)), today))
	rapid.Check(t, func(t *rapid.T) {
		log := append([]model.Entry(nil), base...)
		for range rapid.IntRange(0, 12).Draw(t, "acts") {
			act := model.Seq(len(log) + 1)
			n := rapid.IntRange(1, 3).Draw(t, "entries")
			for range n {
				e := drawn(t)
				e.Seq = model.Seq(len(log) + 1)
				if n > 1 {
					e.Act = act
				}
				log = append(log, e)
			}
		}
		book := must(ledger.Fold(log))
		var first, second bytes.Buffer
		if err := Export(&first, book); err != nil {
			t.Fatal(err)
		}
		entries, err := Import(bytes.NewReader(first.Bytes()), today.AddDays(7))
		if err != nil {
			t.Fatalf("%v\n%s", err, first.Bytes())
		}
		again := must(ledger.Fold(entries))
		if err := Export(&second, again); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatalf("first\n%s\nsecond\n%s", first.Bytes(), second.Bytes())
		}
		third, err := Import(&second, today)
		if err != nil || !reflect.DeepEqual(entries, third) {
			t.Fatalf("entries differ the second time (%v)", err)
		}
	})
}

// What can be read is written and read again unchanged; what can't be read gives no
// entries and an error of one line that carries no control character to a terminal.
func FuzzImport(f *testing.F) {
	f.Add([]byte(sound))
	for _, c := range badImports {
		if len(c.text) < 4096 {
			f.Add([]byte(c.text))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		entries, err := Import(bytes.NewReader(data), today)
		if err != nil {
			if entries != nil {
				t.Fatalf("%d entries with error %v", len(entries), err)
			}
			for _, r := range err.Error() {
				if !unicode.IsPrint(r) {
					t.Fatalf("error %q is not fit for a terminal", err)
				}
			}
			return
		}
		out := export(t, entries)
		again, err := Import(bytes.NewReader(out), today)
		if err != nil {
			t.Fatalf("the export can't be imported: %v", err)
		}
		if second := export(t, again); !bytes.Equal(out, second) {
			t.Fatalf("first\n%s\nsecond\n%s", out, second)
		}
	})
}
