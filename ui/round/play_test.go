package round

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/checklist"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"
)

func view(d *session.Session) ui.Screen { return New(d, checklist.NewChecks()) }

// open plays the round of the demo.
func open(t *testing.T) *uitest.Window {
	t.Helper()
	return uitest.Open(t, uitest.Demo(t), view, 80, 24)
}

// last is the latest entry of the book.
func last(s *uitest.Window) model.Body { return s.Last().Body }

func TestTickIsTwoKeys(t *testing.T) {
	s := open(t)
	s.Sees("> DI resin", "limit +3 d")
	s.Keys("df")
	tick, ok := last(s).(model.Tick)
	if !ok || tick.Chore != "renew-resin" || tick.Found != model.FoundFailed {
		t.Fatalf("the last entry is %#v", last(s))
	}
	s.Sees("ticked DI resin: renew resin, found spent", "z takes it back")
	s.Misses("limit +3 d")
	s.Keys("z")
	s.Sees("took back", "limit +3 d")
	s.Keys("Z")
	s.Misses("limit +3 d")
}

func TestFlagIsThreeKeys(t *testing.T) {
	s := open(t)
	s.Keys("jft<enter>")
	flag, ok := last(s).(model.Flag)
	if !ok || flag.Component != "carbon-block" || flag.Cause != "too-tight" {
		t.Fatalf("the last entry is %#v", last(s))
	}
	if row := s.Line("> Carbon block: renew"); !strings.Contains(row, "   3f  15+15") {
		t.Errorf("the row does not show the flag beside its reach: %q", row)
	}
	s.Keys("z")
	if row := s.Line("> Carbon block: renew"); !strings.Contains(row, "   3   15+15") {
		t.Errorf("the flag is still shown after z: %q", row)
	}
}

// A mark stands apart from the name, and moves no column.
func TestMarksDoNotTouchNames(t *testing.T) {
	s := open(t)
	before := s.Line("> DI resin")
	s.Keys(" ")
	s.Keys("k")
	row := s.Line(">* DI resin")
	if when := "limit +3 d"; strings.Index(row, when) != strings.Index(before, when) {
		t.Errorf("marked, the row is %q, before %q", row, before)
	}
}

func TestBurstOfKeysAllAct(t *testing.T) {
	s := open(t)
	s.Keys("jjdl")
	tick, ok := last(s).(model.Tick)
	if !ok || tick.Chore != "clean-impeller" || tick.Found != model.FoundLight {
		t.Fatalf("the last entry is %#v", last(s))
	}
}

func TestMarkedRowsAreOneAct(t *testing.T) {
	s := open(t)
	s.Keys(" ")
	s.Keys(" ")
	s.Keys("d")
	s.Sees("DI resin: renew resin - as found?")
	s.Keys("l")
	s.Sees("Carbon block: renew cartridge - done? No eye can tell")
	s.Misses("spent")
	before := s.Session.Book.Last()
	s.Keys("<enter>")
	act := s.LastAct()
	if len(act) != 2 || s.Session.Book.Last() != before+2 {
		t.Fatalf("the act has %d entries", len(act))
	}
	s.Sees("and 1 more")
	if strings.Contains(s.Screen(), "*") {
		t.Errorf("marks are left:\n%s", s.Screen())
	}
	s.Keys("z")
	s.Sees("limit +3 d", "due +9 d")
}

func TestTickAboutCatchesUp(t *testing.T) {
	s := open(t)
	s.Keys(" ")
	s.Keys(" ")
	s.Keys("Dabout<enter>")
	for _, e := range s.LastAct() {
		if tick, ok := e.Body.(model.Tick); !ok || !tick.About || e.On != uitest.Today {
			t.Fatalf("%s: %#v", e.On, e.Body)
		}
	}
	s.Misses("limit +3 d", "due +9 d")
}

func TestTickWithDateMinutesAndNote(t *testing.T) {
	s := open(t)
	s.Keys("D3d<tab>h<tab>25<tab>smelt of chlorine, 貝 é<enter>")
	e := s.Last()
	tick := e.Body.(model.Tick)
	if e.On != uitest.Today.AddDays(-3) || tick.Found != model.FoundHeavy || *tick.Minutes != 25 || tick.Note != "smelt of chlorine, 貝 é" {
		t.Fatalf("%s: %#v", e.On, tick)
	}
}

func TestTickRefusesAWrongDate(t *testing.T) {
	s := open(t)
	before := s.Session.Book.Last()
	s.Keys("Dsoonish<enter>")
	s.Sees("not a date")
	if s.Session.Book.Last() != before {
		t.Error("something was written")
	}
	s.Keys("<esc>y")
	s.Misses("not a date")
}

func TestUsage(t *testing.T) {
	cases := []struct {
		typed   string
		counter model.ID
		amount  float64
	}{
		{"u40<enter>", "water-made", 40},
		{"u20+18<enter>", "water-made", 38},
		{"u100-60<enter>", "water-made", 40},
		{"u10 gal<enter>", "water-made", 37.85411784},
		{"u1<tab>b<enter>", "batches", 1},
	}
	for _, c := range cases {
		s := open(t)
		s.Keys(c.typed)
		use, ok := last(s).(model.Usage)
		if !ok || use.Counter != c.counter || *use.Amount != c.amount {
			t.Errorf("%q wrote %#v", c.typed, last(s))
		}
	}
}

func TestUsageSaysHowLongItTakes(t *testing.T) {
	s := open(t)
	s.Keys("u40")
	s.Sees("Water made, in L", "40 L: about", "until", "s starts the clock")
	s.Keys("s<enter>")
	if s.Session.Linger() == "" || !strings.Contains(s.Session.Timers(), "making 40 L") {
		t.Errorf("no clock runs: %q", s.Session.Timers())
	}
}

func TestOddUsageIsQueriedInPlace(t *testing.T) {
	s := open(t)
	before := s.Session.Book.Last()
	s.Keys("u4000<enter>")
	s.Sees("over 4 times the usual")
	if s.Session.Book.Last() != before {
		t.Fatal("an odd amount was written without asking")
	}
	s.Keys("<enter>")
	if use := last(s).(model.Usage); *use.Amount != 4000 {
		t.Fatalf("wrote %#v", use)
	}
}

func TestReadingsByTabOrOnOneLine(t *testing.T) {
	for _, typed := range []string{"r259<tab>6<tab>2", "r259 6 2"} {
		s := open(t)
		s.Keys(typed)
		s.Sees("rejection 97.7 %")
		s.Keys("<enter>")
		var got []float64
		for _, e := range s.LastAct() {
			if r, ok := e.Body.(model.Reading); ok {
				got = append(got, r.Value)
			}
		}
		if len(got) != 3 || got[0] != 259 || got[1] != 6 || got[2] != 2 {
			t.Errorf("%q wrote %v", typed, got)
		}
	}
}

func TestReadingsTickTheirChoreInTheSameAct(t *testing.T) {
	s := open(t)
	s.Keys("r259 6 2<enter>")
	act := s.LastAct()
	tick, ok := act[len(act)-1].Body.(model.Tick)
	if !ok || tick.Chore != "read-taps" {
		t.Fatalf("the act ends with %#v", act[len(act)-1].Body)
	}
}

func TestOddReadingsAreQueried(t *testing.T) {
	s := open(t)
	s.Keys("r6 259 0<enter>")
	s.Sees("enter again keeps it")
	s.Keys("<esc>y")
	s = open(t)
	s.Keys("r259 6 0 4")
	s.Sees("counts nowhere")
}

// Nothing asks for a check that failed before its usual date: the pane says so until it is checked again.
func TestACheckThatFailed(t *testing.T) {
	s := open(t)
	s.Keys("/known solution<enter>df2<enter>")
	s.Sees("failed on 25 Nov, 2 ppm too high: put it right and check it again; nothing asks", "for that before 23 May")
	s.Keys("dyp")
	s.Misses("put it right")
}

func TestPutOff(t *testing.T) {
	s := open(t)
	s.Keys("p2w<tab>no resin yet<enter>")
	d := last(s).(model.PutOff)
	if d.Until != uitest.Today.AddDays(14) || d.Reason != "no resin yet" {
		t.Fatalf("%#v", d)
	}
	s.Sees("> Carbon block", "put off till 9 Dec 2026: DI resin: renew resin (no resin yet)")
	s.Keys("/DI resin<enter>")
	s.Sees("till 9 Dec", "put off till 9 Dec: no resin yet")
}

// Putting off past the limit what endangers animals or people is asked about once.
func TestPutOffPastALimitThatEndangers(t *testing.T) {
	s := open(t)
	s.Keys("/test RCD<enter>p")
	limit := s.Session.Round.Of("test-mixing-rcd").Limit
	s.Keys(limit.String())
	s.Misses("past its limit")
	s.Clear()
	s.Keys((limit + 1).String() + "<enter>")
	s.Sees("would then be past its limit, "+limit.Format("2"), "it endangers animals or people", "enter again keeps it")
	s.Keys("<enter>")
	if d, ok := last(s).(model.PutOff); !ok || d.Until != limit+1 {
		t.Fatalf("%#v", last(s))
	}
}

func TestFaultAndItsEnd(t *testing.T) {
	s := open(t)
	s.Keys("jjbhums<enter>")
	s.Sees("! Mixing pump: hums", "since 25 Nov")
	s.Keys("<home>")
	s.Sees("when it is repaired or one of its chores is ticked")
	s.Keys("jdal")
	s.Misses("! Mixing pump")
}

// A fault may end by something that is no chore: with a note, and with what it took off the shelf.
func TestFaultIsRepaired(t *testing.T) {
	s := open(t)
	s.Keys("jjbhums<enter><home>jdr")
	s.Sees("Mixing pump is repaired", "what was done")
	s.Keys("new bearing<tab>2 nothing of this name<enter>")
	s.Sees("no spare fits")
	s.Clear()
	s.Keys("1 sediment<enter>")
	s.Misses("! Mixing pump")
	r, ok := last(s).(model.Repair)
	if !ok || r.Note != "new bearing" || len(r.Uses) != 1 || r.Uses[0].Quantity != 1 {
		t.Fatalf("%#v", last(s))
	}
	s.Keys("z")
	s.Sees("! Mixing pump")
}

func TestFilter(t *testing.T) {
	s := open(t)
	s.Keys("/lobby scrape")
	s.Sees("/ lobby scrape", "1 row", "Glass")
	s.Misses("DI resin")
	s.Keys("<enter>d")
	s.Sees("Glass: scrape glass - as found?")
	s.Keys("<esc>")
	s.Keys("<esc>")
	s.Sees("Tank water")
}

func TestAheadUnfolds(t *testing.T) {
	s := open(t)
	s.Keys("<end>")
	s.Sees("+ ahead (32)", "next: Tubing and fittings")
	s.Keys("<right>")
	s.Sees("- ahead (32)")
	s.Keys("<down><left>")
	s.Sees("+ ahead (32)")
}

func TestGroupByPlace(t *testing.T) {
	s := open(t)
	s.Keys("g")
	s.Sees("Cleaners' cupboard, 4 min to get set up", "Basement book store, 6 min to get set up")
	s.Keys("g")
	s.Sees("overdue, worst first")
}

func TestTimeBox(t *testing.T) {
	s := open(t)
	s.Keys("t20")
	s.Sees("minutes at hand 20", "most useful 20 min")
	s.Keys("<backspace><backspace>90")
	s.Sees("most useful 90 min", "Cleaners' cupboard")
	s.Keys("<enter>")
	s.Sees("as one job")
	s.Keys("<esc>")
	s.Keys("<esc>")
	s.Sees("overdue, worst first")
}

func TestYear(t *testing.T) {
	s := open(t)
	s.Keys("y")
	s.Sees("the year ahead", "hands-on")
	s.Keys("<left>")
	s.Sees("the year behind", "Water made:", "never late")
}

func TestAwayListsWhatToDoBefore(t *testing.T) {
	s := open(t)
	s.Keys("a2w")
	s.Sees("away from today, back Wed 9 Dec; before that 24 chores", "limit +3 d - DI resin: renew resin")
	s.Keys("<enter>")
	if a := last(s).(model.Away); a.Until != uitest.Today.AddDays(14) {
		t.Fatalf("%#v", a)
	}
	s.Sees("away from today, back Wed 9 Dec; before that", "overdue, worst first")
	s.Keys("z")
	s.Misses("away from today")
}

func TestReachIsOfferedAtTheFirstTick(t *testing.T) {
	s := uitest.Open(t, firstBook(t), view, 80, 24)
	s.Keys("dl")
	s.Sees("G: how hard was it to get at?")
	s.Keys("G")
	s.Sees("How hard is Pump to get at?")
	s.Clear()
	s.Keys("12<tab>1<tab>3<enter>")
	if c, _ := s.Session.Book.Component("pump"); c.Reach != 4 || c.AccessMinutes != 12 || len(c.Guess) != 0 {
		t.Fatalf("%#v", c)
	}
	s = uitest.Open(t, firstBook(t), view, 80, 24)
	s.Keys("dldl")
	s.Misses("How hard is")
}

// firstBook is a book with one component nobody has graded.
func firstBook(t *testing.T) *ledger.Book {
	long := uitest.Today.AddDays(-200)
	every := model.Clock{Kind: model.ClockCalendar, Every: model.Span{N: 3, Unit: model.SpanMonths}, Rule: model.RuleEvery}
	return uitest.Book(t, []model.Entry{
		model.NewEntry(long, model.BookDef{Name: "Small", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
		model.NewEntry(long, model.Place{ID: "cellar", Name: "Cellar", Minutes: 2}),
		model.NewEntry(long, model.Component{ID: "pump", Name: "Pump", Place: "cellar", Reach: 3, AccessMinutes: 4, InService: long, Guess: []string{"reach", "access_minutes"}}),
		model.NewEntry(long, model.Chore{ID: "clean", Component: "pump", Name: "clean", Work: model.WorkClean, Minutes: 20, Consequence: 2, Clocks: []model.Clock{every}}),
	})
}

func TestQuietDay(t *testing.T) {
	s := uitest.Open(t, firstBook(t), view, 80, 24)
	s.Keys("dl")
	s.Sees("Nothing due; next: Pump, clean, on")
}

func TestWrongKeysDoNothing(t *testing.T) {
	s := open(t)
	before, screen := s.Session.Book.Last(), s.Screen()
	s.Keys("@#%&()=QWERTYU;:,.")
	if s.Session.Book.Last() != before || s.Screen() != screen {
		t.Errorf("something happened:\n%s", s.Screen())
	}
	s.Paste("dcdcdc\nz")
	if s.Session.Book.Last() != before {
		t.Error("a paste acted")
	}
}

func TestEverySize(t *testing.T) {
	s := open(t)
	s.Exact()
	for _, keys := range []string{"d", "<esc>f", "<esc>u40", "<esc>y", "r9", "<esc>y", "t", "<esc>", "y", "<left>", "<esc>", "/a", "<esc>", "g"} {
		s.Keys(keys)
		s.Exact()
	}
}

func TestHostileTexts(t *testing.T) {
	long := uitest.Today.AddDays(-200)
	evil := "a\x1b]0;x\x07\x1b[2J\u202eb" + strings.Repeat("貝é", 90)
	every := model.Clock{Kind: model.ClockCalendar, Every: model.Span{N: 3, Unit: model.SpanMonths}, Rule: model.RuleEvery}
	s := uitest.Open(t, uitest.Book(t, []model.Entry{
		model.NewEntry(long, model.BookDef{Name: evil, Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
		model.NewEntry(long, model.Place{ID: "p", Name: evil, Minutes: 2}),
		model.NewEntry(long, model.Component{ID: "c", Name: evil, Place: "p", Reach: 3, AccessMinutes: 4, InService: long}),
		model.NewEntry(long, model.Chore{ID: "k", Component: "c", Name: evil, Work: model.WorkClean, Minutes: 20, Consequence: 2, Clocks: []model.Clock{every}, Cautions: []string{evil},
			Steps: []model.Step{{Text: evil, TimerMinutes: 5}}}),
		model.NewEntry(uitest.Today, model.Fault{Component: "c", Note: strings.Repeat(evil, 20)}),
	}), view, 80, 24)
	s.Exact()
	for _, keys := range []string{"<enter>", "<esc>", "d", "<esc>", "t", "<esc>", "y", "<left>"} {
		s.Keys(keys)
		s.Exact()
	}
}

func TestGolden(t *testing.T) {
	s := open(t)
	s.Keys("t45")
	s.Golden("timebox")
	s.Keys("<esc>y")
	s.Golden("year")
	s.Keys("<left>")
	s.Golden("year-behind")
}

func TestTheCursorStaysOnTopUntilItIsMoved(t *testing.T) {
	s := open(t)
	tick := model.NewEntry(uitest.Today, model.Tick{Chore: "renew-resin", Found: model.FoundFailed})
	other := func(b *ledger.Book) ([]model.Entry, error) { return []model.Entry{tick}, nil }
	if _, _, err := s.Store.Write(other); err != nil {
		t.Fatal(err)
	}
	s.Send(ui.NewDay{})
	s.Sees("> Carbon block")
}

func TestTheTimeBoxIsDoneAsOneJob(t *testing.T) {
	s := open(t)
	s.Keys("t16<enter>")
	s.Sees("as one job")
	before := s.Session.Book.Last()
	s.Keys("d")
	for range 4 {
		if !strings.Contains(s.Screen(), "as found?") {
			break
		}
		s.Keys("p") // passed, or no answer here
		if strings.Contains(s.Screen(), "as found?") {
			s.Keys("l")
		}
	}
	if s.Session.Book.Last() == before {
		t.Fatalf("nothing was ticked:\n%s", s.Screen())
	}
	for _, e := range s.LastAct() {
		if _, ok := e.Body.(model.Tick); !ok {
			t.Errorf("%#v", e.Body)
		}
	}
}

func TestMarkedRowsOpenAsOneChecklist(t *testing.T) {
	s := open(t)
	s.Keys("j")
	s.Keys(" ")
	s.Keys("<home>")
	s.Keys("j")
	s.Keys(" ")
	s.Keys("<enter>")
	s.Sees("2 chores as one job")
	s.Keys("<esc>")
	s.Sees("*")
	s.Keys("<esc>")
	if strings.Contains(s.Screen(), ">*") {
		t.Error("esc leaves the marks")
	}
}

// Making water is told how much: the litres and the tick are one act.
func TestMakingWaterAsksHowMuch(t *testing.T) {
	s := open(t)
	before := s.Session.Book.Last()
	s.Keys("<down><down><down><down>d")
	s.Sees("make water - how much was made?")
	s.Keys("31<enter>")
	book := s.Session.Book
	if made, ticked := book.Usages("water-made"), book.Ticks("make-water"); book.Last() != before+2 || *made[len(made)-1].What.Amount != 31 || len(ticked) != 1 {
		t.Fatalf("%d entries, ticks %v", book.Last()-before, ticked)
	}
	s.Keys("z")
	if len(s.Session.Book.Ticks("make-water")) != 0 {
		t.Error("z took back the litres alone")
	}
}
