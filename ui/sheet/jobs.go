package sheet

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// wet are the jobs whose steps are read with wet hands: cleaning and renewing. What
// comes round twice or more on one sheet is done by heart and has no room there.
func wet(all []due) []due {
	var out []due
	for _, d := range all {
		c := d.standing.Chore
		if len(d.on) == 1 && len(c.Steps) > 0 && (c.Work == model.WorkClean || c.Work == model.WorkRenew) {
			out = append(out, d)
		}
	}
	return out
}

func job(b *ledger.Book, d due) Job {
	c := d.standing.Chore
	j := Job{Title: text.Clean(parse.ChoreLabel(b, c)), ID: string(c.ID), Takes: fmt.Sprintf("%d min", c.Minutes)}
	if w := c.WaitingMinutes(); w > 0 {
		j.Takes += fmt.Sprintf(" + %d waiting", w)
	}
	needs, _ := phrase.Needs(b, d.standing)
	j.Needs = text.Clean(needs)
	for _, caution := range phrase.Cautions(b, c) {
		j.Cautions = append(j.Cautions, text.Clean(caution))
	}
	for _, s := range c.Steps {
		j.Steps = append(j.Steps, Step{text.Clean(parse.Wording(s.Text, b.Def().Units)), s.TimerMinutes})
	}
	return j
}

// dangers are what each hazard asks for, in a line. Common practice, no source.
var dangers = []struct {
	hazard model.Hazard
	line   string
}{
	{model.HazardMains, "Mains: unplug before a hand goes into the water; dry hands, drip loops, a residual-current device."},
	{model.HazardPressure, "Pressure: close the feed, open the product line and wait for zero before a housing is opened."},
	{model.HazardAcid, "Acid: gloves and goggles, fresh air; acid into water, never water onto acid; nothing else with it."},
	{model.HazardCaustic, "Caustic: gloves and goggles, fresh air; small amounts into much water; eyes are rinsed for 15 minutes."},
	{model.HazardChlorine, "Chlorine: fresh air, never together with acid; rinse until nothing smells."},
	{model.HazardLift, "Lifting: in parts, or by two; salt water weighs over {a kilogram a litre|8.5 lb a gallon}."},
	{model.HazardGlass, "Glass and quartz: no force, gloves where it may break."},
	{model.HazardUV, "Ultraviolet: lamp off and unplugged before the housing is opened; never look at it lit."},
	{model.HazardOzone, "Ozone: off, and the room aired, before anything is opened."},
	{model.HazardCO2, "Carbon dioxide: bottle upright and tied, valve closed, room aired."},
	{model.HazardPalytoxin, "Palytoxin: gloves and goggles, nothing scraped, brushed or heated in the air."},
}

// cautions are what the chores of the sheet ask to be careful of, each once, and the closing line.
func cautions(all []due, u model.Units) []string {
	var out []string
	for _, d := range dangers {
		if slices.ContainsFunc(all, func(c due) bool { return slices.Contains(c.standing.Chore.Hazards, d.hazard) }) {
			out = append(out, parse.Wording(d.line, u))
		}
	}
	return append(out, phrase.Closing)
}
