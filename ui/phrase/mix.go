package phrase

import (
	"fmt"
	"math"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/ui/parse"
)

// Mass is a mass of salt as a kitchen scale shows it: "236 g", "4.87 kg"; "8.3 oz", "10.7 lb".
func Mass(b *ledger.Book, g float64) string {
	if b.Def().Units.Volume == "gal" {
		if lb := g / gramsPerPound; lb >= 0.995 {
			return parse.Number(threeDigits(lb)) + " lb"
		}
		return parse.Number(threeDigits(g/gramsPerPound*16)) + " oz"
	}
	if math.Round(g) < 1000 {
		return fmt.Sprintf("%.0f g", g)
	}
	return parse.Number(threeDigits(g/1000)) + " kg"
}

// weight is what is to be lifted, in kilograms or pounds.
func weight(b *ledger.Book, kg float64) string {
	if b.Def().Units.Volume == "gal" {
		return fmt.Sprintf("%.0f lb", kg*1000/gramsPerPound)
	}
	return fmt.Sprintf("%.0f kg", kg)
}

const gramsPerPound = 453.59237

// Salt is a practical salinity on the scales a keeper has instruments for: "35 = 1.0264
// SG at 25/25, 1.0266 at 20/20, 1.0269 at 60F/60F". A specific gravity without its temperatures says nothing.
func Salt(practical float64) string {
	s := parse.Number(math.Round(practical*100) / 100)
	at25, err1 := water.SpecificGravity(practical, water.At25)
	at20, err2 := water.SpecificGravity(practical, water.At20)
	at60, err3 := water.SpecificGravity(practical, water.At60F)
	if err1 != nil || err2 != nil || err3 != nil {
		return s
	}
	return fmt.Sprintf("%s = %.4f SG at 25/25, %.4f at 20/20, %.4f at 60F/60F", s, at25, at20, at60)
}

// StrengthFrom says what a strength was learnt from.
func StrengthFrom(s station.Strength) string {
	spread := fmt.Sprintf("%.2f to %.2f", s.Low, s.High)
	if s.Batches == 0 {
		return fmt.Sprintf("salt reckoned as %.2f sea salt, as dry mixes commonly are (%s), until 3 batches are measured here", s.Fraction, spread)
	}
	if s.Batches == 1 {
		return fmt.Sprintf("salt %.3f sea salt, by this batch itself", s.Fraction)
	}
	return fmt.Sprintf("salt %.3f sea salt, by the last %d batches measured here (%.3f to %.3f)", s.Fraction, s.Batches, s.Low, s.High)
}

// Mix is what to weigh out, in sentences: the first dose first.
func Mix(b *ledger.Book, m station.Mix) []string {
	out := []string{
		fmt.Sprintf("weigh out %s first, the low end; likely %s in all, at most %s", Mass(b, m.FirstG), Mass(b, m.SaltG), Mass(b, m.MostG)),
		fmt.Sprintf("into %s of fresh water at %s; with the salt that makes %s, so leave room for it", Amount(b, m.FreshL, "L"), Amount(b, m.WaterC, "C"), Amount(b, m.FinalL, "L")),
		"target " + Salt(m.Target),
	}
	if say := OnInstrument(b, m.Target, m.WaterC); say != "" {
		out = append(out, say)
	}
	out = append(out, StrengthFrom(m.Strength))
	if naive, ok := thirtyFive(m); ok {
		dose := "35 g a litre"
		if b.Def().Units.Volume == "gal" {
			dose = "4.7 oz a gallon (35 g a litre)"
		}
		out = append(out, fmt.Sprintf("%s would make only %s with this salt", dose, naive))
	}
	return out
}

// OddSalt is the question to ask about salt far from what a batch takes, or "".
func OddSalt(b *ledger.Book, grams float64, m station.Mix) string {
	if grams >= 0.5*m.FirstG && grams <= 1.15*m.MostG {
		return ""
	}
	return fmt.Sprintf("%s is far from the %s to %s this takes", Mass(b, grams), Mass(b, m.FirstG), Mass(b, m.MostG))
}

// OnInstrument is what the salinity instrument set in Gear will show for a salinity: a float in water that is not at its
// own temperature, or a refractometer with a brine scale. Empty when that is the figure itself.
func OnInstrument(b *ledger.Book, practical, waterC float64) string {
	scale, g, ok := station.SaltScale(b)
	if !ok {
		return ""
	}
	switch {
	case scale.Brine:
		v, err := water.BrineReading(practical)
		if err != nil {
			return ""
		}
		return fmt.Sprintf("%s, a refractometer with a brine scale, will show %.1f", g.Name, v)
	case scale.Sea:
		return ""
	}
	own, err1 := water.SpecificGravity(practical, scale.Reference)
	float, err2 := water.HydrometerReading(practical, waterC, scale.Reference)
	if err1 != nil || err2 != nil {
		return ""
	}
	say := fmt.Sprintf("%s, on %s, will show %.4f", g.Name, scale.Reference.Name, own)
	if math.Abs(float-own) >= 0.0001 {
		say += fmt.Sprintf("; a glass float left uncorrected in water of %s %.4f", Amount(b, waterC, "C"), float)
	}
	return say
}

// thirtyFive is the salinity that 35 g of a mix in a litre makes, which is not 35.
func thirtyFive(m station.Mix) (string, bool) {
	fresh, err := water.Density(0, m.WaterC)
	if err != nil || math.Abs(m.Target-35) > 0.5 {
		return "", false
	}
	const grams = 35
	p, err := water.PracticalFromReference(1000 * m.Strength.Fraction * grams / (fresh + grams))
	return fmt.Sprintf("%.1f", p), err == nil
}

// What a reef is kept at, and what a target outside of is asked about (common practice, no source).
const (
	reefLow, reefHigh   = 33, 36
	queryLow, queryHigh = 30, 38
)

// OddTarget asks about a target that no reef is kept at; empty when there is nothing to ask.
func OddTarget(practical float64) string {
	if practical >= queryLow && practical <= queryHigh {
		return ""
	}
	return fmt.Sprintf("is %s meant? A reef is kept at %d to %d", parse.Number(math.Round(practical*100)/100), reefLow, reefHigh)
}

// Off is how far a vat is from what it was meant to be: "34.1 practical is 0.9 under 35.0".
func Off(c station.Correction) string {
	side := "under"
	if c.Now > c.Target {
		side = "over"
	}
	about := ""
	if c.Beyond() {
		about = "about "
	}
	return fmt.Sprintf("%s%.1f practical is %.1f %s %.1f", about, c.Now, math.Abs(c.Now-c.Target), side, c.Target)
}

// Dose is what to add to a vat that is off.
func Dose(b *ledger.Book, c station.Correction) string {
	switch {
	case !c.Needed():
		return "near enough, nothing to add"
	case c.SaltG > c.FirstG+1:
		return fmt.Sprintf("add %s of the same salt to %s first, likely %s in all", Mass(b, c.FirstG), Amount(b, c.VolumeL, "L"), Mass(b, c.SaltG))
	case c.SaltG > 0:
		return fmt.Sprintf("add %s of the same salt to %s", Mass(b, c.SaltG), Amount(b, c.VolumeL, "L"))
	}
	say := fmt.Sprintf("add %s of fresh water to %s; or, if it is full, take out %s, then add %s of fresh water",
		Amount(b, c.FreshL, "L"), Amount(b, c.VolumeL, "L"), Amount(b, c.SwapL, "L"), Amount(b, c.SwapL, "L"))
	if c.Beyond() {
		say += "; over 42 no scale holds, so measure again after that, or halve it with fresh water first"
	}
	return say
}

// Correction is both in one sentence.
func Correction(b *ledger.Book, c station.Correction) string { return Off(c) + ": " + Dose(b, c) }

// ForAVat is where a correction may be made, and where it never is.
func ForAVat(c station.Correction) string {
	if c.SaltG > 0 {
		return "for a vat without animals; in a tank no dry salt: change water for stronger, at most 1 a day (--for tank says how)"
	}
	return "for a vat without animals; a tank is moved by water changes, at most 1 a day (--for tank says how)"
}

// Shift is how a tank with animals is brought to another salinity, in sentences.
func Shift(b *ledger.Book, s station.Shift) []string {
	side := "under"
	if s.Now > s.Target {
		side = "over"
	}
	out := []string{fmt.Sprintf("%.1f practical is %.1f %s %.1f", s.Now, math.Abs(s.Now-s.Target), side, s.Target)}
	if !s.Needed() {
		return append(out, "near enough, nothing to change")
	}
	out = append(out,
		"no dry salt into a tank with animals: what has not dissolved burns what it falls on",
		fmt.Sprintf("change %s a day for %s, mixed apart and measured; at most 1 a day", Amount(b, s.ChangeL, "L"), Count(len(s.Days), "day")))
	for i, d := range s.Days {
		say := fmt.Sprintf("day %d: %.1f to %.1f with water of %s", i+1, d.From, d.To, strengthOf(d.Batch))
		switch {
		case d.Mix.SaltG > 0:
			say += fmt.Sprintf(", %s of salt in %s of fresh water, %s first", Mass(b, d.Mix.SaltG), Amount(b, d.Mix.FreshL, "L"), Mass(b, d.Mix.FirstG))
		default:
			say += ": fresh water"
		}
		out = append(out, say)
	}
	return append(out, parse.Wording("read the tank before each change; match its temperature within {1 °C|2 °F} and its alkalinity within 1 dKH", b.Def().Units))
}

// strengthOf is the salinity of a change of water with its specific gravity, as far as that has a scale.
func strengthOf(practical float64) string {
	sg, err := water.SpecificGravity(practical, water.At25)
	if err != nil {
		return fmt.Sprintf("%.1f", practical)
	}
	return fmt.Sprintf("%.1f (%.4f SG at 25/25)", practical, sg)
}

// liftKg is what is carried at once, at the most: a full, wet can is held far from the best of postures, for which NIOSH
// publication 94-110 (Waters and others, 1993; from memory) gives 23 kg.
const liftKg = 15

// Salting says whether salt goes into the water that is mixed.
type Salting bool

// MixCautions are what can hurt or spoil while salt water is mixed: litres of it are in
// the vat when it is done.
func MixCautions(b *ledger.Book, litres float64, salt Salting) []string {
	out := []string{"Mains: heater and pump unplugged while the level is low, and before hands go in."}
	if salt {
		out = append(out, "Salt into water, slowly, pump running; never water onto salt.")
	}
	if kg, err := station.Mass(litres, 25, 35); err == nil && kg > liftKg {
		out = append(out, fmt.Sprintf("%s of salt water weigh %s: pump or siphon it, or carry it in parts under %s.", Amount(b, litres, "L"), weight(b, kg), weight(b, liftKg)))
	}
	return append(out, Closing)
}

// Checked is when the instrument for salinity was last checked.
func Checked(b *ledger.Book, on model.Date) string {
	d := station.Checked(b, on)
	if d.IsZero() {
		return "the instrument has no check in the log: check it against a standard of 35"
	}
	return fmt.Sprintf("instrument last checked %s, %s", Day(d, on), InDays(d, on))
}

// Refractometer is what is easily got wrong with one.
func Refractometer() []string {
	return []string{
		"zeroed in pure water alone, a refractometer's zero is right and its slope unchecked: check it in a standard near 35",
		"a standard of table salt, 36.5 g/kg, is for a refractometer and shows 35 on a sea-water scale; a conductivity probe wants 53.07 mS/cm at 25 °C (77 °F)",
	}
}
