package ui

import (
	"slices"
	"testing"

	"brine/wrasse/ui/keys"

	tea "github.com/charmbracelet/bubbletea"
)

// What a screen needs is seen to while it is in sight: the view shown, and all that is
// open over it.
func TestWhatIsInSight(t *testing.T) {
	var sight []string
	seen := 0
	s := newSample(t, func(c *Config) {
		c.InSight = func(screens []Screen) tea.Cmd {
			sight = nil
			for _, screen := range screens {
				sight = append(sight, screen.(*listing).name)
			}
			return func() tea.Msg { seen++; return nil }
		}
	})
	page := &listing{name: "Page", scope: keys.Chore}
	for _, c := range []struct {
		keys string
		want []string
	}{
		{"2", []string{"Water"}},
		{"21", []string{"Round"}},
		{"3", []string{"Gear"}},
	} {
		before := seen
		s.keys(c.keys)
		if !slices.Equal(sight, c.want) || seen == before {
			t.Errorf("after %s: %v, want %v; its command ran: %v", c.keys, sight, c.want, seen > before)
		}
	}
	s.root.Push(page)
	s.send(news(1))
	if want := []string{"Gear", "Page"}; !slices.Equal(sight, want) {
		t.Errorf("with a page: %v, want %v", sight, want)
	}
	s.keys("1")
	if want := []string{"Round"}; !slices.Equal(sight, want) {
		t.Errorf("with the page out of sight: %v, want %v", sight, want)
	}
}
