package table

import (
	"strings"
	"testing"

	"brine/wrasse/ui/text"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

// Wherever words have room, a table stays within it and loses no word but those of spare columns; in plain words it loses none.
func TestDetailTable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := look()
		th.Plain = rapid.Bool().Draw(t, "plain")
		w := rapid.IntRange(20, 120).Draw(t, "width")
		cell := rapid.SliceOfN(rapid.StringMatching(`[a-z]{1,9}`), 0, 9)
		var rows []Line
		var words []string
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			name := "row" + strings.Join(cell.Draw(t, "name"), " ")
			come, pace := cell.Draw(t, "come"), cell.Draw(t, "pace")
			rows = append(rows, Line{Cells: []string{name, strings.Join(come, " "), strings.Join(pace, " "), "22 Nov"}})
			words = append(append(words, strings.Fields(name)...), come...)
			if th.Plain {
				words = append(words, pace...)
			}
		}
		d := NewDetail(th, w)
		d.Table([]Col{{Least: 4}, {}, {Spare: true}, {Head: "due", Right: true}}, rows...)
		all := strings.Join(d.Lines, "\n")
		for _, l := range d.Lines {
			if text.Width(l) > w {
				t.Fatalf("%d cells of %d: %q", text.Width(l), w, l)
			}
		}
		for _, word := range append(words, "22", "Nov") {
			if !strings.Contains(ansi.Strip(all), word) {
				t.Fatalf("%q is lost at %d cells:\n%s", word, w, all)
			}
		}
	})
}
