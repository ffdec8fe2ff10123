package command

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/ui/text"
)

func TestColumns(t *testing.T) {
	var p page
	p.line("a short line")
	p.table([][]string{{"clean-impeller", "due +12 d", "Mixing pump: clean impeller", "Basement"}})
	for columns, want := range map[string]string{
		"":    "a short line\n  clean-impeller  due +12 d  Mixing pump: clean impeller  Basement\n",
		"19":  "a short line\n  clean-impeller  due +12 d  Mixing pump: clean impeller  Basement\n",
		"x":   "a short line\n  clean-impeller  due +12 d  Mixing pump: clean impeller  Basement\n",
		"120": "a short line\n  clean-impeller  due +12 d  Mixing pump: clean impeller  Basement\n",
		"40":  "a short line\n  clean-impeller  due +12 d  Mixing\n      pump: clean impeller  Basement\n",
		"20":  "a short line\n  clean-impeller\n      due +12 d\n      Mixing pump:\n      clean impeller\n      Basement\n",
	} {
		var out strings.Builder
		if err := p.print(inColumns(&out, columns, 0)); err != nil {
			t.Fatal(err)
		}
		if out.String() != want {
			t.Errorf("COLUMNS=%s:\n%s\nwant\n%s", columns, &out, want)
		}
	}
}

// Nothing is lost but spaces, and no line is too long, whatever stands in it.
func TestFoldingKeepsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := text.Clean(rapid.StringOf(rapid.RuneFrom([]rune("ab  é世🐠\u0301-"))).Draw(t, "line"))
		n := narrow{columns: rapid.IntRange(minColumns, 40).Draw(t, "columns")}
		folded := n.fold(line)
		for _, l := range folded {
			if text.Width(l) > n.columns {
				t.Fatalf("%q is wider than %d", l, n.columns)
			}
		}
		bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if bare(strings.Join(folded, "")) != bare(line) {
			t.Fatalf("%q is folded to %q", line, folded)
		}
	})
}
