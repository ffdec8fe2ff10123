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
}

func says(cautions []string, any ...string) bool {
	return slices.ContainsFunc(cautions, func(c string) bool {
		return slices.ContainsFunc(any, func(w string) bool { return strings.Contains(c, w) })
	})
}

func TestEveryHazardHasACautionThatNamesIt(t *testing.T) {
	for _, c := range allChores(t) {
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
		{[]string{"Close the feed, wait", "Close the feed, open", "Feed on slowly"}, model.HazardPressure},
	}
	for _, c := range allChores(t) {
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
	for _, c := range allChores(t) {
		has := func(h model.Hazard) bool { return slices.Contains(c.Hazards, h) }
		// Acid and bleach give off chlorine gas together: common practice, no source.
		if (has(model.HazardAcid) || has(model.HazardChlorine)) && !says(c.Cautions, "gas") {
			t.Errorf("%s: acid or chlorine, and no word about gas", c.ID)
		}
		if (has(model.HazardAcid) || has(model.HazardChlorine)) && !says(c.Cautions, "gloves and goggles") {
			t.Errorf("%s: acid or chlorine, and no gloves and goggles", c.ID)
		}
		if has(model.HazardPressure) {
			pressure++
			if !says(c.Cautions, "close the feed") {
				t.Errorf("%s: pressure, and no word about closing the feed", c.ID)
			}
		}
	}
	if pressure == 0 {
		t.Error("no chore works under pressure; the list of chores was not read")
	}
}

// A second adult within call where mains work is cramped or blind: common practice, no source.
func TestMainsWorkThatIsHardToReachAsksForASecondPerson(t *testing.T) {
	reach := map[model.ID]int{}
	for _, n := range names {
		for _, e := range mustSet(t, n) {
			if c, ok := e.Body.(model.Component); ok {
				reach[c.ID] = c.Reach
			}
		}
	}
	for _, c := range allChores(t) {
		if slices.Contains(c.Hazards, model.HazardMains) && reach[c.Component] >= 4 && !says(c.Cautions, "second adult") {
			t.Errorf("%s: mains at reach %d without a second adult", c.ID, reach[c.Component])
		}
	}
}

// Fixed wiring and the interval of the test button are matters of local code.
func TestElectricalTestsDeferToLocalCode(t *testing.T) {
	for _, id := range []model.ID{"test-mixing-rcd", "look-over-mixing-sockets", "test-rcd-restart", "look-over-plugs"} {
		all := allChores(t)
		i := slices.IndexFunc(all, func(c model.Chore) bool { return c.ID == id })
		if i < 0 {
			t.Errorf("%s is in no set", id)
		} else if !says(all[i].Cautions, "licensed electrician") || !says(all[i].Cautions, "Local electrical code") {
			t.Errorf("%s: cautions are %q", id, all[i].Cautions)
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
	all := allChores(t)
	i := slices.IndexFunc(all, func(c model.Chore) bool { return c.ID == "change-water" })
	if !says(all[i].Cautions, "25.6 kg") {
		t.Errorf("cautions are %q", all[i].Cautions)
	}
}
