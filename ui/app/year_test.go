package app

import (
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"
	"brine/wrasse/ui/theme"
)

// TestAYearByKeysAlone lives with a book on a real terminal: a part and three chores
// are added, its reach graded, a year of ticks caught up on, one of them amended, a
// chore retired, a spare kept, the part flagged and rebuilt; and what came of it is
// found in Rethink and on the Shelf, also after reopening.
func TestAYearByKeysAlone(t *testing.T) {
	t.Parallel()
	bin := termtest.Build(t, "../..")
	book := t.TempDir() + "/book.db"
	run := func() *termtest.Terminal {
		return termtest.Start(t, termtest.Options{Bin: bin, Args: []string{"--book", book}, W: 120, H: 40})
	}
	s := run()
	s.WaitFor("A new book", "name of the book")
	begin(s, "Home reef")
	s.WaitFor("Home reef")

	// A part at the first place, in service for more than a year, and its chores.
	s.Send("3")
	s.WaitFor("[Gear]", "> - ")
	s.Send("ac")
	s.WaitFor("A new component", "minutes to get at it")
	s.Send("Booster<tab>4<tab><backspace>12<tab><tab>" + strings.Repeat("<backspace>", 10) + "500d<enter>")
	s.WaitFor("component Booster", ">     Booster")
	for _, chore := range []string{
		"flush it<tab>c<tab><backspace><backspace>15<tab>2<tab>" + erased + "2mo<tab><tab>300d<enter>",
		"swap seal<tab>r<tab><backspace><backspace>20<tab>2<tab>" + erased + "6mo<tab>l<tab>300d<enter>",
		"look at oil<tab>t<tab><tab><tab>" + erased + "3mo<tab><tab>300d<enter>",
	} {
		s.Send("ah")
		s.WaitFor("A new chore, Booster")
		s.Send(chore)
		name, _, _ := strings.Cut(chore, "<")
		s.WaitGone("A new chore")
		s.Until("the cursor is on "+name, func(string) bool { return cursorOn(s, name) })
	}

	// Its reach, by questions: the worst of them is a 4, and it is out of sight.
	s.Send("g")
	s.WaitFor("How hard is Booster to get at?")
	s.Send("<tab>3<tab>4<tab>4<tab>2<tab>n<enter>")
	s.WaitGone("How hard is")
	s.Send("<left>")
	s.WaitFor("component Booster · z takes it back", "reach 5, 12 min")

	// What a neglected year held: three flushes, and one of them wrongly noted.
	find(s, "1", "[Round]", "flush it")
	for _, date := range []string{"240d", "180d", "120d"} {
		s.Send("D")
		s.WaitFor("Tick Booster: flush it")
		s.Send(date + "<tab>h<enter>")
		s.WaitGone("as found")
		s.WaitFor("ticked Booster: flush it, found heavy")
	}
	s.Send("6")
	s.WaitFor("[Log]")
	s.Send("/tick flush heavy<enter>")
	s.WaitFor("3 found")
	s.Send("e")
	s.WaitFor("amend entry", "found")
	s.Send("<tab>l<enter>")
	s.WaitFor("amended, found light: ticked Booster: flush it")

	// The oil is looked at by somebody else; the seal has to be kept in stock.
	find(s, "3", "[Gear]", "look at oil")
	s.Send("R")
	s.WaitFor("retired")
	s.Send("4")
	s.WaitFor("[Shelf]")
	s.Send("a")
	s.WaitFor("A new spare")
	s.Send("Seal kit<tab>3<tab><tab><tab>12<enter>")
	s.WaitFor("> Seal kit", "on hand 3 pc", "nothing needs it")
	find(s, "3", "[Gear]", "swap seal")
	s.Send("<enter>")
	s.WaitFor("Booster: swap seal", "clocks: the first to come decides")
	s.Send("ap")
	s.WaitFor("each time")
	s.Send("<left><tab><backspace>1<enter>")
	s.WaitFor("takes off the shelf", "1 pc Seal kit")

	// Flagged, thought about, rebuilt.
	find(s, "5", "[Rethink]", "Booster")
	s.WaitFor("> Booster", "48 min")
	s.Send("fo<enter>")
	s.WaitFor("to be rethought", "out of sight")
	s.Send("sr")
	s.WaitFor("how hard is it to reach now?")
	s.Send("2<tab><backspace><backspace>3<enter>")
	s.WaitFor("rebuilt from reach 5, 12 min")

	// Two ticks after, figures can be set side by side.
	find(s, "1", "[Round]", "flush it")
	s.Send("dl")
	s.WaitFor("ticked Booster: flush it, found light")
	find(s, "1", "[Round]", "swap seal")
	s.Send("dh")
	s.WaitFor("ticked Booster: swap seal, found nearly")

	// Five visits in the year, of 12 minutes before and of 3 now; one seal used.
	figures := func(s *termtest.Terminal) {
		s.Send("5")
		s.WaitFor("[Rethink]", "rebuilt parts save 45 min a year")
		find(s, "4", "[Shelf]", "Seal kit")
		s.WaitFor("> Seal kit", "on hand 2 pc", "Booster: swap seal       1 pc", "at 12.00: 24.00")
	}
	figures(s)
	s.Send("q")
	if code := s.Wait(); code != 0 {
		t.Fatalf("exit code %d", code)
	}
	s = run()
	s.WaitFor("Home reef")
	figures(s)
	find(s, "5", "[Rethink]", "Booster")
	s.WaitFor("before", "after", "saves 45 min a year")
	s.Send("q")
	s.Wait()
}

// erased empties a field that holds a few characters.
const erased = "<backspace><backspace><backspace><backspace>"

// find goes to a view, filters it for a name, and puts the cursor on the row that
// holds it.
func find(s *termtest.Terminal, digit, view, name string) {
	s.Send(digit)
	s.WaitFor(view)
	if strings.Contains(s.Screen(), "\n/ ") {
		s.Send("<esc>")
		s.WaitGone("\n/ ")
	}
	// To the top first: a key sent after the filter might act after its frame was seen.
	s.Send("<home>/" + strings.ToLower(name) + "<enter>")
	s.Until("the filter is kept", func(screen string) bool {
		return strings.Contains(screen, "\n/ "+strings.ToLower(name)) && !strings.Contains(screen, "esc clear")
	})
	for range 4 { // below it may stand what it belongs to
		if cursorOn(s, name) {
			return
		}
		was := s.Screen()
		s.Send("<down>")
		s.Until("the cursor has moved", func(screen string) bool { return screen != was || cursorOn(s, name) })
	}
}

// cursorOn reports whether the row of the cursor holds text, left of what is said beside it.
func cursorOn(s *termtest.Terminal, text string) bool {
	for _, l := range s.Lines() {
		if strings.HasPrefix(l, ">") {
			list, _, _ := strings.Cut(l, theme.Upright)
			return strings.Contains(list, text)
		}
	}
	return false
}
