package sheet

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"slices"
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

// The page says what of the water is whose, from which vessel it is taken and by when, of what lies in its days alone.
func TestASitterIsToldWhoseTheWaterIs(t *testing.T) {
	need := func(vessel model.ID, litres float64, days int, chore model.ID) model.Body {
		return model.Need{Vessel: vessel, Litres: litres, By: today.AddDays(days), Chore: chore, Note: "for the fair"}
	}
	for _, c := range []struct {
		name     string
		sitter   bool // making water is for a sitter
		level    float64
		more     []model.Body
		want     []string
		not      []string
		lastDays int
	}{
		{name: "nothing to do with water", level: 90, not: []string{"Reservoir", "Vat", "not the sitter's job, above"}},
		{name: "a need", level: 90, more: []model.Body{need("reservoir", 20, 4, "")},
			want: []string{"Reservoir (Cellar), fresh water: some 90 L on Fri 27 Nov. 20 L of it are wanted by Sun 29 Nov (for the fair): take them from here if the keeper asked you to", "[ ] 20 L of water wanted from: Reservoir"},
			not:  []string{"not the sitter's job, above"}},
		{name: "needs outside the days", level: 90, more: []model.Body{need("reservoir", 20, 1, ""), need("reservoir", 20, 9, "")}, not: []string{"Reservoir"}},
		{name: "a need of the keeper's", level: 90, more: []model.Body{need("reservoir", 20, 4, "change")},
			want: []string{"(for the fair), for Part: change: not your job; the keeper sees to it", "not the sitter's job, above"}, not: []string{"[ ] 20 L"}},
		{name: "a start of the unit", level: 50, more: []model.Body{need("reservoir", 60, 7, "")},
			want: []string{"By Tue 1 Dec the unit must be started to make 15 L: not your job; the keeper sees to it"}, not: []string{"Part: make water"}},
		{name: "a start for a sitter", sitter: true, level: 50, more: []model.Body{need("reservoir", 60, 7, "")},
			want: []string{"By Tue 1 Dec the unit must be started to make 15 L: that is your job 1.", "[ ] 1 Part: make water"}, not: []string{"not your job"}},
		{name: "short before they come", level: 5, more: []model.Body{need("reservoir", 60, 1, ""), need("reservoir", 10, 3, "")},
			want: []string{"Reservoir (Cellar), fresh water: the keeper fills it before leaving. 10 L of it are wanted by Sat 28 Nov"}, not: []string{"must be started"}},
		{name: "a mix", level: 90, more: []model.Body{need("vat", 40, 5, "")},
			want: []string{"Vat (Cellar), salt water: some 10 L on Fri 27 Nov. 40 L of it are wanted by Mon 30 Nov", "30 L by Sun 29 Nov must be mixed in it: not your job"}},
		{name: "a float valve", level: 90, more: []model.Body{model.Vessel{ID: "reservoir", Name: "Reservoir", Place: "p", Holds: model.HoldsFresh, Capacity: 100, FedBy: "made", Auto: true}, need("reservoir", 20, 4, "")},
			want: []string{"fresh water: its float valve keeps it full. 20 L of it"}},
		{name: "longer than is known", level: 90, more: []model.Body{need("reservoir", 20, 4, "")}, lastDays: 40,
			want: []string{"This is reckoned up to Wed 23 Dec; for the days after it, call."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			chore := func(id model.ID, name string, sitter bool, clock model.Clock) model.Chore {
				return model.Chore{ID: id, Component: "part", Name: name, Work: model.WorkRead, Minutes: 5, Consequence: 1, Sitter: sitter, Clocks: []model.Clock{clock}}
			}
			bodies := []model.Body{
				model.BookDef{Name: "Test", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}},
				model.Place{ID: "p", Name: "Cellar"},
				model.Counter{ID: "made", Name: "Water made", Unit: "L", Style: model.StyleAmount, Role: model.RoleWaterMade},
				model.Vessel{ID: "reservoir", Name: "Reservoir", Place: "p", Holds: model.HoldsFresh, Capacity: 100, Keep: 5, FedBy: "made"},
				model.Vessel{ID: "vat", Name: "Vat", Place: "p", Holds: model.HoldsSalt, Capacity: 80},
				model.Component{ID: "part", Name: "Part", Place: "p", Reach: 1, InService: today},
				chore("make", "make water", c.sitter, model.Clock{Kind: model.ClockLevel, Vessel: "reservoir"}),
				chore("change", "change", false, model.Clock{Kind: model.ClockCalendar, Every: model.Span{N: 6, Unit: model.SpanMonths}, Rule: model.RuleEvery}),
				model.Level{Vessel: "reservoir", Litres: c.level},
				model.Level{Vessel: "vat", Litres: 10},
			}
			var log []model.Entry
			for _, body := range append(bodies, c.more...) {
				log = append(log, model.NewEntry(today, body))
			}
			b := fold(t, log)
			s, err := ForSitter(b, schedule.Make(b, today), schedule.Absence{From: today.AddDays(2), Until: today.AddDays(max(8, c.lastDays))})
			if err != nil {
				t.Fatal(err)
			}
			page := strings.Join(strings.Fields(s.Text()), " ")
			for _, want := range c.want {
				if !strings.Contains(page, want) {
					t.Errorf("the page has no %q:\n%s", want, s.Text())
				}
			}
			for _, not := range c.not {
				if strings.Contains(page, not) {
					t.Errorf("the page has %q:\n%s", not, s.Text())
				}
			}
			for _, d := range s.Days {
				for _, w := range d.Water {
					if !strings.Contains(s.HTML(), "<span><i></i> "+w+"</span>") {
						t.Errorf("the page for a browser has no %q", w)
					}
				}
			}
		})
	}
}

// Parts with odd names are told apart by what is to be done there: the jobs of the page by number, else nothing.
func TestASitterIsToldWhatIsWhat(t *testing.T) {
	log := starter.Demo(today)
	page := func(units string) string {
		b := fold(t, append(slices.Clone(log), model.NewEntry(today, model.BookDef{Name: "Reef", Units: model.Units{Volume: units, Temperature: "C", Pressure: "bar"}})))
		s, err := ForSitter(b, schedule.Make(b, today), schedule.Absence{From: today, Until: today.AddDays(40)})
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(strings.Fields(s.Text()), " ")
	}
	first := page("L")
	for _, want := range []string{"Sump (Cabinet, lobby): the lower basin", "Leave it alone.", "do job 2 that day", "nor at the RCD beside", "You reach for none of them", "The can is filled by whoever is written below"} {
		if !strings.Contains(first, want) {
			t.Errorf("the page has no %q", want)
		}
	}
	for i := range log { // all jobs on the top-up and the tank's RCD are a sitter's now
		if c, ok := log[i].Body.(model.Chore); ok && (c.Component == "top-up" || c.Component == "tank-rcd") {
			c.Sitter = true
			log[i].Body = c
		}
	}
	second := page("gal")
	for _, want := range []string{"nor at the GFCI beside", "In need you reach for the fuse box."} {
		if !strings.Contains(second, want) {
			t.Errorf("the page has no %q", want)
		}
	}
	if strings.Contains(second, "whoever is written below") || strings.Contains(second, "You reach for none") {
		t.Error("what is a job stands there as nobody's")
	}
}
