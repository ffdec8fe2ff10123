package app

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/ui/session"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/uitest"

	"github.com/charmbracelet/x/ansi"
)

// kept are the ways whose screens are kept, each in one file: at every size, and at the usual one in other looks; of the first,
// the views, also with the sequences of their styles.
var kept = []string{"the round", "water", "gear", "shelf", "rethink", "log", "a chore", "a tick in full", "a flag", "litres", "readings",
	"putting off", "away", "reach", "a batch", "a component", "more gear", "a spare edited", "a state", "an entry amended"}

const views = 6

// evening are the ways through the questions of a new book, which a first start puts. They are kept in the same way.
var evening = map[string][]string{
	"the first questions": nil, "what is known": known, "what else there is": append(slices.Clone(known), "up", "up", "l", "enter", "enter"),
	"when last done": append(slices.Clone(known), "up", "a", "enter"), "five keys": answered, "a book begun": append(slices.Clone(answered), "enter"),
}

var (
	known    = append([]string{"Home reef"}, slices.Repeat([]string{"enter"}, 8)...)
	answered = append(slices.Clone(known), slices.Repeat([]string{"enter"}, 11)...)
)

// along goes a way, or one of the first evening, in a window of its own.
func along(t *testing.T, name string, w, h int, o Options) *window {
	t.Helper()
	var store session.Store = Demo(uitest.Today)
	keys := ways[name]
	if first, ok := evening[name]; ok {
		store, keys = empty(), first
	}
	p := openWith(t, store, w, h, o)
	p.keys(keys...)
	return p
}

var looks = []struct {
	name string
	w, h int
	Options
}{
	{"", 40, 12, Options{}}, {"", 60, 16, Options{}}, {"", 80, 24, Options{}}, {"", 120, 40, Options{}}, {"", 200, 50, Options{}},
	{" ascii", 80, 24, Options{Glyphs: "ascii"}}, {" plain", 80, 24, Options{Plain: true}}, {" mono", 80, 24, Options{Theme: "mono"}}, {" colour", 80, 24, Options{}},
}

func TestScreensGolden(t *testing.T) {
	for i, name := range slices.Concat(kept, slices.Sorted(maps.Keys(evening))) {
		t.Run(name, func(t *testing.T) {
			var b strings.Builder
			for _, l := range looks {
				styled := l.name == " mono" || l.name == " colour"
				if styled && i >= views {
					continue
				}
				p := along(t, name, l.w, l.h, l.Options)
				p.exact()
				fmt.Fprintf(&b, "%s %dx%d%s\n", strings.Repeat("=", 8), l.w, l.h, l.name)
				drawn := p.Screen()
				if styled {
					drawn = strings.ReplaceAll(p.Root.View(), "\x1b", "^[")
				}
				b.WriteString(uitest.Trimmed(drawn))
			}
			uitest.Keep(t, strings.ReplaceAll(name, " ", "-")+".txt", b.String())
		})
	}
}

// How many texts are cut where a keeper looks each morning, by size: none at the usual one. A number may only fall.
func TestCutTexts(t *testing.T) {
	for size, most := range map[[2]int]int{{60, 16}: 0, {80, 24}: 0, {120, 40}: 0, {200, 50}: 0} {
		cut := 0
		for _, name := range kept[:views+1] {
			p := demo(t, size[0], size[1])
			p.keys(ways[name]...)
			for line := range strings.SplitSeq(ansi.Strip(p.Root.View()), "\n") {
				if n := strings.Count(line, text.Ellipsis); n > 0 {
					cut += n
					t.Logf("%v, %s: %s", size, name, line)
				}
			}
		}
		if cut != most {
			t.Errorf("at %v %d texts are cut, not %d", size, cut, most)
		}
	}
}
