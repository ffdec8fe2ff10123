package starter

import "brine/wrasse/model"

// lastBatch is the day of the latest batch; one was mixed every week before.
const lastBatch = -4

// saltFor35 is how many grams of this library's salt a litre of fresh water takes to reach
// a salinity of 35; mixes run from 38 to 43 (common practice, no source).
const saltFor35 = 39.2

// mixBatches logs the weekly batch of salt water: the batch, its count and its salt as one
// act, then its test and the rinse of the vat.
func (l *library) mixBatches() {
	r := dice("batches")
	for day := lastBatch; day > firstDay; day -= 7 {
		if present(day) != day {
			continue
		}
		volume, one := changed, 1.0
		if r.IntN(6) == 0 {
			volume = 55 // a bigger change, or a loan to the school
		}
		grams := around(saltFor35*volume, 20, 10, r)
		salinity := around(35*grams/volume/saltFor35, 0.3, 0.1, r)
		warm := around(25, 0.6, 0.1, r)
		kilos := shown(grams/1000, 0.001)
		l.add(day, mixing,
			model.Batch{VolumeL: volume, SaltG: grams, Salinity: &salinity, TemperatureC: &warm, From: "reservoir", Into: "vat"},
			model.Usage{Counter: "batches", Amount: &one},
			model.Stock{Spare: "salt-mix", Change: -kilos})
		l.uses["salt-mix"] = append(l.uses["salt-mix"], use{day, kilos})
		l.add(day, doing, l.batchTick("test-batch", model.FoundPassed, day))
		l.add(day, doing, l.batchTick("rinse-vat", model.FoundLight, day))
	}
}

func (l *library) batchTick(chore model.ID, found model.Found, day int) model.Tick {
	for _, s := range l.chores[chore].Spares {
		l.uses[s.Spare] = append(l.uses[s.Spare], use{day, s.Quantity})
	}
	return model.Tick{Chore: chore, Found: found}
}

// remark logs what is not a round's work: parts to be moved, faults, days away, notes.
func (l *library) remark() {
	for _, a := range away {
		l.add(a[0], founding, model.Away{Until: l.date(a[1])})
	}
	l.flag(-440, model.Flag{Component: rebuilt.component, State: model.FlagFlagged, Cause: "out-of-sight",
		Note: "whole cabinet front has to come off to reach the body"})
	l.flag(-330, model.Flag{Component: rebuilt.component, State: model.FlagPlanned, Note: "hinged door, skimmer moved to the front chamber"})
	minutes := rebuilt.minutes
	l.flag(rebuilt.day, model.Flag{Component: rebuilt.component, State: model.FlagRebuilt, Reach: rebuilt.reach, AccessMinutes: &minutes,
		Note: "door hung by the woodwork class; body lifts straight out"})
	l.flag(-510, model.Flag{Component: "tank-heater", State: model.FlagFlagged, Cause: "too-tight"})
	l.flag(-468, model.Flag{Component: "tank-heater", State: model.FlagDropped, Note: "a longer cord was enough"})
	l.flag(-118, model.Flag{Component: "sump", State: model.FlagFlagged, Cause: "must-drain"})
	l.flag(-62, model.Flag{Component: "sump", State: model.FlagPlanned, Note: "valve on the drain chamber, at the summer closing"})
	l.flag(-17, model.Flag{Component: "mixing-pump", State: model.FlagFlagged, Cause: "in-the-way",
		Note: "three crates of withdrawn atlases stand in front of the vat"})

	l.add(pumpStopped, evening, model.Fault{Component: "return-pump", Note: "hums and does not turn after the power cut"})
	l.add(-3, evening, model.Fault{Component: "lights", Note: "left fan rattles, then stops"})

	l.add(-5, evening, model.PutOff{Chore: "clean-return-pump", Until: l.date(9), Reason: "o-ring on order"})
	l.add(-402-20, evening, model.PutOff{Chore: "siphon-sump", Until: l.date(-391), Reason: "after the closing"})

	l.add(-1, reading, read("tds-product", productPPM(-1))) // read again, to be sure

	for _, n := range notes {
		l.add(present(n.day), evening, model.Note{Text: n.text, OnWhat: n.on})
	}
}

func (l *library) flag(day int, f model.Flag) { l.add(day, evening, f) }

var notes = []struct {
	day  int
	text string
	on   string
}{
	{-720, "Tank taken over from the town museum; log begins here.", ""},
	{-597, "Shell evening (貝の会) borrowed the magnifier; back on the returns desk.", ""},
	{-462, "Visitors asked whether the urchin is for loan. It is not.", ""},
	{-388, "Closed for painting, lid kept shut; a little dust on the surface, skimmer took it.", "component:skimmer-cup"},
	{-310, "Power cut of about an hour. Everything restarted but the return pump.", "return-pump"},
	{-233, "The café next door gave its old trolley; salt buckets no longer travel by hand.", "salt-mix"},
	{-174, "Naïve question at story hour: does the wrasse read at night?", ""},
	{-97, "Water board flushed the main in Quay Street; sediment cartridge went brown early.", "sediment-filter"},
	{-41, "New volunteer shown the drip loops, the breaker and the spare key.", ""},
	{-12, "Tap is colder and the unit slower; nothing wrong with the membrane.", "membrane"},
}
