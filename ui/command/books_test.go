package command_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/testdata"
	"brine/wrasse/ui/command"
)

// shelved is a store that holds one book.
type shelved struct{ book *ledger.Book }

func (s shelved) Load() (*ledger.Book, error) { return s.book, nil }

func (s shelved) Write(func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	panic("printing a round writes nothing")
}

// The books and what a second implementation of the method, in another language and
// sharing nothing with this one, makes of them; testdata/books/README.md says how sure
// each figure is. Here they are held to what a script sees of them.
const books = "../../testdata/books/"

func readBook(t *testing.T, name string) *ledger.Book {
	t.Helper()
	data, err := os.ReadFile(books + name)
	if err != nil {
		t.Fatal(err)
	}
	var log []model.Entry
	for i, line := range bytes.Split(bytes.TrimSpace(data), []byte("\n")) {
		if i == 0 {
			continue // the header of the book format
		}
		e, err := model.DecodeEntry(line)
		if err != nil {
			t.Fatalf("%s, line %d: %v", name, i+1, err)
		}
		e.Seq = model.Seq(i)
		log = append(log, e)
	}
	b, err := ledger.Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// printed is what a command prints with --json of a book on a date, as any reader of JSON
// sees it.
func printed(t *testing.T, name string, b *ledger.Book, on string) map[string]any {
	t.Helper()
	var out map[string]any
	if err := json.Unmarshal([]byte(answer(t, b, name, "--json", "--on", on)), &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// answer is what a command prints of a book.
func answer(t *testing.T, b *ledger.Book, args ...string) string {
	t.Helper()
	var stdout, stderr bytes.Buffer
	code := command.Run(command.Env{
		Stdin: bytes.NewReader(nil), Stdout: &stdout, Stderr: &stderr,
		Getenv: func(string) string { return "" },
		Now:    func() time.Time { return time.Date(2026, 6, 15, 12, 0, 0, 0, time.UTC) },
		Open:   func(string) command.Store { return shelved{b} },
	}, args)
	if stderr.Len() > 0 || code != 0 && code != 10 && code != 11 {
		t.Fatalf("%v: exit code %d, %s", args, code, &stderr)
	}
	return stdout.String()
}

// tolerances are the relative ones of figures; dates, words and counts are exact.
var tolerances = map[string]float64{"risk": 1e-4, "used": 1e-4, "rate": 1e-4, "median": 1e-4, "shape": 1e-3}

// same holds a printed value to a cell: null is an empty one, true is 1.
func same(column, want string, got any) bool {
	switch v := got.(type) {
	case nil:
		return want == ""
	case bool:
		return want == map[bool]string{true: "1", false: "0"}[v]
	case string:
		return want == v
	case float64:
		w, err := strconv.ParseFloat(want, 64)
		return err == nil && math.Abs(v-w) <= math.Max(tolerances[column]*math.Abs(w), 1e-9)
	}
	return false
}

// The order of the round is held to the tables where it is made, in package schedule.
func TestRoundAsJSONEqualsTheSecondImplementation(t *testing.T) {
	for table, prefix := range map[string]string{"fixed_expected.csv": "fixed-", "round_expected.csv": "book-"} {
		chores := map[string]map[string]any{}
		looked := 0
		for _, want := range testdata.Table(t, "books/"+table) {
			book := prefix + want["book"] + ".jsonl"
			if chores[book+want["id"]] == nil {
				for _, c := range printed(t, "round", readBook(t, book), want["on"])["chores"].([]any) {
					chore := c.(map[string]any)
					chores[book+chore["id"].(string)] = chore
				}
			}
			got := chores[book+want["id"]]
			if got == nil {
				t.Errorf("%s: %s is not printed", book, want["id"])
				continue
			}
			looked++
			for _, column := range []string{"id", "state", "past_limit", "planned", "limit", "due", "governs", "lead_days", "risk"} {
				if !same(column, want[column], got[column]) {
					t.Errorf("%s, %s: %s is %v, want %s", book, want["id"], column, got[column], want[column])
				}
			}
		}
		if looked == 0 || looked != len(chores) {
			t.Errorf("%s has %d rows, and %d chores are printed", table, looked, len(chores))
		}
	}
}

func TestClocksAsJSONEqualTheSecondImplementation(t *testing.T) {
	clocks := map[string][]any{}
	for _, want := range testdata.Table(t, "books/clocks_expected.csv") {
		key := want["book"] + " " + want["id"]
		if clocks[key] == nil {
			for _, c := range printed(t, "round", readBook(t, "book-"+want["book"]+".jsonl"), want["on"])["chores"].([]any) {
				chore := c.(map[string]any)
				clocks[want["book"]+" "+chore["id"].(string)] = chore["clocks"].([]any)
			}
		}
		n, err := strconv.Atoi(want["clock"])
		if err != nil || n >= len(clocks[key]) {
			t.Errorf("%s: no clock %s", key, want["clock"])
			continue
		}
		got := clocks[key][n].(map[string]any)
		for _, column := range []string{"kind", "planned", "limit", "used", "rate", "shape", "median", "observations", "crossed", "confirmed"} {
			if !same(column, want[column], got[column]) {
				t.Errorf("%s, clock %d: %s is %v, want %s", key, n, column, got[column], want[column])
			}
		}
	}
}

// The water on hand of eight books, to 1e-6.
func TestWaterAsJSONEqualsTheSecondImplementation(t *testing.T) {
	t.Parallel()
	for _, want := range testdata.Table(t, "books/on_hand_expected.csv") {
		where := "book " + want["book"] + ", " + want["vessel"]
		var got map[string]any
		for _, v := range printed(t, "water", readBook(t, "water-"+want["book"]+".jsonl"), want["on"])["on_hand"].([]any) {
			if vessel := v.(map[string]any); vessel["vessel"] == want["vessel"] {
				got = vessel
			}
		}
		if got == nil {
			t.Fatalf("%s is not printed", where)
		}
		var mixes []string
		for _, m := range got["mixes"].([]any) {
			mix := m.(map[string]any)
			mixes = append(mixes, mix["by"].(string)+":"+strconv.FormatFloat(mix["litres"].(float64), 'g', 9, 64))
		}
		got["mixes"] = strings.Join(mixes, " ")
		for _, column := range []string{"level", "use_per_day", "short", "missing", "hours", "start_by", "ready", "over", "mixes"} {
			figure, isFigure := got[column].(float64)
			expected, err := strconv.ParseFloat(want[column], 64)
			if isFigure && err == nil && math.Abs(figure-expected) <= 1e-6*math.Max(1, math.Abs(expected)) {
				continue
			}
			if !same(column, want[column], got[column]) {
				t.Errorf("%s: %s is %v, want %q", where, column, got[column], want[column])
			}
		}
	}
}
