package words

import (
	"fmt"
	"math"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/ui/typed"
)

// Grams is a mass of salt as a kitchen scale shows it: "236 g", "4.87 kg".
func Grams(g float64) string {
	if math.Round(g) < 1000 {
		return fmt.Sprintf("%.0f g", g)
	}
	return typed.Number(threeDigits(g/1000)) + " kg"
}

// Salt is a practical salinity on the scales a keeper has instruments for: "35 = 1.0264
// SG at 25/25, 1.0266 at 20/20". A specific gravity without its temperatures says nothing.
func Salt(practical float64) string {
	s := typed.Number(math.Round(practical*100) / 100)
	at25, err1 := water.SpecificGravity(practical, water.At25)
	at20, err2 := water.SpecificGravity(practical, water.At20)
	if err1 != nil || err2 != nil {
		return s
	}
	return fmt.Sprintf("%s = %.4f SG at 25/25, %.4f at 20/20", s, at25, at20)
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
func Mix(b *model.Book, m station.Mix) []string {
	out := []string{
		fmt.Sprintf("weigh out %s first, the low end; likely %s in all, at most %s", Grams(m.FirstG), Grams(m.SaltG), Grams(m.MostG)),
		fmt.Sprintf("into %s of fresh water at %s, which makes %s", Amount(b, m.FreshL, "L"), Amount(b, m.WaterC, "C"), Amount(b, m.FinalL, "L")),
		"target " + Salt(m.Target),
		StrengthFrom(m.Strength),
	}
	if naive, ok := thirtyFive(m); ok {
		out = append(out, fmt.Sprintf("35 g a litre would make only %s with this salt", naive))
	}
	return out
}

// OddSalt is the question to ask about salt far from what a batch takes, or "".
func OddSalt(grams float64, m station.Mix) string {
	if grams >= 0.5*m.FirstG && grams <= 1.15*m.MostG {
		return ""
	}
	return fmt.Sprintf("%s is far from the %s to %s this takes", Grams(grams), Grams(m.FirstG), Grams(m.MostG))
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

// Off is how far a vat is from what it was meant to be: "34.1 practical is 0.9 under 35.0".
func Off(c station.Correction) string {
	side := "under"
	if c.Now > c.Target {
		side = "over"
	}
	return fmt.Sprintf("%.1f practical is %.1f %s %.1f", c.Now, math.Abs(c.Now-c.Target), side, c.Target)
}

// Dose is what to add to a vat that is off.
func Dose(b *model.Book, c station.Correction) string {
	switch {
	case !c.Needed():
		return "near enough, nothing to add"
	case c.SaltG > c.FirstG+1:
		return fmt.Sprintf("add %s of the same salt to %s first, likely %s in all", Grams(c.FirstG), Amount(b, c.VolumeL, "L"), Grams(c.SaltG))
	case c.SaltG > 0:
		return fmt.Sprintf("add %s of the same salt to %s", Grams(c.SaltG), Amount(b, c.VolumeL, "L"))
	}
	return fmt.Sprintf("add %s of fresh water to %s, or swap %s if it is full", Amount(b, c.FreshL, "L"), Amount(b, c.VolumeL, "L"), Amount(b, c.SwapL, "L"))
}

// Correction is both in one sentence.
func Correction(b *model.Book, c station.Correction) string { return Off(c) + ": " + Dose(b, c) }

// liftKg is the load constant of NIOSH publication 94-110 (Waters and others, 1993; from
// memory): what most people may lift in the best of postures.
const liftKg = 23

// MixCautions are what can hurt or spoil while salt water is mixed: litres of it are in
// the vat when it is done.
func MixCautions(b *model.Book, litres float64) []string {
	out := []string{
		"Mains: heater and pump unplugged while the level is low, and before hands go in.",
		"Salt into water, slowly, pump running; never water onto salt.",
	}
	if kg, err := station.Mass(litres, 25, 35); err == nil && kg > liftKg {
		out = append(out, fmt.Sprintf("%s of salt water weigh %.0f kg: pump or siphon it, or carry it in parts under %d kg.", Amount(b, litres, "L"), kg, liftKg))
	}
	return out
}

// Checked is when the instrument for salinity was last checked.
func Checked(b *model.Book, on model.Date) string {
	d := station.Checked(b, on)
	if d.IsZero() {
		return "the instrument has no check in the log: check it against a standard of 35"
	}
	return fmt.Sprintf("instrument last checked %s, %s", Day(d, on), InDays(d, on))
}
