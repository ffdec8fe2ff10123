package phrase

import "testing"

func TestAFirstClauseSaysWhatToDo(t *testing.T) {
	for caution, want := range map[string]string{
		"Mains: unplug the light before it is opened; never hold it over open water.": "Mains: unplug the light before it is opened",
		"Chlorine: gloves and goggles, window open. With acid it gives off gas.":      "Chlorine: gloves and goggles, window open",
		"Never leave a filling vessel alone on trust: a float floods the room.":       "Never leave a filling vessel alone on trust",
		"Lift: a gallon weighs 8.3 lb; pump it over":                                  "Lift: a gallon weighs 8.3 lb",
		"dry hands": "dry hands",
	} {
		if got := FirstClause(caution); got != want {
			t.Errorf("%q: %q, want %q", caution, got, want)
		}
	}
}
