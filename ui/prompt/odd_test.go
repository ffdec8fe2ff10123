package prompt

import (
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// What is ticked today already is ticked again only when that is answered, whatever letter was typed too soon.
func TestTickingTwiceADayIsAskedAbout(t *testing.T) {
	for answer, ticks := range map[string]int{"n": 1, "<enter>": 1, "<esc>": 1, "yl": 2} {
		s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Tick(d, []model.ID{"renew-resin"}, nil) })
		before := len(s.Session.Book.Ticks("renew-resin"))
		s.Misses("already")
		s.Keys("l<enter>")
		s.Sees("DI resin: renew resin: ticked today already; again?")
		s.Keys("l" + answer)
		if got := len(s.Session.Book.Ticks("renew-resin")) - before; got != ticks {
			t.Errorf("%q: ticked %d times, want %d", answer, got, ticks)
		}
		s.Misses("again?")
	}
}

// Of several chores the one that is left out doesn't hold up the others.
func TestTickingSomeOfThemTwice(t *testing.T) {
	s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Tick(d, []model.ID{"scrape-glass"}, nil) })
	s.Keys("l")
	glass, resin := len(s.Session.Book.Ticks("scrape-glass")), len(s.Session.Book.Ticks("renew-resin"))
	s = asked(t, s.Session.Book, func(d *session.Session) tea.Cmd { return Tick(d, []model.ID{"scrape-glass", "renew-resin"}, nil) })
	s.Keys("nl")
	if got := len(s.Session.Book.Ticks("scrape-glass")); got != glass {
		t.Errorf("the glass was ticked %d times more", got-glass)
	}
	if got := len(s.Session.Book.Ticks("renew-resin")); got != resin+1 {
		t.Errorf("the resin was ticked %d times", got-resin)
	}
}

// The long form asks once about a tick on a day that has one, from before the part was there, and of long ago.
func TestOddTicksAreAskedAbout(t *testing.T) {
	for typed, says := range map[string]string{
		"2020-01-01": "before the part is known to be in",
		"1999-01-01": "1999-01-01 is over 10 years back",
		"today":      "ticked today already",
	} {
		s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return TickAsk(d, []model.ID{"clean-impeller"}, nil) })
		if typed == "today" {
			s.Keys("today<enter><enter>")
		}
		before := len(s.Session.Book.Ticks("clean-impeller"))
		s.Keys(typed + "<enter>")
		s.Sees(says, "enter again")
		if got := len(s.Session.Book.Ticks("clean-impeller")); got != before {
			t.Errorf("%s: ticked without asking", typed)
		}
		s.Keys("<enter>")
		if got := len(s.Session.Book.Ticks("clean-impeller")); got != before+1 {
			t.Errorf("%s: not ticked when asked twice", typed)
		}
	}
}

// Litres of long ago, and a value that can't be.
func TestOddAmountsAreAskedAbout(t *testing.T) {
	s := asked(t, uitest.Demo(t), func(d *session.Session) tea.Cmd { return Usage(d, "water-made") })
	n := len(s.Session.Book.Usages("water-made"))
	s.Keys("999999999<enter>")
	s.Sees("at once can't be; give at most 100000 L")
	s.Keys("<backspace><backspace><backspace><backspace><backspace><backspace><backspace>")
	s.Keys("<tab><tab><tab>1999-01-01<enter>")
	s.Sees("1999-01-01 is over 10 years back")
	if got := len(s.Session.Book.Usages("water-made")); got != n {
		t.Error("logged without asking")
	}
}
