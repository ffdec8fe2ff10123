package app

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/uitest"

	"github.com/charmbracelet/x/ansi"
)

// recent is from when the notes of a log are made hostile: there are thousands before.
var recent = model.NewDate(2026, 11, 1)

// hostile is the demo with every name in it, every note and cause of late, every step and
// caution replaced.
func hostile(t *testing.T, s string) session.Store {
	t.Helper()
	short := []rune(s)
	name := string(short[:min(len(short), model.MaxNameLen)])
	note := func(on model.Date, old string) string {
		if on < recent {
			return old
		}
		return s
	}
	entries := slices.Clone(starter.Demo(model.NewDate(2026, 11, 25)))
	for i := range entries {
		e := &entries[i]
		if e.By != "" && e.On >= recent {
			e.By = name
		}
		switch w := e.Body.(type) {
		case model.BookDef:
			w.Name = name
			e.Body = w
		case model.Place:
			w.Name = name
			e.Body = w
		case model.Component:
			w.Name = name
			e.Body = w
		case model.Counter:
			w.Name = name
			e.Body = w
		case model.Gauge:
			w.Name = name
			e.Body = w
		case model.Spare:
			w.Name = name
			e.Body = w
		case model.Chore:
			w.Name, w.Steps, w.Cautions = name, slices.Clone(w.Steps), slices.Clone(w.Cautions)
			for j := range w.Steps {
				w.Steps[j].Text = s
			}
			for j := range w.Cautions {
				w.Cautions[j] = s
			}
			e.Body = w
		case model.Tick:
			w.Note = note(e.On, w.Note)
			e.Body = w
		case model.Flag:
			w.Note = s
			e.Body = w
		case model.Fault:
			w.Note = s
			e.Body = w
		case model.PutOff:
			w.Reason = s
			e.Body = w
		case model.Note:
			w.Text = s
			e.Body = w
		}
	}
	return session.NewMemory(func() (*ledger.Book, error) { return new(ledger.Book).Append(entries...) })
}

// Wherever the keys lead, as it is drawn and in plain words, the texts of a book do not
// act on the terminal, put no column out and take no line more than there is.
func TestHostileTextsEverywhere(t *testing.T) {
	for name, s := range uitest.Hostile() {
		for _, plain := range []bool{false, true} {
			p := openWith(t, hostile(t, s), 80, 24, Options{Plain: plain})
			for _, where := range slices.Sorted(maps.Keys(ways)) {
				p.keys("esc", "esc", "esc", "esc", "1", "1")
				p.keys(ways[where]...)
				for _, size := range [][2]int{{40, 12}, {80, 24}, {140, 40}} {
					lines := strings.Split(p.Root.Render(size[0], size[1]), "\n")
					if len(lines) != size[1] {
						t.Fatalf("%s, %s: %d lines at %v", name, where, len(lines), size)
					}
					for _, l := range lines {
						if shown := ansi.Strip(l); text.Width(l) != size[0] || text.Clean(shown) != shown {
							t.Fatalf("%s, %s, plain %v: at %v a line of %d cells: %q", name, where, plain, size, text.Width(l), shown)
						}
					}
				}
			}
		}
	}
}
