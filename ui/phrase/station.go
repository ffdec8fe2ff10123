package phrase

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/ui/parse"
)

// StageName is a stage as the trade calls it.
func StageName(s model.Stage) string {
	switch s {
	case model.StageSediment:
		return "Sediment"
	case model.StageCarbon:
		return "Carbon"
	case model.StageMembrane:
		return "Membrane"
	case model.StageResin:
		return "Resin"
	}
	return string(s)
}

// Stages are the stages in the order the water flows.
func Stages() []model.Stage {
	return []model.Stage{model.StageSediment, model.StageCarbon, model.StageMembrane, model.StageResin}
}

// AgeOf is how old a reading is, in a column: "today", "4 d".
func AgeOf(days int) string {
	if days == 0 {
		return "today"
	}
	return fmt.Sprintf("%d d", days)
}

// ago is AgeOf in a sentence: "3 d ago".
func ago(days int) string {
	if days == 0 {
		return AgeOf(days)
	}
	return AgeOf(days) + " ago"
}

// MoreToSay counts what is left after the first cause: "2 more causes · 1 instrument off · 1 open question".
func MoreToSay(b *ledger.Book, s *station.Station) string {
	var parts []string
	if n := len(s.Diagnosis.Causes) - 1; n > 0 {
		parts = append(parts, Count(n, "more cause"))
	}
	if n := len(OffNow(b, s.On)); n > 0 {
		parts = append(parts, Count(n, "instrument")+" off")
	}
	if n := len(s.Diagnosis.CannotTell); n > 0 {
		parts = append(parts, Count(n, "open question"))
	}
	return strings.Join(parts, " · ")
}

// Rejection is a rejection with how it is meant: "rejection 97.6 % raw".
func Rejection(percent float64, at string) string {
	return fmt.Sprintf("rejection %.1f %% %s", percent, at)
}

// RejectionSpan is what a meter of whole ppm leaves open of a rejection, where the threshold is near: "94.8 to 95.2 %".
func RejectionSpan(s *station.Station) string {
	tap, m, limit := s.Readings.TapTDS, s.Readings.MembraneTDS, s.Readings.Limits.Rejection
	if tap == nil || m == nil || !s.Rejection.Known() || s.Readings.MeterPPM < 1 {
		return ""
	}
	floor := 95.0
	if limit != nil {
		floor = limit.Value
	}
	best, err1 := water.HeldPassage(tap.Value, m.Value, false)
	worst, err2 := water.HeldPassage(tap.Value, m.Value, true)
	raw, err3 := water.SaltPassage(tap.Value, m.Value)
	if err1 != nil || err2 != nil || err3 != nil || raw == 0 {
		return ""
	}
	excuse := (1 - s.Rejection.Value/100) / raw
	lo, hi := 100*(1-worst*excuse), 100*(1-best*excuse)
	if lo > floor+1 || hi < floor-1 {
		return ""
	}
	return fmt.Sprintf("%.1f to %.1f %% in whole ppm, threshold %s %%", lo, hi, parse.Number(floor))
}

// Figures are what the station reckons beside its verdicts, each a sentence: the element's label, chlorine on the membrane,
// contact in the carbon, the resin bed.
func Figures(b *ledger.Book, s *station.Station) []string {
	var out []string
	if l, ok := s.Readings.Label(); ok {
		out = append(out, fmt.Sprintf("by the element's label %s are due at this pressure and temperature; measured %s, %.0f %% of it (labels are good to 15 to 25 %%)",
			Amount(b, l.FlowLH, "L/h"), Amount(b, s.Of(model.RoleFlowProduct).Value, "L/h"), l.Percent))
	}
	if x, since, ok := station.Exposure(b, s.On); ok {
		when := ""
		if !since.IsZero() {
			when = " since " + Day(since, s.On)
		}
		if x < 0.5 {
			out = append(out, "chlorine on the membrane: none was found on the way to it"+when)
		} else {
			out = append(out, fmt.Sprintf("chlorine on the membrane: about %s ppm-hours%s; worry begins at 200, and harm is expected by 1000", parse.Number(threeDigits(x)), when))
		}
	}
	if c, ok := s.Contact(b); ok {
		out = append(out, fmt.Sprintf("contact in the carbon: %.1f min, about %s of it at %s of feed; chloramine wants 6 to 10 min",
			c.Minutes, Amount(b, c.CarbonL, "L"), Amount(b, c.FeedLH, "L/h")))
	}
	if d, ok := s.Bed(b); ok {
		gas := "from alkalinity and pH of the tap"
		if d.Guess {
			gas = "a guess; log alkalinity and pH of the tap"
		}
		out = append(out, fmt.Sprintf("resin bed: %s take up about %.0f meq, so about %s at what comes in now; carbon dioxide is %.0f %% of that load (%s mmol/L, %s)",
			Amount(b, d.Resin, "L"), d.Meq, Amount(b, d.Litres, "L"), 100*d.Share, parse.Number(threeDigits(d.CO2)), gas))
	}
	return out
}

// Facts are what keepers most often get wrong and what this station's own figures say
// of it, each a sentence or two.
func Facts(b *ledger.Book, s *station.Station) []string {
	out := []string{feedFact(b, s)}
	out = append(out, resinFact(b, s))
	if f := spanFact(s); f != "" {
		out = append(out, f)
	}
	if f := coldFact(b, s); f != "" {
		out = append(out, f)
	}
	return append(out,
		"After standing, salt creeps through the membrane: the first minutes read high. Let it run 10 minutes; readings under 5 are shown as rings and count nowhere.",
		"1 ppm in the reservoir can be carbon dioxide from the air, 2 ppm are more than air puts there. Judge the resin at its outlet.",
		"0 after the resin is no proof against silica, which does not conduct. Carbon dioxide behind a spent bed shows as 1 to 4 ppm.",
		"A specific gravity means nothing without its temperatures: 1.0264 is a salinity of 35.0 at 25/25, 34.7 at 20/20, 34.4 at 60F/60F and 39.0 at 25/4.",
		"The litres printed on a carbon block promise half the chlorine for taste, not a shielded membrane, and plain carbon needs far longer for chloramine than a home unit gives it.",
	)
}

func feedFact(b *ledger.Book, s *station.Station) string {
	fill := s.Fill(b, 1000)
	if fill.FeedL == 0 {
		return "Sediment and carbon see the waste stream too: product x (1 + waste ratio). At 4 to 1, 1000 L made is 5000 L through them."
	}
	return fmt.Sprintf("Sediment and carbon see the waste stream too, product x (1 + waste ratio): at %s to 1, %s made is %s through them.",
		parse.Number(threeDigits(fill.Ratio)), Amount(b, 1000, "L"), Amount(b, fill.FeedL, "L"))
}

func resinFact(b *ledger.Book, s *station.Station) string {
	out := "Dissolved carbon dioxide passes the membrane unseen and can cut a resin bed's life threefold, so the litres of your last beds beat any label"
	var litres []string
	for _, l := range station.BedLitres(b, s.On) {
		litres = append(litres, Amount(b, l, "L"))
	}
	if len(litres) == 0 {
		return out + "."
	}
	return out + ": here they made " + strings.Join(litres, ", ") + "."
}

// spanFact is what one reading of a coarse meter leaves open.
func spanFact(s *station.Station) string {
	tap, m := s.Readings.TapTDS, s.Readings.MembraneTDS
	if tap == nil || m == nil || s.Readings.MeterPPM < 1 {
		return ""
	}
	lo, hi, err := water.SaltPassageSpan(tap.Value, max(1, 0.02*tap.Value), m.Value, 1)
	if err != nil || hi > 1 {
		return ""
	}
	return fmt.Sprintf("On a meter that shows whole ppm, %s of %s is a rejection of anything from %.1f to %.1f %%: wait for several readings before you blame the membrane.",
		parse.Number(m.Value), parse.Number(tap.Value), 100*(1-hi), 100*(1-lo))
}

// coldFact is how much of the flow the cold takes.
func coldFact(b *ledger.Book, s *station.Station) string {
	c := s.Readings.WaterTemperature
	if c == nil {
		return ""
	}
	tcf, err := water.TCF(c.Value)
	if err != nil || tcf > 0.9 {
		return ""
	}
	return fmt.Sprintf("Water of %s lets a sound membrane make %.0f %% of what it makes at %s. Normalised flow takes cold and pressure out.",
		Amount(b, c.Value, "C"), 100*tcf, Amount(b, 25, "C"))
}
