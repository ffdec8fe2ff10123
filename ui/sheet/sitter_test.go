package sheet

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/starter"
	"brine/wrasse/schedule"
)

var update = flag.Bool("update", false, "write the golden pages anew")

// golden fails unless a page is as it is kept below testdata/golden.
func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", "golden", name)
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, []byte(got)) {
		t.Errorf("%s differs; -update writes it anew, then read the difference", file)
	}
}

// fortnight is the page of the demo for two weeks in December.
func fortnight(t testing.TB) Sitter {
	t.Helper()
	b := fold(t, starter.Demo(today))
	s, err := ForSitter(b, schedule.Make(b, today), schedule.Absence{From: today.AddDays(10), Until: today.AddDays(24), By: "Ines"})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSitterGolden(t *testing.T) {
	s := fortnight(t)
	golden(t, "sitter.html", s.HTML())
	golden(t, "sitter.txt", s.Text())
}

// A job that takes water says how much, and from where.
func TestASitterIsToldTheWater(t *testing.T) {
	log := starter.Demo(today)
	b := fold(t, log)
	for _, c := range b.Chores() {
		if c.Sitter {
			c.Takes = []model.Take{{Vessel: "reservoir", Litres: 2}}
			log = append(log, model.NewEntry(today, c))
		}
	}
	b = fold(t, log)
	s, err := ForSitter(b, schedule.Make(b, today), schedule.Absence{From: today, Until: today.AddDays(14)})
	if err != nil || !strings.Contains(s.Text(), "2 L of water from: Reservoir") {
		t.Errorf("%v; the page says\n%s", err, s.Text())
	}
}
