package schedule

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/model"
)

// act is litres that one entry moved, out of and into the tank, the reservoir and the vat.
type act struct {
	seq              model.Seq
	field            string  // of its litres
	litres           float64 // as they read
	made, from, into string  // where they went; "" is out of the house
	struck           bool
	strikes          model.Seq // the amend that struck it
}

// Whatever is logged, amended, struck and brought back: the litres that were made are those that are left and those that
// were taken out of the house. The vessels are so large that none runs over or dry.
func TestNoWaterIsLost(t *testing.T) {
	t.Parallel()
	begin := DecodeLines(t, `
{"kind":"book","name":"B","units":{"volume":"L","temperature":"C","pressure":"bar"}}
{"kind":"place","id":"p","name":"P","minutes":1}
{"kind":"component","id":"tank","name":"T","place":"p","reach":1,"access_minutes":1,"in_service":"2026-01-01"}
{"kind":"counter","id":"water","name":"W","unit":"L","style":"amount","role":"water-made"}
{"kind":"vessel","id":"reservoir","name":"R","place":"p","holds":"fresh","capacity":1000000,"fed_by":"water"}
{"kind":"vessel","id":"vat","name":"V","place":"p","holds":"salt","capacity":1000000}
{"kind":"chore","id":"change","component":"tank","name":"change","work":"clean","fixed":true,"minutes":1,"consequence":1,"clocks":[{"calendar":"7d","rule":"every"}],"takes":[{"vessel":"vat","litres":30},{"vessel":"reservoir","litres":2}]}
{"on":"2026-01-01","kind":"level","vessel":"reservoir","litres":500000}
{"on":"2026-01-01","kind":"level","vessel":"vat","litres":500000}`)
	book := Fold(t, begin)
	first := date(t, "2026-01-01")
	rapid.Check(t, func(t *rapid.T) {
		b := book
		var acts []act
		write := func(body model.Body) model.Seq {
			e := model.NewEntry(first.AddDays(rapid.IntRange(0, 20).Draw(t, "day")), body)
			e.Seq = b.Last() + 1
			next, err := b.Extend([]model.Entry{e})
			if err != nil {
				t.Fatal(err)
			}
			b = next
			return e.Seq
		}
		for range rapid.IntRange(1, 30).Draw(t, "acts") {
			litres := float64(rapid.IntRange(1, 400).Draw(t, "litres")) / 4
			a := act{field: "litres", litres: litres}
			switch rapid.IntRange(0, 6).Draw(t, "kind") {
			case 0:
				a.field, a.made = "amount", "reservoir"
				a.seq = write(model.Usage{Counter: "water", Amount: &litres})
			case 1:
				a.from = rapid.SampledFrom([]string{"reservoir", "vat"}).Draw(t, "from")
				a.seq = write(model.Draw{Vessel: model.ID(a.from), Litres: litres, For: model.ForHouse})
			case 2:
				a.from, a.into = "reservoir", "vat"
				a.seq = write(model.Draw{Vessel: "reservoir", Litres: litres, For: model.ForMix, Into: "vat"})
			case 3:
				a.field, a.from, a.into = "volume_l", "reservoir", "vat"
				a.seq = write(model.Batch{VolumeL: litres, From: "reservoir", Into: "vat"})
			case 4:
				a.from = "vat"
				a.seq = write(model.Tick{Chore: "change", Litres: &litres})
			default:
				if len(acts) == 0 {
					continue
				}
				old := &acts[rapid.IntRange(0, len(acts)-1).Draw(t, "which")]
				switch {
				case old.struck:
					write(model.Amend{Entry: old.strikes, Strike: true})
					old.struck = false
				case rapid.Bool().Draw(t, "strike"):
					old.strikes, old.struck = write(model.Amend{Entry: old.seq, Strike: true}), true
				default:
					with, err := model.With(map[string]any{old.field: litres})
					if err != nil {
						t.Fatal(err)
					}
					write(model.Amend{Entry: old.seq, With: with})
					old.litres = litres
				}
				continue
			}
			acts = append(acts, a)
		}
		want := map[string]float64{"reservoir": 500_000, "vat": 500_000}
		for _, a := range acts {
			if a.struck {
				continue
			}
			want[a.made] += a.litres
			want[a.from] -= a.litres
			want[a.into] += a.litres
			if a.from == "vat" && a.field == "litres" && b.Reads(a.seq).Kind == model.KindTick {
				want["reservoir"] -= 2 // the second of what a change takes, as stated
			}
		}
		r := Make(b, first.AddDays(20))
		for _, vessel := range []string{"reservoir", "vat"} {
			if got := r.OnHandIn(model.ID(vessel)).Level; math.Abs(got-want[vessel]) > 1e-6 {
				t.Fatalf("%s holds %v, want %v", vessel, got, want[vessel])
			}
		}
	})
}
