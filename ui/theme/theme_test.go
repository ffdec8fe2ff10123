package theme

import (
	"math"
	"reflect"
	"regexp"
	"runtime"
	"slices"
	"strconv"
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

// codes lists every SGR parameter a style of a theme can write, by the style's name.
func codes(t *testing.T, th Theme) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	v := reflect.ValueOf(th)
	for i := range v.NumField() {
		style, ok := v.Field(i).Interface().(lipgloss.Style)
		if !ok {
			continue
		}
		name := v.Type().Field(i).Name
		for _, m := range regexp.MustCompile(`\x1b\[([0-9;]*)m`).FindAllStringSubmatch(style.Render("x"), -1) {
			out[name] = append(out[name], strings.Split(m[1], ";")...)
		}
	}
	return out
}

// By itself the program colours bars and marks only, in the terminal's own palette.
func TestTextHasTheTerminalsForeground(t *testing.T) {
	// SGR parameters of ECMA-48 section 8.3.117: 0 reset, 1 bold, 2 faint,
	// 4 underlined, 7 negative, 31 to 36 the six colours of the palette.
	text, hued := []string{"", "0", "1", "4", "7"}, []string{"", "0", "1", "31", "36"}
	for _, e := range []func(string) string{env("TERM", "xterm-256color"), env("CI", "1"), env("TERM", "foot")} {
		all := codes(t, Named("colour", "auto", e))
		for name, got := range all {
			allowed := text
			switch name {
			case "Tide", "Past":
				allowed = hued
			case "Rule":
				allowed = []string{"", "0", "2"}
			}
			for _, c := range got {
				if !slices.Contains(allowed, c) {
					t.Errorf("%s writes SGR %s", name, c)
				}
			}
		}
		if !slices.Contains(all["Past"], "31") || !slices.Contains(all["Cursor"], "7") {
			t.Errorf("theme lost its colour or its cursor: %q", all)
		}
	}
}

// grounds are what each coloured look is read on: black, white, and the two greyish
// grounds of a palette that many terminals offer (from memory).
var grounds = map[string][][3]float64{
	"dark":  {{0, 0, 0}, {0x00, 0x2b, 0x36}},
	"light": {{255, 255, 255}, {0xfd, 0xf6, 0xe3}},
}

// Text can be read: its contrast is 4.5 to 1 or more on each ground, which is level AA of
// W3C's Web Content Accessibility Guidelines 2.1, success criterion 1.4.3.
func TestContrast(t *testing.T) {
	for name, on := range grounds {
		coloured := 0
		for style, got := range codes(t, Named(name, "unicode", env())) {
			for i := 0; i+2 < len(got); i++ {
				if got[i] != "38" || got[i+1] != "5" {
					continue
				}
				coloured++
				for _, ground := range on {
					if c := contrast(cube(t, got[i+2]), ground); c < 4.5 {
						t.Errorf("%s: %s, colour %s: contrast %.2f on %v", name, style, got[i+2], c, ground)
					}
				}
			}
		}
		if coloured < 10 {
			t.Errorf("%s: only %d styles are coloured", name, coloured)
		}
	}
	if c := contrast([3]float64{255, 255, 255}, [3]float64{}); c != 21 { // the guidelines' own greatest
		t.Errorf("white on black: contrast %v, want 21", c)
	}
}

// cube is a colour of the 256 that is no palette colour: a cube of six levels, then a ramp
// of greys, as in xterm's 256colres.pl (from memory).
func cube(t *testing.T, number string) [3]float64 {
	t.Helper()
	n, err := strconv.Atoi(number)
	if err != nil || n < 16 || n > 255 {
		t.Fatalf("colour %q is of the palette", number)
	}
	if n >= 232 {
		grey := float64(8 + 10*(n-232))
		return [3]float64{grey, grey, grey}
	}
	levels := [...]float64{0, 95, 135, 175, 215, 255}
	n -= 16
	return [3]float64{levels[n/36], levels[n/6%6], levels[n%6]}
}

// contrast is that of two colours, by the guidelines' formulas of contrast ratio and
// relative luminance.
func contrast(a, b [3]float64) float64 {
	luminance := func(c [3]float64) float64 {
		sum := 0.0
		for i, weight := range [...]float64{0.2126, 0.7152, 0.0722} {
			v := c[i] / 255
			if v <= 0.04045 {
				v /= 12.92
			} else {
				v = math.Pow((v+0.055)/1.055, 2.4)
			}
			sum += weight * v
		}
		return sum
	}
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestGlyphsFollowTheLocale(t *testing.T) {
	for _, c := range []struct {
		glyphs string
		env    func(string) string
		ascii  bool
	}{
		{"auto", env("LANG", "en_GB.UTF-8"), false},
		{"auto", env("LANG", "de_DE.utf8"), false},
		{"auto", env("LANG", "en_GB.UTF-8", "LC_CTYPE", "C"), true},
		{"auto", env("LANG", "C", "LC_ALL", "C.UTF-8"), false},
		{"auto", env("LANG", "de_DE.ISO-8859-1"), true},
		{"auto", env("TERM", "xterm"), runtime.GOOS != "windows"},
		{"unicode", env("LC_ALL", "C"), false},
		{"ascii", env("LC_ALL", "C.UTF-8"), true},
		{"auto", env("LC_ALL", "C.UTF-8", "TERM", "linux"), true}, {"unicode", env("TERM", "linux"), false},
	} {
		if got := Named("colour", c.glyphs, c.env).ASCII; got != c.ascii {
			t.Errorf("%s, LANG=%s: ASCII is %v", c.glyphs, c.env("LANG"), got)
		}
	}
}

func TestNoColorKeepsBoldAndReverse(t *testing.T) {
	for _, name := range Names {
		got := codes(t, Named(name, "auto", env("NO_COLOR", "1", "TERM", "xterm")))
		for style, list := range got {
			for _, c := range list {
				if len(c) > 1 {
					t.Errorf("%s: %s writes SGR %s", name, style, c)
				}
			}
		}
		if !slices.Contains(got["Title"], "1") || !slices.Contains(got["Cursor"], "7") {
			t.Errorf("%s lost bold or reverse: %q", name, got)
		}
	}
}

func TestDumbTerminalGetsNoSequences(t *testing.T) {
	if got := codes(t, Named("dark", "auto", env("TERM", "dumb"))); len(got) > 0 {
		t.Errorf("TERM=dumb theme writes SGR %q", got)
	}
}
