package shelf

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/uitest"
)

func open(t *testing.T, b *ledger.Book) *uitest.Window { return uitest.Open(t, b, New, 80, 24) }

// station is a book in which a filter takes one cartridge every two months, the next
// in ten days. One is on hand; it takes three weeks to come.
func station(t *testing.T, more ...model.Body) *ledger.Book {
	t.Helper()
	on := func(d int, body model.Body) model.Entry { return model.NewEntry(uitest.Today.AddDays(d), body) }
	price := 6.5
	entries := []model.Entry{
		on(-200, model.BookDef{Name: "Home reef", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
		on(-200, model.Place{ID: "cellar", Name: "Cellar", Minutes: 4}),
		on(-200, model.Component{ID: "filter", Name: "Sediment filter", Place: "cellar", Reach: 1, AccessMinutes: 1}),
		on(-200, model.Spare{ID: "cartridge", Name: "Cartridge", Unit: "pc", LeadDays: 21, Price: &price}),
		on(-200, model.Spare{ID: "tape", Name: "Thread tape", Unit: "m", LeadDays: 2}),
		on(-200, model.Chore{ID: "renew", Component: "filter", Name: "renew cartridge", Work: model.WorkRenew, Minutes: 10, Consequence: 1, Fixed: true,
			Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 60, Unit: model.SpanDays}, Rule: model.RuleEvery}},
			Spares: []model.SpareUse{{Spare: "cartridge", Quantity: 1}}}),
		on(-100, model.Stock{Spare: "cartridge", Change: 2, Price: &price}),
		on(-100, model.Stock{Spare: "tape", Change: 5}),
		on(-50, model.Tick{Chore: "renew"}),
	}
	for _, b := range more {
		entries = append(entries, on(-1, b))
	}
	return uitest.Book(t, entries)
}

func (s shown) has(t *testing.T, want string) {
	t.Helper()
	if !strings.Contains(s.line, want) {
		t.Errorf("the row is %q, without %q", s.line, want)
	}
}

type shown struct{ line string }

func row(s *uitest.Window, name string) shown { return shown{s.Line(name)} }

func TestForecast(t *testing.T) {
	s := open(t, station(t))
	// The one on hand goes on 5 December. The next is needed 60 days on, less the 4 weeks
	// of ordering: well after New Year.
	row(s, "> Cartridge").has(t, "1 pc")
	s.Sees("order later", "next needed 5 Dec", "it takes 21 days to come, and a week in hand",
		"Sediment filter: renew cartridge       1 pc", "at 6.50: 39.00", "lasts the year")
	s.Sees("a year costs 39.00") // 6 of 6.50: in 10 days, and every 60 days after, the last in 310
}

func TestMoreAndFewer(t *testing.T) {
	s := open(t, station(t))
	s.Keys("-")
	if got := s.Session.Book.OnHand("cartridge", uitest.Today); got != 0 {
		t.Fatalf("on hand %g, want 0", got)
	}
	s.Sees("order now", "1 to order now", "z takes it back")
	row(s, "> Cartridge").has(t, "now")
	s.Keys("-")
	row(s, "> Cartridge").has(t, "count it")
	s.Keys("z+")
	if got := s.Session.Book.OnHand("cartridge", uitest.Today); got != 1 {
		t.Errorf("on hand %g, want 1", got)
	}
	s.Misses("order now")
}

// TestUncounted: a new book's guessed ticks take spares off a shelf nobody has counted. That
// is no reason to order anything.
func TestUncounted(t *testing.T) {
	s := open(t, station(t,
		model.Spare{ID: "ring", Name: "O-ring", Unit: "pc", LeadDays: 21},
		model.Chore{ID: "reseal", Component: "filter", Name: "renew o-ring", Work: model.WorkRenew, Minutes: 5, Consequence: 1,
			Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 20, Unit: model.SpanDays}, Rule: model.RuleEvery}},
			Spares: []model.SpareUse{{Spare: "ring", Quantity: 1}}},
		model.Tick{Chore: "reseal", About: true}))
	s.Sees("not counted yet", "1 not counted yet")
	s.Misses("order now", "-1 pc")
	row(s, "  O-ring").has(t, "count it")
	s.Keys("<end>")
	row(s, "> O-ring").has(t, "?")
	s.Sees("not counted yet; e counts it; next needed 14 Dec", "takes 21 days to come")
	before := s.Session.Book.Last()
	s.Keys("-")
	s.Sees("O-ring is not counted yet; e counts it")
	if s.Session.Book.Last() != before {
		t.Error("one was taken of what nobody has counted")
	}
	s.Keys("e")
	if line := s.Line("> on hand, counted"); strings.Join(strings.Fields(line), " ") != "> on hand, counted 12, 6+6, 500 mL" {
		t.Errorf("the form does not begin empty: %q", line)
	}
	s.Keys("0<enter>")
	row(s, "> O-ring").has(t, "now")
	s.Sees("on hand 0 pc", "1 to order now")
	s.Keys("z+")
	row(s, "> O-ring").has(t, "1 pc") // and not 0: the tick was of what nobody had counted
}

func TestCursorStaysOnItsSpare(t *testing.T) {
	s := open(t, station(t))
	s.Keys("<down>+")
	row(s, "> ").has(t, "Thread tape")
	s.Keys("-")
	row(s, "> ").has(t, "Thread tape")
}

func TestCountAndEdit(t *testing.T) {
	s := open(t, station(t))
	s.Keys("e")
	s.Clear()
	s.Keys("3+1<tab>, 5 micron<enter>")
	if got := s.Session.Book.OnHand("cartridge", uitest.Today); got != 4 {
		t.Errorf("on hand %g, want 4", got)
	}
	sp, _ := s.Session.Book.Spare("cartridge")
	if sp.Name != "Cartridge, 5 micron" || sp.LeadDays != 21 || *sp.Price != 6.5 {
		t.Errorf("the spare is %+v", sp)
	}
	s.Keys("z")
	if sp, _ := s.Session.Book.Spare("cartridge"); sp.Name != "Cartridge" || s.Session.Book.OnHand("cartridge", uitest.Today) != 1 {
		t.Error("one z did not take all of it back")
	}
}

func TestEditWithoutChangeWritesNothing(t *testing.T) {
	s := open(t, station(t))
	last := s.Session.Book.Last()
	s.Keys("e<enter>")
	if s.Session.Book.Last() != last {
		t.Error("something was written")
	}
}

func TestAdd(t *testing.T) {
	s := open(t, station(t))
	s.Keys("a<enter>")
	s.Sees("give the spare a name")
	s.Keys("Carbon block<tab>2<tab><tab><backspace>x<tab>14<enter>")
	s.Sees("is not a number of days")
	s.Keys("<backspace>9<enter>")
	sp, ok := s.Session.Book.Spare("carbon-block")
	if !ok || sp.LeadDays != 9 || *sp.Price != 14 || s.Session.Book.OnHand(sp.ID, uitest.Today) != 2 {
		t.Fatalf("the spare is %+v", sp)
	}
	row(s, "> ").has(t, "Carbon block")
	s.Keys("aCarbon block<enter>")
	if _, ok := s.Session.Book.Spare("carbon-block-2"); !ok {
		t.Error("a second of the name has no id of its own")
	}
}

// The cursor goes to what was added wherever that comes to stand, above its spare too.
func TestAddedAboveTheCursor(t *testing.T) {
	s := open(t, station(t, model.Spare{ID: "zinc", Name: "Zinc", Unit: "pc"}))
	s.Keys("<end>aAxle<tab>2<enter>")
	row(s, "> ").has(t, "Axle")
}

func TestRetire(t *testing.T) {
	s := open(t, station(t))
	s.Keys("<down>R")
	s.Misses("> Thread tape", "  Thread tape")
	s.Keys("z")
	s.Sees("Thread tape")
}

func TestAFailedWriteKeepsTheForm(t *testing.T) {
	s := open(t, station(t))
	s.Keys("aPump oil")
	s.Store.Fail = errDisk
	s.Keys("<enter>")
	s.Sees("not saved", "the disk is full", "Pump oil")
	s.Keys("<enter>")
	if _, ok := s.Session.Book.Spare("pump-oil"); !ok {
		t.Error("the second try did not save")
	}
}

type diskError struct{}

func (diskError) Error() string { return "the disk is full" }

var errDisk = diskError{}

func TestFilter(t *testing.T) {
	s := open(t, station(t))
	s.Keys("/sediment") // by what uses it
	row(s, "> ").has(t, "Cartridge")
	s.Misses("Thread tape")
	s.Keys("<esc>")
	s.Sees("Thread tape")
}

func TestPage(t *testing.T) {
	s := uitest.Open(t, station(t), New, 60, 16)
	s.Keys("<enter>")
	s.Sees("on hand 1 pc", "+2 pc   6.50")
	s.Keys("+")
	s.Sees("on hand 2 pc")
	s.Keys("<esc>")
	s.Sees("on hand")
}

func TestEmpty(t *testing.T) {
	s := open(t, new(ledger.Book))
	s.Sees("The shelf is empty")
	s.Exact()
}

func TestClick(t *testing.T) {
	s := open(t, station(t))
	s.Click("Thread tape")
	s.On("Thread tape")
}

func TestExactAtEverySize(t *testing.T) {
	s := open(t, uitest.Demo(t))
	for _, keys := range []string{"", "e", "<esc>a", "<esc>/resin", "<enter><enter>"} {
		s.Keys(keys)
		s.Exact()
	}
}

func TestHostileText(t *testing.T) {
	for name, text := range uitest.Hostile() {
		t.Run(name, func(t *testing.T) {
			short := string([]rune(text)[:min(len([]rune(text)), model.MaxNameLen)])
			s := open(t, station(t, model.Spare{ID: "cartridge", Name: short, Unit: short, LeadDays: 3}))
			for _, keys := range []string{"", "e", "<esc>", "<enter>"} {
				s.Keys(keys)
				s.Exact()
			}
		})
	}
}
