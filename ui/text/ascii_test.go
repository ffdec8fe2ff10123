package text

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

func TestASCII(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"resin, 0.6 L", "resin, 0.6 L"},
		{"foam…  due", "foa..  due"},
		{"\x1b[1mfoam\x1b[0m… due", "\x1b[1mfoam\x1b[0m. due"},
		{"… due", ". due"},
		{"25 °C   ph 8", "25 degC ph 8"},
		{"25 °C at 3 °C", "25  C at 3  C"},
		{"25 °C, \x1b[1m3 °C     \x1b[0m|", "25 degC, \x1b[1m3 degC \x1b[0m|"},
		{"one · two", "one - two"},
		{"━━━━  ┊  │ ", "~~~~  :  | "},
		{"⠁⠄⠅⣿⠀|", "'.:: |"},
		{"crème, 5 µS", "creme, 5 uS"},
		{"水族 2", "???? 2"},
		{"½ ﬁ", "1 f"},
	} {
		if got := ASCII(c.in); got != c.want {
			t.Errorf("ASCII(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}

// Whatever a line holds, its columns stay where they are and nothing but ASCII is left.
func TestASCIIKeepsTheWidth(t *testing.T) {
	sign := rapid.SampledFrom([]string{"°C", "…", "·", "━", "⣿", " ", "  ", "   ", "x", "\x1b[1m", "\x1b[0m", "水", "é", "é"})
	rapid.Check(t, func(t *rapid.T) {
		s := Clean(awkward().Draw(t, "text"))
		for range rapid.IntRange(0, 12).Draw(t, "signs") {
			s += sign.Draw(t, "sign")
		}
		got := ASCII(s)
		if Width(got) != Width(s) || !ascii(got) {
			t.Fatalf("ASCII(%q) = %q: %d cells, want %d", s, got, Width(got), Width(s))
		}
		if n := strings.Count(ansi.Strip(got), "|"); n < strings.Count(ansi.Strip(s), "|") {
			t.Fatalf("ASCII(%q) = %q loses a rule", s, got)
		}
	})
}
