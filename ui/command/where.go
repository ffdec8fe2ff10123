package command

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/adrg/xdg"

	"brine/wrasse/ui/config"
)

// source is who says where the book is.
type source string

const (
	fromFlag        source = "flag"
	fromEnvironment source = "environment"
	fromConfig      source = "configuration"
	fromDefault     source = "default" // nobody: it is in the data folder
)

// said is a source as it stands in a line.
func (s source) said() string {
	return map[source]string{fromFlag: "--book", fromEnvironment: "$WRASSE_BOOK",
		fromConfig: "the configuration", fromDefault: "the data folder"}[s]
}

// path is where the book is: --book, else $WRASSE_BOOK, else the configuration's, else
// in the data folder.
func (p *program) path() string {
	path, _ := p.pathFrom()
	return path
}

// pathFrom is path, and what says so.
func (p *program) pathFrom() (path string, from source) {
	switch {
	case p.book != "":
		return p.book, fromFlag
	case p.Getenv("WRASSE_BOOK") != "":
		return p.Getenv("WRASSE_BOOK"), fromEnvironment
	case p.config.Book != "":
		return atHome(p.config.Book), fromConfig
	}
	return p.defaultBook(), fromDefault
}

// bookless are the commands that need no book.
var bookless = []string{"completion", "demo", "man", "salinity"}

// placed is the error of a command whose book nobody names, by a user without a folder to
// have one in: it would be begun in the topmost folder of the system.
func (p *program) placed(command string) error {
	_, from := p.pathFrom()
	_, homeless := os.UserHomeDir()
	if from != fromDefault || homeless == nil || filepath.IsAbs(p.Getenv("XDG_DATA_HOME")) || slices.Contains(bookless, command) {
		return nil
	}
	return errors.New("no folder of yours is known; set HOME, or name the book with --book")
}

// atHome is a path with the ~ before it made the keeper's own folder.
func atHome(path string) string {
	if rest, ok := strings.CutPrefix(filepath.ToSlash(path), "~/"); ok {
		return filepath.Join(xdg.Home, rest)
	}
	return path
}

// defaultBook is the book in the data folder of the desktop's base directories; a
// relative $XDG_DATA_HOME is ignored, as their specification says.
func (p *program) defaultBook() string {
	data := p.Getenv("XDG_DATA_HOME")
	if !filepath.IsAbs(data) {
		data = xdg.DataHome
	}
	return filepath.Join(data, "wrasse", "book.db")
}

// configure reads the configuration, unless there is to be none. Flags go before it.
func (p *program) configure() error {
	p.config = config.Default()
	var err error
	if !p.noConfig {
		p.config, p.unknown, err = config.Load(config.Path(p.Getenv))
	}
	p.config.Plain = p.config.Plain || p.plain
	p.config.Mouse = p.config.Mouse || p.mouse
	if p.config.Plain {
		p.Stdout = spoken(p.Stdout)
	}
	return err
}

// noteUnknown notes the settings in the configuration that there are not.
func (p *program) noteUnknown() {
	for _, u := range p.unknown {
		also := meant(near(u.Key, config.Keys()))
		if u.Key == "date_format" { // as it was called once
			also = "; it is called import_dates"
		}
		p.remark("note: %s, line %d: %s is no setting and is left out%s", config.Path(p.Getenv), u.Line, u.Key, also)
	}
}
