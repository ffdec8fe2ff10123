package logbook

import (
	"fmt"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

func open(t *testing.T, b *ledger.Book) *uitest.Window { return uitest.Open(t, b, New, 80, 24) }

// openView also gives the view.
func openView(t *testing.T, b *ledger.Book) (s *uitest.Window, v *View) {
	s = uitest.Open(t, b, func(d *session.Session) ui.Screen {
		v = New(d).(*View)
		return v
	}, 80, 24)
	return s, v
}

// small is a book with one chore, ticked twice.
func small(t *testing.T, more ...model.Body) *ledger.Book {
	t.Helper()
	on := func(d int, body model.Body) model.Entry { return model.NewEntry(uitest.Today.AddDays(d), body) }
	entries := []model.Entry{
		on(-200, model.BookDef{Name: "Home reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
		on(-200, model.Place{ID: "cellar", Name: "Cellar", Minutes: 4}),
		on(-200, model.Component{ID: "pump", Name: "Mixing pump", Place: "cellar", Reach: 3, AccessMinutes: 5}),
		on(-200, model.Chore{ID: "clean", Component: "pump", Name: "clean impeller", Work: model.WorkClean, Minutes: 20, Consequence: 1,
			Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 2, Unit: model.SpanMonths}, Rule: model.RuleEvery}}}),
		on(-100, model.Tick{Chore: "clean", Found: model.FoundLight}),
		on(-20, model.Tick{Chore: "clean", Found: model.FoundHeavy, Note: "lime"}),
	}
	for _, b := range more {
		entries = append(entries, on(-1, b))
	}
	return uitest.Book(t, entries)
}

func TestNewestFirst(t *testing.T) {
	s := open(t, small(t, model.Note{Text: "the tap was off"}))
	s.Sees("note: the tap was off", "Tue 24 Nov 2026", "7 entries")
	screen := s.Screen()
	if strings.Index(screen, "the tap was off") > strings.Index(screen, "found heavy") {
		t.Errorf("the older entry stands first:\n%s", screen)
	}
}

// By how much an instrument was off stands in the row where there is room, and in the detail.
func TestRowOfACheckThatFailed(t *testing.T) {
	two := 2.0
	failed := model.NewEntry(uitest.Today, model.Tick{Chore: "check-tds-meter", Found: model.FoundFailed, Offset: &two})
	b, err := uitest.Demo(t).Append(failed)
	if err != nil {
		t.Fatal(err)
	}
	s := open(t, b)
	if line := s.Line("> "); !strings.HasSuffix(strings.TrimRight(line, " "), "known solution, found failed") {
		t.Errorf("the row is %q", line)
	}
	s.Sees("ticked TDS meter: check against a known solution, found failed, 2 ppm too high")
}

func TestAmendShowsWhatItMoves(t *testing.T) {
	s := open(t, small(t))
	s.Keys("e")
	s.Sees("amend entry 6", "found", "minutes")
	s.Clear()
	s.Keys("2026-10-06")
	s.Sees("Mixing pump: clean impeller: due", ", now")
	s.Keys("<enter>")
	s.Sees("6 Oct 2026", "amended")
	ticks := s.Session.Book.Ticks("clean")
	if got := ticks[1].On.String(); got != "2026-10-06" {
		t.Errorf("the tick is dated %s", got)
	}
	if e := must(s.Session.Book.Written(6)); e.On.String() != "2026-11-05" {
		t.Errorf("the entry itself was changed to %s", e.On)
	}
	s.Keys("z")
	if got := s.Session.Book.Ticks("clean")[1].On.String(); got != "2026-11-05" {
		t.Errorf("taken back, the tick is dated %s", got)
	}
}

func TestAmendFoundWord(t *testing.T) {
	s := open(t, small(t))
	s.Keys("e<tab>l<enter>")
	if got := s.Session.Book.Ticks("clean")[1].Found; got != model.FoundLight {
		t.Errorf("found %s, want light", got)
	}
	s.Sees("amended, found light: ticked")
}

func TestAmendSaysWhatIsWrong(t *testing.T) {
	s := open(t, small(t))
	s.Keys("e")
	s.Clear()
	s.Keys("32 nov<enter>")
	s.Sees(`"32 nov" is not a date`)
	if s.Session.Book.Last() != 6 {
		t.Error("something was written")
	}
}

// A day after today may be meant; it is asked about once, as where it is first logged.
func TestAmendToADayAfterTodayIsQueried(t *testing.T) {
	s := open(t, small(t))
	s.Keys("e")
	s.Clear()
	s.Keys("2026-12-06<enter>")
	s.Sees("2026-12-06 is after today, 2026-11-25; enter again")
	if s.Session.Book.Last() != 6 {
		t.Fatal("it was written without asking")
	}
	s.Keys("<enter>")
	if got := s.Session.Book.Ticks("clean")[1].On.String(); got != "2026-12-06" {
		t.Errorf("the tick is dated %s", got)
	}
}

func TestAmendWithoutChange(t *testing.T) {
	s := open(t, small(t))
	s.Keys("e<enter>")
	s.Sees("not saved", "nothing was changed")
}

func TestStrikeShowsWhatItMovesAndIsBroughtBack(t *testing.T) {
	s := open(t, small(t))
	s.Keys("x")
	s.Sees("strike entry 6", "Mixing pump: clean impeller: due")
	s.Keys("<down>")
	s.Sees("no date moves")
	s.Keys("<up>")
	s.Sees("Mixing pump: clean impeller: due")
	s.Keys("n")
	if s.Session.Book.Struck(6) {
		t.Fatal("struck after n")
	}
	s.Keys("xy")
	if !s.Session.Book.Struck(6) || len(s.Session.Book.Ticks("clean")) != 1 {
		t.Fatal("not struck after y")
	}
	s.Sees("took back: ticked Mixing pump", "1 struck")
	s.Keys("<down>")
	if line := s.Line("> "); !strings.Contains(line, "found heavy") || !strings.HasSuffix(line, "struck") {
		t.Errorf("the struck entry is not marked: %q", line)
	}
	s.Keys("<home>/struck<enter>")
	s.Sees("1 found")
	s.Keys("x")
	s.Sees("bring back entry 6")
	s.Keys("y")
	if s.Session.Book.Struck(6) {
		t.Error("not brought back")
	}
}

func TestStruckIsStruckThrough(t *testing.T) {
	s := open(t, small(t))
	s.Keys("xy")
	if !strings.Contains(s.Root.View(), ";9m") && !strings.Contains(s.Root.View(), "\x1b[9m") {
		t.Error("no text is drawn struck through")
	}
}

func TestWholeAct(t *testing.T) {
	s := open(t, small(t))
	s.Others(func(*ledger.Book) []model.Entry {
		return []model.Entry{model.NewEntry(uitest.Today, model.Note{Text: "one"}), model.NewEntry(uitest.Today, model.Note{Text: "two"})}
	})
	s.Sees("note: two", "note: one")
	s.Keys("xw")
	if !s.Session.Book.Struck(7) || !s.Session.Book.Struck(8) {
		t.Error("the act was not struck whole")
	}
}

func TestEntryPage(t *testing.T) {
	s := uitest.Open(t, small(t), New, 60, 16)
	s.Keys("<enter>")
	s.Sees("tick · Thu 5 Nov 2026", "found heavy (lime)", "entry 6")
	s.Keys("e<tab>c<enter>")
	s.Sees("found clean", "at first  ticked Mixing pump: clean impeller, found heavy", "amended 25 Nov: found clean")
	s.Keys("<esc>")
	s.Sees("[View]", "amended")
}

func TestFilter(t *testing.T) {
	s := open(t, small(t, model.Note{Text: "the tap was off"}, model.Fault{Component: "pump", Note: "hums"}))
	for _, c := range []struct{ query, sees, misses string }{
		{"tick", "found heavy", "the tap"},
		{"heavy pump", "found heavy", "found light"},
		{"fault", "hums", "heavy"},
		{"2026-11", "the tap", "found light"},
		{"2026-08", "found light", "the tap"},
		{"..2026-08 tick", "found light", "found heavy"},
		{"2026-11-01..2026-11-10", "found heavy", "the tap"},
		{"30d tick", "found heavy", "found light"},
		{"2026 TAP", "the tap", "heavy"},
		{"impeller2", "No entry has all of that", "found heavy"},
	} {
		s.Keys("/" + c.query)
		s.Sees(c.sees)
		s.Misses(c.misses)
		s.Keys("<esc>")
	}
	s.Sees("the tap", "found light")
	s.Keys("/tick<enter><down>")
	s.Misses("the tap")
	s.Keys("<esc>")
	s.Sees("the tap")
}

func TestFilterReachesTheEndOfALongLog(t *testing.T) {
	entries := []model.Entry{}
	for i := range 50_000 {
		entries = append(entries, model.NewEntry(uitest.Today.AddDays(-1000+i/50), model.Note{Text: fmt.Sprintf("note %05d", i)}))
	}
	s := open(t, uitest.Book(t, entries))
	s.Keys("/00007")
	s.Sees("note 00007", "1 found")
	s.Keys("<esc><end>")
	s.Sees("note 00000")
}

func TestEveryKindIsAmended(t *testing.T) {
	f := func(v float64) *float64 { return &v }
	n := func(v int) *int { return &v }
	bodies := []model.Body{
		model.Counter{ID: "made", Name: "Water made", Unit: "L", Style: model.StyleAmount},
		model.Counter{ID: "hours", Name: "Pump hours", Unit: "h", Style: model.StyleMeter},
		model.Gauge{ID: "tap", Name: "TDS tap", Unit: "ppm"},
		model.Spare{ID: "resin", Name: "Resin", Unit: "L", LeadDays: 3, Price: f(10)},
		model.Usage{Counter: "made", Amount: f(40)},
		model.Usage{Counter: "hours", Meter: f(400)},
		model.MeterReset{Counter: "hours"},
		model.Reading{Gauge: "tap", Value: 248, MinutesRunning: f(3)},
		model.Stock{Spare: "resin", Change: 2, Price: f(12)},
		model.Flag{Component: "pump", State: model.FlagRebuilt, Cause: "too-tight", Reach: 2, AccessMinutes: n(4)},
		model.PutOff{Chore: "clean", Until: uitest.Today.AddDays(9), Reason: "o-ring on order"},
		model.Batch{VolumeL: 60, SaltG: 2200, Salinity: f(35), TemperatureC: f(24)},
		model.Away{Until: uitest.Today.AddDays(5)},
		model.Fault{Component: "pump", Note: "hums"},
		model.Note{Text: "a note", OnWhat: "pump"},
	}
	s := open(t, small(t, bodies...))
	rows := int(s.Session.Book.Last())
	for i := range rows {
		s.Keys("<home>" + strings.Repeat("<down>", i))
		before := s.Session.Book.Last()
		s.Keys("e<shift+tab>Ada<enter>")
		if s.Session.Book.Last() != before+1 {
			t.Errorf("row %d was not amended:\n%s", i, s.Screen())
			s.Keys("<esc>y")
			continue
		}
		s.Keys("z")
		if s.Session.Book.Last() != before+2 {
			t.Errorf("row %d was not taken back", i)
		}
		s.Keys("<esc>")
		b := small(t, bodies...)
		s = open(t, b)
	}
}

func TestClick(t *testing.T) {
	s := open(t, small(t))
	s.Click("17 Aug 2026")
	s.On("17 Aug 2026")
}

func TestExactAtEverySize(t *testing.T) {
	s := open(t, uitest.Demo(t))
	s.Exact()
	s.Keys("<down>e")
	s.Exact()
	s.Keys("<esc>x")
	s.Exact()
	s.Keys("n/tick<enter><enter>")
	s.Exact()
}

func TestGolden(t *testing.T) {
	s := open(t, uitest.Demo(t))
	s.Keys("/tick 2026-10<enter>")
	s.Golden("log-filtered")
}

// A key that comes before the rows of a filter acts on no row of the filter before it.
func TestNothingIsAmendedWhileLooking(t *testing.T) {
	s, v := openView(t, small(t, model.Note{Text: "the tap was off"}))
	s.Keys("/")
	read := v.Msg(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("heavy")})
	for _, a := range []keys.Action{keys.Amend, keys.Strike} {
		v.Act(a)
		s.Sees("still looking", "looking ...", "the tap was off")
		s.Misses("amend entry", "strike entry", "1 found")
	}
	s.Send(read())
	s.Keys("<enter>e")
	s.Sees("amend entry 6")
}

// What a book was set up with is one line of the Log, and is found when it is looked for.
func TestSetUpIsFolded(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), New, 80, 24)
	s.Keys("<end>")
	s.Sees("book Library reef, and what came with it")
	s.Misses("component ", "place ")
	s.Keys("/chore clean<enter>")
	s.Sees("chore Mixing pump: clean impeller")
	s.Misses("and what came with it")
}
