package command

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"brine/wrasse/ui/config"
)

func (p *program) configCommand() *cobra.Command {
	write := false
	cmd := &cobra.Command{
		Use:     "config",
		Short:   "Say where the files are and what is set; --write makes a commented configuration",
		Example: "  wrasse config\n  wrasse config --write",
		Args:    wordCount(0, 0, "no words, only flags"),
		// The command that helps to mend a configuration runs whatever stands in it.
		PersistentPreRunE: func(*cobra.Command, []string) error { return nil },
		RunE: func(*cobra.Command, []string) error {
			if write {
				return p.writeConfig(config.Path(p.Getenv))
			}
			return p.showConfig(config.Path(p.Getenv))
		},
	}
	cmd.Flags().BoolVar(&write, "write", false, "write a configuration with every setting explained and none set")
	return cmd
}

// writeConfig makes the file, and never over another.
func (p *program) writeConfig(path string) error {
	if err := p.MakeFolder(filepath.Dir(path)); err != nil {
		return fmt.Errorf("making the folder of the configuration: %w", err)
	}
	err := p.NewFile(path, func(w io.Writer) error {
		_, err := io.WriteString(w, config.Template())
		return err
	})
	if err != nil {
		return err
	}
	return p.written(func() error { return p.showConfig(path) })
}

type configOut struct {
	Program  string         `json:"program" says:"which release it is"`
	Terminal *string        `json:"terminal" says:"what $TERM names"`
	Locale   *string        `json:"locale" says:"what $LC_ALL, $LC_CTYPE or $LANG names, which says whether signs beyond ASCII are drawn"`
	Config   string         `json:"config" says:"where the configuration is"`
	Exists   bool           `json:"exists" says:"it is there"`
	Error    *string        `json:"error" says:"what is wrong with it"`
	Book     string         `json:"book" says:"where the book is"`
	BookFrom string         `json:"book_from" says:"what says so: flag, environment, configuration or default"`
	Settings map[string]any `json:"settings" says:"what is set, by name"`
}

// showConfig says where the files are and what is set. A wrong configuration is shown
// as what it is, and makes the exit code 1.
func (p *program) showConfig(path string) error {
	wrong := p.configure()
	p.noteUnknown()
	_, err := os.Lstat(path)
	locale := cmp.Or(p.Getenv("LC_ALL"), p.Getenv("LC_CTYPE"), p.Getenv("LANG"))
	out := configOut{Program: p.Version(), Terminal: orNull(p.Getenv("TERM")), Locale: orNull(locale), Config: path, Exists: !errors.Is(err, fs.ErrNotExist), Settings: map[string]any{}}
	path, from := p.pathFrom()
	out.Book, out.BookFrom = path, string(from)
	if wrong != nil {
		out.Error = new(wrong.Error())
	}
	note := ""
	switch {
	case !out.Exists:
		note = "not there; make it with: wrasse config --write"
	case p.noConfig:
		note = "not read: --no-config"
	case wrong != nil:
		note = "wrong, and so not read"
	}
	var text page
	rows := [][]string{
		{"program", out.Program, ""}, {"terminal", cmp.Or(p.Getenv("TERM"), "none named"), ""}, {"locale", cmp.Or(locale, "none named"), ""},
		{"configuration", out.Config, note}, {"book", out.Book, "from " + from.said()},
	}
	for _, v := range p.config.Values() {
		if v.Set != "" {
			out.Settings[v.Key] = v.Value
		}
		if v.Key != "book" {
			rows = append(rows, []string{v.Key, v.Set, ""})
		}
	}
	text.table(rows)
	if err := p.print(&text, out); err != nil {
		return err
	}
	return wrong
}
