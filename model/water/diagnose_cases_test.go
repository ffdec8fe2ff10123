package water

type diagnosisCase struct {
	name   string
	reason string
	change func(r *Readings)
	first  string   // id of the first cause; "" for none
	sure   Sureness // of the first cause; 0 when it doesn't matter
	also   []string // ids that stand behind it
	never  []string // ids that must not appear
	say    string   // part of what can't be told; "" when nothing must be said
}

// The cases follow the fault-isolation table (common practice and inference, no single published chart), each with the
// reason its first cause is the one to expect.
var diagnosisCases = []diagnosisCase{
	{name: "D1 healthy", reason: "everything is as in the first weeks",
		change: func(*Readings) {}, first: "D1", sure: Likely},
	{name: "D2 resin spent, read twice", reason: "product over its limit twice while the membrane passes what it did",
		change: func(r *Readings) { r.ProductTDS = was(3, 0, 2) }, first: "D2", sure: Likely, never: []string{"D4", "D5", "D23"}},
	{name: "D2 first sight, membrane unread", reason: "one reading over the limit is only possible",
		change: func(r *Readings) { r.ProductTDS, r.MembraneTDS = was(2, 0, 0), nil }, first: "D2", sure: Possible, say: "read after the membrane"},
	{name: "D3 resin dumping", reason: "twice far above what goes in: a tiring bed gives back what it held",
		change: func(r *Readings) { r.ProductTDS = was(16, 0, 9) }, first: "D3", sure: Likely, also: []string{"D23"}, never: []string{"D2"}},
	{name: "D3 dumping, acid", reason: "an acid product says that the anion half is gone, so the meter is not to blame",
		change: func(r *Readings) { r.ProductTDS, r.ProductPH = was(16, 0, 4), only(4.8) }, first: "D3", sure: Likely, never: []string{"D23"}},
	{name: "D4 membrane ageing", reason: "salt passage half as much again, twice, flow as it was",
		change: func(r *Readings) { r.MembraneTDS = was(9, 5, 8.5) }, first: "D4", sure: Likely, never: []string{"D5", "D13"}},
	{name: "D4 with the resin going too", reason: "both readings hold twice; the membrane is the root and stands first",
		change: func(r *Readings) { r.MembraneTDS, r.ProductTDS = was(12, 5, 11), was(3, 0, 2) }, first: "D4", sure: Likely, also: []string{"D2"}},
	{name: "D5 seal leaking", reason: "salt passage fivefold from one reading to the next, and more water comes through",
		change: func(r *Readings) { r.MembraneTDS, r.ProductFlow = was(24, 5, 5), was(9.6, 8, 8) }, first: "D5", sure: Likely, never: []string{"D4", "D15"}},
	{name: "D5 sudden, flow unread", reason: "a sudden jump without a flow is possible, not likely",
		change: func(r *Readings) { r.MembraneTDS, r.ProductFlow, r.WasteFlow = was(20, 5, 5).after(15), nil, nil }, first: "D5", sure: Possible, never: []string{"D6"}},
	{name: "D5 sudden, read twice", reason: "nothing ages to four times the salt from one reading to the next, confirmed or not",
		change: func(r *Readings) { r.MembraneTDS, r.Parts.JumpedFrom = was(20, 5, 20), val(0.02) }, first: "D5", sure: Likely, never: []string{"D4", "D6"}},
	{name: "D5 in a book without first weeks", reason: "three times the salt of the time before",
		change: func(r *Readings) {
			r.TapTDS, r.MembraneTDS = &Reading{Value: 250, Previous: val(250)}, (&Reading{Value: 30, Previous: val(6)}).after(15)
		}, first: "D5", sure: Possible, never: []string{"D39"}},
	{name: "D6 jumped, minutes not said", reason: "what was read right after the start looks the same",
		change: func(r *Readings) { r.MembraneTDS = was(45, 5, 5) }, first: "D6", sure: Possible, also: []string{"D5"}},
	{name: "D6 creep", reason: "read after 2 minutes: what crept through while it stood says nothing of the membrane",
		change: func(r *Readings) { r.MembraneTDS = was(40, 5, 5).after(2) }, first: "D6", sure: Likely, never: []string{"D4", "D5", "D22"}, say: "after 10 min of running"},
	{name: "D6 still settling", reason: "between 5 and 10 minutes a raised reading is doubtful, and so is any verdict on it",
		change: func(r *Readings) { r.MembraneTDS = was(9, 5, 5).after(7) }, first: "D6", sure: Hint, also: []string{"D4"}},
	{name: "D6 creep through the resin", reason: "a product read after 1 minute is no proof against the resin",
		change: func(r *Readings) { r.ProductTDS = was(4, 0, 0).after(1) }, first: "D6", sure: Likely, never: []string{"D2"}},
	{name: "D7 feed up", reason: "tap and membrane rise together, salt passage as it was",
		change: func(r *Readings) { r.TapTDS, r.MembraneTDS = was(400, 250), was(8, 5) }, first: "D7", sure: Likely, never: []string{"D4"}},
	{name: "D8 feed down", reason: "a soft season: both fall together",
		change: func(r *Readings) { r.TapTDS, r.MembraneTDS = was(150, 250), was(3, 5) }, first: "D8", sure: Likely},
	{name: "D9 supply pressure low", reason: "line and membrane fall together; cleared of it the flow is as it was",
		change: func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow = was(2.5, 3.6), was(2.4, 3.5), was(5.4, 8)
		}, first: "D9", sure: Likely, never: []string{"D13", "D10"}},
	{name: "D9 low pressure taken for a bad membrane", reason: "at two thirds of the pressure half as much salt again is normal",
		change: func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow, r.MembraneTDS = was(2.5, 3.6), was(2.4, 3.5), was(5.4, 8), was(7, 5)
		}, first: "D9", sure: Likely, never: []string{"D4", "D5", "D14"}},
	{name: "D9 one gauge only", reason: "without the line's gauge supply and prefilter look the same",
		change: func(r *Readings) { r.LinePressure, r.MembranePressure = nil, was(2.5, 3.5) }, first: "D9", never: []string{"D10"}},
	{name: "D9 under the floor, no first weeks", reason: "2.3 bar is under what any membrane wants, known weeks or not",
		change: func(r *Readings) {
			*r = Readings{LinePressure: only(2.3), TapTDS: only(250), MembraneTDS: only(6), MeterPPM: 1}
		},
		first: "D9", sure: Possible, say: "about the resin"},
	{name: "D10 prefilter clogged", reason: "the line is as it was, the membrane gets 0.9 bar less",
		change: func(r *Readings) { r.MembranePressure, r.ProductFlow = was(2.6, 3.5), was(5.9, 8) }, first: "D10", sure: Likely, never: []string{"D13", "D9"}},
	{name: "D10 without first weeks", reason: "0.8 bar over the prefilters is over half a bar whatever it was",
		change: func(r *Readings) { r.LinePressure, r.MembranePressure = only(3.8), only(3.0) }, first: "D10", sure: Possible},
	{name: "D11 cold water", reason: "at 8 degC the membrane gives two thirds; normalised it is as it was",
		change: func(r *Readings) { r.WaterTemperature, r.ProductFlow = was(8, 18), was(5.5, 8) }, first: "D11", sure: Likely, never: []string{"D13"}},
	{name: "D11 cold, pressure unread", reason: "the cold alone accounts for the loss",
		change: func(r *Readings) {
			r.WaterTemperature, r.ProductFlow, r.LinePressure, r.MembranePressure = was(8, 18), was(5.5, 8), nil, nil
		}, first: "D11", sure: Likely, say: "read the pressure at the membrane"},
	{name: "D11 cold but not that cold, pressure unread", reason: "3 degrees can't take half the flow, so it is a question and no verdict",
		change: func(r *Readings) {
			r.WaterTemperature, r.ProductFlow, r.LinePressure, r.MembranePressure = was(15, 18), was(4, 8), nil, nil
		}, never: []string{"D1", "D11", "D13"}, say: "cold or low pressure from a failing membrane"},
	{name: "D12 warm water", reason: "a third more after the membrane over 10 degrees is normal",
		change: func(r *Readings) {
			r.WaterTemperature, r.MembraneTDS, r.ProductFlow = was(28, 18), was(6.7, 5), was(11, 8)
		},
		first: "D12", sure: Possible, never: []string{"D4", "D15"}},
	{name: "D12 warm water, flow", reason: "10 degrees make a third more flow; normalised it is as it was",
		change: func(r *Readings) { r.WaterTemperature, r.ProductFlow = was(28, 18), was(11, 8) }, first: "D12", sure: Likely, never: []string{"D15"}},
	{name: "cold water, same salt", reason: "what cold takes off the salt passage differs between sources, so it accuses no membrane",
		change: func(r *Readings) { r.WaterTemperature, r.ProductFlow, r.WasteFlow = was(6, 18), nil, nil }, first: "D1", never: []string{"D4"}},
	{name: "D13 fouled", reason: "same cold, same pressure, a quarter less water twice, and no more salt",
		change: func(r *Readings) { r.ProductFlow, r.WasteFlow = was(6, 8, 6.2), was(32, 32, 32) }, first: "D13", sure: Likely, never: []string{"D11", "D9", "D18"}},
	{name: "D13 one value near the line", reason: "a normalised flow is good to 6 %, so 12 % less once is a hint unless another sign speaks",
		change: func(r *Readings) { r.NormalisedFlow, r.ProductFlow, r.WasteFlow = was(88, 100, 100), nil, nil }, first: "D13", sure: Hint},
	{name: "D14 scaled and leaking", reason: "less water and more salt, both past their lines twice",
		change: func(r *Readings) { r.ProductFlow, r.MembraneTDS = was(5.6, 8, 5.8), was(9, 5, 8.5) }, first: "D14", sure: Likely, never: []string{"D4", "D13"}},
	{name: "D15 oxidised", reason: "more water and more salt, and chlorine after the carbon",
		change: func(r *Readings) {
			r.ProductFlow, r.MembraneTDS, r.ChlorineCarbon = was(10, 8, 9.8), was(9, 5, 8.5), only(0.3)
		}, first: "D15", sure: Likely, also: []string{"D30"}, never: []string{"D4", "D5"}},
	{name: "D15 being oxidised", reason: "more salt twice, chlorine behind the carbon, flow unread: the carbon is the root",
		change: func(r *Readings) {
			r.MembraneTDS, r.ChlorineCarbon, r.ProductFlow, r.WasteFlow = was(9, 5, 8.5), was(0.3, 0, 0.2), nil, nil
		}, first: "D15", sure: Likely, also: []string{"D30"}, never: []string{"D4"}},
	{name: "D16 pressure high", reason: "half as much pressure again and the flow with it",
		change: func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow = was(5.8, 3.6), was(5.7, 3.5), was(13.3, 8)
			r.WasteFlow = was(40.8, 32)
		}, first: "D16", sure: Likely, also: []string{"D35"}, never: []string{"D18"}},
	{name: "D16 not on the way up from a weak supply", reason: "2.9 bar bursts nothing, whatever it was before",
		change: func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow, r.WasteFlow = was(2.9, 2.5), was(2.8, 2.4), was(9.4, 8), was(34.6, 32)
		}, first: "D1", never: []string{"D16", "D35"}},
	{name: "D16 booster set high", reason: "the line is as it was, the booster brings 6 bar",
		change: func(r *Readings) {
			r.MembranePressure, r.ProductFlow, r.WasteFlow = was(6, 4.5), was(10.7, 8), was(37, 32)
		}, first: "D16", sure: Likely, never: []string{"D35"}},
	{name: "D35 always high", reason: "6 bar every day is still 6 bar",
		change: func(r *Readings) { r.LinePressure, r.MembranePressure = was(6, 6), was(5.9, 5.9) }, first: "D35", never: []string{"D1", "D16"}},
	{name: "D35 at what housings bear", reason: "act, whatever was usual",
		change: func(r *Readings) { r.LinePressure, r.MembranePressure = was(7.3, 7.3), was(7.2, 7.2) }, first: "D35", sure: Likely, never: []string{"D1"}},
	{name: "D17 restrictor clogged", reason: "the waste itself fell to a third; product as it was",
		change: func(r *Readings) { r.WasteFlow = was(11, 32) }, first: "D17", never: []string{"D13", "D18"}},
	{name: "D17 restrictor clogged and more salt", reason: "recovery up brings more salt through, so the membrane is not blamed",
		change: func(r *Readings) { r.WasteFlow, r.MembraneTDS = was(8, 32), was(8, 5, 7) }, first: "D17", sure: Likely, never: []string{"D4"}},
	{name: "D41 no first weeks", reason: "less waste than product is outside what small elements are made for",
		change: func(r *Readings) { r.ProductFlow, r.WasteFlow = only(8), only(6) }, first: "D41", sure: Possible},
	{name: "D41 on hard water", reason: "at 1.5 to 1 a hard tap scales a small element",
		change: func(r *Readings) {
			r.TapTDS, r.MembraneTDS, r.ProductFlow, r.WasteFlow = was(420, 420), was(8, 8), was(8, 8, 8), was(12, 12, 12)
		}, first: "D41", sure: Likely},
	{name: "D17 restrictor clogging", reason: "a third less waste at the same pressure",
		change: func(r *Readings) { r.WasteFlow = was(21, 32) }, first: "D17", never: []string{"D18"}},
	{name: "D18 no first weeks", reason: "15 to 1 is far more waste than small elements want",
		change: func(r *Readings) { r.ProductFlow, r.WasteFlow = only(4), only(60) }, first: "D18", never: []string{"D13"}},
	{name: "D18 restrictor open", reason: "twice the waste and the pressure gives way",
		change: func(r *Readings) {
			r.WasteFlow, r.LinePressure, r.MembranePressure = was(66, 32), was(3.1, 3.6), was(3.0, 3.5)
		},
		first: "D18", sure: Likely, never: []string{"D9"}},
	{name: "D18 flush valve left open", reason: "twice the waste at the same pressure",
		change: func(r *Readings) { r.WasteFlow = was(66, 32) }, first: "D18"},
	{name: "D19 product line shut", reason: "nothing comes and waste runs",
		change: func(r *Readings) { r.ProductFlow = was(0, 8) }, first: "D19"},
	{name: "D19 no product, waste unseen", reason: "without the waste it may be the feed or the line",
		change: func(r *Readings) { r.ProductFlow, r.WasteFlow = was(0, 8), nil }, first: "D19", sure: Possible},
	{name: "D20 shut-off leaking", reason: "waste runs with the reservoir full",
		change: func(r *Readings) { r.Seen.WasteRunsWhenFull = true }, first: "D20"},
	{name: "D21 feed closed", reason: "no pressure, no water",
		change: func(r *Readings) {
			*r = Readings{LinePressure: was(0, 3.6), ProductFlow: was(0, 8), WasteFlow: was(0, 32)}
		}, first: "D21", sure: Likely, never: []string{"D9", "D19"}},
	{name: "D22 not seated", reason: "nearly the tap's water comes through, and plenty of it",
		change: func(r *Readings) {
			r.MembraneTDS, r.ProductFlow, r.WasteFlow = was(220, 5, 200), was(20, 8), was(20, 32)
		},
		first: "D22", sure: Likely, never: []string{"D4", "D5"}},
	{name: "D23 membrane above tap", reason: "no membrane adds salt: the meter or the lines",
		change: func(r *Readings) { r.MembraneTDS = was(300, 5, 5) }, first: "D23", sure: Likely, never: []string{"D4", "D5", "D22"}, say: "check the meter first"},
	{name: "D23 all three reversed", reason: "product above membrane above tap: read in the reverse order",
		change: func(r *Readings) { r.TapTDS, r.MembraneTDS, r.ProductTDS = was(2, 250), was(6, 5), was(250, 0) }, first: "D23", sure: Likely, never: []string{"D2", "D8"}},
	{name: "D23 product a little above membrane", reason: "a resin passes at most what comes in, save when it dumps; a small excess is first the meter",
		change: func(r *Readings) { r.ProductTDS = was(7.5, 0) }, first: "D23", sure: Possible},
	{name: "D3 product leaps over the membrane", reason: "the meter may be to blame, but until it was checked the stored water is not to be used",
		change: func(r *Readings) { r.ProductTDS = was(15, 0, 0) }, first: "D3", sure: Possible, also: []string{"D23"}},
	{name: "D23 tap jumps", reason: "a supply does not change tenfold from one reading to the next",
		change: func(r *Readings) { r.TapTDS = was(25, 250, 250) }, first: "D23", never: []string{"D5", "D4"}},
	{name: "D24 membrane reads nothing", reason: "a membrane that passed 5 ppm does not pass none",
		change: func(r *Readings) { r.MembraneTDS = was(0, 5, 5) }, first: "D24", sure: Possible, never: []string{"D1"}},
	{name: "D24 tap reads nothing", reason: "tap water always carries something",
		change: func(r *Readings) { r.TapTDS = was(0, 250, 250) }, first: "D24", never: []string{"D8"}},
	{name: "D25 air in the reservoir", reason: "1 ppm in the store with 0 at the outlet is carbon dioxide from the air",
		change: func(r *Readings) { r.ReservoirTDS = only(1) }, first: "D25", never: []string{"D2"}},
	{name: "D25 dirty reservoir", reason: "air alone does not make 5 ppm",
		change: func(r *Readings) { r.ReservoirTDS = only(5) }, first: "D25"},
	{name: "D26 waste off its balance", reason: "4 to 1 makes 311 of 250 ppm, and 200 can't be",
		change: func(r *Readings) { r.WasteTDS = only(200) }, first: "D26"},
	{name: "D27 silica", reason: "a film with 0 ppm: silica does not conduct",
		change: func(r *Readings) { r.Seen.DiatomFilm = true }, first: "D27"},
	{name: "D28 anion half spent", reason: "product up and acid: carbon dioxide has used up the anion beads",
		change: func(r *Readings) { r.ProductTDS, r.ProductPH = was(3, 0, 2), only(5.4) }, first: "D28", sure: Likely, never: []string{"D2"}},
	{name: "D29 cation half spent", reason: "product up and alkaline",
		change: func(r *Readings) { r.ProductTDS, r.ProductPH = was(3, 0, 2), only(8.9) }, first: "D29", sure: Likely, never: []string{"D2"}},
	{name: "acid product, nothing in it", reason: "pure water in air is near pH 5.6; without TDS it is no fault",
		change: func(r *Readings) { r.ProductPH = only(5.6) }, first: "D1", never: []string{"D28"}},
	{name: "D30 chlorine through the carbon", reason: "0.2 mg/L behind it reaches the membrane",
		change: func(r *Readings) { r.ChlorineCarbon = only(0.2) }, first: "D30", sure: Possible, never: []string{"D15"}},
	{name: "D31 pressure swings", reason: "a booster that switches",
		change: func(r *Readings) { r.Seen.PressureSwings = true }, first: "D31"},
	{name: "D32 pressure sags", reason: "a throttled feed or the house drawing water",
		change: func(r *Readings) { r.Seen.PressureSagsOverDay = true }, first: "D32"},

	// What one reading of a whole-ppm meter can't carry.
	{name: "whole ppm, one step", reason: "3 after 2 may be no change at all",
		change: func(r *Readings) { r.MeterPPM, r.MembraneTDS = 1, was(3, 2, 2) }, first: "D1", sure: Hint, never: []string{"D4", "D5"}},
	{name: "whole ppm, doubled once", reason: "10 after 5 on a whole-ppm meter is a hint to read again, no alarm",
		change: func(r *Readings) { r.MeterPPM, r.MembraneTDS = 1, was(10, 5, 5).after(15) }, first: "D5", sure: Hint},
	{name: "whole ppm, doubled twice", reason: "two readings carry what one can't",
		change: func(r *Readings) { r.MeterPPM, r.MembraneTDS = 1, was(10, 5, 10) }, first: "D4", sure: Likely},
	{name: "whole ppm, fivefold", reason: "from 5 to 25 no rounding makes it",
		change: func(r *Readings) { r.MeterPPM, r.MembraneTDS = 1, was(25, 5, 5).after(15) }, first: "D5", sure: Possible},

	// Sparse and old.
	{name: "nothing at all", reason: "no readings, no verdict",
		change: func(r *Readings) { *r = Readings{} }, say: "read the tap and after the membrane"},
	{name: "all old", reason: "readings of two months ago say nothing of today",
		change: func(r *Readings) {
			*r = Readings{TapTDS: was(250, 250).old(61), MembraneTDS: was(40, 5).old(61), ProductTDS: was(9, 0).old(61)}
		}, say: "too old to judge: tap (61 d), after membrane (61 d), after resin (61 d)"},
	{name: "membrane only", reason: "without the tap a change of the supply looks the same",
		change: func(r *Readings) { *r = Readings{MembraneTDS: was(12, 5, 11)} }, say: "read the tap"},
	{name: "tap and membrane weeks apart", reason: "the supply changes in three weeks, so they can't be weighed together",
		change: func(r *Readings) {
			*r = Readings{TapTDS: was(250, 250).old(25), MembraneTDS: was(12, 5, 11), ProductTDS: only(0)}
		}, say: "25 d apart"},
	{name: "product only, fine", reason: "the resin is fine, of the membrane nothing is known",
		change: func(r *Readings) { *r = Readings{ProductTDS: only(0)} }, say: "about the membrane"},
	{name: "flow halved, nothing else", reason: "cold, pressure and membrane all halve a flow",
		change: func(r *Readings) { *r = Readings{ProductFlow: was(4, 8), ProductTDS: only(0)} }, say: "read the water temperature, read the pressure at the membrane"},
	{name: "D39 new book, poor rejection", reason: "12 % passes: under any floor, but read once",
		change: func(r *Readings) { *r = Readings{TapTDS: only(250), MembraneTDS: only(30), ProductTDS: only(0)} }, first: "D39", sure: Possible},
	{name: "D39 poor since it was first read", reason: "first weeks of 88 % are no yardstick for 88 %",
		change: func(r *Readings) { r.MembraneTDS = was(30, 30, 30) }, first: "D39", sure: Likely, never: []string{"D1", "D4"}},
	{name: "D4 under the floor by little, no first weeks", reason: "it was above the floor the time before",
		change: func(r *Readings) {
			*r = Readings{TapTDS: only(250), MembraneTDS: &Reading{Value: 14, Previous: val(11)}, ProductTDS: only(0), MeterPPM: 1}
		}, first: "D4", never: []string{"D39"}},
	{name: "near the floor, no first weeks", reason: "12 of 250 ppm may be 95 %",
		change: func(r *Readings) {
			*r = Readings{TapTDS: only(250), MembraneTDS: only(12), ProductTDS: only(0), MeterPPM: 1}
		}, first: "D1", sure: Possible},
	{name: "new book, sound", reason: "2 % passes, as a sound membrane does",
		change: func(r *Readings) { *r = Readings{TapTDS: only(250), MembraneTDS: only(5), ProductTDS: only(0)} }, first: "D1"},

	{name: "waste half more, nothing else", reason: "under half as much again with the product steady is no pattern, and no all-clear either",
		change: func(r *Readings) { r.WasteFlow = was(40, 32) }, never: []string{"D1", "D18"}, say: "read again on another day"},

	// Contradictory.
	{name: "resin over, but membrane zero", reason: "product 3 from an inlet of 0 can't be: the probe comes before the resin",
		change: func(r *Readings) { r.MembraneTDS, r.ProductTDS = was(0, 5, 5), was(3, 0, 0) }, first: "D43", never: []string{"D2", "D3"}},
	{name: "membrane and product move opposite ways", reason: "one up fivefold, the other down fivefold: mixed up",
		change: func(r *Readings) { r.MembraneTDS, r.ProductTDS = was(0.5, 5, 5), was(20, 0, 1) }, first: "D43", never: []string{"D1", "D3"}},
	{name: "D43 swapped, read twice", reason: "5 behind the resin and 0 before it is the membrane's water and the resin's",
		change: func(r *Readings) { r.MembraneTDS, r.ProductTDS = was(0, 5, 0), was(5, 0, 5) }, first: "D43", sure: Likely, never: []string{"D2", "D3", "D24"}},
	{name: "D23 opposite ways", reason: "one up fivefold, the other down fivefold, and the membrane still reads",
		change: func(r *Readings) { r.MembraneTDS, r.ProductTDS = was(40, 5, 5), was(0, 4, 4) }, first: "D23", never: []string{"D1"}},
	{name: "D42 a meter's offset", reason: "4 ppm more on both is one dirty cell",
		change: func(r *Readings) {
			r.MeterPPM, r.MembraneTDS, r.ProductTDS, r.Parts.BothRose = 1, was(9, 5, 9), was(4, 0, 4), &Rise{4, true}
		}, first: "D42", sure: Likely, never: []string{"D2", "D4"}},
	{name: "D42 at first sight", reason: "both 4 ppm more than a week ago",
		change: func(r *Readings) { r.MeterPPM, r.MembraneTDS, r.ProductTDS = 1, was(9, 5, 5), was(4, 0, 0) }, first: "D42", sure: Possible, never: []string{"D2", "D4"}},
	{name: "D42 not when one rose before", reason: "the membrane was up already, the resin is new in it",
		change: func(r *Readings) { r.MeterPPM, r.MembraneTDS, r.ProductTDS = 1, was(9, 5, 9), was(4, 0, 0) }, never: []string{"D42"}, first: "D4"},

	// Parts that are new, and what stands between the gauges.
	{name: "D33 back pressure", reason: "a third less water with the salt of all of it, at the same pressure",
		change: func(r *Readings) {
			r.ProductFlow, r.WasteFlow, r.MembraneTDS = was(5.5, 8, 5.6), was(33, 32, 33), was(7.2, 5, 7)
		}, first: "D33", sure: Likely, never: []string{"D14", "D4", "D13"}},
	{name: "D9 low supply and a fouled membrane", reason: "half the loss is the pressure's, the other half isn't",
		change: func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow, r.WasteFlow = was(2.9, 3.6), was(2.8, 3.5), was(4.5, 8, 4.5), was(28.6, 32)
		}, first: "D9", also: []string{"D13"}},
	{name: "D34 no gauge at all", reason: "less water at the same temperature may be the prefilters', the supply's or the membrane's",
		change: func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow = nil, nil, was(6, 8, 6)
		}, first: "D34", sure: Possible, never: []string{"D13", "D1"}, say: "read the pressure at the membrane"},
	{name: "D34 not for cold", reason: "three quarters of the flow is what 8 degC leaves",
		change: func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow, r.WaterTemperature = nil, nil, was(5.6, 8), was(8, 18)
		}, first: "D11", never: []string{"D34"}},
	{name: "D33 within a step of the meter", reason: "a fifth less water and the salt of all of it, on a meter of whole ppm",
		change: func(r *Readings) {
			r.MeterPPM, r.ProductFlow, r.WasteFlow, r.MembraneTDS = 1, was(6.6, 8, 6.6), was(33, 32), was(6, 5, 6)
		}, first: "D33", sure: Likely, never: []string{"D13", "D14", "D4"}},
	{name: "D13 with as much salt", reason: "a third less water and not the salt that went with it",
		change: func(r *Readings) {
			r.MeterPPM, r.ProductFlow, r.WasteFlow, r.MembraneTDS = 1, was(5.4, 8, 5.4), was(33, 32), was(6, 5, 6)
		}, first: "D13", never: []string{"D33"}},
	{name: "D33 threefold at once", reason: "a third of the water with all the salt is no torn membrane",
		change: func(r *Readings) {
			r.ProductFlow, r.WasteFlow, r.MembraneTDS, r.Parts.JumpedFrom = was(2.7, 8, 2.7), was(34, 32), was(15, 5, 15).after(15), val(0.02)
		}, first: "D33", never: []string{"D14", "D5"}},
	{name: "flow timed after the normalised flow was known", reason: "what the flow was three weeks ago excuses nothing today",
		change: func(r *Readings) {
			r.NormalisedFlow, r.ProductFlow, r.WaterTemperature = was(100, 100).old(21), was(5.5, 8), was(15, 18).old(21)
		}, never: []string{"D1"}, say: "read the water temperature on the day of the flow"},
	{name: "D17 waste alone", reason: "a third of the waste at the same pressure, the product not timed with it",
		change: func(r *Readings) { r.WasteFlow, r.ProductFlow = was(11, 32), nil }, first: "D17", sure: Possible},
	{name: "D18 loose since the first reading", reason: "no element is sold for 12 to 1",
		change: func(r *Readings) { r.WasteFlow = was(96, 96) }, first: "D18", never: []string{"D1"}},
	{name: "label short, and so the ratio large", reason: "it is the product that is missing, not the restrictor",
		change: func(r *Readings) {
			r.ProductFlow, r.WasteFlow, r.Parts.Rated = only(2.5), only(30), &Rated{11.8, 3.45}
		}, first: "D13", never: []string{"D18"}},
	{name: "D35 at 100 psi", reason: "100 psi is the limit of many housings, in whichever unit it is read",
		change: func(r *Readings) { r.LinePressure, r.MembranePressure = only(6.895), nil }, first: "D35", sure: Likely},
	{name: "D34 one gauge", reason: "less water at the pressure before the prefilters may be theirs or the membrane's",
		change: func(r *Readings) { r.MembranePressure, r.ProductFlow = nil, was(6, 8, 6.2) }, first: "D34", sure: Possible, never: []string{"D13"}},
	{name: "D36 new element", reason: "the first day of an element says nothing of it",
		change: func(r *Readings) {
			days := 0
			r.MembraneTDS, r.Parts.ElementDays = &Reading{Value: 20}, &days
		}, first: "D36", never: []string{"D4", "D39"}},
	{name: "D37 new bed", reason: "its first litres carry what it was packed in",
		change: func(r *Readings) { r.ProductTDS, r.Parts.BedLitres = only(14), val(5) }, first: "D37", never: []string{"D2", "D3"}},
	{name: "D37 new bed, litres not kept", reason: "the day after, whatever was made",
		change: func(r *Readings) {
			days := 1
			r.ProductTDS, r.Parts.BedDays = only(3), &days
		}, first: "D37", never: []string{"D2"}},
	{name: "D38 bed never at 0", reason: "a new bed that never reads 0 is loose, not spent",
		change: func(r *Readings) {
			r.ProductTDS, r.Parts.BedLitres, r.Parts.BedLowest = (&Reading{Value: 2, Previous: val(2)}), val(60), val(2)
		}, first: "D38", sure: Likely, never: []string{"D2", "D37"}},
	{name: "D40 booster failing", reason: "the line is as it was and the pressure behind the booster is not",
		change: func(r *Readings) {
			r.LinePressure, r.MembranePressure, r.ProductFlow, r.WasteFlow = was(3, 3), was(3.8, 5.6), was(5.4, 8), was(26, 32)
		}, first: "D40", sure: Likely, never: []string{"D9", "D10", "D13"}},
	{name: "D44 flush valve open", reason: "the waste takes the pressure, and the product with it",
		change: func(r *Readings) {
			r.WasteFlow, r.LinePressure, r.MembranePressure, r.ProductFlow = was(150, 32), was(3.2, 3.6), was(1.9, 3.5), was(4.1, 8)
		}, first: "D44", sure: Likely, never: []string{"D10", "D13", "D18"}},
	{name: "D45 resin renewed", reason: "what was read before it says nothing",
		change: func(r *Readings) {
			r.ProductTDS, r.Parts.Unread = nil, []Unread{{Resin, "14 Jun", "8 Jun", false}}
		}, first: "D45", never: []string{"D1", "D2"}},
	{name: "D45 behind what may be broken", reason: "a clogged cartridge is not less so for a new bed",
		change: func(r *Readings) {
			r.ProductTDS, r.Parts.Unread = nil, []Unread{{Resin, "14 Jun", "8 Jun", false}}
			r.MembranePressure = was(2.6, 3.5)
		}, first: "D10", also: []string{"D45"}},
	{name: "label, no first weeks", reason: "a third of what the label gives at this pressure and cold",
		change: func(r *Readings) {
			r.ProductFlow, r.WasteFlow, r.Parts.Rated = only(2.5), only(12), &Rated{11.8, 3.45}
		}, first: "D13", sure: Possible, never: []string{"D1"}},
	{name: "D2 beginning", reason: "1 twice after 0 is a beginning, no end",
		change: func(r *Readings) { r.MeterPPM, r.ProductTDS = 1, was(1, 0, 1) }, first: "D2", sure: Hint},
	{name: "D25 more than air", reason: "air makes no 2 ppm",
		change: func(r *Readings) { r.MeterPPM, r.ReservoirTDS, r.ProductTDS = 1, only(2), was(1, 1, 1) }, first: "D25", sure: Possible},
	{name: "D10 clogging", reason: "0.4 bar more than new, and not over its limit",
		change: func(r *Readings) { r.LinePressure, r.MembranePressure = was(3.6, 3.6), was(3.12, 3.5) }, first: "D10", sure: Possible},
	{name: "D18 restrictor worn", reason: "a third more waste at the same pressure",
		change: func(r *Readings) { r.WasteFlow = was(43, 32) }, first: "D18", sure: Possible},
	{name: "D15 jumped", reason: "three signs of chlorine at once",
		change: func(r *Readings) {
			r.ProductFlow, r.MembraneTDS, r.ChlorineCarbon, r.Parts.JumpedFrom = was(10, 8, 9.8), was(18, 5, 17), &Reading{Value: 0.3, Previous: val(0.3)}, val(0.02)
		}, first: "D15", sure: Likely, also: []string{"D5", "D30"}},
	{name: "D14 jumped", reason: "less water and four times the salt at once",
		change: func(r *Readings) { r.ProductFlow, r.MembraneTDS = was(6, 8, 6), was(20, 5, 5).after(15) }, first: "D14", sure: Likely, never: []string{"D5"}},
	{name: "D33 with one gauge", reason: "with no gauge behind the prefilters it stands behind what is cheap to try",
		change: func(r *Readings) {
			r.MembranePressure, r.ProductFlow, r.WasteFlow, r.MembraneTDS = nil, was(5.5, 8, 5.6), was(33, 32, 33), was(7.2, 5, 7)
		}, first: "D34", also: []string{"D33"}, never: []string{"D14"}},
	{name: "D45 each part", reason: "each is named",
		change: func(r *Readings) {
			*r = Readings{}
			for _, s := range []string{Sediment, Carbon, Membrane, Resin, Restrictor, Supply} {
				r.Parts.Unread = append(r.Parts.Unread, Unread{s, "14 Jun", "8 Jun", false})
			}
		}, first: "D45"},
	{name: "flow up in cold water at the same pressure", reason: "normalised far up and no more salt: a flow misread, nothing to say of the membrane",
		change: func(r *Readings) { r.WaterTemperature, r.ProductFlow, r.WasteTDS = was(8, 18), was(12, 8), only(290) }, first: "D26", never: []string{"D11", "D15", "D13"}},
	{name: "cold and fouled", reason: "cold explains a third, the rest is the membrane's, twice",
		change: func(r *Readings) { r.WaterTemperature, r.ProductFlow = was(8, 18, 8), was(4, 8, 4.1) }, first: "D13", sure: Likely, never: []string{"D11"}},
	{name: "cold and resin at first sight", reason: "what needs doing stands before what needs nothing",
		change: func(r *Readings) {
			r.WaterTemperature, r.ProductFlow, r.ProductTDS = was(8, 18), was(5.5, 8), was(2, 0, 0)
		}, first: "D2", also: []string{"D11"}},
	{name: "cold, resin at first sight, membrane unread", reason: "a possible fault stands before a likely harmless cause",
		change: func(r *Readings) {
			r.WaterTemperature, r.ProductFlow, r.ProductTDS, r.MembraneTDS = was(8, 18), was(5.5, 8), was(2, 0, 0), nil
		}, first: "D2", sure: Possible, also: []string{"D11"}},
}
