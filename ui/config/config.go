package config

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/BurntSushi/toml"
	"github.com/adrg/xdg"

	"brine/wrasse/model"
	"brine/wrasse/ui/theme"
)

// Config is the settings of a machine.
type Config struct {
	Book        string       // path of the book's file, "" for the one in the data folder
	Units       model.Units  // of a new book
	MinuteValue float64      // of a new book: what a minute of the keeper's time is worth, 0 when not said
	WeekStart   time.Weekday // the first day of a week in the year ahead
	ImportDates string       // ymd, dmy or mdy: how a table's dates in figures are read; "" asks
	View        int          // the view to open with, counted from 0
	Theme       string       // one of theme.Names
	Glyphs      string       // one of theme.Glyphs
	Plain       bool         // words only, a fact a line, as for a screen reader
	Mouse       bool         // take clicks and the wheel
}

// Unknown is a key of a file that is no setting, as of a newer program. It is left out.
type Unknown struct {
	Line int
	Key  string // shortened
}

// Default is the settings of a machine without a file.
func Default() Config {
	return Config{Theme: theme.Names[0], Glyphs: theme.Glyphs[0], WeekStart: time.Monday, Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}
}

// Path is where the file is: in $XDG_CONFIG_HOME, or in the platform's own folder. A
// relative $XDG_CONFIG_HOME is ignored, as its specification says.
func Path(getenv func(string) string) string {
	folder := getenv("XDG_CONFIG_HOME")
	if !filepath.IsAbs(folder) {
		folder = xdg.ConfigHome
	}
	return filepath.Join(folder, "wrasse", "config.toml")
}

// How long a file and a line of it may be, in bytes: some twenty times the template, and a
// little more than the longest path. A key of thousands of parts takes minutes to read.
const (
	maxSize = 64 << 10
	maxLine = 5000
)

// Load reads a file; one that is not there gives the defaults.
func Load(path string) (Config, []Unknown, error) {
	text, err := read(path)
	if errors.Is(err, fs.ErrNotExist) {
		return Default(), nil, nil
	}
	if err != nil {
		return Default(), nil, fmt.Errorf("reading the configuration: %w", err)
	}
	c, unknown, err := Parse(text)
	if err != nil {
		return Default(), nil, fmt.Errorf("%s, %w", path, err)
	}
	return c, unknown, nil
}

// read is the text of a file. What can't be a configuration is not opened: a pipe may be
// waited for without end. Nor is a link that leads nowhere taken for no file: what is set
// there, the book perhaps, must not be forgotten while a disk is not mounted.
func read(path string) (string, error) {
	info, err := os.Stat(path)
	if _, there := os.Lstat(path); err != nil && there == nil {
		return "", fmt.Errorf("%s is a link whose file is not there; mount its disk", path)
	}
	switch {
	case err != nil:
		return "", err
	case !info.Mode().IsRegular():
		return "", fmt.Errorf("%s is no file; move it away", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxSize+1))
	if len(data) > maxSize {
		return "", fmt.Errorf("%s is longer than %d KiB; shorten it", path, maxSize>>10)
	}
	return string(data), err
}

// Parse reads the text of a file. The error names the first line that is wrong.
func Parse(text string) (c Config, unknown []Unknown, err error) {
	c = Default()
	n := 0
	for line := range strings.SplitSeq(text, "\n") {
		if n++; len(line) > maxLine {
			return c, nil, fmt.Errorf("line %d is longer than %d bytes; shorten it", n, maxLine)
		}
	}
	values := map[string]any{}
	meta, err := toml.Decode(text, &values)
	if err != nil {
		return c, nil, syntax(err)
	}
	lines := keyLines(text, meta.Keys())
	for i, key := range meta.Keys() {
		known, err := c.set(key.String(), find(values, key))
		if err != nil {
			return Default(), nil, fmt.Errorf("line %d: %w", lines[i], err)
		}
		if !known {
			unknown = append(unknown, Unknown{lines[i], shortened(key.String())})
		}
	}
	return c, unknown, nil
}

// set takes one key of a file, if it is known.
func (c *Config) set(key string, value any) (known bool, err error) {
	for _, s := range settings() {
		if s.key != key {
			continue
		}
		if !s.take(c, value) {
			return false, fmt.Errorf("%s: %s is not accepted; give %s", key, given(value), s.accepts)
		}
		return true, nil
	}
	_, table := value.(map[string]any)
	return table && slices.Contains(tables(), key), nil
}

// shortened is a text that is bounded in length.
func shortened(s string) string {
	const most = 100
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// given is a value as it was written, as far as that can be told.
func given(value any) string {
	switch v := value.(type) {
	case string:
		return fmt.Sprintf("%q", shortened(v))
	case map[string]any:
		return "a table"
	case []any, []map[string]any:
		return "a list"
	case time.Time:
		return "a date"
	}
	return fmt.Sprint(value)
}

// find is the value of a key.
func find(values map[string]any, key toml.Key) any {
	var v any = values
	for _, part := range key {
		table, ok := v.(map[string]any)
		if !ok {
			return nil
		}
		v = table[part]
	}
	return v
}

// syntax is what is wrong with a file that is no TOML, with its line.
func syntax(err error) error {
	var bad toml.ParseError
	if !errors.As(err, &bad) {
		return err
	}
	line := max(bad.Position.Line, 1)
	what := shortened(strings.TrimSuffix(strings.Join(strings.Fields(bad.Message), " "), "."))
	for _, s := range settings() {
		if s.key == bad.LastKey {
			return fmt.Errorf("line %d: %s: %s; give %s, once, as in: %s = %s", line, s.key, what, s.accepts, s.name(), s.example)
		}
	}
	return fmt.Errorf("line %d: %s; give lines such as: week_start = \"monday\"", line, what)
}

// keyLines are the lines on which keys stand, which come in the order of the text.
func keyLines(text string, keys []toml.Key) []int {
	lines := strings.Split(text, "\n")
	at, out := 0, make([]int, len(keys))
	for i, key := range keys {
		for n := at; n < len(lines); n++ {
			if names(lines[n], key[len(key)-1]) {
				at = n
				break
			}
		}
		out[i] = at + 1
	}
	return out
}

// names tells whether a line gives a value to a key, or opens a table of that name.
func names(line, key string) bool {
	line = strings.TrimSpace(line)
	if strings.HasPrefix(line, "#") {
		return false
	}
	head := line
	if !strings.HasPrefix(line, "[") {
		equals := strings.LastIndex(line, "=")
		if equals < 0 {
			return false
		}
		head = line[:equals]
	}
	return strings.Contains(head, key)
}
