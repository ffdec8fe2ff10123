package rethink

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/uitest"
)

func open(t *testing.T, b *ledger.Book) *uitest.Window { return uitest.Open(t, b, New, 120, 40) }

// station is a book with two parts: a pump that costs 12 minutes each of its four
// visits, a lamp that costs one minute each of its two.
func station(t *testing.T, more ...model.Entry) *ledger.Book {
	t.Helper()
	on := func(d int, body model.Body) model.Entry { return model.NewEntry(uitest.Today.AddDays(d), body) }
	clock := []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 2, Unit: model.SpanMonths}, Rule: model.RuleEvery}}
	entries := []model.Entry{
		on(-700, model.BookDef{Name: "Home reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
		on(-700, model.Place{ID: "cellar", Name: "Cellar", Minutes: 4}),
		on(-700, model.Component{ID: "pump", Name: "Mixing pump", Place: "cellar", Reach: 4, AccessMinutes: 12}),
		on(-700, model.Component{ID: "lamp", Name: "Lamp", Place: "cellar", Reach: 1, AccessMinutes: 1}),
		on(-700, model.Chore{ID: "clean", Component: "pump", Name: "clean impeller", Work: model.WorkClean, Minutes: 20, Consequence: 1, Clocks: clock}),
		on(-700, model.Chore{ID: "wipe", Component: "lamp", Name: "wipe", Work: model.WorkClean, Minutes: 2, Consequence: 1, Clocks: clock}),
		on(-300, model.Tick{Chore: "clean", Found: model.FoundHeavy}),
		on(-220, model.Tick{Chore: "clean", Found: model.FoundHeavy}),
		on(-150, model.Tick{Chore: "wipe", Found: model.FoundLight}),
		on(-140, model.Tick{Chore: "clean", Found: model.FoundLight}),
		on(-70, model.Tick{Chore: "wipe", Found: model.FoundLight}),
		on(-60, model.Tick{Chore: "clean", Found: model.FoundFailed}),
	}
	return uitest.Book(t, append(entries, more...))
}

func latest(t *testing.T, s *uitest.Window, component model.ID) model.Flag {
	t.Helper()
	flags := s.Session.Book.Flags(component)
	if len(flags) == 0 {
		t.Fatal("there is no flag")
	}
	return flags[len(flags)-1].What
}

func TestRankedByMinutesAYear(t *testing.T) {
	s := open(t, station(t))
	s.Sees("what a move would save", "moving parts could save 44 min a year")
	if line := s.Line("> Mixing pump"); !strings.Contains(line, "12 min") || !strings.Contains(line, "44 min") || !strings.Contains(line, "75 %") {
		t.Errorf("the pump's row is %q", line)
	}
	s.Sees("reach 4, 12 min to get at it, 4 visits in the", "3 of 4 ticks found heavy or")
}

func TestFlaggedFirst(t *testing.T) {
	s := open(t, station(t))
	s.Keys("<down>f<enter>")
	if f := latest(t, s, "lamp"); f.State != model.FlagFlagged || f.Cause != "in-the-way" {
		t.Errorf("flagged as %+v", f)
	}
	s.Sees("to be rethought", "> Lamp", "flagged")
	s.Keys("z")
	s.Misses("to be rethought")
}

func TestIdea(t *testing.T) {
	s := open(t, station(t))
	s.Keys("e<right><right><tab>hang it on the rim<enter>")
	if f := latest(t, s, "pump"); f.Cause != "too-tight" || f.Note != "hang it on the rim" || f.State != model.FlagFlagged {
		t.Errorf("the flag is %+v", f)
	}
	s.Sees("too tight, hang it on the rim")
	s.Keys("sp")
	if f := latest(t, s, "pump"); f.State != model.FlagPlanned {
		t.Errorf("the flag is %+v", f)
	}
	s.Keys("e")
	s.Sees("[too tight]", "hang it on the rim")
	s.Keys("<tab> by two hooks<enter>")
	if f := latest(t, s, "pump"); f.State != model.FlagPlanned || f.Note != "hang it on the rim by two hooks" {
		t.Errorf("the flag is %+v", f)
	}
}

func TestStateNeedsAFlag(t *testing.T) {
	s := open(t, station(t))
	s.Keys("s")
	s.Sees("not on the list yet")
	s.Keys("f<enter>sd")
	if f := latest(t, s, "pump"); f.State != model.FlagDropped {
		t.Errorf("the flag is %+v", f)
	}
	s.Sees("dropped")
	s.Misses("to be rethought")
}

func TestRebuiltAndCompared(t *testing.T) {
	s := open(t, station(t))
	s.Keys("f<enter>sr")
	s.Sees("how hard is it to reach now", "4 visits a year: 48 min a year instead of 48 min")
	s.Keys("2<tab><backspace><backspace>3x")
	s.Sees("minutes to get at it")
	s.Keys("<enter>")
	s.Sees(`"3x" is not a number of minutes`)
	s.Keys("<backspace>")
	s.Sees("12 min a year instead of 48 min")
	s.Keys("<enter>")
	if c, _ := s.Session.Book.Component("pump"); c.Reach != 2 || c.AccessMinutes != 3 {
		t.Fatalf("the pump is %+v", c)
	}
	s.Sees("rebuilt from reach 4, 12 min", "at 2 ticks")
	if _, _, err := s.Store.Write(func(*ledger.Book) ([]model.Entry, error) {
		return []model.Entry{
			model.NewEntry(uitest.Today, model.Tick{Chore: "clean", Found: model.FoundClean}),
			model.NewEntry(uitest.Today, model.Tick{Chore: "clean", Found: model.FoundLight}),
		}, nil
	}); err != nil {
		t.Fatal(err)
	}
	s.Reload()
	// Five visits in the year, today's among them: of 12 minutes, and of 3.
	s.Sees("before", "after", "saves 45 min a year", "rebuilt parts save 45 min a year")
	if line := s.Line("heavy or failed "); !strings.HasSuffix(line, "0 %") {
		t.Errorf("the share found heavy is compared as %q", line)
	}
}

// A part whose opening is another's costs what that costs, whatever it takes to get at it alone.
func TestRebuiltPartThatOpensWithAnother(t *testing.T) {
	on := func(d int, body model.Body) model.Entry { return model.NewEntry(uitest.Today.AddDays(d), body) }
	clock := []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 4, Unit: model.SpanMonths}, Rule: model.RuleEvery}}
	b := station(t,
		on(-700, model.Component{ID: "seal", Name: "Shaft seal", Place: "cellar", Reach: 4, AccessMinutes: 5, OpensWith: "pump", Guess: []string{"reach"}}),
		on(-700, model.Chore{ID: "grease", Component: "seal", Name: "grease", Work: model.WorkClean, Minutes: 5, Consequence: 1, Clocks: clock}),
		on(-220, model.Tick{Chore: "grease", Found: model.FoundLight}),
		on(-50, model.Tick{Chore: "grease", Found: model.FoundLight}))
	s := open(t, b)
	s.Keys("/seal<enter>f<enter>sr")
	s.Sees("does it still open with", "[y the Mixing pump]", "its opening is that of the Mixing pump; 5 visits a year: 1 h a year, as before")
	s.Keys("1<tab>")
	s.Clear()
	s.Keys("2<enter>")
	if line := s.Line("> Shaft seal"); !strings.Contains(line, " 1  with") {
		t.Errorf("left with the pump, the row is %q", line)
	}
	s.Keys("sr1<tab>")
	s.Clear()
	s.Keys("2<tab>n")
	s.Sees("2 visits a year: 4 min a year instead of 1 h")
	s.Keys("<enter>")
	if c, _ := s.Session.Book.Component("seal"); c.Reach != 1 || c.AccessMinutes != 2 || c.OpensWith != "" || len(c.Guess) != 0 {
		t.Errorf("the seal is %+v", c)
	}
	if line := s.Line("> Shaft seal"); !strings.Contains(line, " 1    2 min") {
		t.Errorf("opened by itself, the row is %q", line)
	}
	s.Keys("z")
	if c, _ := s.Session.Book.Component("seal"); c.AccessMinutes != 2 || c.OpensWith != "pump" {
		t.Errorf("taken back, the seal is %+v", c)
	}
	s.Keys("Z")
	for range 2 {
		if _, _, err := s.Store.Write(func(*ledger.Book) ([]model.Entry, error) {
			return []model.Entry{model.NewEntry(uitest.Today, model.Tick{Chore: "grease", Found: model.FoundLight})}, nil
		}); err != nil {
			t.Fatal(err)
		}
	}
	s.Reload()
	// Today's among them, six openings of the pump, and now three of the seal alone. Of the saving, the pump is still opened
	// four times, 48 minutes.
	s.Sees("visits a year           6        3", "time a year        1 h 12    6 min", "saves 18 min a year", "Mixing pump still costs 48 min")
}

func TestPartsOfARetiredComponentGo(t *testing.T) {
	b := station(t, model.NewEntry(uitest.Today, model.Component{ID: "lamp", Name: "Lamp", Place: "cellar", Reach: 1, AccessMinutes: 1,
		InService: uitest.Today.AddDays(-700), Retired: uitest.Today}))
	s := open(t, b)
	s.Misses("Lamp")
}

func TestFilter(t *testing.T) {
	s := open(t, station(t))
	s.Keys("/lamp")
	s.Sees("> Lamp", "1 of 2 parts")
	s.Misses("Mixing pump")
	s.Keys("zzz")
	s.Sees("No part has all of that")
	s.Keys("<esc>")
	s.Sees("Mixing pump")
}

func TestPage(t *testing.T) {
	s := uitest.Open(t, station(t), New, 60, 16)
	s.Keys("<enter>")
	s.Sees("Mixing pump · Cellar", "not on the list")
	s.Keys("f<enter>")
	s.Sees("flagged 25 Nov: in the way")
	s.Keys("<esc>")
	s.Sees("to be rethought")
}

func TestEmptyBook(t *testing.T) {
	s := open(t, new(ledger.Book))
	s.Sees("No component yet")
	s.Exact()
}

func TestClick(t *testing.T) {
	s := open(t, station(t))
	s.Click("Lamp")
	if line := s.Line("> "); !strings.Contains(line, "Lamp") {
		t.Errorf("the cursor is on %q", line)
	}
}

func TestExactAtEverySize(t *testing.T) {
	s := open(t, uitest.Demo(t))
	s.Exact()
	for _, keys := range []string{"f", "<esc>e", "<esc>s", "r", "<esc>/su", "<enter><enter>"} {
		s.Keys(keys)
		s.Exact()
	}
}

func TestGolden(t *testing.T) {
	s := open(t, uitest.Demo(t))
	s.Keys("/skimmer body<enter>")
	s.Golden("rethink-rebuilt")
}

func TestHostileText(t *testing.T) {
	for name, text := range uitest.Hostile() {
		t.Run(name, func(t *testing.T) {
			short := string([]rune(text)[:min(len([]rune(text)), model.MaxNameLen)])
			s := open(t, station(t,
				model.NewEntry(uitest.Today, model.Place{ID: "cellar", Name: short, Minutes: 4}),
				model.NewEntry(uitest.Today, model.Component{ID: "pump", Name: short, Place: "cellar", Reach: 4, AccessMinutes: 12, InService: uitest.Today.AddDays(-700)}),
				model.NewEntry(uitest.Today, model.Flag{Component: "pump", State: model.FlagFlagged, Cause: "heavy", Note: text})))
			for _, keys := range []string{"", "e", "<esc>s", "<esc>f", "<esc><enter>"} {
				s.Keys(keys)
				s.Exact()
			}
		})
	}
}
