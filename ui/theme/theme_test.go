package theme

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
)

// env makes an environment of the given pairs.
func env(pairs ...string) func(string) string {
	return func(name string) string {
		for i := 0; i+1 < len(pairs); i += 2 {
			if pairs[i] == name {
				return pairs[i+1]
			}
		}
		return ""
	}
}

// codes lists every SGR parameter a theme can write.
func codes(t *testing.T, th Theme) []string {
	t.Helper()
	var out []string
	v := reflect.ValueOf(th)
	for i := range v.NumField() {
		style, ok := v.Field(i).Interface().(lipgloss.Style)
		if !ok {
			continue
		}
		drawn := style.Render("x")
		for _, m := range regexp.MustCompile(`\x1b\[([0-9;]*)m`).FindAllStringSubmatch(drawn, -1) {
			out = append(out, strings.Split(m[1], ";")...)
		}
	}
	return out
}

func TestPaletteUsesOnlyReadableCodes(t *testing.T) {
	// SGR parameters of ECMA-48 section 8.3.117: 0 reset, 1 bold, 2 faint,
	// 4 underlined, 7 negative, 31 to 36 the six colours of the palette.
	allowed := []string{"", "0", "1", "2", "4", "7", "31", "32", "33", "34", "35", "36"}
	for _, e := range []func(string) string{env("TERM", "xterm-256color"), env("CI", "1"), env("TERM", "foot")} {
		got := codes(t, Pick(e))
		for _, c := range got {
			if !slices.Contains(allowed, c) {
				t.Errorf("theme writes SGR %s", c)
			}
		}
		if !slices.Contains(got, "31") || !slices.Contains(got, "7") {
			t.Errorf("theme lost its colour or its cursor: %q", got)
		}
	}
}

func TestNoColorKeepsBoldAndReverse(t *testing.T) {
	got := codes(t, Pick(env("NO_COLOR", "1", "TERM", "xterm")))
	for _, c := range got {
		if len(c) > 1 {
			t.Errorf("NO_COLOR theme writes SGR %s", c)
		}
	}
	for _, want := range []string{"1", "7"} {
		if !slices.Contains(got, want) {
			t.Errorf("NO_COLOR theme does not use SGR %s", want)
		}
	}
}

func TestDumbTerminalGetsNoSequences(t *testing.T) {
	if got := codes(t, Pick(env("TERM", "dumb"))); len(got) > 0 {
		t.Errorf("TERM=dumb theme writes SGR %q", got)
	}
}

func TestOver(t *testing.T) {
	th := Pick(env())
	row := "> " + th.Late.Render("due +3 d") + " cellar"
	got := Over(th.Cursor, row)
	if want := "\x1b[7m> \x1b[31mdue +3 d\x1b[0m\x1b[7m cellar\x1b[0m"; got != want {
		t.Errorf("Over = %q, want %q", got, want)
	}
	if got := Over(th.Text, row); got != row {
		t.Errorf("Over with no style changed the row: %q", got)
	}
	if got := Over(th.Cursor, ""); got != "" {
		t.Errorf("Over of nothing = %q", got)
	}
}
