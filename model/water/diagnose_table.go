package water

// A sign is something the readings show, judged against the unit's own first weeks.
type sign string

const (
	tapUp          sign = "tap TDS up"
	tapDown        sign = "tap TDS down"
	tapZero        sign = "tap reads nothing"
	membraneUp     sign = "after-membrane TDS up"
	membraneZero   sign = "after-membrane TDS reads nothing"
	passageSteady  sign = "salt passage as it was"
	passageUp      sign = "salt passage up"
	passageJumped  sign = "salt passage up suddenly"
	passageUnclear sign = "salt passage up by less than the meter can tell"
	passageByLow   sign = "salt passage up as the pressure is down"
	creeping       sign = "read too soon after standing"
	productGood    sign = "product at or under its limit"
	productOver    sign = "product over its limit"
	productCreep   sign = "product read too soon after standing"

	membraneAboveTap     sign = "membrane above tap"
	membraneNearTap      sign = "membrane near tap"
	productAboveMembrane sign = "product above membrane"
	productFarAbove      sign = "product far above membrane"
	erratic              sign = "values jump about"
	balanceOff           sign = "waste TDS off its mass balance"
	reservoirTrace       sign = "a trace in the reservoir"
	reservoirFouled      sign = "reservoir well above the product"

	noPressure   sign = "no pressure"
	pressureLow  sign = "pressure under the working floor"
	lineDown     sign = "line pressure down"
	lineUp       sign = "line pressure up"
	lineSteady   sign = "line pressure as it was"
	inletDown    sign = "membrane pressure down"
	inletUp      sign = "membrane pressure up"
	dropUp       sign = "prefilters take too much pressure"
	dropFine     sign = "prefilters take little pressure"
	swings       sign = "pressure swings"
	sags         sign = "pressure sags over hours"
	wasteOnFull  sign = "waste runs with the reservoir full"
	noProduct    sign = "no product"
	noWaste      sign = "no waste"
	wasteRuns    sign = "waste runs"
	wasteUp      sign = "waste flow up"
	wasteDown    sign = "waste flow down"
	flowDown     sign = "product flow down"
	flowUp       sign = "product flow up"
	normalDown   sign = "normalised flow down"
	normalUp     sign = "normalised flow up"
	normalSteady sign = "normalised flow as it was"
	ratioUp      sign = "waste ratio up"
	ratioFarUp   sign = "waste ratio far up"
	ratioDown    sign = "waste ratio down"
	ratioHalved  sign = "waste ratio halved"
	ratioTight   sign = "less waste than product"
	ratioLoose   sign = "very much waste"
	colder       sign = "water colder"
	warmer       sign = "water warmer"
	coldShort    sign = "less flow than the cold accounts for"

	chlorineThrough sign = "chlorine after the carbon"
	chlorineNone    sign = "no chlorine after the carbon"
	chlorineNowhere sign = "no chlorine at the tap either"
	acid            sign = "product acid"
	alkaline        sign = "product alkaline"
	silica          sign = "silica or diatoms"
)

// Stages of the water station, as components name them.
const (
	Sediment = "sediment"
	Carbon   = "carbon"
	Membrane = "membrane"
	Resin    = "resin"
)

// A pattern is one row of the fault-isolation table: it fits when every sign it needs is seen and none that speaks for
// another row is. One of its backing signs makes it surer.
type pattern struct {
	id     string
	stage  string // whose verdict it carries; "" for none
	cause  string
	needs  []sign
	backs  []sign
	not    []sign
	normal bool // explains the readings and asks for no repair
	next   string
}

// meterWrong are signs that the numbers themselves can't be right; the patterns of wear are silent beside them.
var meterWrong = []sign{membraneAboveTap, erratic, tapZero}

// unexplained are signs that, with no pattern to explain them, keep the readings from being called fine.
var unexplained = []sign{flowDown, flowUp, normalUp, membraneUp, ratioUp, ratioDown, wasteUp, wasteDown}

// patterns is the fault-isolation table. Of two that fit equally well, the earlier stands first: what can be checked
// cheaply before what costs a part. Common practice and inference, no published chart.
var patterns = []pattern{
	// Water does not come at all.
	{id: "D21", cause: "feed closed, or a valve or booster pump that does not run",
		needs: []sign{noPressure}, backs: []sign{noProduct, noWaste},
		next: "open the feed; then check the solenoid and the booster, unplugged before hands go near water"},
	{id: "D21", cause: "feed closed, or a valve or booster pump that does not run",
		needs: []sign{noProduct, noWaste}, not: []sign{noPressure},
		next: "open the feed and read the line pressure"},
	{id: "D19", cause: "product line shut: a kink, the float or shut-off valve, or a dry membrane",
		needs: []sign{noProduct, wasteRuns}, next: "look along the product line, lift the float, try the check valve"},
	{id: "D19", cause: "feed closed, or the product line shut",
		needs: []sign{noProduct}, not: []sign{wasteRuns, noWaste, noPressure}, next: "see whether the waste runs, and read the line pressure"},
	{id: "D20", cause: "shut-off or check valve leaking",
		needs: []sign{wasteOnFull}, next: "close the product line by hand: the waste should stop within minutes; if not, renew the valve"},

	// The numbers can't be right.
	{id: "D23", cause: "meter suspect, or the lines mixed up: after membrane reads above the tap",
		needs: []sign{membraneAboveTap}, backs: []sign{productAboveMembrane}, not: []sign{creeping},
		next: "check the meter in a known standard (84 or 1413 µS/cm), then read tap, membrane, resin again in that order"},
	{id: "D24", cause: "probe on the wrong line, or the meter off its range",
		needs: []sign{membraneZero}, not: []sign{membraneAboveTap},
		next: "dip the meter in tap water and in a known standard, then read again"},
	{id: "D24", cause: "probe on the wrong line, or the meter off its range",
		needs: []sign{tapZero}, next: "dip the meter in a known standard, then read the tap again"},
	{id: "D23", cause: "meter suspect: values jump about (air bubble, dirty cell, battery, another scale)",
		needs: []sign{erratic}, not: []sign{membraneAboveTap, tapZero},
		next: "clean the cell, renew the battery, check in a standard (84 or 1413 µS/cm), read all three again"},
	{id: "D26", cause: "a flow or a tap misread, or lines mixed up",
		needs: []sign{balanceOff}, not: meterWrong,
		next: "time both flows again and read the waste TDS again"},

	// The reading says nothing yet.
	{id: "D6", cause: "salt crept through while the unit stood",
		needs: []sign{creeping}, next: "read again after 10 min of running; fewer, longer fills keep it off the resin"},
	{id: "D6", cause: "salt crept through while the unit stood",
		needs: []sign{productCreep}, not: []sign{creeping}, next: "read the product again after 10 min of running"},
	{id: "R1", cause: "a change smaller than this meter can tell",
		needs: []sign{passageUnclear}, not: meterWrong,
		next: "read again on two more days; a meter that shows tenths would settle it"},

	// Pressure, prefilters, restrictor.
	{id: "D10", stage: Sediment, cause: "sediment or carbon cartridge clogged",
		needs: []sign{dropUp}, backs: []sign{lineSteady, inletDown, flowDown},
		next: "close the feed, let the pressure off, change the sediment cartridge first; note the litres it saw"},
	{id: "D9", cause: "supply pressure low, and not the membrane",
		needs: []sign{lineDown}, backs: []sign{flowDown, normalSteady, ratioUp, passageByLow}, not: []sign{noPressure, wasteUp},
		next: "compare running with standing pressure and with another hour of the day; a booster helps below 2.8 bar (40 psi)"},
	{id: "D9", cause: "supply pressure low or a prefilter clogged, and not the membrane",
		needs: []sign{inletDown}, backs: []sign{normalSteady, passageByLow}, not: []sign{lineDown, lineSteady, dropUp, dropFine, noPressure, wasteUp},
		next: "read the pressure before the prefilters too, while it runs"},
	{id: "D9", cause: "pressure under what a membrane needs",
		needs: []sign{pressureLow}, not: []sign{lineDown, inletDown, dropUp, noPressure},
		next: "read the pressure while it runs; below 2.8 bar (40 psi) a booster pump is usual"},
	{id: "D16", cause: "regulator or booster set high",
		needs: []sign{lineUp}, backs: []sign{flowUp, inletUp}, next: "bring it under the housings' limit, often 6.9 bar (100 psi), before it bursts one"},
	{id: "D16", cause: "regulator or booster set high",
		needs: []sign{inletUp}, backs: []sign{flowUp}, not: []sign{lineUp},
		next: "bring it under the housings' limit, often 6.9 bar (100 psi), before it bursts one"},
	{id: "D17", cause: "waste restrictor clogged or closed: too little goes to waste",
		needs: []sign{ratioHalved, wasteDown}, backs: []sign{passageUp, passageJumped, membraneUp}, not: []sign{membraneNearTap},
		next: "clean or renew the restrictor soon, the membrane scales; then time both flows"},
	{id: "D17", cause: "waste restrictor clogging",
		needs: []sign{ratioDown, wasteDown}, not: []sign{ratioHalved},
		next: "time both flows again; if it holds, clean or renew the restrictor"},
	{id: "D17", cause: "waste restrictor wrong for this membrane, or clogged",
		needs: []sign{ratioTight}, not: []sign{ratioHalved, ratioDown},
		next: "time both flows again; 2 to 5 parts of waste to one of product are usual, see the membrane's sheet"},
	{id: "D18", cause: "waste restrictor missing or worn, or the flush valve open",
		needs: []sign{ratioFarUp, wasteUp}, backs: []sign{lineDown, inletDown}, next: "close the flush valve; then look at the restrictor"},
	{id: "D18", cause: "waste restrictor wrong for this membrane, or the flush valve open",
		needs: []sign{ratioLoose}, not: []sign{ratioFarUp, normalDown},
		next: "close the flush valve, time both flows again, see the membrane's sheet"},

	// The membrane.
	{id: "D22", stage: Membrane, cause: "membrane not seated or bypassed, or its housing piped the wrong way",
		needs: []sign{membraneNearTap}, backs: []sign{flowUp, ratioDown, ratioHalved}, not: meterWrong,
		next: "read again after 10 min of running; then close the feed, let the pressure off, reseat the membrane, look at the piping"},
	{id: "D15", stage: Membrane, cause: "membrane oxidised by chlorine",
		needs: []sign{passageUp, normalUp}, backs: []sign{chlorineThrough}, not: []sign{membraneNearTap},
		next: "test total chlorine after the carbon; renew carbon and membrane together"},
	{id: "D15", stage: Membrane, cause: "membrane being oxidised by chlorine",
		needs: []sign{passageUp, chlorineThrough}, not: []sign{normalUp, normalDown, membraneNearTap},
		next: "renew the carbon now; read the membrane again after 10 min of running"},
	{id: "D5", stage: Membrane, cause: "membrane torn, or its seal or o-ring leaking",
		needs: []sign{passageJumped}, backs: []sign{normalUp}, not: []sign{membraneNearTap, normalDown, ratioHalved},
		next: "read again after 10 min of running; then close the feed, let the pressure off, reseat the seals; renew if it stays"},
	{id: "D14", stage: Membrane, cause: "membrane scaled and letting salt through",
		needs: []sign{passageUp, normalDown}, not: []sign{membraneNearTap},
		next: "renew it; look at hardness and waste ratio before the new one goes the same way"},
	{id: "D14", stage: Membrane, cause: "membrane scaled and letting salt through",
		needs: []sign{passageJumped, normalDown}, not: []sign{membraneNearTap},
		next: "read again after 10 min of running; then renew it"},
	{id: "D4", stage: Membrane, cause: "membrane spent by age, or its seal leaking",
		needs: []sign{passageUp}, backs: []sign{normalSteady}, not: []sign{normalDown, normalUp, membraneNearTap, ratioHalved, chlorineThrough},
		next: "read again after 10 min of running; test for chlorine after the carbon; then renew it"},
	{id: "D13", stage: Membrane, cause: "membrane scaled or fouled",
		needs: []sign{normalDown}, backs: []sign{ratioUp}, not: []sign{passageUp, passageJumped},
		next: "flush it, time the flow again on another day; then clean or renew it and check the waste ratio"},

	// Carbon and resin.
	{id: "D30", stage: Carbon, cause: "chlorine breaking through the carbon",
		needs: []sign{chlorineThrough}, backs: []sign{normalUp},
		next: "close the feed, let the pressure off, renew the carbon; chloramine wants more contact time; test again in two days"},
	{id: "D3", stage: Resin, cause: "resin giving back what it held, one half of it spent",
		needs: []sign{productFarAbove}, backs: []sign{acid, alkaline}, not: meterWrong,
		next: "check the meter, then change the resin; don't use the stored water; the product's pH tells which half"},
	{id: "D23", cause: "meter suspect: after resin reads above after membrane",
		needs: []sign{productAboveMembrane}, not: []sign{membraneAboveTap, acid, alkaline},
		next: "check the meter in a known standard (84 or 1413 µS/cm), then read membrane and resin again in that order"},
	{id: "D28", stage: Resin, cause: "anion half of the resin spent, as carbon dioxide does it",
		needs: []sign{productOver, acid}, not: []sign{productFarAbove},
		next: "change the resin; letting the water before it air out makes the next one last longer"},
	{id: "D29", stage: Resin, cause: "cation half of the resin spent, as ammonia from chloramine does it",
		needs: []sign{productOver, alkaline}, not: []sign{productFarAbove},
		next: "ask whether the supply is chloraminated; change the resin"},
	{id: "D2", stage: Resin, cause: "resin spent",
		needs: []sign{productOver}, backs: []sign{passageSteady}, not: []sign{productAboveMembrane, acid, alkaline, erratic},
		next: "if this is the first such reading, read once more; then change or rotate the resin and compare its litres with the last one's"},
	{id: "D2", stage: Resin, cause: "resin spent, if the meter is right",
		needs: []sign{productOver, productAboveMembrane}, not: []sign{productFarAbove, membraneAboveTap, acid, alkaline, erratic},
		next: "check the meter; then change or rotate the resin"},
	{id: "D27", stage: Resin, cause: "silica passing the resin, which a TDS meter can't see",
		needs: []sign{silica, productGood}, next: "test the product for silica; change the resin earlier next time"},

	// Explained, nothing broken.
	{id: "D11", normal: true, cause: "cold water: less flow is normal",
		needs: []sign{flowDown, colder}, backs: []sign{normalSteady}, not: []sign{normalDown, coldShort},
		next: "nothing to mend; judge the membrane by its normalised flow"},
	{id: "D12", normal: true, cause: "warm water: more salt passes, which is normal",
		needs: []sign{membraneUp, warmer, passageSteady}, next: "nothing to mend; the resin lasts a little less"},
	{id: "D12", normal: true, cause: "warm water: more flow is normal",
		needs: []sign{flowUp, warmer}, backs: []sign{normalSteady}, not: []sign{normalUp, membraneUp}, next: "nothing to mend"},
	{id: "D7", normal: true, cause: "the supply carries more than it did",
		needs: []sign{tapUp}, backs: []sign{passageSteady}, not: []sign{membraneAboveTap, erratic},
		next: "nothing to mend; the resin will last less long"},
	{id: "D8", normal: true, cause: "the supply carries less than it did",
		needs: []sign{tapDown}, backs: []sign{passageSteady}, not: []sign{membraneAboveTap, erratic, tapZero},
		next: "nothing to mend; the resin will last longer"},
	{id: "D25", normal: true, cause: "carbon dioxide from the air in the reservoir, not the resin",
		needs: []sign{reservoirTrace, productGood}, next: "judge the resin at its outlet"},
	{id: "D25", cause: "reservoir contaminated",
		needs: []sign{reservoirFouled, productGood}, next: "empty and clean the reservoir; read its water again when filled"},
	{id: "D31", cause: "booster pump switching on and off, or a leak",
		needs: []sign{swings}, next: "look at the pressure switch, the check valve and every fitting"},
	{id: "D32", cause: "feed valve half closed, or the house drawing water",
		needs: []sign{sags}, next: "open the feed fully; compare with another time of day"},
}
