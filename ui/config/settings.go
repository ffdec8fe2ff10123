package config

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"brine/wrasse/ui/theme"
)

// setting is one key of the file.
type setting struct {
	key     string // behind the name of its table and a point, if it has one
	about   string // what it is for, in the template
	accepts string // what may be given
	example string // a value that is not the default, as TOML
	take    func(c *Config, value any) bool
	show    func(c Config) string // "" where nothing is set
}

// name is the key as it stands within its table.
func (s setting) name() string { return s.key[strings.LastIndex(s.key, ".")+1:] }

// views are the views by name, in their order.
var views = []string{"round", "water", "gear", "shelf", "rethink", "log"}

// weekdays are the days of the week, in the order of package time.
var weekdays = []string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}

// maxMinuteValue bounds a slip of the finger.
const maxMinuteValue = 1000

// settings are all there are, in the order in which the template has them: those of a
// table last.
var settings = sync.OnceValue(func() []setting {
	return []setting{
		{
			key:     "book",
			about:   "The book to open. --book and $WRASSE_BOOK go before it.",
			accepts: "the whole path of a file, beginning with / or ~/",
			example: `"~/reef/book.db"`,
			take: func(c *Config, value any) bool {
				path, ok := value.(string)
				c.Book = filepath.FromSlash(path)
				return ok && (strings.HasPrefix(path, "~/") && len(path) > 2 || filepath.IsAbs(c.Book))
			},
			show: func(c Config) string { return c.Book },
		},
		{
			key:     "default_view",
			about:   "The view the screens open with.",
			accepts: "one of " + strings.Join(views, ", "),
			example: `"water"`,
			take:    func(c *Config, value any) bool { return choice(value, views, &c.View) },
			show:    func(c Config) string { return views[c.View] },
		},
		{
			key:     "theme",
			about:   "colour has hues for bars and marks alone; light and dark, for such a ground, colour text\ntoo; mono has none. $NO_COLOR goes before it.",
			accepts: "one of " + strings.Join(theme.Names, ", "),
			example: `"dark"`,
			take:    func(c *Config, value any) bool { return named(value, theme.Names, &c.Theme) },
			show:    func(c Config) string { return c.Theme },
		},
		{
			key:     "glyphs",
			about:   "What is drawn with. auto goes by $LC_ALL, $LC_CTYPE or $LANG: ascii where they name no\nUTF-8, and on the Linux console.",
			accepts: "one of " + strings.Join(theme.Glyphs, ", "),
			example: `"ascii"`,
			take:    func(c *Config, value any) bool { return named(value, theme.Glyphs, &c.Glyphs) },
			show:    func(c Config) string { return c.Glyphs },
		},
		{
			key:     "plain",
			about:   "Whether the screens and the round are in words only, a fact a line, as for a screen\nreader. --plain does the same.",
			accepts: "true or false",
			example: "true",
			take:    func(c *Config, value any) bool { return truth(value, &c.Plain) },
			show:    func(c Config) string { return strconv.FormatBool(c.Plain) },
		},
		{
			key:     "mouse",
			about:   "Whether clicks and the wheel work. Text can then not be selected as usual.\n--mouse does the same.",
			accepts: "true or false",
			example: "true",
			take:    func(c *Config, value any) bool { return truth(value, &c.Mouse) },
			show:    func(c Config) string { return strconv.FormatBool(c.Mouse) },
		},
		{
			key:     "week_start",
			about:   "The first day of a week in the year ahead.",
			accepts: "a day of the week: monday, tuesday, wednesday, thursday, friday, saturday, sunday",
			example: `"sunday"`,
			take: func(c *Config, value any) bool {
				at := 0
				ok := choice(value, weekdays, &at)
				c.WeekStart = time.Weekday(at)
				return ok
			},
			show: func(c Config) string { return weekdays[c.WeekStart] },
		},
		{
			key:     "import_dates",
			about:   "The order of year, month and day in a table to import, where its dates do not\nmake it plain. --order goes before it; without either the import asks.",
			accepts: "one of ymd, dmy, mdy",
			example: `"dmy"`,
			take: func(c *Config, value any) bool {
				orders, at := []string{"ymd", "dmy", "mdy"}, 0
				ok := choice(value, orders, &at)
				c.ImportDates = orders[at]
				return ok
			},
			show: func(c Config) string { return c.ImportDates },
		},
		{
			key:     "minute_value",
			about:   "What a minute of your time is worth, in your money: proposed to a new book.",
			accepts: fmt.Sprintf("a number from 0 to %d", maxMinuteValue),
			example: "0.25",
			take: func(c *Config, value any) bool {
				switch v := value.(type) {
				case int64:
					c.MinuteValue = float64(v)
				case float64:
					c.MinuteValue = v
				default:
					return false
				}
				return c.MinuteValue >= 0 && c.MinuteValue <= maxMinuteValue
			},
			show: func(c Config) string {
				if c.MinuteValue == 0 {
					return ""
				}
				return strconv.FormatFloat(c.MinuteValue, 'f', -1, 64)
			},
		},
		unit("volume", "L", "gal", func(c *Config) *string { return &c.Units.Volume }),
		unit("temperature", "C", "F", func(c *Config) *string { return &c.Units.Temperature }),
		unit("pressure", "bar", "psi", func(c *Config) *string { return &c.Units.Pressure }),
	}
})

// unit is a setting of a unit.
func unit(name, one, other string, field func(*Config) *string) setting {
	return setting{
		key:     "units." + name,
		about:   "Of " + name + ": " + one + " or " + other + ".",
		accepts: one + " or " + other,
		example: strconv.Quote(other),
		take: func(c *Config, value any) bool {
			at, both := 0, []string{one, other}
			ok := choice(value, both, &at)
			*field(c) = both[at]
			return ok
		},
		show: func(c Config) string { return *field(&c) },
	}
}

// named takes one of several words as it is.
func named(value any, words []string, to *string) bool {
	at := 0
	ok := choice(value, words, &at)
	*to = words[at]
	return ok
}

// choice takes one of several words.
func choice(value any, words []string, at *int) bool {
	word, ok := value.(string)
	i := slices.Index(words, word)
	if !ok || i < 0 {
		return false
	}
	*at = i
	return true
}

func truth(value any, to *bool) bool {
	b, ok := value.(bool)
	*to = b
	return ok
}

// Keys are the names of all settings.
func Keys() []string {
	out := make([]string, len(settings()))
	for i, s := range settings() {
		out[i] = s.key
	}
	return out
}

// tables are the tables that settings stand in.
func tables() []string {
	var out []string
	for _, s := range settings() {
		if table, _, ok := strings.Cut(s.key, "."); ok && !slices.Contains(out, table) {
			out = append(out, table)
		}
	}
	return out
}

// Value is a setting as it stands.
type Value struct {
	Key   string
	Set   string // "" where nothing is said
	Value any    // the same as a boolean or a number where it is one
}

// Values are all settings as they stand, in order.
func (c Config) Values() []Value {
	out := make([]Value, len(settings()))
	for i, s := range settings() {
		set := s.show(c)
		out[i] = Value{s.key, set, plainly(set)}
	}
	return out
}

// plainly is a setting as the boolean or number that it is, else as its text.
func plainly(set string) any {
	switch set {
	case "true", "false":
		return set == "true"
	}
	if n, err := strconv.ParseFloat(set, 64); err == nil {
		return n
	}
	return set
}

// Template is a file that sets nothing and says what could be set.
func Template() string {
	var b strings.Builder
	b.WriteString("# Settings of wrasse. Take the # off a line that holds a setting, and change the value.\n")
	table := ""
	for _, s := range settings() {
		b.WriteByte('\n')
		if t, _, ok := strings.Cut(s.key, "."); ok && t != table {
			table = t
			fmt.Fprintf(&b, "# The %s proposed to a new book; a book's own rule once it is begun.\n[%s]\n\n", t, t)
		}
		for line := range strings.SplitSeq(s.about, "\n") {
			b.WriteString("# " + line + "\n")
		}
		if !strings.HasPrefix(s.key, "units.") {
			b.WriteString("# Give " + s.accepts + ".\n")
		}
		b.WriteString("#" + s.name() + " = " + s.example + "\n")
	}
	return b.String()
}
