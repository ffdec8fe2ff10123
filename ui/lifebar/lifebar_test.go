package lifebar

import (
	"math"
	"strings"
	"testing"

	"brine/wrasse/ui/text"

	"pgregory.net/rapid"
)

// bar is a bar as it is drawn in ASCII.
func bar(w int, level Level) string { return text.ASCII(Bar(w, level)) }

func TestBar(t *testing.T) {
	const due, limit = 100, 20 // days to due, and from there to the limit
	for _, c := range []struct {
		name    string
		elapsed int
		want    string
	}{
		{"done today", 0, "       :  | "},
		{"half way", 50, "~~~    :  | "},
		{"a day early", 99, "~~~~~~ :  | "},
		{"due today", 100, "~~~~~~~:  | "},
		{"a day late", 101, "~~~~~~~:~ | "},
		{"half way to the limit", 110, "~~~~~~~:~ | "},
		{"a day before the limit", 119, "~~~~~~~:~~| "},
		{"at the limit", 120, "~~~~~~~:~~| "},
		{"a day past the limit", 121, "~~~~~~~:~~|~"},
		{"a year past the limit", 485, "~~~~~~~:~~|~"},
		{"done tomorrow", -1, "       :  | "},
	} {
		if got := bar(12, At(c.elapsed, due, limit)); got != c.want {
			t.Errorf("%s: bar %q, want %q", c.name, got, c.want)
		}
	}
}

func TestBarWithNoSpan(t *testing.T) {
	for _, c := range []struct {
		elapsed, due, limit int
		want                string
	}{
		{0, 0, 0, "~~~~~~~:  | "},
		{1, 0, 0, "~~~~~~~:~~|~"},
		{30, 30, 0, "~~~~~~~:  | "},
		{31, 30, 0, "~~~~~~~:~~|~"},
	} {
		if got := bar(12, At(c.elapsed, c.due, c.limit)); got != c.want {
			t.Errorf("At(%d, %d, %d): bar %q, want %q", c.elapsed, c.due, c.limit, got, c.want)
		}
	}
}

func TestBarTakesAnyNumber(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -7, 7} {
		if got := bar(12, Level{x, x, x}); text.Width(got) != 12 {
			t.Errorf("Bar of %v = %q", x, got)
		}
	}
	for w := -2; w < MinWidth; w++ {
		if got := Bar(w, Level{ToDue: 1}); got != strings.Repeat(" ", max(w, 0)) {
			t.Errorf("Bar in %d cells = %q", w, got)
		}
	}
}

func TestLinesStandStillAndEveryDayIsHonest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.IntRange(MinWidth, 60).Draw(t, "width")
		due := rapid.IntRange(1, 2000).Draw(t, "due")
		limit := rapid.IntRange(0, 2000).Draw(t, "limit")
		day := rapid.IntRange(-10, 6000).Draw(t, "day")
		before, between, beyond := Reaches(w)
		if min(before, between, beyond) < 1 || before+between+beyond+2 != w {
			t.Fatalf("reaches %d, %d, %d do not fill %d", before, between, beyond, w)
		}
		drawn := bar(w, At(day, due, limit))
		if len(drawn) != w || drawn[before] != ':' || drawn[before+1+between] != '|' {
			t.Fatalf("bar %q: lines not at %d and %d", drawn, before, before+1+between)
		}
		if touches := drawn[before-1] == '~'; touches != (day >= due) {
			t.Fatalf("bar %q touches due on day %d of %d", drawn, day, due)
		}
		if late := drawn[before+1] == '~'; late != (day > due) {
			t.Fatalf("bar %q shows lateness on day %d of %d", drawn, day, due)
		}
		if past := drawn[before+between+2] == '~'; past != (day > due+limit) {
			t.Fatalf("bar %q shows past limit on day %d of %d+%d", drawn, day, due, limit)
		}
		if next := bar(w, At(day+1, due, limit)); strings.Count(next, "~") < strings.Count(drawn, "~") {
			t.Fatalf("bar falls from %q to %q on day %d", drawn, next, day+1)
		}
	})
}
