package starter

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// combinations are all the ways in which a keeper can pick sets.
func combinations() [][]string {
	var out [][]string
	for mask := 1; mask < 1<<len(all); mask++ {
		var pick []string
		for i, n := range all {
			if mask&(1<<i) != 0 {
				pick = append(pick, n)
			}
		}
		out = append(out, pick)
	}
	return out
}

func chores(set []model.Entry) []model.Chore {
	var out []model.Chore
	for _, e := range set {
		if c, ok := e.Body.(model.Chore); ok {
			out = append(out, c)
		}
	}
	return out
}

func allChores() []model.Chore {
	var sets [][]model.Entry
	for _, n := range all {
		sets = append(sets, must(Set(n)))
	}
	return chores(Combine(sets...))
}

func numbered(set []model.Entry, on model.Date) []model.Entry {
	out := slices.Clone(set)
	for i := range out {
		out[i].Seq, out[i].Act, out[i].On = model.Seq(i+1), 1, on
	}
	return out
}

func TestEveryCombinationOfSetsIsASoundBook(t *testing.T) {
	for _, pick := range combinations() {
		for _, order := range [][]string{pick, reversed(pick)} {
			var sets [][]model.Entry
			for _, n := range order {
				sets = append(sets, must(Set(n)))
			}
			log := numbered(Combine(sets...), model.NewDate(2026, 3, 1))
			if _, err := ledger.Fold(log); err != nil {
				t.Errorf("%v: %v", order, err)
			}
		}
	}
}

func reversed(list []string) []string {
	out := slices.Clone(list)
	slices.Reverse(out)
	return out
}

func TestSharedLinesAreTheSameInEverySet(t *testing.T) {
	first := map[definition]model.Entry{}
	for _, n := range all {
		for _, e := range must(Set(n)) {
			k := defines(e)
			if other, ok := first[k]; ok && !reflect.DeepEqual(other, e) {
				t.Errorf("%s %s of set %s differs from the same line of an earlier set", k.kind, k.id, n)
			} else if !ok {
				first[k] = e
			}
		}
	}
}

func TestSetFilesAreBookFormatToTheByte(t *testing.T) {
	for _, n := range all {
		data := must(files.ReadFile(n + ".jsonl"))
		lines := strings.Split(strings.TrimSuffix(string(data), "\n"), "\n")
		version := 1
		for _, e := range must(Set(n)) {
			version = max(version, e.Version())
		}
		if want := fmt.Sprintf(`{"kind":"wrasse-book","version":%d}`, version); lines[0] != want {
			t.Errorf("%s begins with %s, not %s", n, lines[0], want)
		}
		for i, e := range must(Set(n)) {
			again := must(model.EncodeEntry(e))
			if string(again) != lines[i+1] {
				t.Errorf("%s line %d is written as\n%s\nbut the book format writes\n%s", n, i+2, lines[i+1], again)
			}
		}
	}
}

func TestUnknownSetSaysWhichThereAre(t *testing.T) {
	_, err := Set("pond")
	if err == nil || !strings.Contains(err.Error(), "ro-di") {
		t.Errorf("got %v", err)
	}
}

func TestCombineKeepsTheFirst(t *testing.T) {
	spare := func(name string) []model.Entry {
		return []model.Entry{model.NewEntry(0, model.Spare{ID: "x", Name: name, Unit: "pc"})}
	}
	got := Combine(spare("one"), spare("two"))
	if len(got) != 1 || got[0].Body.(model.Spare).Name != "one" {
		t.Errorf("got %v", got)
	}
	notes := []model.Entry{model.NewEntry(1, model.Note{Text: "a"}), model.NewEntry(1, model.Note{Text: "b"})}
	if got := Combine(notes, notes); len(got) != 4 {
		t.Errorf("of what defines nothing %d entries are left, want 4", len(got))
	}
}

func TestSetsPlayTheRolesTheProgramLooksFor(t *testing.T) {
	want := map[string][]string{
		"ro-di": {model.RoleWaterMade, model.RoleTDSTap, model.RoleTDSMembrane, model.RoleTDSProduct, model.RolePressureLine,
			model.RolePressureMembrane, model.RoleTemperatureWater, model.RoleFlowProduct, model.RoleFlowWaste,
			model.RoleChlorineTap, model.RoleChlorineCarbon},
		"mixing":  {model.RoleBatches, model.RoleSalt},
		"display": {model.RoleSalinity},
	}
	for _, n := range names {
		var roles []string
		for _, e := range must(Set(n)) {
			switch b := e.Body.(type) {
			case model.Counter:
				roles = append(roles, b.Role)
			case model.Gauge:
				roles = append(roles, b.Role)
			case model.Spare:
				roles = append(roles, b.Role)
			}
		}
		for _, r := range want[n] {
			if !slices.Contains(roles, r) {
				t.Errorf("%s has no %s", n, r)
			}
		}
	}
}

// What a keeper measures in the tank, each in the unit of its test; common practice, no source.
func TestTheTankHasItsGauges(t *testing.T) {
	units := map[model.ID]string{
		"tank-alkalinity": "dKH", "tank-ph": "pH", "tank-calcium": "mg/L", "tank-magnesium": "mg/L", "tank-nitrate": "mg/L",
		"tank-phosphate": "mg/L", "tank-salinity": "SP", "tank-temperature": "C",
	}
	for _, e := range must(Set("display")) {
		g, ok := e.Body.(model.Gauge)
		if !ok {
			continue
		}
		if units[g.ID] != g.Unit || g.Component != "tank-water" {
			t.Errorf("%s of %s in %q, want %q of the tank's water", g.ID, g.Component, g.Unit, units[g.ID])
		}
		delete(units, g.ID)
	}
	for id := range units {
		t.Errorf("the set has no %s", id)
	}
}

func TestEveryComponentIsLookedAfterAndItsReachMarkedAsAGuess(t *testing.T) {
	// Minutes before hands reach the part, at most, for each grade of reach.
	most := map[int]int{1: 1, 2: 3, 3: 8, 4: 20, 5: 1440}
	used := map[model.ID]bool{}
	for _, c := range allChores() {
		used[c.Component] = true
	}
	for _, n := range all {
		set := must(Set(n))
		for _, e := range set {
			c, ok := e.Body.(model.Component)
			if !ok {
				continue
			}
			if !slices.Equal(c.Guess, []string{"reach", "access_minutes"}) {
				t.Errorf("%s: guess is %v", c.ID, c.Guess)
			}
			if c.AccessMinutes > most[c.Reach] {
				t.Errorf("%s: %d min of access at grade %d", c.ID, c.AccessMinutes, c.Reach)
			}
			if !used[c.ID] {
				t.Errorf("%s has no chore", c.ID)
			}
		}
	}
}

func TestReadChoresAreDoneByReading(t *testing.T) {
	for _, c := range allChores() {
		level := c.Clocks[0].Kind == model.ClockLevel // is told the litres made
		if (c.Work == model.WorkRead) != (len(c.DoneBy) > 0 || level) {
			t.Errorf("%s: work %s, done by %v", c.ID, c.Work, c.DoneBy)
		}
	}
}

// must is what can't fail here.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
