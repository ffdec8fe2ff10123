package schedule

import (
	"bytes"
	"math"
	"os"
	"strconv"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/testdata"
)

// The books and what a second implementation of the method makes of them; testdata/books/README.md says how sure
// each figure is.
const books = "../testdata/books/"

// ReadBook is one of them.
func ReadBook(t *testing.T, name string) *ledger.Book {
	t.Helper()
	data, err := os.ReadFile(books + name)
	if err != nil {
		t.Fatal(err)
	}
	return Fold(t, DecodeLines(t, string(data)))
}

// Fold is the book of a log, in a test of package testing or rapid.
func Fold(t interface {
	Helper()
	Fatal(args ...any)
}, log []model.Entry) *ledger.Book {
	t.Helper()
	b, err := ledger.Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// DecodeLines are the entries of a log in the book format, with or without its first line.
func DecodeLines(t testing.TB, text string) []model.Entry {
	t.Helper()
	var log []model.Entry
	for line := range bytes.Lines([]byte(text)) {
		if line = bytes.TrimSpace(line); len(line) == 0 || bytes.Contains(line, []byte(`"wrasse-book"`)) {
			continue
		}
		e, err := model.DecodeEntry(line)
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		e.Seq = model.Seq(len(log) + 1)
		log = append(log, e)
	}
	return log
}

func date(t testing.TB, s string) model.Date {
	t.Helper()
	d, err := model.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func bit(v bool) string {
	if v {
		return "1"
	}
	return "0"
}

func near(t *testing.T, where, want string, got, tolerance float64) {
	t.Helper()
	if want == "" {
		return
	}
	w, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got-w) > tolerance*math.Abs(w) {
		t.Errorf("%s: got %v, want %v", where, got, w)
	}
}

// expectedRounds are the rows of a table by book, in the order of the round.
func expectedRounds(t *testing.T, table string) map[string][]map[string]string {
	t.Helper()
	out := map[string][]map[string]string{}
	for _, row := range testdata.Table(t, "books/"+table) {
		book := row["book"]
		if n := len(out[book]) + 1; row["order"] != strconv.Itoa(n) {
			t.Fatalf("%s, book %s: order %s where %d is expected", table, book, row["order"], n)
		}
		out[book] = append(out[book], row)
	}
	return out
}

func TestRoundsOfBooks(t *testing.T) {
	for _, table := range []struct{ expected, prefix string }{
		{"fixed_expected.csv", "fixed-"},
		{"round_expected.csv", "book-"},
	} {
		books := expectedRounds(t, table.expected)
		if len(books) != 6 {
			t.Errorf("%s covers %d books, want 6", table.expected, len(books))
		}
		for book, want := range books {
			name := table.prefix + book + ".jsonl"
			r := Make(ReadBook(t, name), date(t, want[0]["on"]))
			if len(r.Standings) != len(want) {
				t.Errorf("%s: %d chores, want %d", name, len(r.Standings), len(want))
				continue
			}
			for i, row := range want {
				compareStanding(t, name, &r.Standings[i], row)
			}
		}
	}
}

func compareStanding(t *testing.T, name string, s *Standing, row map[string]string) {
	t.Helper()
	governs := ""
	if g := s.Governing(); g != nil {
		governs = string(g.Kind)
	}
	got := []string{string(s.Chore.ID), string(s.State), bit(s.PastLimit), s.Planned.String(), s.Limit.String(),
		s.Due.String(), governs, strconv.Itoa(s.LeadDays)}
	for i, column := range []string{"id", "state", "past_limit", "planned", "limit", "due", "governs", "lead_days"} {
		if got[i] != row[column] {
			t.Errorf("%s %s: %s is %q, want %q", name, row["id"], column, got[i], row[column])
		}
	}
	near(t, name+" "+row["id"]+" risk", row["risk"], s.Risk, 1e-4)
}

func TestClocksOfBooks(t *testing.T) {
	rounds := map[string]*Round{}
	for _, row := range testdata.Table(t, "books/clocks_expected.csv") {
		name := "book-" + row["book"] + ".jsonl"
		if rounds[name] == nil {
			rounds[name] = Make(ReadBook(t, name), date(t, row["on"]))
		}
		var c *ClockStanding
		for i := range rounds[name].Standings {
			if s := &rounds[name].Standings[i]; string(s.Chore.ID) == row["id"] {
				n, _ := strconv.Atoi(row["clock"])
				c = &s.Clocks[n]
			}
		}
		where := name + " " + row["id"] + " clock " + row["clock"]
		if c == nil {
			t.Errorf("%s: not in the round", where)
			continue
		}
		got := []string{string(c.Kind), c.Planned.String(), c.Limit.String(), bit(c.Crossed), bit(c.Confirmed)}
		for i, column := range []string{"kind", "planned", "limit", "crossed", "confirmed"} {
			if got[i] != row[column] {
				t.Errorf("%s: %s is %q, want %q", where, column, got[i], row[column])
			}
		}
		if want := row["observations"]; want != "" && strconv.Itoa(c.Observations) != want {
			t.Errorf("%s: %d observations, want %s", where, c.Observations, want)
		}
		near(t, where+" used", row["used"], c.Used, 1e-4)
		near(t, where+" rate", row["rate"], c.Rate, 1e-4)
		near(t, where+" shape", row["shape"], c.Shape, 1e-3)
		near(t, where+" median", row["median"], c.Median, 1e-4)
	}
}
