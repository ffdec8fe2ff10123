package ui

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"brine/wrasse/ui/form"
	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"

	tea "github.com/charmbracelet/bubbletea"
)

func TestFrame(t *testing.T) {
	s := newSample(t, nil)
	lines := strings.Split(s.screen(), "\n")
	if len(lines) != 24 {
		t.Fatalf("%d lines, want 24", len(lines))
	}
	for i, want := range map[int]string{
		0: "Home reef" + strings.Repeat(" ", 56) + "Wed 25 Nov 2026",
		1: "[Round]  Water  Gear" + strings.Repeat(" ", 54) + "74 min",
		2: text.Fit("Round body", 80),
	} {
		if lines[i] != want {
			t.Errorf("line %d is %q, want %q", i, lines[i], want)
		}
	}
	if !strings.HasPrefix(lines[23], "d tick  f flag") {
		t.Errorf("key line %q", lines[23])
	}
}

// A sheet that would leave nothing of the screen below in sight takes it all,
// and shows the part its cursor is in.
func TestTallSheetTakesTheBody(t *testing.T) {
	s := newSample(t, nil)
	var many []Answer
	for r := 'a'; r <= 't'; r++ {
		many = append(many, Answer{Letter: r, Label: "cause " + string(r)})
	}
	c := NewChoice(s.root, "why", many, nil)
	c.Confirm = true
	s.root.Push(c)
	s.send(tea.WindowSizeMsg{Width: 60, Height: 16})
	s.misses("Round body")
	s.sees("why", "> a  cause a")
	s.keys("s")
	s.sees("why", "> s  cause s")
	exact(t, s.root.View(), 60, 16)
	s.send(tea.WindowSizeMsg{Width: 60, Height: 40})
	s.sees("Round body", "cause a", "> s  cause s", "cause t")
}

func TestTooSmallKeepsEverything(t *testing.T) {
	s := newSample(t, nil)
	s.root.Push(&listing{name: "Page", scope: keys.Chore})
	s.send(tea.WindowSizeMsg{Width: 39, Height: 24})
	s.sees("wrasse needs a window of 40 x 12", "39 x 24", "ctrl+c")
	s.send(tea.WindowSizeMsg{Width: 40, Height: 12})
	s.sees("Page body")
}

// Every width at six heights and 200 sizes at random, with each kind of thing on top, are
// drawn in exactly their lines and cells, and the same twice.
func TestEverySize(t *testing.T) {
	hostile := "reef \x1b[2J\x1b]52;c;eA==\x07 水槽 e\u0301\u202e" + strings.Repeat("x", 200)
	s := newSample(t, func(c *Config) {
		c.Heading = func() (string, string) { return hostile, hostile }
		c.Notice = func() string { return hostile }
	})
	r := s.root
	for name, top := range map[string]Screen{
		"nothing": nil,
		"help":    &helpPage{root: r, of: keys.Round, from: 3},
		"choice":  NewChoice(r, hostile, []Answer{{Letter: 'a', Label: hostile, Note: hostile}, {Letter: 'b', Label: "b"}}, nil),
		"form": NewFormSheet(r, form.Spec{Title: hostile, Fields: []form.Field{
			{Name: "a", Label: hostile, Value: hostile, Hint: hostile},
			{Name: "b", Label: "b"},
		}}, nil),
	} {
		t.Run(name, func(t *testing.T) {
			if top != nil {
				r.Push(top)
				defer r.Drop(top)
			}
			for w := 1; w <= 130; w++ {
				for _, h := range []int{1, 11, 12, 16, 24, 40} { // each side of where the layout changes
					exact(t, r.Render(w, h), w, h)
				}
			}
			dice := rand.New(rand.NewPCG(1, 2))
			for range 200 {
				w, h := 1+dice.IntN(220), 1+dice.IntN(70)
				exact(t, r.Render(w, h), w, h)
			}
			if first := r.Render(80, 24); first != r.Render(80, 24) {
				t.Error("drawing twice differs")
			}
		})
	}
}

// exact checks a drawing of w by h cells: its lines, their widths, and that the
// only control bytes are those of colour.
func exact(t *testing.T, drawing string, w, h int) {
	t.Helper()
	lines := strings.Split(drawing, "\n")
	if len(lines) != h {
		t.Fatalf("%d x %d: %d lines", w, h, len(lines))
	}
	for i, line := range lines {
		if text.Width(line) != w {
			t.Fatalf("%d x %d: line %d is %d cells: %q", w, h, i, text.Width(line), line)
		}
		if bad := control(line); bad != "" {
			t.Fatalf("%d x %d: line %d holds %s: %q", w, h, i, bad, line)
		}
	}
}

// control names the first control character of a line that is not part of a
// colour sequence.
func control(line string) string {
	for line != "" {
		if rest, ok := strings.CutPrefix(line, "\x1b["); ok {
			end := strings.IndexFunc(rest, func(r rune) bool { return r != ';' && (r < '0' || r > '9') })
			if end < 0 || rest[end] != 'm' {
				return "a sequence that is not a colour"
			}
			line = rest[end+1:]
			continue
		}
		if line[0] < ' ' || line[0] == 0x7f {
			return fmt.Sprintf("byte %#x", line[0])
		}
		line = line[1:]
	}
	return ""
}
