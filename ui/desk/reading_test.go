package desk_test

import (
	"errors"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/desk"
	"brine/wrasse/ui/gear"
	"brine/wrasse/ui/rethink"
	"brine/wrasse/ui/round"
	"brine/wrasse/ui/stage"
	"brine/wrasse/ui/steps"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/water"

	"github.com/charmbracelet/x/ansi"
)

// watched is a store that calls a function whenever a book of a higher grade is read,
// which is while the screen waits for it.
type watched struct {
	*desk.Memory
	during func()
	fail   error
}

func (w *watched) Wide() (*model.Book, error) { return w.read() }

func (w *watched) Full() (*model.Book, error) { return w.read() }

func (w *watched) read() (*model.Book, error) {
	w.during()
	if w.fail != nil {
		return nil, w.fail
	}
	return w.Load()
}

// What looks far back says that the log is being read until it is there, at every size,
// and draws it then.
func TestScreensSayThatTheLogIsBeingRead(t *testing.T) {
	round := func(d *desk.Desk) ui.Screen { return round.New(d, steps.NewBench()) }
	for _, c := range []struct {
		name, keys, sees string
		view             stage.Maker
		from             int // lines in which it can be seen
	}{
		{"water", "", "rejection", water.New, 0},
		{"rethink", "", "what placing costs", rethink.New, 0},
		{"component", "<right><down><enter>", "history", gear.New, 60},
		{"year behind", "y<left>", "hands-on", round, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			waited := 0
			store := &watched{Memory: desk.NewMemory(func() (*model.Book, error) { return stage.Demo(t), nil })}
			s := stage.OpenOn(t, store, func(d *desk.Desk) ui.Screen {
				store.during = func() {
					waited++
					for _, size := range [][2]int{{40, 12}, {80, 24}, {120, 60}} {
						screen := ansi.Strip(d.Root.Render(size[0], size[1]))
						if size[1] >= c.from && !strings.Contains(screen, "reading the log ...") {
							t.Errorf("it does not say so:\n%s", screen)
						}
						for _, l := range strings.Split(screen, "\n") {
							if text.Width(l) != size[0] {
								t.Errorf("a line of %d cells in %d", text.Width(l), size[0])
							}
						}
					}
				}
				return c.view(d)
			}, 100, 40)
			s.Keys(c.keys)
			s.Sees(c.sees)
			s.Misses("reading the log")
			s.Exact()
			if waited != 1 {
				t.Errorf("the log was read %d times", waited)
			}
		})
	}
}

func TestScreensSayWhyTheLogCantBeRead(t *testing.T) {
	for name, view := range map[string]stage.Maker{"water": water.New, "rethink": rethink.New} {
		t.Run(name, func(t *testing.T) {
			store := &watched{Memory: desk.NewMemory(func() (*model.Book, error) { return stage.Demo(t), nil }),
				during: func() {}, fail: errors.New("page 7 is damaged\x1b[2J")}
			s := stage.OpenOn(t, store, view, 100, 40)
			s.Sees("the log can't be read: reading the log: page 7 is damaged")
			s.Exact()
			s.Keys("<down><enter><esc>u<esc>")
			s.Exact()
		})
	}
}
