package command_test

import (
	"regexp"
	"strings"
	"testing"
)

// With --plain every command that prints facts says them in words: no columns, no unit in letters.
func TestPlain(t *testing.T) {
	t.Parallel()
	_, run := demoBook(t)
	if said := run("round", "--plain", "--on", demoDay.String()); !strings.Contains(said, "Basement book store, flagged; id clean-impeller") {
		t.Errorf("the flag of the mixing pump is not said:\n%s", said)
	}
	short := regexp.MustCompile(`\d ?(min|d|h|L|L/h|g|kg|ppm|°C|mS/cm)\b|%|  | · |: *$|\breach \df`)
	for _, line := range [][]string{
		{"round", "--all", "--minutes", "45"}, {"water"}, {"shelf"}, {"rethink"}, {"year"}, {"log", "60"}, {"list"}, {"config"}, {"restore"},
		{"mix", "--volume", "40", "--target", "35"}, {"mix", "--volume", "400", "--now", "33", "--target", "35", "--for", "tank"},
		{"salinity", "50mS", "--temp", "20"}, {"use", "water", "12"}, {"undo"}, {"read", "tds-tap", "251"}, {"tick", "clean-impeller", "--found", "light"},
	} {
		said := run(append(line, "--plain", "--on", demoDay.String(), "--future")...)
		for part := range strings.SplitSeq(said, "\n") {
			if found := short.FindString(part); found != "" {
				t.Errorf("wrasse %v: %q in %q", line, found, part)
			}
		}
	}
}
