package ui

import (
	"testing"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

// listing is a small screen to try the root with: it notes what reaches it.
type listing struct {
	name  string
	scope keys.Scope
	typed bool // letters are text
	acts  []keys.Action
	text  string
	days  int
	click [2]int
	onAct func(keys.Action) tea.Cmd
	onMsg func(tea.Msg)
	stay  bool
}

func (s *listing) Scope() keys.Scope { return s.scope }

func (s *listing) TextEntry() bool { return s.typed }

func (s *listing) Act(a keys.Action) tea.Cmd {
	s.acts = append(s.acts, a)
	if s.onAct != nil {
		return s.onAct(a)
	}
	return nil
}

func (s *listing) Msg(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		s.text += string(msg.Runes)
	case NewDay:
		s.days++
	}
	if s.onMsg != nil {
		s.onMsg(msg)
	}
	return nil
}

func (s *listing) Render(w, h int) string {
	return text.Block([]string{s.name + " body", "typed " + s.text}, w, h)
}

func (s *listing) Aside(int) string { return "74 min" }

func (s *listing) Click(x, y int) tea.Cmd { s.click = [2]int{x, y}; return nil }

func (s *listing) Close() (tea.Cmd, bool) { return nil, !s.stay }

// sample is a root with three views, and what a test wants of it.
type sample struct {
	*player
	clock *testClock
	views []*listing
}

func newSample(t *testing.T, change func(*Config)) *sample {
	t.Helper()
	s := &sample{clock: morning()}
	cfg := Config{
		Theme: testTheme(),
		Clock: s.clock.read,
		After: noTimer,
		Views: func(*Root) []View {
			var out []View
			for i, name := range []string{"Round", "Water", "Gear"} {
				l := &listing{name: name, scope: keys.Round + keys.Scope(i)}
				s.views = append(s.views, l)
				out = append(out, View{name, l})
			}
			return out
		},
		Heading: func() (string, string) { return "Home reef", "Wed 25 Nov 2026" },
	}
	if change != nil {
		change(&cfg)
	}
	s.player = play(t, NewRoot(cfg), 80, 24)
	return s
}
