package text

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

// awkward draws texts made of what has gone wrong in terminals before: wide
// letters, combining marks, prefix letters that join a following space, joined
// emoji, flags, right-to-left text, escape sequences and broken bytes.
func awkward() *rapid.Generator[string] {
	piece := rapid.OneOf(
		rapid.StringN(0, 6, -1),
		rapid.SampledFrom([]string{
			"resin", " ", "\n", "\t", "水族館", "é", "e\u0301", "\u0301", "\u0d4e", "👨\u200d👩\u200d👧",
			"🏽", "⚠\ufe0f", "🇳🇿", "שלום", "\u202e", "\u2066", "\x1b[31m", "\x1b]52;c;eA==\x07", "\x1b[2J",
			"\x9b", "\xff\xfe", "\x00", "\u2028", "\u200b", "\u00ad", "\u1100\u1161", "ไทย้", "\x1b",
		}),
	)
	return rapid.Map(rapid.SliceOfN(piece, 0, 12), func(p []string) string { return strings.Join(p, "") })
}

func TestFit(t *testing.T) {
	for _, c := range []struct {
		in   string
		w    int
		want string
	}{
		{"resin", 8, "resin   "},
		{"resin", 5, "resin"},
		{"resin", 4, "res…"},
		{"resin", 1, "…"},
		{"resin", 0, ""},
		{"resin", -3, ""},
		{"", 3, "   "},
		{"水水", 3, "水…"},
		{"水", 1, "…"},
		{"a\nb\tc\r\nd", 8, "a b c d "},
		{"\x1b[1mresin\x1b[0m", 3, "\x1b[1mre…\x1b[0m"},
	} {
		if got := Fit(c.in, c.w); got != c.want {
			t.Errorf("Fit(%q, %d) = %q, want %q", c.in, c.w, got, c.want)
		}
	}
}

func TestRight(t *testing.T) {
	for _, c := range []struct {
		in   string
		w    int
		want string
	}{
		{"12", 5, "   12"},
		{"12345", 4, "123…"},
		{"", 2, "  "},
		{"7", 0, ""},
	} {
		if got := Right(c.in, c.w); got != c.want {
			t.Errorf("Right(%q, %d) = %q, want %q", c.in, c.w, got, c.want)
		}
	}
}

func TestSpread(t *testing.T) {
	for _, c := range []struct {
		left, right string
		w           int
		want        string
	}{
		{"reef", "today", 12, "reef   today"},
		{"reef", "today", 10, "reef today"},
		{"reef", "today", 8, "r… today"},
		{"reef", "today", 6, "today "},
		{"reef", "today", 4, "tod…"},
		{"reef", "", 6, "reef  "},
		{"reef", "today", 0, ""},
	} {
		if got := Spread(c.left, c.right, c.w); got != c.want {
			t.Errorf("Spread(%q, %q, %d) = %q, want %q", c.left, c.right, c.w, got, c.want)
		}
	}
}

func TestRow(t *testing.T) {
	columns := []Column{{Width: 6}, {Width: 0}, {Width: 4, Right: true}}
	if got, want := Row(2, columns, "vat", "hidden", "12"), "vat       12"; got != want {
		t.Errorf("Row = %q, want %q", got, want)
	}
	if got, want := Row(1, columns, "sediment"), "sedim…     "; got != want {
		t.Errorf("Row with a missing cell = %q, want %q", got, want)
	}
}

func TestBlock(t *testing.T) {
	if got, want := Block([]string{"a", "bcd", "x"}, 2, 2), "a \nb…"; got != want {
		t.Errorf("Block = %q, want %q", got, want)
	}
	if got, want := Block(nil, 2, 2), "  \n  "; got != want {
		t.Errorf("Block of nothing = %q, want %q", got, want)
	}
	if got := Block([]string{"a"}, 2, 0); got != "" {
		t.Errorf("Block without height = %q", got)
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		in   string
		w    int
		want []string
	}{
		{"close the feed first", 9, []string{"close the", "feed", "first"}},
		{"one\ntwo  three", 20, []string{"one", "two three"}},
		{"unscrewable housing", 5, []string{"unscr", "ewabl", "e", "housi", "ng"}},
		{"a 水水 b", 3, []string{"a", "水", "水", "b"}},
		{"水", 1, []string{"…"}},
		{"", 5, []string{""}},
		{"anything", 0, nil},
	} {
		if got := Wrap(c.in, c.w); !slices.Equal(got, c.want) {
			t.Errorf("Wrap(%q, %d) = %q, want %q", c.in, c.w, got, c.want)
		}
	}
}

func TestClean(t *testing.T) {
	for name, c := range map[string]struct{ in, want string }{
		"plain text is kept":      {"DI resin, 0.6 L", "DI resin, 0.6 L"},
		"accents are kept":        {"filtre à charbon, 水槽", "filtre à charbon, 水槽"},
		"colour":                  {"\x1b[31mred\x1b[0m", "red"},
		"clipboard sequence":      {"a\x1b]52;c;ZXZpbA==\x07b", "ab"},
		"clear screen":            {"\x1b[2J\x1b[Hgone", "gone"},
		"lone escape":             {"\x1b", ""},
		"control characters":      {"a\x00b\x07c\x7fd", "abcd"},
		"eight-bit control":       {"a\u0085b\u009bc", "abc"},
		"line breaks":             {"one\ntwo\tthree", "one two three"},
		"line separators":         {"one\u2028two\u2029three", "one two three"},
		"broken bytes":            {"a\xffb", "ab"},
		"direction override":      {"abc\u202edef\u2066g", "abcdefg"},
		"zero width":              {"a\u200bb\ufeffc\u00add", "abcd"},
		"joined emoji":            {"👨\u200d👩", "👨👩"},
		"emoji style":             {"⚠\ufe0f", "⚠"},
		"skin tone":               {"👋🏽", "👋"},
		"leading mark":            {"\u0301abc", "abc"},
		"mark on a letter":        {"e\u0301", "e\u0301"},
		"tower of marks":          {"e" + strings.Repeat("\u0301", 50), "e" + strings.Repeat("\u0301", marksPerBase)},
		"tag characters":          {"a\U000e0041\U000e007fb", "ab"},
		"supplementary selectors": {"a\U000e0101b", "ab"},
	} {
		t.Run(name, func(t *testing.T) {
			if got := Clean(c.in); got != c.want {
				t.Errorf("Clean(%q) = %q, want %q", c.in, got, c.want)
			}
		})
	}
}

func TestEveryWidthIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Clean(awkward().Draw(t, "text"))
		w := rapid.IntRange(-1, 40).Draw(t, "width")
		for name, got := range map[string]string{
			"Fit":    Fit(s, w),
			"Right":  Right(s, w),
			"Spread": Spread(s, Clean(awkward().Draw(t, "right")), w),
		} {
			if Width(got) != max(w, 0) {
				t.Fatalf("%s(%q, %d) = %q, which is %d cells", name, s, w, got, Width(got))
			}
			if strings.ContainsAny(got, "\n\r\t") {
				t.Fatalf("%s(%q, %d) = %q spans lines", name, s, w, got)
			}
		}
	})
}

// Some letters join the space after them and some marks the space before; no
// character there is may put a column out by a cell.
func TestEveryCharacterKeepsTheColumns(t *testing.T) {
	for r := ' '; r < 0x20000; r++ {
		c := Clean(string(r))
		if Width(" "+c) != 1+Width(c) {
			t.Errorf("%U joins the column before it", r)
		}
		for name, got := range map[string]string{"Fit": Fit(c, 4), "Right": Right(c, 4)} {
			if Width(got) != 4 {
				t.Errorf("%s(%U, 4) is %d cells", name, r, Width(got))
			}
		}
	}
}

// The short way to measure must agree with the general one.
func TestWidthAgrees(t *testing.T) {
	colour := rapid.SampledFrom([]string{"", "\x1b[1m", "\x1b[0m", "\x1b[1;31m", "\x1b[m", "\x1b[", "\x1b[2J", "\x1b[3", "\x1b"})
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[ -~]{0,8}`).Draw(t, "head") + colour.Draw(t, "colour") + awkward().Draw(t, "tail")
		if got, want := Width(s), ansi.StringWidth(s); got != want {
			t.Fatalf("Width(%q) = %d, want %d", s, got, want)
		}
	})
}

func TestEveryCharacterMeasuredSimplyIsSingle(t *testing.T) {
	for r := rune(0x80); r < 0x3000; r++ {
		if !single(r) {
			continue
		}
		for _, s := range []string{string(r), "a" + string(r) + "b", string([]rune{r, r}), string(r) + Ellipsis, "é" + string(r)} {
			if got, want := Width(s), ansi.StringWidth(s); got != want {
				t.Errorf("Width(%q) = %d, want %d", s, got, want)
			}
		}
	}
}

func TestRowIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var columns []Column
		var cells []string
		for range rapid.IntRange(0, 6).Draw(t, "columns") {
			columns = append(columns, Column{rapid.IntRange(-1, 12).Draw(t, "width"), rapid.Bool().Draw(t, "right")})
			cells = append(cells, Clean(awkward().Draw(t, "cell")))
		}
		gap := rapid.IntRange(0, 3).Draw(t, "gap")
		if got := Row(gap, columns, cells...); Width(got) != RowWidth(gap, columns) {
			t.Fatalf("Row = %q, which is %d cells, not %d", got, Width(got), RowWidth(gap, columns))
		}
	})
}

func TestWrapNeverExceedsAndLosesNoWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Clean(awkward().Draw(t, "text"))
		w := rapid.IntRange(2, 30).Draw(t, "width")
		lines := Wrap(s, w)
		for _, line := range lines {
			if Width(line) > w {
				t.Fatalf("Wrap(%q, %d): line %q is %d cells", s, w, line, Width(line))
			}
		}
		got := strings.Join(strings.Fields(strings.Join(lines, "")), "")
		want := strings.Join(strings.Fields(s), "")
		if got != want && !strings.Contains(got, Ellipsis) {
			t.Fatalf("Wrap(%q, %d) kept %q", s, w, got)
		}
	})
}

func TestCleanIsHarmless(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { harmless(t, awkward().Draw(t, "text")) })
}

func FuzzClean(f *testing.F) {
	for _, s := range []string{"", "plain", "\x1b[31m", "\x1b]0;t\x07", "\x9b1m", "\u202e", "e\u0301", "\xff", "\x1bP1$r\x1b\\"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { harmless(t, s) })
}

// harmless checks what Clean promises.
func harmless(t interface {
	Helper()
	Fatalf(string, ...any)
}, s string) {
	t.Helper()
	got := Clean(s)
	if again := Clean(got); again != got {
		t.Fatalf("Clean(%q) = %q, and cleaned again %q", s, got, again)
	}
	for _, r := range got {
		if unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) {
			t.Fatalf("Clean(%q) = %q keeps %U", s, got, r)
		}
	}
	if Width(" "+got) != 1+Width(got) {
		t.Fatalf("Clean(%q) = %q joins the column before it", s, got)
	}
}

func TestPara(t *testing.T) {
	loud := func(s ...string) string { return "<" + strings.ToUpper(s[0]) + ">" }
	for _, c := range []struct {
		w           int
		first, rest string
		look        func(...string) string
		s, want     string
	}{
		{12, "- ", "  ", nil, "shut the tap first", "- shut the|  tap first"},
		{12, "", "", loud, "shut the tap", "<SHUT THE TAP>"},
		{8, "", "  ", nil, "a\tb\x1b[2J cdefgh", "a b|  cdefgh"},
		{8, "", "", nil, "", ""},
		{2, "    ", "    ", nil, "no room", ""},
	} {
		if got := strings.Join(Para(c.w, c.first, c.rest, c.look, c.s), "|"); got != c.want {
			t.Errorf("%q in %d cells: %q, want %q", c.s, c.w, got, c.want)
		}
	}
}

func TestLongest(t *testing.T) {
	for _, c := range []struct {
		w    int
		want string
	}{{20, "now 5 min"}, {8, "5 min"}, {3, ""}} {
		if got := Longest(c.w, "now 5 min", "5 min"); got != c.want {
			t.Errorf("in %d cells: %q, want %q", c.w, got, c.want)
		}
	}
}

func TestClauses(t *testing.T) {
	for _, c := range []struct {
		s    string
		w    int
		want string
	}{
		{"Acid: goggles, gloves; acid into water.", 80, "Acid: goggles, gloves; acid into water."},
		{"Acid: goggles, gloves; acid into water.", 30, "Acid: goggles, gloves"},
		{"Acid: goggles, gloves; acid into water.", 20, "Acid: goggles"},
		{"Acid: goggles", 3, ""},
		{"sound (line 3.6 bar, membrane 3.3 bar), so wait", 30, "sound"},
		{"sound (line 3.6 bar, membrane 3.3 bar), so wait", 40, "sound (line 3.6 bar, membrane 3.3 bar)"},
		{"What is known? All of it may stay empty", 30, "What is known?"},
		{"took 2 off · z takes it back", 20, "took 2 off"},
		{"at 1,5 L the vat runs over, says the maker", 30, "at 1,5 L the vat runs over"},
	} {
		if got := Clauses(c.s, c.w); got != c.want {
			t.Errorf("%q in %d cells is %q, want %q", c.s, c.w, got, c.want)
		}
	}
}

func TestBrief(t *testing.T) {
	const s = "read it once more, at the same tap; then change the resin"
	for _, c := range []struct {
		w, h int
		want string
	}{
		{60, 1, s},
		{40, 1, "read it once more, at the same tap"},
		{30, 2, "read it once more, at the same\ntap; then change the resin"},
		{20, 1, "read it once more"},
		{10, 1, "read it …"},
	} {
		if got := strings.Join(Brief(s, c.w, c.h), "\n"); got != c.want {
			t.Errorf("in %d lines of %d cells: %q, want %q", c.h, c.w, got, c.want)
		}
	}
}
