package schedule_test

import "testing"

// patternCase is a pattern of the fault-isolation table with a situation that gives it first, and a near miss that doesn't
// name it at all.
type patternCase struct {
	id string
	situation
	miss situation
}

func read1(s set, minutes ...float64) func(t testing.TB) *unit {
	return func(t testing.TB) *unit { return once(t, s, minutes...) }
}

func read2(s set, minutes ...float64) func(t testing.TB) *unit {
	return func(t testing.TB) *unit { return twice(t, s, minutes...) }
}

// The physics of the sets: flow goes with the net driving pressure and the temperature factor, salt passes whatever the
// pressure, and the waste goes with the square root of the pressure.
var patternCases = []patternCase{
	{"D1", situation{name: "all as ever", unit: read2(nil), stages: "sediment sound, carbon sound, membrane sound, resin sound"},
		situation{name: "resin over", unit: read2(set{"tds-product": 2}), first: "D2"}},
	{"D2", situation{name: "resin over its threshold twice", unit: read2(set{"tds-product": 2}), next: "change or rotate the resin", stages: "resin act, membrane sound"},
		situation{name: "at its threshold", unit: read1(set{"tds-product": 1}), first: "D1", stages: "resin sound"}},
	{"D3", situation{name: "three times what goes in, and acid", unit: read2(set{"tds-product": 16, "ph-product": 4.8}), next: "don't use the stored water", stages: "resin act"},
		situation{name: "half of what goes in", unit: read2(set{"tds-product": 3}), first: "D2"}},
	{"D4", situation{name: "half as much salt again, then under the limit", unit: func(t testing.TB) *unit {
		return settled(t).read(june8-7, set{"tds-membrane": 9}, 15).read(june8, set{"tds-membrane": 14}, 15).read(judged, set{"tds-membrane": 14}, 15)
	}, next: "open into a bucket", stages: "membrane act"},
		situation{name: "6 of 250 on a meter of whole ppm", unit: read2(set{"tds-membrane": 6}, 15), first: "D1", stages: "membrane sound"}},
	{"D5", situation{name: "six times the salt, read twice", unit: read2(set{"tds-membrane": 30}), next: "reseat the seals first", never: "D4", stages: "membrane act"},
		situation{name: "slowly up", unit: func(t testing.TB) *unit {
			return settled(t).read(june8-7, set{"tds-membrane": 9}, 15).read(june8, set{"tds-membrane": 14}, 15).read(judged, set{"tds-membrane": 14}, 15)
		}, first: "D4"}},
	{"D6", situation{name: "45 ppm, minutes not said", unit: read1(set{"tds-membrane": 45}), next: "after 10 min of running", stages: "membrane watch"},
		situation{name: "45 ppm after 15 minutes", unit: read1(set{"tds-membrane": 45}, 15), first: "D5"}},
	{"D7", situation{name: "tap and membrane up together", unit: read2(set{"tds-tap": 400, "tds-membrane": 8}), next: "nothing to mend", stages: "membrane sound"},
		situation{name: "tap a tenth up", unit: read2(set{"tds-tap": 275, "tds-membrane": 5}), first: "D1"}},
	{"D8", situation{name: "tap and membrane down together", unit: read2(set{"tds-tap": 150, "tds-membrane": 3}), next: "nothing to mend"},
		situation{name: "tap a tenth down", unit: read2(set{"tds-tap": 225, "tds-membrane": 5}), first: "D1"}},
	{"D9", situation{name: "low supply", unit: read2(set{"pressure-line": 2.9, "pressure-membrane": 2.8, "flow-product": 5.5, "flow-waste": 26.8, "tds-membrane": 7}),
		next: "standing pressure", never: "D13 D10 D4", stages: "membrane sound"},
		situation{name: "a twentieth less", unit: read2(set{"pressure-line": 3.9, "pressure-membrane": 3.8, "flow-product": 7.6, "flow-waste": 31.2}), first: "D1"}},
	{"D10", situation{name: "clogged prefilter", unit: read2(set{"pressure-membrane": 3.1, "flow-product": 6.1, "flow-waste": 28.2}), next: "change the sediment cartridge first",
		never: "D13 D9", stages: "sediment act"},
		situation{name: "0.3 bar over the prefilters", unit: read2(set{"pressure-membrane": 3.8, "flow-product": 7.6, "flow-waste": 31.2}), first: "D1", stages: "sediment sound"}},
	{"D11", situation{name: "5 degC", unit: read2(set{"temperature-water": 5, "flow-product": 5.5, "flow-waste": 32}), next: "nothing to mend", never: "D13", stages: "membrane sound"},
		situation{name: "5 degC, and less than that makes", unit: read2(set{"temperature-water": 5, "flow-product": 4, "flow-waste": 32}), first: "D13"}},
	{"D12", situation{name: "26 degC", unit: read2(set{"temperature-water": 26, "flow-product": 11.7, "flow-waste": 32, "tds-membrane": 6}), next: "nothing to mend", never: "D15"},
		situation{name: "half as much again with no warmth", unit: read2(set{"flow-product": 11.7, "flow-waste": 32, "tds-membrane": 10}), first: "D15"}},
	{"D13", situation{name: "a third less at the same pressure", unit: read2(set{"flow-product": 5.6, "flow-waste": 33}), next: "open into a bucket", never: "D10 D34", stages: "membrane act"},
		situation{name: "a twentieth less", unit: read2(set{"flow-product": 7.5, "flow-waste": 32}), first: "D1"}},
	{"D14", situation{name: "a third less water and three times the salt", unit: func(t testing.TB) *unit {
		return settled(t).read(june8-7, set{"flow-product": 6.6, "tds-membrane": 9}, 15).read(june8, set{"flow-product": 5.8, "tds-membrane": 14}, 15).read(judged, set{"flow-product": 5.6, "tds-membrane": 15}, 15)
	}, next: "open into a bucket", never: "D13 D33", stages: "membrane act"},
		situation{name: "the same salt in less water", unit: read2(set{"flow-product": 5.6, "tds-membrane": 7, "flow-waste": 33}), first: "D33"}},
	{"D15", situation{name: "more water, more salt, chlorine behind the carbon", unit: read2(set{"flow-product": 10.5, "tds-membrane": 12, "chlorine-carbon": 0.3}), next: "test total chlorine",
		never: "D4", stages: "carbon act"},
		situation{name: "more salt only", unit: read2(set{"tds-membrane": 9}), first: "D4"}},
	{"D16", situation{name: "half as much pressure again", unit: read2(set{"pressure-line": 6.2, "pressure-membrane": 6.1, "flow-product": 12.3, "flow-waste": 39.5}), next: "under the housings' limit"},
		situation{name: "night pressure", unit: read2(set{"pressure-line": 4.6, "pressure-membrane": 4.5, "flow-product": 9, "flow-waste": 33.9}), first: "D1"}},
	{"D17", situation{name: "a third of the waste", unit: read2(set{"flow-waste": 11}), next: "restrictor", never: "D41 D18"},
		situation{name: "a tenth less", unit: read2(set{"flow-waste": 29}), first: "D1"}},
	{"D18", situation{name: "restrictor worn through", unit: read2(set{"flow-waste": 52, "pressure-line": 4, "pressure-membrane": 3.8, "flow-product": 7.6}), next: "close the flush valve", never: "D10 D13 D44"},
		situation{name: "a fifth more", unit: read2(set{"flow-waste": 38}), first: "D1"}},
	{"D19", situation{name: "nothing comes, waste runs", unit: read2(set{"flow-product": 0}), next: "product line"},
		situation{name: "nothing at all", unit: read2(set{"flow-product": 0, "flow-waste": 0, "pressure-line": 0, "pressure-membrane": 0}), first: "D21"}},
	{"D20", situation{name: "waste runs when full", unit: read1(set{"seen-waste-when-full": 1}), next: "close the product line by hand"},
		situation{name: "seen, and then gone", unit: func(t testing.TB) *unit {
			return settled(t).read(june8, set{"seen-waste-when-full": 1}).read(judged, set{"seen-waste-when-full": 0})
		}, first: "D1"}},
	{"D21", situation{name: "feed closed", unit: read1(set{"flow-product": 0, "flow-waste": 0, "pressure-line": 0, "pressure-membrane": 0}), next: "open the feed"},
		situation{name: "very little", unit: read1(set{"flow-product": 1, "flow-waste": 12, "pressure-line": 0.9, "pressure-membrane": 0.8}), first: "D9"}},
	{"D22", situation{name: "not seated", unit: read2(set{"tds-membrane": 200, "flow-product": 20, "flow-waste": 20, "tds-product": 0}), next: "reseat", stages: "membrane act"},
		situation{name: "a third of the tap", unit: read2(set{"tds-membrane": 80, "flow-product": 9, "flow-waste": 31}), first: "D5"}},
	{"D23", situation{name: "after the membrane more than at the tap", unit: read1(set{"tds-membrane": 300}, 15), next: "known standard", stages: "membrane watch, resin can't tell"},
		situation{name: "a meter's error above the tap", unit: read1(set{"tds-membrane": 251}, 15), first: "D22"}},
	{"D24", situation{name: "nothing behind the membrane", unit: read1(set{"tds-membrane": 0}), next: "known standard"},
		situation{name: "soft water", unit: read2(set{"tds-tap": 60, "tds-membrane": 1}), first: "D8"}},
	{"D25", situation{name: "1 in the reservoir, 0 at the outlet", unit: read1(set{"tds-reservoir": 1}), next: "at its outlet", stages: "resin sound"},
		situation{name: "as much as at the outlet", unit: read1(set{"tds-reservoir": 0}), first: "D1"}},
	{"D26", situation{name: "waste of 200 ppm", unit: read1(set{"tds-waste": 200}), next: "time both flows again"},
		situation{name: "waste of 300 ppm, where 311 are due", unit: read1(set{"tds-waste": 300}), first: "D1"}},
	{"D27", situation{name: "silica found", unit: read1(set{"seen-silica": 1}), next: "silica", stages: "resin watch"},
		situation{name: "silica before the resin was renewed", unit: func(t testing.TB) *unit {
			return settled(t).read(june8, set{"seen-silica": 1}).tick(june14, "renew-resin").read(judged, nil)
		}, first: "D1"}},
	{"D28", situation{name: "3 ppm and pH 5.4", unit: read2(set{"tds-product": 3, "ph-product": 5.4}), next: "change the resin", never: "D2", stages: "resin act"},
		situation{name: "0 ppm and pH 5.6", unit: read2(set{"ph-product": 5.6}), first: "D1"}},
	{"D29", situation{name: "3 ppm and pH 8.9", unit: read2(set{"tds-product": 3, "ph-product": 8.9}), next: "chloraminated", never: "D2", stages: "resin act"},
		situation{name: "3 ppm and pH 7", unit: read2(set{"tds-product": 3, "ph-product": 7}), first: "D2"}},
	{"D30", situation{name: "0.3 mg/L twice", unit: read2(set{"chlorine-carbon": 0.3}), next: "renew the carbon", stages: "carbon act"},
		situation{name: "0.05 mg/L", unit: read2(set{"chlorine-carbon": 0.05}), first: "D1", stages: "carbon sound"}},
	{"D31", situation{name: "swings seen", unit: read1(set{"seen-pressure-swings": 1}), next: "pressure switch"},
		situation{name: "sags seen", unit: read1(set{"seen-pressure-sags": 1}), first: "D32"}},
	{"D32", situation{name: "sags seen", unit: read1(set{"seen-pressure-sags": 1}), next: "open the feed fully"},
		situation{name: "swings seen", unit: read1(set{"seen-pressure-swings": 1}), first: "D31"}},
	{"D33", situation{name: "1.2 bar on the product line", unit: read2(set{"flow-product": 5.5, "tds-membrane": 7, "flow-waste": 33}), next: "open into a bucket", never: "D14 D4 D13"},
		situation{name: "as much less water with no more salt", unit: read2(set{"flow-product": 5.5, "flow-waste": 33}), first: "D13"}},
	{"D34", situation{name: "one gauge, a quarter less", unit: func(t testing.TB) *unit {
		return newUnit(t).always(set{"pressure-membrane": notRead}).weeks(begun, may25).read(june8, set{"flow-product": 6.6, "flow-waste": 29.6}).read(judged, set{"flow-product": 6, "flow-waste": 28.2})
	}, next: "change the cartridges first", never: "D13 D14"},
		situation{name: "two gauges", unit: read2(set{"flow-product": 6, "flow-waste": 32}), first: "D13"}},
	{"D35", situation{name: "7.5 bar from the first day", unit: func(t testing.TB) *unit {
		return newUnit(t).always(set{"pressure-line": 7.5, "pressure-membrane": 7.4}).weeks(begun, judged)
	}, next: "close the feed when nobody is there"},
		situation{name: "5.4 bar from the first day", unit: func(t testing.TB) *unit {
			return newUnit(t).always(set{"pressure-line": 5.4, "pressure-membrane": 5.3}).weeks(begun, judged)
		}, first: "D1"}},
	{"D36", situation{name: "new element, first hours", unit: func(t testing.TB) *unit {
		return settled(t).read(june8, nil).tick(june14, "renew-membrane").read(judged, set{"tds-membrane": 20})
	}, next: "to the drain", never: "D4 D39 D5", stages: "membrane watch"},
		situation{name: "the same a week later", unit: func(t testing.TB) *unit {
			return settled(t).tick(june8, "renew-membrane").read(judged, set{"tds-membrane": 20}, 15)
		}, first: "D39"}},
	{"D37", situation{name: "new bed, not rinsed", unit: func(t testing.TB) *unit {
		return settled(t).made(june8, 40).read(june8, set{"tds-product": 3}).tick(june14, "renew-resin").made(june14, 5).read(judged, set{"tds-product": 14})
	}, next: "to the drain", never: "D2 D3 D38", stages: "resin watch"},
		situation{name: "after 60 L", unit: func(t testing.TB) *unit {
			return settled(t).tick(june8, "renew-resin").made(june8, 60).read(june8+1, set{"tds-product": 2}).read(judged, set{"tds-product": 2})
		}, first: "D38"}},
	{"D38", situation{name: "2 and 2 from a new bed", unit: func(t testing.TB) *unit {
		return settled(t).tick(may25+1, "renew-resin").made(may25+2, 40).read(june8, set{"tds-product": 2}).made(june8+1, 40).read(judged, set{"tds-product": 2})
	}, next: "repack", never: "D2 D37", stages: "resin act"},
		situation{name: "it read 0 once", unit: func(t testing.TB) *unit {
			return settled(t).tick(may25+1, "renew-resin").made(may25+2, 40).read(june8-7, nil).made(june8-6, 400).read(june8, set{"tds-product": 2}).read(judged, set{"tds-product": 2})
		}, first: "D2"}},
	{"D39", situation{name: "88 % since the first reading", unit: func(t testing.TB) *unit {
		return newUnit(t).always(set{"tds-membrane": 30}).weeks(begun, judged)
	}, next: "reseat it", never: "D4 D5", stages: "membrane act"},
		situation{name: "95.6 % since the first reading", unit: func(t testing.TB) *unit {
			return newUnit(t).always(set{"tds-membrane": 11}).weeks(begun, judged)
		}, first: "D1"}},
	{"D40", situation{name: "booster between the gauges", unit: func(t testing.TB) *unit {
		return newUnit(t).always(set{"pressure-line": 2.5, "pressure-membrane": 5.3}).weeks(begun, may25).
			read(june8, set{"pressure-membrane": 3.6, "flow-product": 5.4, "flow-waste": 26.4}).read(judged, set{"pressure-membrane": 3.6, "flow-product": 5.4, "flow-waste": 26.4})
	}, next: "measure its voltage", never: "D9 D10 D13"},
		situation{name: "line and booster down together", unit: func(t testing.TB) *unit {
			return newUnit(t).always(set{"pressure-line": 2.9, "pressure-membrane": 5.3}).weeks(begun, may25).
				read(june8, nil).read(judged, set{"pressure-line": 1.9, "pressure-membrane": 4.3, "flow-product": 6.4, "flow-waste": 28.8})
		}, first: "D9"}},
	{"D41", situation{name: "1.2 to 1 from the first day", unit: func(t testing.TB) *unit {
		return newUnit(t).always(set{"flow-waste": 9.6}).weeks(begun, judged)
	}, next: "the restrictor that the element's label asks for", never: "D17"},
		situation{name: "2.2 to 1 from the first day", unit: func(t testing.TB) *unit {
			return newUnit(t).always(set{"flow-waste": 17.6}).weeks(begun, judged)
		}, first: "D1"}},
	{"D42", situation{name: "4 ppm more on both", unit: read2(set{"tds-membrane": 9, "tds-product": 4}), next: "rinse the cell", never: "D2 D4"},
		situation{name: "more on one than on the other", unit: read2(set{"tds-membrane": 9, "tds-product": 2}), first: "D4"}},
	{"D43", situation{name: "0 before the resin and 5 behind it, twice", unit: read2(set{"tds-membrane": 0, "tds-product": 5}), next: "swap them back", never: "D2 D3 D24"},
		situation{name: "a product above a membrane that reads", unit: read2(set{"tds-membrane": 5, "tds-product": 7}), first: "D2"}},
	{"D44", situation{name: "flush valve open", unit: read2(set{"flow-waste": 150, "pressure-line": 3.3, "pressure-membrane": 2.2, "flow-product": 4.3, "tds-membrane": 9}), next: "close the flush valve before any cartridge is blamed",
		never: "D10 D13"},
		situation{name: "clogged, and the waste with it", unit: read2(set{"pressure-membrane": 2.2, "flow-product": 4.3, "flow-waste": 23.7}), first: "D10"}},
	{"D45", situation{name: "resin renewed the day before, read a week before", unit: func(t testing.TB) *unit {
		return settled(t).read(june8, set{"tds-product": 3}).tick(june14, "renew-resin")
	}, next: "read again", never: "D2 D1", stages: "resin read again, membrane sound"},
		situation{name: "renewed and read", unit: func(t testing.TB) *unit {
			return settled(t).read(june8, set{"tds-product": 3}).tick(june14, "renew-resin").read(judged, nil)
		}, first: "D1", stages: "resin sound"}},
}
