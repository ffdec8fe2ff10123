package schedule_test

import (
	"testing"

	"brine/wrasse/model"
)

// from is a unit that was read every week from the first day with some gauges otherwise, and in June with more otherwise.
func from(always, june set, times int) func(t testing.TB) *unit {
	return func(t testing.TB) *unit {
		u := newUnit(t).always(always).weeks(begun, may25)
		if times == 2 {
			return u.read(june8, june).read(judged, june)
		}
		return u.read(june8, nil).read(judged, june)
	}
}

// before is a unit in which a part was renewed on 14 June and read last on 8 June.
func before(s set, chore model.ID) func(t testing.TB) *unit {
	return func(t testing.TB) *unit { return settled(t).read(june8-7, s).read(june8, s).tick(june14, chore) }
}

// fresh is a unit whose part was renewed on 14 June and read the day after, with litres made between.
func fresh(s set, chore model.ID, litres float64) func(t testing.TB) *unit {
	return func(t testing.TB) *unit {
		return settled(t).made(june8, 40).read(june8, nil).tick(june14, chore).made(june14, litres).read(judged, s)
	}
}

var one = set{"pressure-membrane": notRead}

// situations are those of a settled unit with a fault in June, at the readings that the fault makes: flow with the net
// driving pressure and the temperature, salt whatever the pressure, waste with the square root of the pressure.
var situations = []situation{
	// What has one clear cause.
	{name: "clogged prefilter, once", unit: read1(set{"pressure-membrane": 3.1, "flow-product": 6.1, "flow-waste": 28.2}), first: "D10", next: "read both pressures again", stages: "sediment watch"},
	{name: "clogged prefilter, twice", unit: read2(set{"pressure-membrane": 3.1, "flow-product": 6.1, "flow-waste": 28.2}), first: "D10", next: "change the sediment cartridge", stages: "sediment act, membrane sound"},
	{name: "clogged prefilter, badly", unit: read2(set{"pressure-membrane": 2.2, "flow-product": 4.3, "flow-waste": 23.7, "tds-membrane": 9}), first: "D10", never: "D13 D14 D4", stages: "sediment act"},
	{name: "gauge behind the prefilter only", unit: from(set{"pressure-line": notRead}, set{"pressure-membrane": 3.1, "flow-product": 6.1, "flow-waste": 28.2}, 2), first: "D9", next: "before the prefilters too", never: "D13"},
	{name: "chlorine through the carbon, once", unit: read1(set{"chlorine-carbon": 0.2}), first: "D30", next: "test again at once", stages: "carbon watch"},
	{name: "chlorine through the carbon, twice", unit: read2(set{"chlorine-carbon": 0.2}), first: "D30", next: "renew the carbon", stages: "carbon act"},
	{name: "chloramine through the carbon", unit: from(set{"chlorine-tap": 2.5}, set{"chlorine-carbon": 0.6}, 2), first: "D30", next: "chloramine wants more contact time", stages: "carbon act"},
	{name: "scaled", unit: read2(set{"flow-product": 6, "flow-waste": 33}), first: "D13", next: "bucket", stages: "membrane act"},
	{name: "scaled, once", unit: read1(set{"flow-product": 6, "flow-waste": 33}), first: "D13", next: "bucket", stages: "membrane watch"},
	{name: "scaled a little, twice", unit: read2(set{"flow-product": 7, "flow-waste": 32}), first: "D13", next: "on another day", stages: "membrane watch"},
	{name: "slow ageing", unit: func(t testing.TB) *unit {
		return newUnit(t).weeks(begun, june8-77).always(set{"tds-membrane": 7}).weeks(june8-70, june8-35).always(set{"tds-membrane": 9}).weeks(june8-28, judged)
	}, first: "D4", next: "bucket", never: "D5", stages: "membrane watch"},
	{name: "aged under the limit", unit: func(t testing.TB) *unit {
		return newUnit(t).weeks(begun, june8-77).always(set{"tds-membrane": 9}).weeks(june8-70, june8-35).always(set{"tds-membrane": 14}).weeks(june8-28, judged)
	}, first: "D4", next: "then renew it", never: "D5", stages: "membrane act"},
	{name: "low supply, once", unit: read1(set{"pressure-line": 2.9, "pressure-membrane": 2.8, "flow-product": 5.5, "flow-waste": 26.8}), first: "D9", never: "D13 D10"},
	{name: "low supply, twice", unit: read2(set{"pressure-line": 2.4, "pressure-membrane": 2.3, "flow-product": 4.5, "flow-waste": 24.3, "tds-membrane": 9}), first: "D9", next: "standing pressure", never: "D13 D10 D4", stages: "membrane sound"},
	{name: "low supply from the first day", unit: from(set{"pressure-line": 2.5, "pressure-membrane": 2.4, "flow-product": 4.7, "flow-waste": 24.8, "tds-membrane": 8}, nil, 1), first: "D9", next: "booster pump is usual"},
	{name: "cold", unit: read2(set{"temperature-water": 5, "flow-product": 5.5}), first: "D11", never: "D13 D9", stages: "membrane sound"},
	{name: "cold, one gauge", unit: from(one, set{"temperature-water": 5, "flow-product": 5.5}, 2), first: "D11", never: "D34 D13"},
	{name: "warm", unit: read2(set{"temperature-water": 25, "flow-product": 11.4, "tds-membrane": 6}), first: "D12", never: "D15"},
	{name: "warm, a third more salt", unit: read2(set{"temperature-water": 28, "flow-product": 12.4, "tds-membrane": 7}), first: "D12", never: "D15 D4", stages: "membrane sound"},
	{name: "warm and high pressure", unit: read2(set{"temperature-water": 25, "pressure-line": 6, "pressure-membrane": 5.9, "flow-product": 16.9, "flow-waste": 38.9}), first: "D16", never: "D15", stages: "membrane sound"},
	{name: "restrictor clogged", unit: read2(set{"flow-waste": 11}), first: "D17", next: "restrictor", never: "D18"},
	{name: "restrictor clogging", unit: read2(set{"flow-waste": 22}), first: "D17", next: "time both flows again"},
	{name: "restrictor clogged, and more salt", unit: read2(set{"flow-waste": 8, "tds-membrane": 8}), first: "D17", never: "D4"},
	{name: "restrictor worn", unit: read2(set{"flow-waste": 52, "pressure-membrane": 3.8, "flow-product": 7.6}), first: "D18", next: "flush valve", never: "D10 D13"},
	{name: "shut-off leaking", unit: read1(set{"seen-waste-when-full": 1}), first: "D20", next: "close the product line by hand"},
	{name: "pressure swings", unit: read1(set{"seen-pressure-swings": 1}), first: "D31", next: "pressure switch"},
	{name: "pressure sags", unit: read1(set{"seen-pressure-sags": 1}), first: "D32", next: "another time of day"},
	{name: "creep, minutes said", unit: read1(set{"tds-membrane": 45}, 2), first: "D6", next: "after 10 min of running", never: "D5"},
	{name: "resin spent, once", unit: read1(set{"tds-product": 3}), first: "D2", next: "once more", stages: "resin watch"},
	{name: "resin spent, twice", unit: read2(set{"tds-product": 3}), first: "D2", next: "change or rotate the resin", stages: "resin act, membrane sound"},
	{name: "acid product", unit: read2(set{"tds-product": 3, "ph-product": 5.2}), first: "D28", next: "change the resin", stages: "resin act"},
	{name: "alkaline product", unit: read2(set{"tds-product": 4, "ph-product": 9}), first: "D29", next: "chloraminated", stages: "resin act"},
	{name: "resin dumping", unit: read2(set{"tds-product": 16}), first: "D3", next: "don't use the stored water", stages: "resin act"},
	{name: "oxidised", unit: read2(set{"flow-product": 10.5, "tds-membrane": 12, "chlorine-carbon": 0.4}), first: "D15", never: "D4 D5", stages: "carbon act"},
	{name: "being oxidised", unit: read2(set{"tds-membrane": 10, "chlorine-carbon": 0.4}), first: "D15", next: "renew the carbon now", never: "D4", stages: "carbon act"},
	{name: "tap up for a season", unit: read2(set{"tds-tap": 400, "tds-membrane": 8}), first: "D7", stages: "membrane sound"},
	{name: "tap down for a season", unit: read2(set{"tds-tap": 150, "tds-membrane": 3}), first: "D8", stages: "membrane sound"},
	{name: "waste off its balance", unit: read1(set{"tds-waste": 200}), first: "D26", next: "time both flows again"},
	{name: "waste in its balance", unit: read1(set{"tds-waste": 311}), first: "D1"},
	{name: "not seated", unit: read2(set{"tds-membrane": 210, "flow-product": 22, "flow-waste": 18}), first: "D22", next: "reseat", never: "D5 D15", stages: "membrane act"},
	{name: "product line shut", unit: read2(set{"flow-product": 0}), first: "D19", next: "product line"},
	{name: "feed closed", unit: read2(set{"flow-product": 0, "flow-waste": 0, "pressure-line": 0, "pressure-membrane": 0}), first: "D21", next: "open the feed"},
	{name: "healthy", unit: read2(nil), first: "D1", stages: "sediment sound, carbon sound, membrane sound, resin sound"},
	{name: "healthy, a little of everything", unit: read2(set{"tds-tap": 262, "tds-membrane": 5, "pressure-line": 4, "pressure-membrane": 3.9, "flow-product": 7.8, "flow-waste": 31.5}), first: "D1"},
	{name: "cold and clogged", unit: read2(set{"temperature-water": 5, "pressure-membrane": 3.1, "flow-product": 4.2, "flow-waste": 28.2}), first: "D10", never: "D13", stages: "sediment act"},
	{name: "coarse meter, one step", unit: from(set{"tds-membrane": 3}, set{"tds-membrane": 4}, 1), first: "D1", next: "read again", never: "D4 D5"},
	{name: "silica", unit: read1(set{"seen-silica": 1}), first: "D27", stages: "resin watch"},
	{name: "brown film", unit: read1(set{"seen-diatoms": 1}), first: "D27", next: "test the product for silica"},

	// A part that was changed after it was read.
	{name: "sediment renewed since", unit: before(set{"pressure-membrane": 3.1, "flow-product": 6.1, "flow-waste": 28.2}, "renew-sediment"), first: "D45", never: "D10", stages: "sediment read again"},
	{name: "sediment renewed since, one gauge", unit: func(t testing.TB) *unit {
		s := set{"flow-product": 6, "flow-waste": 28.2}
		return newUnit(t).always(one).weeks(begun, may25).read(june8-7, s).read(june8, s).tick(june14, "renew-sediment")
	}, first: "D45", never: "D34 D13", stages: "sediment read again"},
	{name: "resin renewed since", unit: before(set{"tds-product": 3}, "renew-resin"), first: "D45", never: "D2 D1", stages: "resin read again, membrane sound"},
	{name: "carbon renewed since", unit: before(set{"chlorine-carbon": 0.3}, "renew-carbon"), first: "D45", never: "D30", stages: "carbon read again"},
	{name: "membrane renewed since", unit: before(set{"tds-membrane": 30}, "renew-membrane"), first: "D45", never: "D5 D4 D39", stages: "membrane read again"},
	{name: "restrictor renewed since", unit: before(set{"flow-waste": 11}, "renew-restrictor"), first: "D45", never: "D17 D41"},

	// First weeks that are no yardstick, and limits whatever was usual.
	{name: "88 % since the first reading", unit: from(set{"tds-membrane": 30}, nil, 2), first: "D39", next: "label", never: "D1 D4", stages: "membrane act"},
	{name: "94 % since the first reading", unit: from(set{"tds-membrane": 15}, nil, 2), first: "D39", stages: "membrane act"},
	{name: "line 7.5 bar since the first reading", unit: from(set{"pressure-line": 7.5, "pressure-membrane": 7.4, "flow-product": 15, "flow-waste": 43}, nil, 2), first: "D35", next: "act now", never: "D1"},
	{name: "line 6.8 rising to 7.2", unit: from(set{"pressure-line": 6.8, "pressure-membrane": 6.7, "flow-product": 13.5, "flow-waste": 41}, set{"pressure-line": 7.2, "pressure-membrane": 7.1, "flow-product": 14.4, "flow-waste": 42.2}, 2), first: "D35", never: "D1"},
	{name: "line 5.8 since the first reading", unit: from(set{"pressure-line": 5.8, "pressure-membrane": 5.7, "flow-product": 11.5, "flow-waste": 38}, nil, 2), first: "D35", next: "regulator", never: "D1 D16"},
	{name: "line 2.5 to 2.9", unit: from(set{"pressure-line": 2.5, "pressure-membrane": 2.4, "flow-product": 4.7, "flow-waste": 24.8, "tds-membrane": 8}, set{"pressure-line": 2.9, "pressure-membrane": 2.8, "flow-product": 5.5, "flow-waste": 26.8, "tds-membrane": 7}, 2), first: "D1", never: "D16 D35"},
	{name: "line 4.1 to 4.6 at night", unit: read2(set{"pressure-line": 4.6, "pressure-membrane": 4.5, "flow-product": 9, "flow-waste": 33.9}), first: "D1", never: "D16 D35"},
	{name: "booster fitted, 4.8", unit: func(t testing.TB) *unit {
		u := from(set{"pressure-line": 2.6, "pressure-membrane": 2.5, "flow-product": 4.9, "flow-waste": 25.3, "tds-membrane": 8}, nil, 1)(t)
		u.add(judged, model.Component{ID: "booster", Name: "Booster pump", Place: "water-corner", Reach: 2, InService: judged})
		return u.read(judged, set{"pressure-line": 4.8, "pressure-membrane": 4.7, "flow-product": 9.4, "flow-waste": 34.7, "tds-membrane": 5})
	}, first: "D1", never: "D16 D35"},
	{name: "line 4.1 to 6.2", unit: read2(set{"pressure-line": 6.2, "pressure-membrane": 6.1, "flow-product": 12.3, "flow-waste": 39.5}), first: "D16", next: "before it bursts one"},

	// Cold that accuses nobody, and one gauge.
	{name: "winter, 4 degC, same ppm", unit: from(set{"tds-membrane": 9}, set{"temperature-water": 4, "flow-product": 5.3, "tds-membrane": 9}, 2), first: "D11", never: "D4 D39", stages: "membrane sound"},
	{name: "always 10 degC, 96.2 %", unit: from(set{"temperature-water": 10, "flow-product": 6.7, "tds-membrane": 9.5}, nil, 2), first: "D1", stages: "membrane sound"},
	{name: "clogged prefilter, only the gauge before it", unit: from(one, set{"flow-product": 6.2, "flow-waste": 28.2}, 2), first: "D34", next: "change the cartridges first", never: "D13 D14"},
	{name: "clogged prefilter, only the gauge before it, 7 ppm", unit: from(one, set{"flow-product": 6, "flow-waste": 28, "tds-membrane": 7}, 2), first: "D34", next: "cheap", never: "D13 D14 D4"},
	{name: "clogged prefilter, only the gauge before it, once", unit: from(one, set{"flow-product": 6.2, "flow-waste": 28.2}, 1), first: "D34", never: "D13"},

	// Back pressure, new parts, jumps.
	{name: "back pressure on the product line", unit: read2(set{"flow-product": 5.5, "tds-membrane": 7, "flow-waste": 33}), first: "D33", next: "bucket", never: "D14 D4"},
	{name: "back pressure, once", unit: read1(set{"flow-product": 5.5, "tds-membrane": 7, "flow-waste": 33}), first: "D33", next: "bucket", never: "D14 D4"},
	{name: "new element, first hours", unit: fresh(set{"tds-membrane": 20}, "renew-membrane", 0), first: "D36", next: "after 2 h of running", never: "D4 D39", stages: "membrane watch"},
	{name: "new resin, not rinsed", unit: fresh(set{"tds-product": 14}, "renew-resin", 5), first: "D37", next: "to the drain", never: "D3 D2", stages: "resin watch"},
	{name: "new resin, channelled", unit: func(t testing.TB) *unit {
		return settled(t).tick(may25+1, "renew-resin").made(may25+2, 30).read(june8, set{"tds-product": 2}).made(june8+1, 30).read(judged, set{"tds-product": 2})
	}, first: "D38", next: "before it is thrown away", never: "D2 D3", stages: "resin act"},
	{name: "sixfold salt, read twice", unit: read2(set{"tds-membrane": 30}), first: "D5", next: "reseat", never: "D4", stages: "membrane act"},
	{name: "sixfold salt, minutes said", unit: read1(set{"tds-membrane": 30}, 15), first: "D5", next: "read again", stages: "membrane watch"},
	{name: "sixfold salt, minutes not said", unit: read1(set{"tds-membrane": 45}), first: "D6", next: "log the minutes"},

	// Order, probes, offsets, boosters.
	{name: "flush valve left open", unit: read2(set{"flow-waste": 150, "pressure-line": 3.4, "pressure-membrane": 2.3, "flow-product": 4.5, "tds-membrane": 9}), first: "D44", never: "D10 D13"},
	{name: "flush valve left open, good supply", unit: read2(set{"flow-waste": 90}), first: "D18", never: "D10 D13"},
	{name: "probes swapped, once", unit: read1(set{"tds-membrane": 0, "tds-product": 5}), first: "D43", never: "D2 D3"},
	{name: "probes swapped, twice", unit: read2(set{"tds-membrane": 0, "tds-product": 5}), first: "D43", next: "swap", never: "D2 D3"},
	{name: "meter 4 ppm high on both", unit: read2(set{"tds-membrane": 9, "tds-product": 4}), first: "D42", never: "D2 D4"},
	{name: "booster between the gauges failing", unit: from(set{"pressure-line": 3, "pressure-membrane": 5.6}, set{"pressure-membrane": 3.8, "flow-product": 5.4, "flow-waste": 26.4}, 2), first: "D40", next: "strainer", never: "D10 D9"},

	// Thresholds that round and water share.
	{name: "chlorine 0.08 twice", unit: read2(set{"chlorine-carbon": 0.08}), first: "D30", stages: "carbon act"},
	{name: "waste ratio 1.2 on hard water", unit: from(set{"tds-tap": 380, "tds-membrane": 8, "flow-waste": 9.6}, nil, 2), first: "D41", next: "restrictor", never: "D1"},
	{name: "waste ratio 1.0 since the first reading", unit: from(set{"flow-waste": 8}, nil, 2), first: "D41", never: "D1"},

	// What the meter can't carry.
	{name: "1 and 1 after 0", unit: read2(set{"tds-product": 1}), first: "D2", next: "read again", never: "D1", stages: "resin watch"},
	{name: "95.2 % with no history", unit: func(t testing.TB) *unit { return newUnit(t).read(judged, set{"tds-membrane": 12}) }, first: "D1", stages: "membrane watch"},
	{name: "reservoir 1, outlet 0", unit: read1(set{"tds-reservoir": 1}), first: "D25", next: "at its outlet", stages: "resin sound"},
	{name: "reservoir 2, outlet 1", unit: read1(set{"tds-reservoir": 2, "tds-product": 1}), first: "D25", next: "read it again"},
	{name: "reservoir 5, outlet 0", unit: read1(set{"tds-reservoir": 5}), first: "D25", next: "clean the reservoir"},
	{name: "carbon tested, the tap never", unit: from(set{"chlorine-tap": notRead}, nil, 2), first: "D1", stages: "carbon can't tell"},
	{name: "restrictor of another ratio, renewed", unit: func(t testing.TB) *unit {
		return settled(t).tick(june8, "renew-restrictor").read(june8+1, set{"flow-waste": 23}).read(judged, set{"flow-waste": 23})
	}, first: "D1", never: "D17"},
	{name: "from today is normal", unit: func(t testing.TB) *unit {
		u := settled(t).read(june8, set{"flow-waste": 23, "pressure-line": 3.6, "pressure-membrane": 3.5, "flow-product": 7})
		u.add(june8+1, model.Normal{Component: "restrictor"})
		return u.read(june14, set{"flow-waste": 23, "pressure-line": 3.6, "pressure-membrane": 3.5, "flow-product": 7}).read(judged, set{"flow-waste": 23, "pressure-line": 3.6, "pressure-membrane": 3.5, "flow-product": 7})
	}, first: "D1", never: "D17 D9"},
}

func TestSituationsOfAYear(t *testing.T) {
	if len(situations) < 84 {
		t.Errorf("%d situations", len(situations))
	}
	for _, s := range situations {
		t.Run(s.name, s.sees)
	}
}
