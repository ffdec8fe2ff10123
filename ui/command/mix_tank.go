package command

import (
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
)

// shiftOut is one day's change of a tank's water.
type shiftOut struct {
	From       float64 `json:"from" says:"practical salinity"`
	To         float64 `json:"to" says:"practical salinity"`
	Batch      float64 `json:"batch" says:"practical salinity of the water put in"`
	SaltG      float64 `json:"salt_g" says:"dry salt"`
	FirstDoseG float64 `json:"first_dose_g" says:"to put in before measuring"`
	WaterL     float64 `json:"water_l" says:"fresh water"`
}

// mixTank is how a tank with animals is brought to another salinity: by water changes.
func (p *program) mixTank(f mixFlags, b *ledger.Book, at parse.Sample, volume, now, target float64, s station.Strength) error {
	change := 0.0
	if f.change != "" {
		var err error
		if change, err = parse.Amount(f.change, "L", b.Def().Units); err != nil {
			return usagef("--change: %w", err)
		}
	}
	shift, err := station.PlanShift(volume, change, at.WaterC, now, target, s)
	if err != nil {
		return err
	}
	if p.json {
		out, err := mixJSON("tank", b, at, target, volume, s, shift.Needed() && now < target)
		if err != nil {
			return err
		}
		out.Now, out.ChangeL, out.Days = &now, &shift.ChangeL, []shiftOut{}
		for _, d := range shift.Days {
			out.Days = append(out.Days, shiftOut{d.From, d.To, d.Batch, d.Mix.SaltG, d.Mix.FirstG, d.Mix.FreshL})
		}
		return p.printJSON(out)
	}
	text := new(page)
	text.each(phrase.Shift(b, shift))
	text.line("target %s", phrase.Salt(target))
	text.each(mixTail(p, b, at, target, shift.Needed(), shift.ChangeL, true, s))
	return text.print(p.Stdout)
}

// mixTail is what stands under a correction: what the instrument will show, the strength of the salt, when it was checked,
// and, where anything is done, the cautions of it.
func mixTail(p *program, b *ledger.Book, at parse.Sample, target float64, needed bool, litres float64, salt phrase.Salting, s station.Strength) []string {
	var out []string
	if say := phrase.OnInstrument(b, target, at.WaterC); say != "" {
		out = append(out, say)
	}
	if needed && bool(salt) {
		out = append(out, phrase.StrengthFrom(s), "measure once it has mixed an hour: grains that have not dissolved read low")
	}
	if !b.Empty() {
		out = append(out, phrase.Checked(b, p.today()))
	}
	if query := phrase.OddTarget(target); query != "" {
		out = append(out, query)
	}
	if needed {
		out = append(out, phrase.MixCautions(b, litres, salt)...)
	}
	return out
}
