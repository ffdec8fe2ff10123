package command

import (
	"errors"
	"fmt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
)

// mixMeasured writes what the latest batch was measured at, and says what it wants.
func (p *program) mixMeasured(f mixFlags, at parse.Sample) error {
	b, batch, stamp, err := p.latestBatch(f)
	if err != nil {
		return err
	}
	now, err := parse.Salinity(f.measured, at)
	if err != nil {
		return usagef("--measured: %w", meterFlag(err))
	}
	as := batch.What
	as.Salinity = &now.Practical
	if _, ok := station.BatchStrength(as); !ok {
		odd := fmt.Sprintf("no dry mix makes that of %s in %s: look at the volume, the salt and the reading", phrase.Mass(b, as.SaltG), phrase.Amount(b, as.VolumeL, "L"))
		if err := p.sure(odd); err != nil {
			return err
		}
	}
	warm := at.WaterC
	if err := p.write(request.Measure{Stamp: stamp, Batch: batch.Seq, Salinity: now.Practical, TemperatureC: &warm}.Entries); err != nil || p.json {
		return err
	}
	target := parse.Scaled{Practical: 35}
	if f.target != "" {
		if target, err = parse.Salinity(f.target, at); err != nil {
			return usagef("--target: %w", meterFlag(err))
		}
	}
	c, err := station.CorrectBatch(as, target.Practical, station.StrengthOf(b, stamp.On))
	if err != nil {
		return nil // it was written; there is nothing to advise
	}
	var out page
	out.line("  %s", phrase.Correction(b, c))
	if c.Needed() {
		out.line("  then: wrasse mix --correct AMOUNT, and measure again in an hour")
	}
	return out.print(p.Stdout)
}

// mixCorrected writes what was added to the latest batch: salt, where the amount is a mass, else fresh water.
func (p *program) mixCorrected(f mixFlags) error {
	b, batch, stamp, err := p.latestBatch(f)
	if err != nil {
		return err
	}
	correct := request.Correct{Stamp: stamp, Batch: batch.Seq}
	if grams, err := parse.Amount(f.correct, "g", b.Def().Units); err == nil && hasUnit(f.correct) {
		correct.SaltG = grams
	} else if correct.FreshL, err = parse.Amount(f.correct, "L", b.Def().Units); err != nil || !hasUnit(f.correct) {
		return usagef("--correct: %q; give the salt added, such as 120g, or the fresh water, such as 2L", f.correct)
	}
	return p.write(correct.Entries)
}

// hasUnit tells whether an amount says whether it is a mass or a volume.
func hasUnit(s string) bool {
	last := s[len(s)-1]
	return last < '0' || last > '9'
}

func (p *program) latestBatch(f mixFlags) (b *ledger.Book, batch ledger.Logged[model.Batch], stamp request.Stamp, err error) {
	if stamp, err = p.stamp(f.by); err != nil {
		return
	}
	if b, err = p.load(); err != nil {
		return
	}
	batch, ok := request.LatestBatch(b, stamp.On)
	if !ok {
		err = errors.New("no batch is logged yet; log one with: wrasse mix --volume V --target S --log")
	}
	return
}
