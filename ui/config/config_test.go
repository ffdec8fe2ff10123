package config

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
)

// changed is the defaults with a change.
func changed(change func(*Config)) Config {
	c := Default()
	change(&c)
	return c
}

func TestParse(t *testing.T) {
	got, _, err := Parse(`
# a comment with week_start = "nonsense"
book = "/srv/reef.db"
default_view = "log"
theme = "mono"
glyphs = "ascii"
plain = true
mouse = true
week_start = "sunday"
import_dates = "dmy"
minute_value = 0.25

[units]
volume = "gal"
temperature = "F"
pressure = "psi"
`)
	want := Config{Book: "/srv/reef.db", View: 5, Theme: "mono", Glyphs: "ascii", Plain: true, Mouse: true, WeekStart: time.Sunday, ImportDates: "dmy",
		MinuteValue: 0.25, Units: model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"}}
	if err != nil || got != want {
		t.Errorf("%+v, %v; want %+v", got, err, want)
	}
	for text, want := range map[string]Config{
		"":                                    Default(),
		"minute_value = 1":                    changed(func(c *Config) { c.MinuteValue = 1 }),
		"units.volume = \"gal\"":              changed(func(c *Config) { c.Units.Volume = "gal" }),
		"units = {volume = \"gal\"}":          changed(func(c *Config) { c.Units.Volume = "gal" }),
		"\"theme\" = 'colour'\r\nplain=false": Default(),
		"book = \"~/reef.db\"":                changed(func(c *Config) { c.Book = "~/reef.db" }),
	} {
		if got, _, err := Parse(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v; want %+v", text, got, err, want)
		}
	}
}

// Each wrong file is one line that names the key, the line and what is accepted.
func TestParseRefuses(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"a list of tables":   {"[[book]]\n[[book]]\n", "line 1: book: a list is not accepted"},
		"a key in parts":     {"mouse = true\n" + strings.Repeat("a.", 20_000) + "a = 1", "line 2 is longer than 5000 bytes; shorten it"},
		"a long text":        {"book = \"\"\"" + strings.Repeat("x\n", 20_000) + "\"\"\"", `line 1: book: "x\nx\nx`},
		"table for a value":  {"[book]\npath = \"/x\"\n", "line 1: book: a table is not accepted; give the whole path"},
		"no such view":       {"# view\ndefault_view = \"home\"", `line 2: default_view: "home" is not accepted; give one of round, water, gear, shelf, rethink, log`},
		"no such theme":      {"theme = \"blue\"", `line 1: theme: "blue" is not accepted; give one of colour, light, dark, mono`},
		"no such glyphs":     {"glyphs = \"braille\"", `line 1: glyphs: "braille" is not accepted; give one of auto, unicode, ascii`},
		"not a truth":        {"\n\n\nplain = \"yes\"", `line 4: plain: "yes" is not accepted; give true or false`},
		"not a day":          {"week_start = \"moonday\"", `line 1: week_start: "moonday" is not accepted; give a day of the week: monday`},
		"a day as a number":  {"week_start = 1", "line 1: week_start: 1 is not accepted"},
		"not an order":       {"import_dates = \"DD/MM\"", `line 1: import_dates: "DD/MM" is not accepted; give one of ymd, dmy, mdy`},
		"a price in words":   {"minute_value = \"a lot\"", `line 1: minute_value: "a lot" is not accepted; give a number from 0 to 1000`},
		"a negative price":   {"mouse = true\nminute_value = -1", "line 2: minute_value: -1 is not accepted"},
		"no number at all":   {"minute_value = nan", "line 1: minute_value: NaN is not accepted"},
		"not a unit":         {"[units]\nvolume = \"l\"\n", `line 2: units.volume: "l" is not accepted; give L or gal`},
		"a unit as a list":   {"units.pressure = [\"bar\"]", "line 1: units.pressure: a list is not accepted; give bar or psi"},
		"a relative book":    {"book = \"reef.db\"", `line 1: book: "reef.db" is not accepted; give the whole path of a file`},
		"an empty book":      {"book = \"\"", `line 1: book: "" is not accepted`},
		"given twice":        {"plain = true\nplain = false", "line 2: plain: Key 'plain' has already been defined; give true or false, once"},
		"no value":           {"theme = \"mono\"\nplain =\n", "line 2: plain: "},
		"no quotes":          {"theme = mono", `line 1: theme: expected value but found "mono" instead; give one of colour, light, dark, mono, once, as in: theme = "dark"`},
		"not TOML":           {"theme: mono", "line 1: expected '.' or '=', but got ':' instead; give lines such as: week_start"},
		"a quote left open":  {"\ntheme = \"mono", "line 2: theme: unexpected EOF"},
		"wrong in 2nd place": {"[units]\nvolume = \"L\"\ntemperature = \"K\"\n", `line 3: units.temperature: "K" is not accepted; give C or F`},
	} {
		got, _, err := Parse(c.text)
		if err == nil || !strings.HasPrefix(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v; want an error with %q in one line", name, err, c.says)
		}
		if got != Default() {
			t.Errorf("%s: %+v beside the error", name, got)
		}
	}
}

// What nobody knows is left out and named, and the rest holds.
func TestUnknown(t *testing.T) {
	for text, want := range map[string]string{
		"theme = \"mono\"\n\ncolour = true\n":        "line 3 colour",
		"[keys]\nquit = \"x\"\n":                     "line 1 keys, line 2 keys.quit",
		"[units]\n# volume = 3\nsalinity = \"SG\"\n": "line 3 units.salinity",
		"units = \"metric\"\n":                       "line 1 units",
		"[units]\nvolume = \"gal\"\n":                "",
		strings.Repeat("a", 2000) + " = 1":           "line 1 " + strings.Repeat("a", 100) + "…",
	} {
		c, unknown, err := Parse(text)
		var got []string
		for _, u := range unknown {
			got = append(got, fmt.Sprintf("line %d %s", u.Line, u.Key))
		}
		if err != nil || strings.Join(got, ", ") != want {
			t.Errorf("%q: %v, %v; want %s", text, got, err, want)
		}
		if (c.Theme == "mono") != strings.Contains(text, "mono") {
			t.Errorf("%q: theme is %q", text, c.Theme)
		}
	}
}

func TestLoad(t *testing.T) {
	path := filepath.Join(t.TempDir(), "config.toml")
	if got, _, err := Load(path); err != nil || got != Default() {
		t.Errorf("without a file: %+v, %v", got, err)
	}
	if err := os.WriteFile(path, []byte("mouse = 1"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := Load(path); err == nil || !strings.HasPrefix(err.Error(), path+", line 1: mouse: 1 is not accepted") {
		t.Errorf("a wrong file: %v", err)
	}
	if _, _, err := Load(filepath.Dir(path)); err == nil || !strings.Contains(err.Error(), "reading the configuration") {
		t.Errorf("a folder: %v", err)
	}
}

func TestPath(t *testing.T) {
	env := func(value string) func(string) string { return func(string) string { return value } }
	if got := Path(env("/home/x/.config")); got != "/home/x/.config/wrasse/config.toml" {
		t.Errorf("in an absolute folder: %s", got)
	}
	if got := Path(env("relative")); !filepath.IsAbs(got) {
		t.Errorf("in a relative folder: %s", got)
	}
}

// The template sets nothing as it is, and everything once its settings are taken in.
func TestTemplate(t *testing.T) {
	if got, _, err := Parse(Template()); err != nil || got != Default() {
		t.Errorf("as it is: %+v, %v", got, err)
	}
	all := regexp.MustCompile(`(?m)^#([a-z_]+ = )`).ReplaceAllString(Template(), "$1")
	got, _, err := Parse(all)
	if err != nil {
		t.Fatal(err)
	}
	plain := Default().Values()
	for i, v := range got.Values() {
		if v.Set == plain[i].Set {
			t.Errorf("the template does not set %s:\n%s", v.Key, all)
		}
	}
	for line := range strings.SplitSeq(Template(), "\n") {
		if len(line) > 90 {
			t.Errorf("a line of %d: %s", len(line), line)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add(Template())
	f.Add("[units]\nvolume=\"x\"")
	f.Add("a.b.c = {d = 1}")
	f.Fuzz(func(t *testing.T, text string) {
		c, _, err := Parse(text)
		if err != nil && (c != Default() || strings.Contains(err.Error(), "\n")) {
			t.Errorf("%q: %+v, %v", text, c, err)
		}
	})
}
