package command

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
)

type mixOut struct {
	Kind            string     `json:"kind" says:"batch, correction or tank"`
	SaltG           float64    `json:"salt_g" says:"dry salt in all"`
	FirstDoseG      float64    `json:"first_dose_g" says:"to put in before measuring"`
	MostG           float64    `json:"most_g" says:"if the salt is as weak as it may be"`
	WaterL          float64    `json:"water_l" says:"fresh water: of a batch before the salt, of a correction to add"`
	FinalL          float64    `json:"final_l" says:"salt water at the end"`
	SwapL           *float64   `json:"swap_l" says:"taken out first, then as much fresh water added"`
	ChangeL         *float64   `json:"change_l" says:"of a tank: changed on each of the days"`
	Days            []shiftOut `json:"days" says:"of a tank: one change each"`
	Now             *float64   `json:"now" says:"practical salinity before"`
	Target          float64    `json:"target" says:"practical salinity after"`
	TargetSG        sgOut      `json:"target_sg" says:"the same as specific gravity"`
	Reference       string     `json:"reference" says:"at which a specific gravity was typed"`
	TemperatureC    float64    `json:"temperature_c" says:"of the water"`
	Strength        float64    `json:"strength" says:"salt in the dry mix, 0 to 1"`
	StrengthLow     float64    `json:"strength_low" says:"the least it may be"`
	StrengthHigh    float64    `json:"strength_high" says:"the most"`
	StrengthBatches int        `json:"strength_batches" says:"measured batches it rests on"`
	StrengthFrom    string     `json:"strength_from" says:"the same in words"`
	Queries         []string   `json:"queries" says:"what is odd"`
	Cautions        []string   `json:"cautions" says:"of the job"`
}

// What a correction is for.
const (
	forVat  = "vat"
	forTank = "tank"
)

// mixFlags are the flags of mix, as typed.
type mixFlags struct {
	sampleFlags
	volume, target, now, salt, by string
	vessel, change                string
	measured, correct             string
	final, log                    bool
}

func (p *program) mixCommand() *cobra.Command {
	var f mixFlags
	cmd := &cobra.Command{
		Use:     "mix --volume V --target S",
		Short:   "Print the salt for a batch, or what corrects a vat or a tank",
		Example: "  wrasse mix --volume 40 --target 35\n  wrasse mix --measured 34.6\n  wrasse mix --volume 400 --now 33 --target 35 --for tank",
		Long: `Print the salt for a batch of --volume fresh water, or with --now what brings that
much salt water from one salinity to the target: dry salt or fresh water in a vat
without animals, with --for tank water changes that move it by at most 1 a day.
Salinities are practical (35), specific gravities (1.0264sg) on the scale of the
salinity gauge or at --reference, mS/cm, g/kg, or off a brine refractometer
(36.5brine). The strength of the salt is learnt from the batches measured in the
book; until there are 3 it is taken as dry mixes commonly are. With --log the batch is
written down: the batch, its count, and the salt taken off the shelf. Once it has mixed an
hour, --measured writes what the latest batch was measured at, and says what it wants;
--correct writes what was then added.`,
		Args: wordCount(0, 0, "no words, only flags"),
		RunE: func(*cobra.Command, []string) error { return p.mix(f) },
	}
	f.add(cmd)
	cmd.Flags().StringVar(&f.measured, "measured", "", "write the `SALINITY` that the latest batch was measured at")
	cmd.Flags().StringVar(&f.correct, "correct", "", "write the `AMOUNT` added to the latest batch: salt (120g) or fresh water (2L)")
	cmd.Flags().StringVar(&f.volume, "volume", "", "litres, or such as 30gal; of fresh water, with --now of salt water")
	cmd.Flags().StringVar(&f.target, "target", "", "the salinity to reach")
	cmd.Flags().StringVar(&f.now, "now", "", "the salinity it has, to correct it")
	cmd.Flags().StringVar(&f.vessel, "for", "", "with --now: `vat`, or tank where animals are")
	cmd.Flags().StringVar(&f.change, "change", "", "of a tank: the `VOLUME` to change in a day (else a tenth of it)")
	cmd.Flags().BoolVar(&f.final, "final", false, "--volume is that of the finished salt water")
	cmd.Flags().BoolVar(&f.log, "log", false, "write the batch down")
	cmd.Flags().StringVar(&f.salt, "salt", "", "the salt put in, to be written down (else the first dose)")
	cmd.Flags().StringVar(&f.by, "by", "", "who mixed it")
	return cmd
}

func (p *program) mix(f mixFlags) error {
	when, err := p.date()
	if err != nil {
		return err
	}
	b, err := p.store().Load() // an empty book will do: mixing needs none
	if err != nil {
		return err
	}
	at, err := f.sample(b)
	if err != nil {
		return err
	}
	switch {
	case f.measured != "" && f.correct != "", f.log && f.measured+f.correct != "":
		return usagef("--log, --measured and --correct go one at a time: mix, measure an hour later, then correct")
	case f.measured != "":
		return p.mixMeasured(f, at)
	case f.correct != "":
		return p.mixCorrected(f)
	case f.volume == "" || f.target == "":
		return usagef("mix takes --volume and --target, such as: wrasse mix --volume 120L --target 35 --temp 25")
	}
	volume, err := parse.Amount(f.volume, "L", b.Def().Units)
	if err != nil {
		return usagef("--volume: %w", err)
	}
	target, err := parse.Salinity(f.target, at)
	if err != nil {
		return usagef("--target: %w", meterFlag(err))
	}
	strength := station.StrengthOf(b, when.On)
	if f.now == "" {
		if f.vessel == forTank || f.change != "" {
			return usagef("--for tank and --change go with --now: the salinity the tank has")
		}
		return p.mixBatch(f, b, at, volume, target.Practical, strength)
	}
	if f.log || f.final {
		return usagef("--log and --final belong to a new batch; a correction takes --now, --volume and --target")
	}
	beyond := at
	beyond.Most = water.MostMixed
	now, err := parse.Salinity(f.now, beyond)
	if err != nil {
		return usagef("--now: %w", meterFlag(err))
	}
	switch f.vessel {
	case forTank:
		return p.mixTank(f, b, at, volume, now.Practical, target.Practical, strength)
	case "", forVat:
		if f.change != "" {
			return usagef("--change goes with --for tank")
		}
		return p.mixCorrection(b, at, volume, now.Practical, target.Practical, strength)
	}
	return usagef("--for: %q is not one; give vat, or tank where animals are", f.vessel)
}

// meterFlag adds the flag that answers when a conductivity's meter must be said.
func meterFlag(err error) error {
	if strings.HasSuffix(err.Error(), "say which") {
		return fmt.Errorf("%w, with --meter compensating or --meter raw", err)
	}
	return err
}

func (p *program) mixBatch(f mixFlags, b *ledger.Book, at parse.Sample, volume, target float64, s station.Strength) error {
	plan := station.Plan
	if f.final {
		plan = station.PlanFinal
	}
	m, err := plan(volume, at.WaterC, target, s)
	if err != nil {
		return err
	}
	if f.log {
		return p.logBatch(f, b, m)
	}
	if p.json {
		out, err := mixJSON("batch", b, at, m.Target, m.FinalL, s, true)
		out.SaltG, out.FirstDoseG, out.MostG, out.WaterL = m.SaltG, m.FirstG, m.MostG, m.FreshL
		if err != nil {
			return err
		}
		return p.printJSON(out)
	}
	text := new(page)
	text.each(append(phrase.Mix(b, m), phrase.MixCautions(b, m.FinalL, true)...))
	if query := phrase.OddTarget(m.Target); query != "" {
		text.line("%s", query)
	}
	return text.print(p.Stdout)
}

// logBatch writes a batch down, with the salt said or the first dose.
func (p *program) logBatch(f mixFlags, b *ledger.Book, m station.Mix) error {
	if _, err := p.load(); err != nil {
		return err
	}
	grams := math.Round(m.FirstG)
	if f.salt != "" {
		var err error
		if grams, err = parse.Amount(f.salt, "g", b.Def().Units); err != nil {
			return usagef("--salt: %w", err)
		}
	}
	stamp, err := p.stamp(f.by)
	if err != nil {
		return err
	}
	if err := p.sure(phrase.OddSalt(b, grams, m)); err != nil {
		return err
	}
	return p.write(request.Mix{Stamp: stamp, Batch: model.Batch{VolumeL: m.FreshL, SaltG: grams, TemperatureC: &m.WaterC}}.Entries)
}

func (p *program) mixCorrection(b *ledger.Book, at parse.Sample, volume, now, target float64, s station.Strength) error {
	c, err := station.Correct(volume, at.WaterC, now, target, s)
	if err != nil {
		return err
	}
	if p.json {
		most, err := station.Correct(volume, at.WaterC, now, target, station.Strength{Fraction: s.Low, High: s.Low})
		if err != nil {
			return err
		}
		out, err := mixJSON("correction", b, at, target, c.FinalL, s, c.SaltG > 0)
		if err != nil {
			return err
		}
		out.SaltG, out.FirstDoseG, out.MostG, out.WaterL, out.Now = c.SaltG, c.FirstG, most.SaltG, c.FreshL, &c.Now
		if c.SwapL > 0 {
			out.SwapL = &c.SwapL
		}
		if !c.Needed() {
			out.Cautions = []string{}
		} else {
			out.Cautions = append([]string{phrase.ForAVat(c)}, out.Cautions...)
		}
		return p.printJSON(out)
	}
	text := new(page)
	text.line("%s", phrase.Correction(b, c))
	if c.Needed() {
		text.line("%s", phrase.ForAVat(c))
	}
	text.line("now %s", phrase.Salt(now))
	text.line("target %s", phrase.Salt(target))
	text.each(mixTail(p, b, at, target, c.Needed(), c.FinalL, c.SaltG > 0, s))
	return text.print(p.Stdout)
}

// mixJSON is what a batch, a correction and a tank have in common.
func mixJSON(kind string, b *ledger.Book, at parse.Sample, target, finalL float64, s station.Strength, salt bool) (mixOut, error) {
	sg, err := gravities(target)
	out := mixOut{
		Kind: kind, FinalL: finalL, Target: target, TargetSG: sg, Reference: at.Reference.Name, TemperatureC: at.WaterC,
		Strength: s.Fraction, StrengthLow: s.Low, StrengthHigh: s.High, StrengthBatches: s.Batches,
		StrengthFrom: phrase.StrengthFrom(s), Queries: []string{}, Cautions: phrase.MixCautions(b, finalL, phrase.Salting(salt)),
	}
	if query := phrase.OddTarget(target); query != "" {
		out.Queries = append(out.Queries, query)
	}
	return out, err
}
