package water

// A sediment cartridge has no capacity that could be worked out: it clogs by what the tap brings, slowly and then
// fast, so its life is read as PrefilterDrop or lost pressure at the membrane, with litres of feed behind it. The
// carbon's is worked out below, and proved only by a test for total chlorine behind it.

// Points at which a prefilter is worth changing.
const (
	// DropToChange is the running pressure drop in bar at which a household prefilter is due: 0.35 to 0.55 bar, or a
	// tenth of the membrane's pressure (common practice, no source).
	DropToChange = 0.5
	// ChlorineLimit is the total chlorine behind the carbon, mg/L, from which it no longer shields the membrane the
	// limit of dialysis water in the ANSI/AAMI/ISO 23500 series (from memory).
	ChlorineLimit = 0.1
	// DefaultCarbonDerate is the share of a printed taste rating that is counted on (0.25 to 0.33, common practice, no source).
	DefaultCarbonDerate = 0.3
)

// challengeChlorine is the chlorine, mg/L, at which cartridges are rated (NSF/ANSI 42, from memory).
const challengeChlorine = 2.0

func chlorine(v float64) error { return within("chlorine", v, 0, 10, "mg/L") }

// CarbonLitres is how many litres of feed a carbon block may see before it is changed to protect a membrane: rated *
// (2.0 / chlorine at the tap) * derate. The rating on the label promises half the chlorine gone, for taste. Chlorine
// above 0, up to 10 mg/L; derate above 0, up to 1. Chloramine is not covered: there contact time rules, see
// ContactMinutes.
//
// Source: scaling common practice, no source; the rating's meaning after NSF/ANSI 42 (from memory).
func CarbonLitres(ratedL, tapChlorine, derate float64) (float64, error) {
	err := first(positive("rated volume", ratedL, maxLitres, "L"), positive("chlorine at the tap", tapChlorine, 10, "mg/L"),
		positive("derating", derate, 1, ""))
	if err != nil {
		return 0, err
	}
	return ratedL * (challengeChlorine / tapChlorine) * derate, nil
}

// ChlorineGrams is the chlorine that feedL litres bring to the carbon, in grams.
func ChlorineGrams(feedL, tapChlorine float64) (float64, error) {
	if err := first(within("feed", feedL, 0, maxLitres, "L"), chlorine(tapChlorine)); err != nil {
		return 0, err
	}
	return feedL * tapChlorine / 1000, nil
}

// ContactMinutes is the empty-bed contact time of a carbon block of the given volume at a feed flow: against
// chloramine 6 to 10 minutes are practised (dialysis guidance, ANSI/AAMI/ISO 23500 series, from memory).
func ContactMinutes(carbonL, feedLH float64) (float64, error) {
	if err := first(positive("carbon volume", carbonL, 100, "L"), positive("feed flow", feedLH, maxFlow, "L/h")); err != nil {
		return 0, err
	}
	return carbonL / feedLH * 60, nil
}

// ChlorineExposure is what reaches the membrane over runHours, in ppm-hours. Thin-film membranes show loss from
// 200 to 1000 (common practice, no source).
func ChlorineExposure(afterCarbon, runHours float64) (float64, error) {
	if err := first(chlorine(afterCarbon), within("running time", runHours, 0, 1e6, "h")); err != nil {
		return 0, err
	}
	return afterCarbon * runHours, nil
}
