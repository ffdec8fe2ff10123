package model

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestMakeID(t *testing.T) {
	taken := map[ID]bool{"pump": true, "pump-2": true, "component": true}
	for _, c := range []struct {
		name string
		kind Kind
		want ID
	}{
		{"Mixing pump", KindComponent, "mixing-pump"},
		{"  RO membrane, 75 gpd  ", KindComponent, "ro-membrane-75-gpd"},
		{"Crème brûlée Ångström", KindPlace, "creme-brulee-angstrom"},
		{"ﬁlter", KindComponent, "filter"}, // a ligature folds to its letters
		{"Pump", KindComponent, "pump-3"},
		{"水槽", KindComponent, "component-2"},
		{"水槽", KindPlace, "place"},
		{"...", KindSpare, "spare"},
		{"", KindChore, "chore"},
		{"Rejection", KindGauge, "rejection-2"}, // reserved for the derived gauge
		{"Rejection", KindComponent, "rejection"},
		{strings.Repeat("a", 60), KindPlace, ID(strings.Repeat("a", 40))},
		{strings.Repeat("abcdefghi ", 6), KindPlace, "abcdefghi-abcdefghi-abcdefghi-abcdefghi"}, // no '-' left at the cut
		{"e\u0301cole", KindPlace, "ecole"},
		{"a\x1b[31mb", KindPlace, "a-31mb"},
	} {
		if got := MakeID(c.name, c.kind, func(id ID) bool { return taken[id] }); got != c.want {
			t.Errorf("%q as %s: %s, want %s", c.name, c.kind, got, c.want)
		}
	}
}

func TestMadeIDsAreValidAndFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		taken := map[ID]bool{}
		kind := rapid.SampledFrom([]Kind{KindPlace, KindComponent, KindGauge}).Draw(t, "kind")
		for _, name := range rapid.SliceOfN(rapid.String(), 1, 20).Draw(t, "names") {
			id := MakeID(name, kind, func(id ID) bool { return taken[id] })
			if !id.Valid() || taken[id] || (kind == KindGauge && id.Derived()) {
				t.Fatalf("%q became %q", name, id)
			}
			taken[id] = true
		}
	})
}
