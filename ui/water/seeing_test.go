package water

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/ui/uitest"
)

// The verdict and its step stand above the figures, also where little else fits.
func TestTheStepStandsAboveTheFigures(t *testing.T) {
	for _, size := range [][2]int{{40, 16}, {60, 16}, {80, 24}, {100, 30}, {120, 40}} {
		s := open(t, size[0], size[1])
		s.Exact()
		screen := s.Screen()
		cause, next, figure := strings.Index(screen, "resin spent, likely:"), strings.Index(screen, "next: change or rotate"), strings.Index(screen, "259 ppm")
		if cause < 0 {
			cause = strings.LastIndex(screen[:max(next, 0)], "resin spent, likely")
		}
		if next < 0 || cause < 0 || cause > next || figure >= 0 && figure < next && size[0] < wideW {
			t.Errorf("%v: cause at %d, step at %d, figure at %d:\n%s", size, cause, next, figure, screen)
		}
	}
}

// What is seen is logged with two keys, leads to its cause, and is said to be gone with the same two.
func TestWhatIsSeen(t *testing.T) {
	s := open(t, 80, 24)
	s.Keys("o")
	s.Sees("What did you see?", "Waste runs on when full", "Silica in the product", "Brown film in the tank", "Pressure goes up and down", "Pressure falls over hours")
	s.Keys("w")
	if r := lastReading(s, station.RoleWasteWhenFull); r == nil || r.Value != 1 {
		t.Fatalf("logged %+v", r)
	}
	s.Keys("w") // the page of what the readings say
	s.Sees("shut-off or check valve leaking")
	s.Keys("<esc>o")
	s.Sees("seen of late")
	s.Keys("w")
	if r := lastReading(s, station.RoleWasteWhenFull); r == nil || r.Value != 0 {
		t.Fatalf("logged %+v", r)
	}
}

func lastReading(s *uitest.Window, role string) *model.Reading {
	g, _ := s.Session.Book.GaugeByRole(role)
	all := s.Session.Book.Readings(g.ID)
	if len(all) == 0 {
		return nil
	}
	return &all[len(all)-1].What
}

// From a day on the readings are normal: the first weeks begin there, and z takes that back.
func TestFromTodayIsNormal(t *testing.T) {
	s := open(t, 100, 40)
	s.Keys("w")
	was := s.Line("First weeks")
	s.Keys("<esc>N")
	s.Sees("From today is normal", "Membrane", "Waste restrictor")
	s.Keys("c") // the membrane, third of the stages
	all := s.Session.Book.Normals("membrane")
	if len(all) != 1 || all[0].On != uitest.Today {
		t.Fatalf("logged %+v", all)
	}
	s.Keys("wz")
	s.Keys("<esc>z<esc>w")
	if is := s.Line("First weeks"); is != was {
		t.Errorf("taken back to %q, was %q", is, was)
	}
}

// A tank with animals gets water changes and never dry salt.
func TestATankIsShiftedByWaterChanges(t *testing.T) {
	s := open(t, 120, 40)
	s.Keys("mt")
	s.Sees("no dry salt", "a meter in mS")
	s.Keys("400<tab>")
	s.Clear()
	s.Keys("33")
	s.Sees("no dry salt into a tank with animals", "change 40 L a day for 2 days", "day 1: 33.0 to 34.0 with water of 43.0", "day 2: 34.0 to 35.0 with water of 44.0")
	n := s.Session.Book.Last()
	s.Keys("<enter>")
	s.Misses("no dry salt into a tank")
	if s.Session.Book.Last() != n {
		t.Error("a plan was written down")
	}
}
