package app

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"brine/wrasse/ui/uitest"

	tea "github.com/charmbracelet/bubbletea"
)

const readme = "../../README.md"

// shots are the screens of the README by name, and the keys that lead to them from the
// first frame of the demo.
var shots = map[string][]string{
	"round": {},
	"water": {"2"},
}

// shotBlock is a screen in the README: its name and size in a comment, then the fence.
var shotBlock = regexp.MustCompile("(?m)^<!-- screen: (\\w+) (\\d+)x(\\d+) -->\n```text\n((?s:.*?))```$")

// The screens in the README are those of the program; with -update they are taken anew.
func TestReadmeScreens(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	found := 0
	now := shotBlock.ReplaceAllStringFunc(text, func(block string) string {
		found++
		m := shotBlock.FindStringSubmatch(block)
		keys, ok := shots[m[1]]
		if !ok {
			t.Fatalf("the README shows a screen %q, which nothing leads to", m[1])
		}
		got := shot(t, keys, atoi(t, m[2]), atoi(t, m[3]))
		if got != m[4] && !*uitest.Update {
			t.Errorf("the screen %q of the README differs; look at it, and if it is right, go test -update:\n%s", m[1], got)
		}
		return strings.TrimSuffix(block, m[4]+"```") + got + "```"
	})
	if marked := strings.Count(text, "<!-- screen:"); found != marked || found < len(shots) {
		t.Fatalf("%d screens can be read of %d marked; %d are to be shown", found, marked, len(shots))
	}
	if *uitest.Update {
		if err := os.WriteFile(readme, []byte(now), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// shot is a screen of the demo without the blanks at the ends of its lines.
func shot(t *testing.T, keys []string, w, h int) string {
	t.Helper()
	p := demo(t, w, h)
	p.keys(keys...)
	p.Send(tea.WindowSizeMsg{Width: w, Height: h})
	return uitest.Trimmed(p.Screen())
}

func atoi(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// The tour of the README leads where it says, one step after another.
func TestReadmeTour(t *testing.T) {
	p := demo(t, 80, 24)
	for _, step := range []struct {
		keys []string
		sees string
	}{
		{[]string{"enter"}, "> [ ] Close the feed"},
		{[]string{"esc", "d", "h"}, "ticked DI resin: renew resin, found nearly"},
		{[]string{"z"}, "took back: ticked DI resin"},
		{[]string{"Z"}, "ticked DI resin: renew resin, found nearly"},
		{[]string{"t", "4", "5"}, "minutes at hand 45"},
		{[]string{"enter"}, "[ ]"},
		{[]string{"esc", "esc", "u", "4", "0", "enter"}, "Water made, 40 L"},
		{[]string{"r", "2", "5", "8", " ", "7", " ", "3", "enter"}, "TDS at the tap, 258 ppm, and 3 more"},
		{[]string{"2", "w"}, "what the readings say"},
		{[]string{"esc", "o"}, "What did you see?"},
		{[]string{"esc", "m", "n"}, "Mix a batch"},
		{[]string{"esc", "3"}, "[Gear]"},
		{[]string{"4"}, "order by"},
		{[]string{"5"}, "what a move would save"},
		{[]string{"6"}, "Water made, 40 L"},
	} {
		p.keys(step.keys...)
		p.Sees(step.sees)
	}
}
