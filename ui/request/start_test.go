package request

import (
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/schedule"
)

// begun is a book begun on a date with all starter sets and some answers.
func begun(t *testing.T, r Start) *ledger.Book {
	t.Helper()
	var sets [][]model.Entry
	for _, name := range starter.Names() {
		set, err := starter.Set(name)
		if err != nil {
			t.Fatal(err)
		}
		sets = append(sets, set)
	}
	r.Definitions = starter.Combine(sets...)
	r.Book = model.BookDef{Name: "Home reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}
	entries, err := r.Entries(new(ledger.Book))
	if err != nil {
		t.Fatal(err)
	}
	return wrote(t, new(ledger.Book), entries)
}

// On the first morning nothing is late, what endangers animals or people and can be
// looked at is due, and so it is whatever day of the year the book is begun.
func TestFirstMorningIsNoWallOfRed(t *testing.T) {
	for _, first := range []model.Date{
		model.NewDate(2026, time.March, 31), model.NewDate(2024, time.February, 29), model.NewDate(2026, time.November, 25),
	} {
		b := begun(t, Start{Stamp: on(first), LitresAWeek: 120, Chloramine: true, Tap: map[string]float64{model.RoleTDSTap: 250}})
		round := schedule.Make(b, first)
		late, due := 0, 0
		for _, s := range round.Standings {
			if s.State == schedule.StateLate || s.PastLimit {
				late++
				t.Errorf("%s: %s is %s, due %s", first, s.Chore.ID, s.State, s.Due)
			}
			looked := s.Chore.Consequence == 3 && (s.Chore.Work == model.WorkTest || s.Chore.Work == model.WorkRead)
			byCalendar := calendarDays(s.Chore, first) > 0
			if looked && byCalendar && (s.Due < first || s.Due > first.AddDays(1)) {
				t.Errorf("%s: %s endangers and is due %s", first, s.Chore.ID, s.Due)
			}
			if s.State == schedule.StateDue {
				due++
			}
		}
		if late == 0 && due == 0 {
			t.Errorf("%s: nothing at all is due", first)
		}
		week := schedule.Make(b, first.AddDays(1))
		if n := week.Counts.PastLimit; n > 0 {
			t.Errorf("%s: on the next day %d are past their limit", first, n)
		}
	}
}

func TestStartTakesTheAnswers(t *testing.T) {
	first := model.NewDate(2026, time.November, 25)
	b := begun(t, Start{
		Stamp:       on(first),
		LitresAWeek: 70,
		WasteRatio:  3,
		Last: map[model.ID]LastDone{
			"renew-resin":    {On: model.NewDate(2026, time.September, 1)},
			"renew-membrane": {On: model.NewDate(2025, time.March, 15), About: true},
		},
	})
	if c, _ := b.Counter("water-made"); c.DeclaredRate != 10 || len(c.Guess) != 1 {
		t.Errorf("70 L a week is kept as %v a day, guess %v", c.DeclaredRate, c.Guess)
	}
	for id, want := range map[model.ID][]float64{"renew-sediment": {3}, "renew-carbon": {3, 3}, "renew-resin": {}} {
		c, _ := b.Chore(id)
		var got []float64
		for _, clock := range c.Clocks {
			if clock.FeedRatio != 0 {
				got = append(got, clock.FeedRatio)
			}
		}
		if len(got) != len(want) || len(got) > 0 && got[0] != want[0] {
			t.Errorf("waste ratio 3 is kept in the clocks of %s as %v, want %v", id, got, want)
		}
	}
	for id, want := range map[model.ID]struct {
		on    string
		about bool
	}{
		"renew-resin":      {"2026-09-01", false},
		"renew-membrane":   {"2025-03-15", true},
		"siphon-sump":      {"2026-10-10", true}, // half of the three months to 25 February, 92 days
		"renew-restrictor": {"2025-05-26", true}, // half of three years, 1096 days
	} {
		ticks := b.Ticks(id)
		if len(ticks) != 1 || ticks[0].On.String() != want.on || ticks[0].About != want.about {
			t.Errorf("%s was last done %+v; want %+v", id, ticks, want)
		}
	}
	if ticks := b.Ticks("rinse-vat"); len(ticks) != 0 {
		t.Errorf("a chore that goes by batches alone has a guessed tick: %v", ticks)
	}
}

// Beside gallons salt is kept in pounds; a batch takes it off by weight, whatever the unit.
func TestStartKeepsSaltAsItIsWeighed(t *testing.T) {
	set, err := starter.Set("mixing")
	if err != nil {
		t.Fatal(err)
	}
	for volume, want := range map[string]string{"L": "kg", "gal": "lb"} {
		entries, err := Start{Stamp: on(day(3)), Book: model.BookDef{Name: "x", Units: model.Units{Volume: volume, Temperature: "C", Pressure: "bar"}}, Definitions: set}.Entries(new(ledger.Book))
		if err != nil {
			t.Fatal(err)
		}
		if salt, ok := wrote(t, new(ledger.Book), entries).SpareByRole(model.RoleSalt); !ok || salt.Unit != want {
			t.Errorf("%s: salt in %q, want %q", volume, salt.Unit, want)
		}
	}
}

func TestStartRefuses(t *testing.T) {
	first := day(3)
	set, err := starter.Set("ro-di")
	if err != nil {
		t.Fatal(err)
	}
	units := model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}
	for name, c := range map[string]struct {
		start Start
		book  *ledger.Book
		says  string
	}{
		"a book in use":  {Start{Stamp: on(first)}, reef(t), "already begun"},
		"no name":        {Start{Stamp: on(first), Book: model.BookDef{Units: units}}, new(ledger.Book), "name is missing"},
		"no units":       {Start{Stamp: on(first), Book: model.BookDef{Name: "x"}}, new(ledger.Book), "units.volume"},
		"done in future": {Start{Stamp: on(first), Book: model.BookDef{Name: "x", Units: units}, Definitions: set, Last: map[model.ID]LastDone{"renew-resin": {On: day(4)}}}, new(ledger.Book), "not after 2026-05-03"},
		"a flood":        {Start{Stamp: on(first), Book: model.BookDef{Name: "x", Units: units}, Definitions: set, LitresAWeek: 1e12}, new(ledger.Book), "declared_rate"},
	} {
		if _, err := c.start.Entries(c.book); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v; want an error with %q", name, err, c.says)
		}
	}
}
