package parse

import (
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// wed is a Wednesday.
var wed = model.NewDate(2026, time.November, 25)

func TestDate(t *testing.T) {
	for typed, want := range map[string]string{
		"2026-03-31":         "2026-03-31",
		"today":              "2026-11-25",
		" Today ":            "2026-11-25",
		"yesterday":          "2026-11-24",
		"tomorrow":           "2026-11-26",
		"3d":                 "2026-11-22",
		"-3":                 "2026-11-22",
		"-3d":                "2026-11-22",
		"3 days ago":         "2026-11-22",
		"0":                  "2026-11-25",
		"2w":                 "about 2026-11-11",
		"2 weeks ago":        "about 2026-11-11",
		"a month ago":        "about 2026-10-25",
		"about 3mo":          "about 2026-08-25",
		"about 3 months ago": "about 2026-08-25",
		"~3d":                "about 2026-11-22",
		"about 2026-03-31":   "about 2026-03-31",
		"1y":                 "about 2025-11-25",
		"monday":             "2026-11-23",
		"last mon":           "2026-11-23",
		"wednesday":          "2026-11-18",
		"march":              "about 2026-03-15",
		"mar":                "about 2026-03-15",
		"december":           "about 2025-12-15",
		"about march 2024":   "about 2024-03-15",
		"3 march":            "2026-03-03",
		"march 3":            "2026-03-03",
		"dec 3":              "2025-12-03",
		"3 mar 2025":         "2025-03-03",
		"Mar 3, 2025":        "2025-03-03",
		"29 feb 2024":        "2024-02-29",
		"29 feb":             "2024-02-29", // the latest there was
		"feb 29":             "2024-02-29",
		"2026-3-1":           "2026-03-01",
		"10.11.2026":         "2026-11-10",
		"1.2.26":             "2026-02-01",
		"7/15/2026":          "2026-07-15",
		"15/7/2026":          "2026-07-15",
		"11/11/2025":         "2025-11-11",
		"2025-09":            "about 2025-09-15",
		"09/2025":            "about 2025-09-15",
		"sep 2025":           "about 2025-09-15",
		"2025":               "about 2025-07-01",
		"last week":          "about 2026-11-18",
		"last month":         "about 2026-10-25",
		"last year":          "about 2025-11-25",
	} {
		got, err := Date(typed, wed)
		text := got.On.String()
		if got.About {
			text = "about " + text
		}
		if err != nil || text != want {
			t.Errorf("Date(%q) = %s, %v; want %s", typed, text, err, want)
		}
	}
}

func TestDateRefuses(t *testing.T) {
	for _, typed := range []string{
		"", "about", "soon", "2026-02-31", "2026-13-01", "31 feb", "30 feb", "29 feb 2025", "ma", "3 4 mar", "march march",
		"1900-01-01", "500y", "7/8/2026", "13/13/2026", "2025-13", "32.1.2026", "7/15/202", "1/2/3/4", "last weeks", "0/2025", "99999999999d", "march 1066", "3 weeks hence", "0 mar",
	} {
		if got, err := Date(typed, wed); err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("Date(%q) = %v, %v; want one line that says what to give", typed, got, err)
		}
	}
}

func TestDateBefore1970(t *testing.T) {
	for _, typed := range []string{"1969-12-31", "about 1960-01-01", "2200-01-01"} {
		if _, err := Date(typed, wed); err == nil || !strings.Contains(err.Error(), "is outside 1970-01-01 to 2199-12-31") {
			t.Errorf("Date(%q): %v", typed, err)
		}
	}
}

func TestUntil(t *testing.T) {
	for typed, want := range map[string]string{
		"2026-12-05": "2026-12-05",
		"tomorrow":   "2026-11-26",
		"5d":         "2026-11-30",
		"+5":         "2026-11-30",
		"2w":         "2026-12-09",
		"in 3 weeks": "2026-12-16",
		"friday":     "2026-11-27",
		"next wed":   "2026-12-02",
		"5 dec":      "2026-12-05",
		"3 mar":      "2027-03-03",
		"march":      "2027-03-15",
		"29 feb":     "2028-02-29", // the next there is
	} {
		got, err := Until(typed, wed)
		if err != nil || got.String() != want {
			t.Errorf("Until(%q) = %s, %v; want %s", typed, got, err, want)
		}
	}
	for _, typed := range []string{"", "today", "0d", "2026-11-25", "2026-01-01", "3 mar 2026", "2200-01-01", "never"} {
		if got, err := Until(typed, wed); err == nil {
			t.Errorf("Until(%q) = %s; want an error", typed, got)
		}
	}
}

// From one 29 February to the next it is 8 years where a century goes without.
func TestLeapDays(t *testing.T) {
	for _, c := range []struct {
		from       model.Date
		last, next string
	}{
		{model.NewDate(2024, time.February, 28), "2020-02-29", "2024-02-29"},
		{model.NewDate(2024, time.February, 29), "2024-02-29", "2028-02-29"},
		{model.NewDate(2024, time.March, 1), "2024-02-29", "2028-02-29"},
		{model.NewDate(2096, time.March, 1), "2096-02-29", "2104-02-29"},
		{model.NewDate(2104, time.February, 28), "2096-02-29", "2104-02-29"},
	} {
		if got, err := Date("29 feb", c.from); err != nil || got.On.String() != c.last || got.About {
			t.Errorf("the last one on %s: %s, %v; want %s", c.from, got.On, err, c.last)
		}
		if got, err := Until("29 feb", c.from); err != nil || got.String() != c.next {
			t.Errorf("the next one on %s: %s, %v; want %s", c.from, got, err, c.next)
		}
	}
}

func TestFound(t *testing.T) {
	for _, c := range []struct {
		work  model.Work
		typed string
		want  model.Found
	}{
		{model.WorkClean, "c", model.FoundClean}, {model.WorkClean, "light", model.FoundLight},
		{model.WorkClean, "H", model.FoundHeavy}, {model.WorkClean, "f", model.FoundFailed},
		{model.WorkClean, "stopped", model.FoundFailed}, {model.WorkClean, "failed", model.FoundFailed},
		{model.WorkRenew, "under half", model.FoundClean}, {model.WorkRenew, "under-half", model.FoundClean},
		{model.WorkRenew, "half", model.FoundLight}, {model.WorkRenew, "nearly", model.FoundHeavy},
		{model.WorkRenew, "spent", model.FoundFailed}, {model.WorkRenew, "h", model.FoundHeavy},
		{model.WorkRenew, "heavy", model.FoundHeavy}, {model.WorkRenew, "failed", model.FoundFailed},
		{model.WorkTest, "p", model.FoundPassed}, {model.WorkTest, "Passed", model.FoundPassed},
		{model.WorkTest, "f", model.FoundFailed},
		{model.WorkRead, "", ""}, {model.WorkClean, " ", ""},
	} {
		got, err := Found(c.typed, c.work)
		if err != nil || got != c.want {
			t.Errorf("Found(%q, %s) = %q, %v; want %q", c.typed, c.work, got, err, c.want)
		}
	}
	for _, c := range []struct {
		work  model.Work
		typed string
	}{
		{model.WorkClean, "spent"}, {model.WorkClean, "p"}, {model.WorkTest, "clean"}, {model.WorkRead, "c"}, {model.WorkRenew, "x"},
	} {
		if got, err := Found(c.typed, c.work); err == nil {
			t.Errorf("Found(%q, %s) = %q; want an error", c.typed, c.work, got)
		}
	}
}

// The words shown are those that may be stored, in the same order.
func TestWordsCoverWhatTheBookTakes(t *testing.T) {
	for _, w := range []model.Work{model.WorkClean, model.WorkRenew, model.WorkTest, model.WorkRead} {
		words, taken := Words(w), ledger.FoundWords(w)
		if len(words) != len(taken) {
			t.Fatalf("work %s has %d words and the book takes %d", w, len(words), len(taken))
		}
		letters := map[string]bool{}
		for i, word := range words {
			if word.Found != taken[i] || letters[word.Letter] {
				t.Errorf("work %s, word %d: %+v; the book takes %s", w, i, word, taken[i])
			}
			letters[word.Letter] = true
		}
	}
}

// A label gives a month, and what is in it may be used to its end.
func TestExpiry(t *testing.T) {
	t.Parallel()
	for typed, want := range map[string]string{
		"2027-03": "2027-03-31", "2028-2": "2028-02-29", "03/2027": "2027-03-31", "Mar 2027": "2027-03-31",
		"2027-03-15": "2027-03-15", "12 dec": "2026-12-12", "2026-10-31": "2026-10-31", "never": "",
	} {
		got, err := Expiry(typed, wed)
		if err != nil || !(want == "" && got.IsZero()) && got.String() != want {
			t.Errorf("%q is %v (%v), want %q", typed, got, err, want)
		}
	}
}
