package water

// A sediment cartridge has no capacity that could be worked out: it clogs by what the tap brings, slowly and then
// fast, so its life is read as PrefilterDrop or lost pressure at the membrane, with litres of feed behind it. The
// carbon's is worked out below, and proved only by a test for total chlorine behind it.

// Points at which a prefilter is worth changing.
const (
	// DropToChange is the running pressure drop in bar at which a household prefilter is due: 0.35 to 0.55 bar, or a
	// tenth of the membrane's pressure (common practice, no source).
	DropToChange = 0.5
	// ChlorineLimit is the total chlorine behind the carbon, mg/L, from which it no longer shields the membrane: the
	// limit of dialysis water in the ANSI/AAMI/ISO 23500 series (from memory).
	ChlorineLimit = 0.1
)

func chlorine(v float64) error { return within("chlorine", v, 0, 10, "mg/L") }

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
