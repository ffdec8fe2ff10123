package water

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/ui/termtest"
)

// unit is a book of an RO/DI unit that has been read every other week for half a year
// up to yesterday, and found well.
func unit(t *testing.T, today model.Date) string {
	t.Helper()
	begun := today.AddDays(-180)
	bodies := []model.Body{
		model.BookDef{Name: "Harbour reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
		model.Place{ID: "cellar", Name: "Cellar"},
		model.Component{ID: "membrane", Name: "Membrane", Place: "cellar", Reach: 1, Stage: model.StageMembrane},
		model.Component{ID: "resin", Name: "Resin", Place: "cellar", Reach: 1, Stage: model.StageResin},
		model.Gauge{ID: "tap", Name: "Tap", Unit: "ppm", Role: model.RoleTDSTap},
		model.Gauge{ID: "after-membrane", Name: "Membrane", Unit: "ppm", Role: model.RoleTDSMembrane},
		model.Gauge{ID: "product", Name: "Product", Unit: "ppm", Role: model.RoleTDSProduct},
		model.Chore{ID: "renew-resin", Component: "resin", Name: "renew", Work: model.WorkRenew, Minutes: 15, Consequence: 2,
			Clocks: []model.Clock{{Kind: model.ClockReading, Gauge: "product", Limit: 1, Bad: model.SideAbove}}},
	}
	lines := []string{`{"kind":"wrasse-book","version":1}`}
	write := func(on model.Date, b model.Body) {
		line, err := model.EncodeEntry(model.NewEntry(on, b))
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, string(line))
	}
	for _, b := range bodies {
		write(begun, b)
	}
	for on := begun; on < today; on = on.AddDays(14) {
		write(on, model.Reading{Gauge: "tap", Value: 250})
		write(on, model.Reading{Gauge: "after-membrane", Value: 6})
		write(on, model.Reading{Gauge: "product", Value: 0})
	}
	path := filepath.Join(t.TempDir(), "book.jsonl")
	if err := os.WriteFile(path, []byte(strings.Join(lines, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// On a real terminal: a set of readings is logged as one line, and the verdict, the
// values and the chart change at once; the command sees the same afterwards.
func TestLogASetOnATerminal(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program")
	}
	t.Parallel()
	bin := termtest.Build(t, "../..")
	book := filepath.Join(t.TempDir(), "book.db")
	today := model.DateOf(time.Now())
	if out, err := exec.Command(bin, "--book", book, "import", unit(t, today)).CombinedOutput(); err != nil {
		t.Fatalf("importing: %v\n%s", err, out)
	}

	s := termtest.Start(t, termtest.Options{Bin: bin, Args: []string{"--book", book}, W: 100, H: 30, Env: []string{"TZ=" + os.Getenv("TZ")}})
	s.WaitFor("Harbour reef")
	s.Send("2")
	s.WaitFor("nothing stands out, likely", "resin 0", "membrane 6", "TDS, ppm · 90 d")
	s.Send("r")
	s.WaitFor("let it run", "before the prefilters")
	s.Send("251 6 4<enter>")
	s.WaitFor("4 ppm is far from the last, 0 ppm")
	s.Send("<enter>")
	s.WaitFor("resin spent, likely", "next: read it once more", "resin 4", "z takes it back")
	s.WaitGone("nothing stands out")
	s.Send("z")
	s.WaitFor("nothing stands out, likely", "resin 0")
	s.Send("Z")
	s.WaitFor("resin spent, likely")
	s.Send("<right>")
	s.WaitFor("Rejection, %", "now 97.6")
	s.Send("q")
	if code := s.Wait(); code != 0 {
		t.Fatalf("exit code %d", code)
	}
	out, err := exec.Command(bin, "--book", book, "water", "--json").Output()
	if err != nil || !strings.Contains(string(out), `"causes":[{"pattern":"D2","cause":"resin spent","sure":"likely"`) {
		t.Errorf("wrasse water: %v\n%s", err, out)
	}
}
