package starter

import (
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
)

// words are the words of which a caution must use one to speak of a hazard.
var words = map[model.Hazard][]string{
	model.HazardMains:     {"Mains:"},
	model.HazardAcid:      {"Acid:"},
	model.HazardPressure:  {"Pressure:"},
	model.HazardChlorine:  {"Chlorine:"},
	model.HazardLift:      {"Lift:"},
	model.HazardGlass:     {"Glass:"},
	model.HazardPalytoxin: {"Palytoxin:"},
	model.HazardCaustic:   {"Caustic:"},
	model.HazardCO2:       {"CO2:"},
	model.HazardOzone:     {"Ozone:"},
	model.HazardUV:        {"UV:"},
}

func says(cautions []string, any ...string) bool {
	return slices.ContainsFunc(cautions, func(c string) bool {
		return slices.ContainsFunc(any, func(w string) bool { return strings.Contains(c, w) })
	})
}

func TestEveryHazardHasACautionThatNamesIt(t *testing.T) {
	for _, c := range allChores() {
		for _, h := range c.Hazards {
			if words[h] == nil {
				t.Errorf("%s: no caution is known for hazard %s", c.ID, h)
			} else if !says(c.Cautions, words[h]...) {
				t.Errorf("%s: hazard %s, and no caution that begins %s", c.ID, h, words[h])
			}
		}
		for h, w := range words {
			if says(c.Cautions, w...) && !slices.Contains(c.Hazards, h) {
				t.Errorf("%s: a caution about %s, and not among its hazards %v", c.ID, h, c.Hazards)
			}
		}
	}
}

// What the steps do decides which hazards a chore must name, whoever wrote its list.
func TestStepsThatDoDangerousThingsNameTheHazard(t *testing.T) {
	cases := []struct {
		said   []string
		hazard model.Hazard
	}{
		{[]string{"citric acid", "vinegar"}, model.HazardAcid},
		{[]string{"bleach to", "mL of 5 % bleach"}, model.HazardChlorine},
		{[]string{"Unplug", "at the plug", "unplug"}, model.HazardMains},
		{[]string{"Close the feed, open", "Close the feed at the tap", "Feed on slowly", "Gas off at the cylinder"}, model.HazardPressure},
		{[]string{"old resin", "New resin", "Spent lime", "Fill each can", "dose run by hand"}, model.HazardCaustic},
		{[]string{"Lift the float"}, model.HazardMains}, // a hand over water in which something is plugged in
		{[]string{"UV lamp", "Old lamp", "Sleeve out"}, model.HazardUV},
	}
	for _, c := range allChores() {
		for _, s := range c.Steps {
			for _, k := range cases {
				if says([]string{s.Text}, k.said...) && !slices.Contains(c.Hazards, k.hazard) {
					t.Errorf("%s: step %q, and no hazard %s", c.ID, s.Text, k.hazard)
				}
			}
		}
	}
}

func TestCautionsSayTheUsualThings(t *testing.T) {
	pressure := 0
	for _, c := range allChores() {
		has := func(h model.Hazard) bool { return slices.Contains(c.Hazards, h) }
		// Acid and bleach give off chlorine gas together: common practice, no source.
		if (has(model.HazardAcid) || has(model.HazardChlorine)) && !says(c.Cautions, "gas") {
			t.Errorf("%s: acid or chlorine, and no word about gas", c.ID)
		}
		if (has(model.HazardAcid) || has(model.HazardChlorine)) && !says(c.Cautions, "gloves and goggles") {
			t.Errorf("%s: acid or chlorine, and no gloves and goggles", c.ID)
		}
		// With its float shut the unit holds pressure behind the shut-off: the product line is opened in every job that
		// opens a housing or a fitting. Common practice, no source.
		opens := slices.ContainsFunc(c.Steps, func(s model.Step) bool { return strings.Contains(s.Text, "Feed on slowly") })
		if opens {
			pressure++
			first := slices.IndexFunc(c.Steps, func(s model.Step) bool { return strings.Contains(s.Text, "lose the feed") })
			if first < 0 || !strings.Contains(c.Steps[first].Text, "open the product line") || !says(c.Cautions, "open the product line") {
				t.Errorf("%s: opens a housing, and does not open the product line first", c.ID)
			}
		}
		// A siphon is never started by mouth, and reagents harm who is careless: common practice, no source.
		for _, step := range c.Steps {
			if strings.Contains(step.Text, "Siphon ") && !strings.Contains(step.Text, "never by mouth") {
				t.Errorf("%s: step %q, and no word about the mouth", c.ID, step.Text)
			}
		}
		kit := slices.ContainsFunc(c.Spares, func(s model.SpareUse) bool { return strings.HasSuffix(string(s.Spare), "-test") })
		if kit && (c.Work == model.WorkRead || c.Work == model.WorkTest) && !says(c.Cautions, "Reagents:") {
			t.Errorf("%s: uses a test kit, and no caution about reagents", c.ID)
		}
		// Lime, soda and resin in the eye: 15 minutes of rinsing, ANSI Z358.1, from memory.
		if has(model.HazardCaustic) && (!says(c.Cautions, "15 minutes") || !says(c.Cautions, "oggles and gloves")) {
			t.Errorf("%s: caustic, and no goggles, gloves and 15 minutes of rinsing", c.ID)
		}
	}
	if pressure == 0 {
		t.Error("no chore works under pressure; the list of chores was not read")
	}
}

// A second adult within call where mains work is cramped or blind: common practice, no source.
func TestMainsWorkThatIsHardToReachAsksForASecondPerson(t *testing.T) {
	reach := map[model.ID]int{}
	for _, n := range all {
		for _, e := range must(Set(n)) {
			if c, ok := e.Body.(model.Component); ok {
				reach[c.ID] = c.Reach
			}
		}
	}
	for _, c := range allChores() {
		if slices.Contains(c.Hazards, model.HazardMains) && reach[c.Component] >= 4 && !says(c.Cautions, "second adult") {
			t.Errorf("%s: mains at reach %d without a second adult", c.ID, reach[c.Component])
		}
	}
}

// Water that nobody notices ruins floors and meets sockets: what tests the alarms and stops against it is looked at on the
// first day, which is what consequence 3 is for.
func TestFloodTestsEndangerPeople(t *testing.T) {
	for _, id := range []model.ID{"test-leak-alarm", "test-shut-off", "feel-for-leaks", "test-floor-alarm", "trip-top-up", "clear-overflow"} {
		chores := allChores()
		i := slices.IndexFunc(chores, func(c model.Chore) bool { return c.ID == id })
		if i < 0 || chores[i].Consequence != 3 {
			t.Errorf("%s is not of consequence 3", id)
		}
	}
}

// Fixed wiring and the interval of the test button are matters of local code.
func TestElectricalTestsDeferToLocalCode(t *testing.T) {
	for _, id := range []model.ID{"test-mixing-rcd", "look-over-mixing-sockets", "test-rcd-restart", "look-over-plugs"} {
		chores := allChores()
		i := slices.IndexFunc(chores, func(c model.Chore) bool { return c.ID == id })
		if i < 0 {
			t.Errorf("%s is in no set", id)
		} else if !says(chores[i].Cautions, "licensed electrician") || !says(chores[i].Cautions, "Local electrical code") {
			t.Errorf("%s: cautions are %q", id, chores[i].Cautions)
		}
	}
}

// Bodies of salt water are lifted by people: 25 L at salinity 35 and 25 degC weighs
// 25.6 kg (density 1023.34 kg/m3 of the UNESCO equation of state EOS-80).
func TestWeightInTheLiftCautionIsRight(t *testing.T) {
	const kg = 25 * 1023.34306 / 1000
	if kg < 25.55 || kg >= 25.65 {
		t.Fatalf("25 L weighs %.2f kg", kg)
	}
	chores := allChores()
	i := slices.IndexFunc(chores, func(c model.Chore) bool { return c.ID == "change-water" })
	if !says(chores[i].Cautions, "25.6 kg") {
		t.Errorf("cautions are %q", chores[i].Cautions)
	}
}
