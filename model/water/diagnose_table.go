package water

// A pattern is one row of the fault-isolation table: it fits when every sign it needs is seen and none that speaks for
// another row is. One of its backing signs makes it surer.
type pattern struct {
	id     string
	stage  string // whose verdict it carries; "" for none
	cause  string
	needs  []sign
	backs  []sign
	not    []sign
	most   Sureness // it is never surer than this; 0 for no bound
	behind bool     // asks for no repair, so that what may be broken stands before it
	owner  func(*Limits) *Limit
	next   string
	again  string // the step while it is not likely, or the owner's limit not confirmed; "" when it is the same
}

// Owners of the limits that patterns ask to be confirmed before a part is renewed.
func byProduct(l *Limits) *Limit   { return l.Product }
func byRejection(l *Limits) *Limit { return l.Rejection }
func byFlow(l *Limits) *Limit      { return l.Flow }
func byDrop(l *Limits) *Limit      { return l.Drop }
func byRatio(l *Limits) *Limit     { return l.Ratio }
func byChlorine(l *Limits) *Limit  { return l.Chlorine }

// meterWrong are signs that the numbers themselves can't be right; the patterns of wear are silent beside them.
var meterWrong = []sign{membraneAboveTap, erratic, tapZero, probesSwapped, bothRaised}

// beside are those and others that speak against a pattern of wear.
func beside(others ...sign) []sign { return append(others, meterWrong...) }

// unexplained are signs that, with no pattern to explain them, keep the readings from being called fine.
var unexplained = []sign{flowDown, flowUp, normalUp, membraneUp, ratioUp, ratioDown, wasteUp, wasteDown,
	rejectionUnder, flowUnder, dropOver, ratioUnder, chlorineThrough, productOver, inletDown, lineDown}

// nearLimit are signs that a value is as near to its limit as the instrument can tell.
var nearLimit = []sign{passageNear, dropGrown}

// toDrain is the step for water that is not to be kept.
const toDrain = "let it run to the drain"

// bucket is the first step where the flow is down: it takes the product line out of what is timed.
const bucket = "time it again with the product line open into a bucket below the unit"

// patterns is the fault-isolation table. Of two that fit equally well, the earlier stands first: what can hurt, then what
// can be checked cheaply before what costs a part. Common practice and inference, no published chart.
var patterns = []pattern{
	// What can burst.
	{id: "D35", cause: "supply pressure more than bowls and push-fit tube are made for",
		needs: []sign{pressureDangerous}, not: []sign{noPressure},
		next: "act now: close the feed when nobody is there, and have a regulator fitted before it; 5.5 bar (80 psi) is a usual limit for a house"},

	// Water does not come at all.
	{id: "D21", cause: "feed closed, or a valve or booster pump that does not run",
		needs: []sign{noPressure}, backs: []sign{noProduct, noWaste},
		next: "open the feed; then check the solenoid and the booster, unplugged before hands go near water"},
	{id: "D21", cause: "feed closed, or a valve or booster pump that does not run",
		needs: []sign{noProduct, noWaste}, not: []sign{noPressure},
		next: "open the feed and read the line pressure"},
	{id: "D19", cause: "product line shut: a kink, the float or shut-off valve, or a dry membrane",
		needs: []sign{noProduct, wasteRuns}, not: []sign{noPressure}, next: "look along the product line, lift the float, try the check valve"},
	{id: "D19", cause: "feed closed, or the product line shut",
		needs: []sign{noProduct}, not: []sign{wasteRuns, noWaste, noPressure}, next: "see whether the waste runs, and read the line pressure"},
	{id: "D20", cause: "shut-off or check valve leaking",
		needs: []sign{wasteOnFull}, next: "close the product line by hand: the waste should stop within minutes; if not, the valve is due"},

	// The numbers can't be right.
	{id: "D23", cause: "meter suspect, or the lines mixed up: after membrane reads above the tap",
		needs: []sign{membraneAboveTap}, backs: []sign{productAboveMembrane}, not: []sign{creeping},
		next: "check the meter in a known standard (84 or 1413 µS/cm), then read tap, membrane, resin again in that order"},
	{id: "D43", cause: "probes or hoses swapped, or the wrong cell read: after resin reads above after membrane",
		needs: []sign{probesSwapped}, not: []sign{membraneAboveTap},
		next: "swap them back, or read the other cell; then read membrane and resin again"},
	{id: "D24", cause: "probe on the wrong line, or the meter off its range",
		needs: []sign{membraneZero}, not: []sign{membraneAboveTap},
		next: "dip the meter in tap water and in a known standard, then read again"},
	{id: "D24", cause: "probe on the wrong line, or the meter off its range",
		needs: []sign{tapZero}, next: "dip the meter in a known standard, then read the tap again"},
	{id: "D42", cause: "the meter: a dirty cell or an offset, since both read the same amount more",
		needs: []sign{bothRaised}, not: []sign{membraneAboveTap, erratic, tapZero},
		next: "rinse the cell, read a known standard (84 µS/cm), then both again, before a part is blamed"},
	{id: "D23", cause: "meter suspect: values jump about (air bubble, dirty cell, battery, another scale)",
		needs: []sign{erratic}, not: []sign{membraneAboveTap, tapZero, probesSwapped},
		next: "clean the cell, put a fresh battery in, check in a standard (84 or 1413 µS/cm), read all three again"},
	{id: "D26", cause: "a flow or a tap misread, or lines mixed up",
		needs: []sign{balanceOff}, not: meterWrong,
		next: "time both flows again and read the waste TDS again"},

	// The reading says nothing yet.
	{id: "D6", cause: "salt crept through while the unit stood",
		needs: []sign{creeping}, next: "read again after 10 min of running; fewer, longer fills keep it off the resin"},
	{id: "D6", cause: "salt crept through while the unit stood",
		needs: []sign{productCreep}, not: []sign{creeping}, next: "read the product again after 10 min of running"},
	{id: "D6", cause: "salt that crept through while the unit stood, unless it had run for 10 min",
		needs: []sign{jumpUntimed}, not: []sign{normalUp, creeping}, most: Possible,
		next: "read again after 10 min of running, and log the minutes"},
	{id: "D36", stage: Membrane, cause: "a new element still rinsing",
		needs: []sign{elementRinsing}, not: meterWrong,
		next: toDrain + "; read again after 2 h of running and the next day"},
	{id: "D37", stage: Resin, cause: "a new bed still rinsing",
		needs: []sign{bedRinsing}, not: meterWrong,
		next: toDrain + ", some litres; then read again"},
	{id: "D1", cause: "nothing the meter can tell: the change is smaller than its step",
		needs: []sign{passageUnclear}, not: beside(rejectionUnder),
		next: "read again on two more days; a meter that shows tenths would settle it"},

	// Waste that runs off before anything else is judged.
	{id: "D44", cause: "flush valve open, or the restrictor gone",
		needs: []sign{flushOpen}, backs: []sign{wasteUp}, not: []sign{noPressure, noProduct},
		next: "close the flush valve before any cartridge is blamed; then look whether the restrictor is in its place, and time both flows"},
	{id: "D18", cause: "waste restrictor missing or worn, or the flush valve open",
		needs: []sign{ratioFarUp, wasteUp}, backs: []sign{pressureGives}, not: []sign{noProduct, flushOpen},
		next: "close the flush valve; then look at the restrictor, and time both flows"},
	{id: "D18", cause: "waste restrictor worn, or the flush valve not quite shut",
		needs: []sign{wasteUp, ratioUp}, not: []sign{ratioFarUp, noProduct, flushOpen}, most: Possible,
		next: "close the flush valve; then look at the restrictor, and time both flows"},
	{id: "D18", cause: "waste restrictor wrong for this membrane, or the flush valve open",
		needs: []sign{ratioLoose}, not: []sign{ratioFarUp, normalDown, labelShort, flowDown},
		next: "close the flush valve, time both flows again, see the membrane's sheet"},

	// Pressure, prefilters, restrictor.
	{id: "D40", cause: "booster pump failing: its voltage, its strainer, a worn head or its pressure switch",
		needs: []sign{boosterWeak}, backs: []sign{flowDown}, not: []sign{noPressure, wasteUp},
		next: "measure its voltage and clean its strainer, unplugged before hands go near water; then read the pressure again"},
	{id: "D10", stage: Sediment, cause: "sediment or carbon cartridge clogged",
		needs: []sign{dropOver}, backs: []sign{lineSteady, inletDown, flowDown}, not: []sign{wasteUp, noPressure}, owner: byDrop,
		next:  "close the feed, let the pressure off, change the sediment cartridge first; note the litres it saw",
		again: "read both pressures again while it runs; if it holds, the sediment cartridge is due first"},
	{id: "D10", stage: Sediment, cause: "sediment or carbon cartridge clogging",
		needs: []sign{dropGrown}, not: []sign{dropOver, wasteUp, noPressure}, most: Possible,
		next: "read both pressures again next week while it runs, and have a cartridge at hand"},
	{id: "D9", cause: "supply pressure low, and not the membrane",
		needs: []sign{lineDown}, backs: []sign{flowDown, normalSteady, ratioUp, passageByLow}, not: []sign{noPressure, wasteUp, normalDown},
		next: "compare running with standing pressure and with another hour of the day; a booster helps below 2.8 bar (40 psi)"},
	{id: "D9", cause: "supply pressure low, which accounts for a part of it only",
		needs: []sign{lineDown, normalDown}, backs: []sign{flowDown}, not: []sign{noPressure, wasteUp},
		next: "compare running with standing pressure and with another hour of the day; a booster helps below 2.8 bar (40 psi)"},
	{id: "D9", cause: "supply pressure low or a prefilter clogged, and not the membrane",
		needs: []sign{inletDown}, backs: []sign{normalSteady, passageByLow}, not: []sign{lineDown, lineSteady, dropOver, dropGrown, dropFine, noPressure, wasteUp, boosterWeak},
		next: "read the pressure before the prefilters too, while it runs"},
	{id: "D9", cause: "pressure under what a membrane needs",
		needs: []sign{pressureLow}, not: []sign{lineDown, inletDown, dropOver, dropGrown, noPressure, wasteUp},
		next: "read the pressure while it runs; below 2.8 bar (40 psi) a booster pump is usual"},
	{id: "D16", cause: "regulator or booster set high",
		needs: []sign{lineUp}, backs: []sign{flowUp, inletUp}, not: []sign{pressureDangerous},
		next: "bring it under the housings' limit, often 6.9 bar (100 psi), before it bursts one"},
	{id: "D16", cause: "regulator or booster set high",
		needs: []sign{inletUp}, backs: []sign{flowUp}, not: []sign{lineUp, pressureDangerous},
		next: "bring it under the housings' limit, often 6.9 bar (100 psi), before it bursts one"},
	{id: "D35", cause: "supply pressure too high for bowls and push-fit tube to bear for long",
		needs: []sign{pressureHigh}, not: []sign{pressureDangerous},
		next: "have a regulator fitted; until then close the feed when nobody is there"},
	{id: "D22", stage: Membrane, cause: "membrane not seated or bypassed, or its housing piped the wrong way",
		needs: []sign{membraneNearTap}, backs: []sign{flowUp, ratioDown, ratioHalved}, not: meterWrong,
		next: "read again after 10 min of running; then close the feed, let the pressure off, reseat the membrane, look at the piping"},
	{id: "D17", cause: "waste restrictor clogged or closed: too little goes to waste",
		needs: []sign{ratioHalved, wasteDown}, backs: []sign{passageUp, passageJumped, membraneUp}, owner: byRatio,
		next:  "clean or renew the restrictor soon, the membrane scales; then time both flows",
		again: "time both flows again; if it holds, the restrictor is due: the membrane scales"},
	{id: "D17", cause: "waste restrictor clogged or closed: too little goes to waste",
		needs: []sign{wasteHalved}, most: Possible,
		next: "time both flows on one day; if it holds, the restrictor is due: the membrane scales"},
	{id: "D17", cause: "waste restrictor clogging",
		needs: []sign{ratioDown, wasteDown}, not: []sign{ratioHalved}, owner: byRatio,
		next:  "clean or renew the restrictor; then time both flows",
		again: "time both flows again; if it holds, look at the restrictor"},
	{id: "D41", cause: "too little waste: the membrane scales",
		needs: []sign{ratioUnder}, not: []sign{ratioHalved, ratioClogging}, owner: byRatio,
		next:  "put in the restrictor that the element's label asks for; then time both flows",
		again: "time both flows again; if it holds, the restrictor of the element's label is due"},

	// The membrane.
	{id: "D15", stage: Membrane, cause: "membrane oxidised by chlorine",
		needs: []sign{passageUp, normalUp}, backs: []sign{chlorineThrough}, not: beside(membraneNearTap), owner: byRejection,
		next:  "test total chlorine after the carbon; renew carbon and membrane together",
		again: "test total chlorine after the carbon; read the membrane again after 10 min of running"},
	{id: "D15", stage: Membrane, cause: "membrane oxidised by chlorine",
		needs: []sign{passageJumped, normalUp, chlorineThrough}, not: beside(membraneNearTap), owner: byRejection,
		next:  "reseat the seals first, it costs nothing; if it stays, renew carbon and membrane together",
		again: "test total chlorine again; read the membrane again after 10 min of running"},
	{id: "D15", stage: Membrane, cause: "membrane being oxidised by chlorine",
		needs: []sign{passageUp, chlorineThrough}, not: beside(normalUp, normalDown, membraneNearTap), owner: byChlorine,
		next:  "renew the carbon now; read the membrane again after 10 min of running",
		again: "test total chlorine again at once, and close the feed if it is there; read the membrane again"},
	{id: "D33", stage: Membrane, cause: "back pressure on the product line: the float, a kink, a pressure tank",
		needs: []sign{normalDown, saltByFlow}, backs: []sign{ratioUp}, not: []sign{membraneNearTap, lineOnly, wasteUp, lineDown, inletDown},
		next: bucket + "; with the flow back, look along the product line"},
	{id: "D34", cause: "a clogged prefilter or the membrane: with no gauge behind the prefilters it can't be told which",
		needs: []sign{normalDown, lineOnly}, not: []sign{wasteUp, membraneNearTap, passageJumped}, most: Possible,
		next: "change the cartridges first, they are cheap; then time the flows again; a gauge behind them would tell"},
	{id: "D34", cause: "a clogged prefilter, the supply or the membrane: with no pressure gauge it can't be told which",
		needs: []sign{noGauge}, not: []sign{noProduct, wasteUp}, most: Possible,
		next: "change the cartridges first, they are cheap; then time the flows again; a gauge behind them would tell"},
	{id: "D33", stage: Membrane, cause: "back pressure on the product line: the float, a kink, a pressure tank",
		needs: []sign{normalDown, saltByFlow, lineOnly}, not: []sign{membraneNearTap, wasteUp, lineDown}, most: Possible,
		next: bucket + "; with the flow back, look along the product line"},
	{id: "D5", stage: Membrane, cause: "membrane torn, or its seal or o-ring leaking",
		needs: []sign{passageJumped}, backs: []sign{normalUp}, not: beside(membraneNearTap, normalDown, ratioHalved, rejectionUnder),
		next:  "close the feed, let the pressure off and reseat the seals, it costs nothing; then read again",
		again: "read again after 10 min of running; if it stays, close the feed, let the pressure off and reseat the seals"},
	{id: "D5", stage: Membrane, cause: "membrane torn, or its seal or o-ring leaking",
		needs: []sign{passageJumped, rejectionUnder}, backs: []sign{normalUp}, not: beside(membraneNearTap, normalDown, ratioHalved), owner: byRejection,
		next:  "close the feed, let the pressure off and reseat the seals first, it costs nothing; renew it if it stays",
		again: "read again after 10 min of running; if it stays, close the feed, let the pressure off and reseat the seals"},
	{id: "D39", stage: Membrane, cause: "membrane poor from the first reading on: its seal, its age or a wrong element, so that its first weeks are no yardstick",
		needs: []sign{poorFromStart}, not: beside(membraneNearTap, passageJumped, elementRinsing), owner: byRejection,
		next:  "reseat it; then hold flow and rejection against its label, and renew it if they fall short",
		again: "read again after 10 min of running and on another day; then hold flow and rejection against its label"},
	{id: "D14", stage: Membrane, cause: "membrane scaled and letting salt through",
		needs: []sign{passageUp, normalDown}, not: beside(membraneNearTap, saltByFlow, lineOnly, wasteUp), owner: eitherMembrane,
		next:  bucket + "; if it stays, renew it, and look at hardness and waste ratio before the new one goes the same way",
		again: bucket + ", and read it again on another day"},
	{id: "D14", stage: Membrane, cause: "membrane scaled and letting salt through",
		needs: []sign{passageJumped, normalDown}, not: beside(membraneNearTap, saltByFlow, wasteUp), owner: eitherMembrane,
		next:  bucket + "; then reseat the seals; if it stays, renew it",
		again: "read again after 10 min of running; " + bucket},
	{id: "D4", stage: Membrane, cause: "membrane spent by age, or its seal leaking",
		needs: []sign{passageUp}, backs: []sign{normalSteady},
		not: beside(normalDown, normalUp, membraneNearTap, ratioHalved, chlorineThrough, poorFromStart), owner: byRejection,
		next:  bucket + " and read it there after 10 min of running; test for chlorine after the carbon; then renew it",
		again: bucket + " and read it there after 10 min of running, on another day too"},
	{id: "D13", stage: Membrane, cause: "membrane scaled or fouled",
		needs: []sign{normalDown}, backs: []sign{ratioUp}, not: []sign{passageUp, passageJumped, lineOnly, wasteUp, saltByFlow}, owner: byFlow,
		next:  bucket + "; flush it; then clean or renew it and check the waste ratio",
		again: bucket + "; flush it, and time the flow again on another day"},
	{id: "D13", stage: Membrane, cause: "membrane scaled or fouled, or not the one of the label: it gives less than that says",
		needs: []sign{labelShort}, not: []sign{normalDown, normalSteady, normalUp, poorFromStart, lineOnly, wasteUp, noProduct}, most: Possible,
		next: bucket + "; then hold it against the label again"},

	// Carbon and resin.
	{id: "D30", stage: Carbon, cause: "chlorine breaking through the carbon",
		needs: []sign{chlorineThrough}, backs: []sign{normalUp}, owner: byChlorine,
		next:  "close the feed, let the pressure off, renew the carbon; chloramine wants more contact time; test again in two days",
		again: "test again at once, the tap too; if it is there, close the feed: the carbon is due"},
	{id: "D38", stage: Resin, cause: "bed loose or channelled, or water past its o-ring",
		needs: []sign{bedNeverZero}, not: beside(membraneZero),
		next: "repack it and check the o-ring before it is thrown away; then read again after 10 L"},
	{id: "D3", stage: Resin, cause: "resin giving back what it held, one half of it spent",
		needs: []sign{productFarAbove}, backs: []sign{acid, alkaline}, not: beside(bedNeverZero, membraneZero), owner: byProduct,
		next:  "check the meter, then change the resin; don't use the stored water; the product's pH tells which half",
		again: "check the meter and read again; don't use the stored water meanwhile; the product's pH tells which half"},
	{id: "D23", cause: "meter suspect: after resin reads above after membrane",
		needs: []sign{productAboveMembrane}, not: []sign{membraneAboveTap, acid, alkaline, probesSwapped, bedNeverZero, bothRaised},
		next: "check the meter in a known standard (84 or 1413 µS/cm), then read membrane and resin again in that order"},
	{id: "D28", stage: Resin, cause: "anion half of the resin spent, as carbon dioxide does it",
		needs: []sign{productOver, acid}, not: beside(productFarAbove, bedNeverZero), owner: byProduct,
		next:  "change the resin; letting the water before it air out makes the next one last longer",
		again: "read the product and its pH again; have resin at hand"},
	{id: "D29", stage: Resin, cause: "cation half of the resin spent, as ammonia from chloramine does it",
		needs: []sign{productOver, alkaline}, not: beside(productFarAbove, bedNeverZero), owner: byProduct,
		next:  "ask whether the supply is chloraminated; change the resin",
		again: "read the product and its pH again; ask whether the supply is chloraminated"},
	{id: "D2", stage: Resin, cause: "resin spent",
		needs: []sign{productOver}, backs: []sign{passageSteady},
		not: beside(productAboveMembrane, acid, alkaline, bedNeverZero), owner: byProduct,
		next:  "change or rotate the resin and compare its litres with the last one's",
		again: "read it once more after 10 min of running; have resin at hand"},
	{id: "D2", stage: Resin, cause: "resin spent, if the meter is right",
		needs: []sign{productOver, productAboveMembrane},
		not:   beside(productFarAbove, acid, alkaline, bedNeverZero), owner: byProduct,
		next:  "check the meter; then change or rotate the resin",
		again: "check the meter; then read it once more"},
	{id: "D2", stage: Resin, cause: "resin beginning to let salt through",
		needs: []sign{productRising}, not: beside(membraneZero, bedNeverZero), most: Hint,
		next: "read again at the next fill, and have resin at hand"},
	{id: "D27", stage: Resin, cause: "silica passing the resin, which a TDS meter can't see",
		needs: []sign{silica, productGood}, next: "test the product for silica; change the resin earlier next time",
		again: "test the product for silica"},
	{id: "D25", cause: "reservoir contaminated",
		needs: []sign{reservoirFouled, productGood}, next: "empty and clean the reservoir; read its water again when filled"},
	{id: "D25", cause: "more in the reservoir than air alone puts there",
		needs: []sign{reservoirDoubtful, productGood}, most: Possible, next: "read it again after the next fill; above 2 ppm empty and clean the reservoir"},

	{id: "D31", cause: "booster pump switching on and off, or a leak",
		needs: []sign{swings}, next: "look at the pressure switch, the check valve and every fitting"},
	{id: "D32", cause: "feed valve half closed, or the house drawing water",
		needs: []sign{sags}, next: "open the feed fully; compare with another time of day"},

	// Nothing is known of a new part yet.
	{id: "D45", stage: Sediment, behind: true, cause: "sediment cartridge renewed, not read since",
		needs: []sign{unreadSediment}, next: "read again: line and membrane pressure while it runs, or time the flow where there is no gauge behind it"},
	{id: "D45", stage: Carbon, behind: true, cause: "carbon renewed, not tested since",
		needs: []sign{unreadCarbon}, next: "read again: test for total chlorine after the carbon"},
	{id: "D45", stage: Membrane, behind: true, cause: "membrane renewed, not read since",
		needs: []sign{unreadMembrane}, next: "read again: the tap and after the membrane, after 10 min of running"},
	{id: "D45", stage: Resin, behind: true, cause: "resin renewed, not read since",
		needs: []sign{unreadResin}, next: "read again: after the resin, after 10 min of running"},
	{id: "D45", behind: true, cause: "waste restrictor renewed, flows not timed since",
		needs: []sign{unreadRestrictor}, next: "read again: time both flows"},
	{id: "D45", behind: true, cause: "booster or regulator changed, pressure not read since",
		needs: []sign{unreadSupply}, next: "read again: the pressure while it runs"},

	// Explained, nothing broken.
	{id: "D11", behind: true, cause: "cold water: less flow is normal",
		needs: []sign{flowDown, colder}, backs: []sign{normalSteady}, not: []sign{normalDown, coldShort},
		next: "nothing to mend; judge the membrane by its normalised flow"},
	{id: "D12", behind: true, cause: "warm water: more salt passes, which is normal",
		needs: []sign{membraneUp, warmer, passageSteady}, next: "nothing to mend; the resin lasts a little less"},
	{id: "D12", behind: true, cause: "warm water: more flow is normal",
		needs: []sign{flowUp, warmer}, backs: []sign{normalSteady}, not: []sign{normalUp, membraneUp}, next: "nothing to mend"},
	{id: "D7", behind: true, cause: "the supply carries more than it did",
		needs: []sign{tapUp}, backs: []sign{passageSteady}, not: []sign{membraneAboveTap, erratic},
		next: "nothing to mend; the resin will last less long"},
	{id: "D8", behind: true, cause: "the supply carries less than it did",
		needs: []sign{tapDown}, backs: []sign{passageSteady}, not: []sign{membraneAboveTap, erratic, tapZero},
		next: "nothing to mend; the resin will last longer"},
	{id: "D25", behind: true, cause: "carbon dioxide from the air in the reservoir, not the resin",
		needs: []sign{reservoirTrace, productGood}, next: "judge the resin at its outlet"},
}

// eitherMembrane is the one of the membrane's two limits that is further beyond.
func eitherMembrane(l *Limits) *Limit {
	if l.Flow.confirmed() || l.Rejection == nil {
		return l.Flow
	}
	return l.Rejection
}
