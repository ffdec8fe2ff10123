package command_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// promised is the page on --json, as the manual has it: the kind of each fact by its path, by
// the heading of its document.
func promised(t *testing.T, manual string) map[string]map[string]string {
	t.Helper()
	out := map[string]map[string]string{}
	lines := strings.Split(strings.ReplaceAll(manual, `\-`, "-"), "\n")
	heading := ""
	for i, line := range lines {
		switch {
		case strings.HasPrefix(line, ".S"):
			heading, _ = strings.CutPrefix(line, `.SS "JSON of wrasse `)
			if heading == line {
				heading = ""
				continue
			}
			heading = strings.TrimSuffix(heading, `"`)
			out[heading] = map[string]string{}
		case line == ".TP" && heading != "":
			kind, says, _ := strings.Cut(lines[i+2], ";")
			if len(strings.TrimSpace(says)) < 3 {
				t.Errorf("%s of %s is not explained: add says:\"...\" to its field", lines[i+1], heading)
			}
			out[heading][lines[i+1]] = kind
		}
	}
	return out
}

// holds tells whether a value is of a kind of the page.
func holds(kind string, v any) bool {
	if rest, ok := strings.CutSuffix(kind, " or null"); ok {
		return v == nil || holds(rest, v)
	}
	if of, ok := strings.CutPrefix(kind, "list of "); ok {
		list, ok := v.([]any)
		return ok && !slices.ContainsFunc(list, func(v any) bool { return !holds(of, v) })
	}
	switch v := v.(type) {
	case string:
		_, err := time.Parse(time.DateOnly, v)
		return kind == "text" || kind == "date" && err == nil
	case bool:
		return kind == "boolean"
	case json.Number:
		return kind == "number" || kind == "integer" && !strings.ContainsAny(v.String(), ".eE")
	case map[string]any:
		return kind == "object" || kind == "entry"
	}
	return false
}

// contract holds what was printed to the page, and notes what of the page was there.
type contract struct {
	t    *testing.T
	page map[string]string
	seen map[string]bool
}

func (c contract) check(below string, object map[string]any) {
	for path := range c.page {
		name, direct := strings.CutPrefix(path, below)
		if _, there := object[name]; direct && !there && !strings.Contains(name, ".") {
			c.t.Errorf("%s is promised, and is not there", path)
		}
	}
	for name, v := range object {
		path := below + name
		kind, ok := c.page[path]
		switch {
		case path == "version":
			continue
		case !ok:
			c.t.Errorf("%s is printed, and is not on the page", path)
			continue
		case !holds(kind, v):
			c.t.Errorf("%s is a %s on the page, and %v", path, kind, v)
		}
		if v != nil {
			c.seen[path] = true
		}
		if strings.Contains(kind, "entry") || path == "settings" {
			continue
		}
		switch v := v.(type) {
		case map[string]any:
			c.check(path+".", v)
		case []any:
			for _, item := range v {
				if part, ok := item.(map[string]any); ok {
					c.check(path+"[].", part)
				}
			}
		}
	}
}

// What every command prints with --json is what the manual says: no more, no less, of the kind
// it says, with null only where it says so; and all that it says is there to be seen.
func TestJSONIsAsTheManualSays(t *testing.T) {
	_, run := demoBook(t)
	page := promised(t, run("man"))
	on := "--on=" + demoDay.String()
	dir := t.TempDir()
	file := func(name string) string { return filepath.Join(dir, name) }
	table := file("values.csv")
	if err := os.WriteFile(table, []byte("date,name,value\n2026-11-24,Water made,38 L\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	run("vessel", "Jug", "100", "--on", "2026-11-10", "--future")
	run("level", "Jug", "80", "--on", "2026-11-11", "--future")
	run("vessel", "Vat can", "60", "--holds", "salt", "--on", "2026-11-10", "--future")
	run("level", "Jug", "90", "--on", "2026-11-21", "--future")
	run("level", "Jug", "40", on, "--future")
	run("level", "Vat can", "20", on, "--future")
	run("need", "50", "2026-11-30", "--vessel", "Vat can", on, "--future")
	run("need", "140", "2026-11-26", "--vessel", "Jug", on, "--future")
	run("count", "tds-standard", "2", "--expires", "2026-10", "--part", "T84", "--source", "a shop", on, "--future")
	run("put-off", "clean-impeller", "2w", on, "--future")
	run("away", "9d", "--by", "Ann", on, "--future")
	run("tick", "check-tds-meter", "--found", "failed", "--offset", "2", on, "--future")
	run("read", "tds-tap", "261", on, "--future")
	run("use", "water", "5", "--by", "Ann", on, "--future")
	run("read", "tank-temperature", "31", on, "--future", "--yes")
	run("strike", "3000")
	run("undo", on, "--future")
	run("export", "jsonl", file("copy.jsonl"))
	documents := []struct {
		heading string
		lines   [][]string
	}{
		{"round", [][]string{{"round", "--minutes", "45", on}, {"round", "--on", "2027-06-01"}}},
		{"list", [][]string{{"list"}}},
		{"log", [][]string{{"log", "60"}}},
		{"water", [][]string{{"water", on}, {"water", "--on", "2024-01-05"}, {"water", "--on", "2027-06-01"}}},
		{"shelf", [][]string{{"shelf", on}}},
		{"rethink", [][]string{{"rethink", on}}},
		{"year", [][]string{{"year", on}}},
		{"mix, without --log", [][]string{
			{"mix", "--volume", "40", "--target", "35"}, {"mix", "--volume", "40", "--target", "35", "--now", "37"},
			{"mix", "--volume", "400", "--target", "35", "--now", "33", "--for", "tank"}, {"mix", "--volume", "40", "--target", "41"},
		}},
		{"salinity", [][]string{{"salinity", "1.0264sg"}, {"salinity", "50mS", "--temp", "20"}}},
		{"tick, use, read, count, level, draw, need, flag, fault, repair, put-off, away, vessel, mix --log, strike, undo", [][]string{
			{"tick", "clean-impeller", "--found", "light"}, {"use", "water", "12"}, {"read", "tds-tap", "251"},
			{"count", "mixed-resin", "3"}, {"flag", "mixing-pump"}, {"fault", "mixing-pump"}, {"repair", "mixing-pump"}, {"put-off", "renew-resin", "9d"},
			{"level", "jug", "30"}, {"draw", "jug", "5"}, {"need", "20", "9d", "--vessel", "jug"}, {"vessel", "Can", "20"},
			{"away", "9d"}, {"mix", "--volume", "20", "--target", "35", "--log"}, {"strike", "3000"}, {"undo", "--dry-run"}, {"undo"},
		}},
		{"import of a table", [][]string{{"import", table, "--dry-run", "--yes"}, {"import", table, "--yes"}}},
		{"import of a book, begin", [][]string{
			{"import", file("copy.jsonl"), "--book", file("again.db")}, {"begin", "Loft", "--book", file("loft.db"), "--sets", "mixing", "--units", "gal"},
		}},
		{"config", [][]string{{"config"}, {"config", "--write"}}},
		{"verify", [][]string{{"verify"}}},
		{"backup, restore FILE, verify --accept or --rebuild", [][]string{
			{"backup", file("backup.db")}, {"restore", file("backup.db")}, {"verify", "--rebuild"},
		}},
		{"restore", [][]string{{"restore"}}},
	}
	commands := map[string]bool{}
	for _, d := range documents {
		c := contract{t, page[d.heading], map[string]bool{}}
		if c.page == nil {
			t.Errorf("the manual has no JSON of wrasse %s", d.heading)
			continue
		}
		delete(page, d.heading)
		for _, line := range d.lines {
			commands[line[0]] = true
			if !strings.Contains(" "+strings.ReplaceAll(d.heading, ",", " ")+" ", " "+line[0]+" ") {
				t.Errorf("%s is not named in the heading %q", line[0], d.heading)
			}
			printed := run(append(line, "--json")...)
			if strings.Count(printed, "\n") != 1 || !strings.HasPrefix(printed, `{"version":1,`) {
				t.Errorf("%v prints %.60q", line, printed)
			}
			var object map[string]any
			from := json.NewDecoder(strings.NewReader(printed))
			from.UseNumber()
			if err := from.Decode(&object); err != nil {
				t.Fatalf("%v: %v", line, err)
			}
			if c.check("", object); t.Failed() {
				t.Fatalf("of wrasse %v", line)
			}
		}
		for path := range c.page {
			if !c.seen[path] && !unseen[path] && !strings.HasPrefix(path, "chores[].clocks[].call") {
				t.Errorf("nothing here prints %s of %s", path, d.heading)
			}
		}
	}
	for heading := range page {
		t.Errorf("nothing is held to the page on wrasse %s", heading)
	}
	for _, name := range commandNames(run("--help")) {
		if commands[name] || name == "help" {
			continue
		}
		// The others say that they have none.
		out, err := exec.Command(program, name, "--json", "--book", file("loft.db")).CombinedOutput()
		if err == nil || !strings.Contains(string(out), "--json does not go with wrasse "+name) && !strings.Contains(string(out), "takes") {
			t.Errorf("wrasse %s --json: %v %s", name, err, out)
		}
	}
}

// unseen is what a sound book has nothing of.
var unseen = map[string]bool{"copies[].problem": true, "error": true, "findings": true}

// commandNames are the commands that the help lists.
func commandNames(help string) []string {
	var out []string
	_, help, _ = strings.Cut(help, "\nEach day")
	help, _, _ = strings.Cut(help, "\nFlags:")
	for _, m := range regexp.MustCompile(`(?m)^  ([a-z-]+) `).FindAllStringSubmatch(help, -1) {
		out = append(out, m[1])
	}
	return out
}
