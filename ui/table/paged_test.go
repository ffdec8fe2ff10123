package table_test

import (
	"fmt"
	"testing"

	"brine/wrasse/model/ledger"
	"brine/wrasse/ui"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

// numbers is a list of the numbers below all, of which it holds a stretch: the way a list
// stands on View whose rows are read a page at a time.
type numbers struct {
	table.View[int, int]
	all      int
	from, to int // the numbers held
	pages    int // read so far
}

const (
	pageRows = 100
	margin   = 30 // rows held above and below the cursor, at least: more than a window shows
)

// page is a page as a command read it, to be held in place of what was.
type page struct {
	from, to int
	at       int // where the cursor goes; -1 leaves it on its row
}

func (n *numbers) view(d *session.Session) ui.Screen {
	n.View = table.New(d, keys.Rethink, table.Spec[int, int]{
		Rows: func(string) []int {
			var out []int
			for i := n.from; i < n.to; i++ {
				out = append(out, i)
			}
			return out
		},
		Key:      func(i *int) int { return *i },
		Row:      func(int) func(*int) string { return func(i *int) string { return fmt.Sprint(" number ", *i) } },
		Sentence: func(i *int) string { return fmt.Sprint("number ", *i) },
		Nothing:  func(int) []string { return n.Remark("reading ...") },
		Found:    func() string { return "" },
		Act:      func(keys.Action, *int) (tea.Cmd, bool) { return nil, false },
	})
	return n
}

func (n *numbers) Msg(msg tea.Msg) tea.Cmd {
	if p, ok := msg.(page); ok {
		n.from, n.to = max(p.from, 0), min(p.to, n.all)
		n.pages++
		n.Renew()
		if p.at >= 0 {
			n.Put(p.at)
		}
		return nil
	}
	return tea.Batch(n.View.Msg(msg), n.more())
}

func (n *numbers) Act(a keys.Action) tea.Cmd {
	switch {
	case a == keys.First && n.from > 0:
		return read(page{0, pageRows, 0})
	case a == keys.Last && n.to < n.all:
		return read(page{n.all - pageRows, n.all, n.all - 1})
	}
	cmd := n.View.Act(a)
	return tea.Batch(cmd, n.more())
}

// more reads on where the cursor comes near an end of what is held.
func (n *numbers) more() tea.Cmd {
	at := n.from + n.At()
	if n.from > 0 && at-n.from < margin || n.to < n.all && n.to-at < margin {
		return read(page{at - pageRows/2, at + pageRows/2, -1})
	}
	return nil
}

func read(p page) tea.Cmd { return func() tea.Msg { return p } }

func TestAListReadAPageAtATime(t *testing.T) {
	n := &numbers{all: 10_000}
	s := uitest.Open(t, new(ledger.Book), n.view, 80, 24)
	at := func(want int) {
		t.Helper()
		if r := n.Current(); r == nil || *r != want {
			t.Fatalf("the cursor is on %v, want %d:\n%s", r, want, s.Screen())
		}
		s.Sees(fmt.Sprint("> number ", want))
		if len(n.Shown()) > pageRows {
			t.Fatalf("%d rows are held", len(n.Shown()))
		}
	}
	at(0)
	for i := 1; i <= 300; i++ {
		s.Keys("j")
		at(i)
	}
	if n.pages < 3 {
		t.Errorf("%d pages were read", n.pages)
	}
	s.Sees("number 299", "number 301") // away from the ends, with rows on both sides
	s.Keys("<end>")
	at(9_999)
	s.Keys("<pgup><pgup><pgup>")
	at(9_999 - 3*19)
	s.Keys("<home>")
	at(0)
	s.Exact()
}
