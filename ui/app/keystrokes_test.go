package app

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/session"
)

// strokes are the rows of the README's table of keystrokes: what is done, how many keys
// that takes, and which.
func strokes(t *testing.T) [][3]string {
	t.Helper()
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	_, table, ok := strings.Cut(string(data), "| from launch | keystrokes |\n| --- | --- |\n")
	if !ok {
		t.Fatal("the README has no table of keystrokes")
	}
	table, _, _ = strings.Cut(table, "\n\n")
	var out [][3]string
	for line := range strings.Lines(table) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		count, keys, ok := strings.Cut(strings.TrimSpace(cells[len(cells)-1]), ": ")
		if len(cells) != 2 || !ok {
			t.Fatalf("%q is no row of what is done and its keys", line)
		}
		out = append(out, [3]string{strings.TrimSpace(cells[0]), count, keys})
	}
	return out
}

// stroke is a key as the table names it: between backquotes, or in words.
var stroke = regexp.MustCompile("`([^`]+)`|a cause|enter")

// keysOf are the keys of a row, one by one. Any cause will do.
func keysOf(row string) []string {
	var out []string
	for _, m := range stroke.FindAllStringSubmatch(row, -1) {
		switch m[0] {
		case "a cause":
			out = append(out, "t")
		case "enter":
			out = append(out, "enter")
		default:
			for _, r := range m[1] {
				out = append(out, string(r))
			}
		}
	}
	return out
}

// sound is the demo with a last reading after the resin that is as good as the one in the
// table; after another it would be queried.
func sound() *session.Memory {
	on := model.NewDate(2026, 11, 25)
	return session.NewMemory(func() (*ledger.Book, error) {
		book, err := Demo(on).Load()
		if err != nil {
			return nil, err
		}
		g, _ := book.GaugeByRole(model.RoleTDSProduct)
		return book.Append(model.NewEntry(on, model.Reading{Gauge: g.ID, Value: 0}))
	})
}

// The keystrokes the README promises are those it takes, counted, and they do what it
// says.
func TestReadmeKeystrokes(t *testing.T) {
	done := map[string]func(p *window, top schedule.Standing) bool{
		"tick off the top chore": func(p *window, top schedule.Standing) bool {
			w, ok := p.LastAct()[0].Body.(model.Tick)
			return ok && w.Chore == top.Chore.ID
		},
		"flag the component under the cursor": func(p *window, top schedule.Standing) bool {
			w, ok := p.LastAct()[0].Body.(model.Flag)
			return ok && w.Component == top.Component.ID && w.Cause == "too-tight"
		},
		"log litres made": func(p *window, top schedule.Standing) bool {
			w, ok := p.LastAct()[0].Body.(model.Usage)
			return ok && w.Amount != nil && *w.Amount == 40
		},
		"log three TDS values": func(p *window, top schedule.Standing) bool {
			var values []float64
			for _, e := range p.LastAct() {
				if r, ok := e.Body.(model.Reading); ok {
					values = append(values, r.Value)
				}
			}
			return len(values) == 3 && values[0] == 248 && values[1] == 6 && values[2] == 0
		},
	}
	rows := strokes(t)
	if len(rows) != len(done) {
		t.Fatalf("the table has %d rows, want %d", len(rows), len(done))
	}
	for _, row := range rows {
		what, count := row[0], row[1]
		check, ok := done[what]
		if !ok {
			t.Errorf("the table says %q, which nothing here checks", what)
			continue
		}
		keys := keysOf(row[2])
		for name, keys := range map[string][]string{"as written": keys, "with tabs": tabbed(keys)} {
			p := open(t, sound(), 80, 24)
			before, top := p.Session.Book.Last(), p.Session.Round.Standings[0]
			p.keys(keys...)
			if p.Session.Book.Last() == before || !check(p, top) {
				t.Errorf("%s, %s: %q does not do it:\n%s", what, name, keys, p.Screen())
			}
		}
		if want := counted(keys); count != want {
			t.Errorf("%s takes %s, the table says %s", what, want, count)
		}
	}
}

// tabbed is keys with tab for every space.
func tabbed(keys []string) []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		if out[i] = k; k == " " {
			out[i] = "tab"
		}
	}
	return out
}

// counted says how many keystrokes there are, as the table puts it: digits, what stands
// between them, and the enter after them are named apart.
func counted(keys []string) string {
	digits, between, others := 0, 0, 0
	for _, k := range keys {
		switch {
		case unicode.IsDigit([]rune(k)[0]):
			digits++
		case k == " ":
			between++
		case k != "enter":
			others++
		}
	}
	switch {
	case digits == 0:
		return strconv.Itoa(len(keys))
	case between > 0:
		return strconv.Itoa(others) + " + the digits with spaces or tabs between + enter"
	}
	return strconv.Itoa(others) + " + the digits + enter"
}
