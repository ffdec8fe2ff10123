package command

import (
	"fmt"
	"io"
	"strings"

	"brine/wrasse/ui/phrase"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

func (p *program) manualCommand() *cobra.Command {
	return &cobra.Command{
		Use:               "man",
		Short:             "Write the manual page: wrasse man > wrasse.1",
		Args:              wordCount(0, 0, "nothing more"),
		PersistentPreRunE: func(*cobra.Command, []string) error { return nil },
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := io.WriteString(p.Stdout, manual(cmd.Root(), p.Version(), p.defaultBook()))
			return err
		},
	}
}

// manual is the manual page, in the man macros, made of what --help says. The pages a
// library would make come with a reader of Markdown in the program; this needs none.
// The book in the folder of whoever makes the page is named as anybody's.
func manual(root *cobra.Command, version, own string) string {
	m := roff{own: own}
	m.macro("TH", strings.ToUpper(root.Name()), "1", "", root.Name()+" "+version, "")
	m.macro("SH", "NAME")
	m.text(root.Name() + " - " + root.Short)
	m.macro("SH", "SYNOPSIS")
	m.text(root.Name() + " [COMMAND] [FLAGS]")
	m.macro("SH", "DESCRIPTION")
	m.paragraphs(root.Long)
	m.macro("SH", "CAUTIONS")
	m.text("Work on a station can hurt: mains beside water, pressure, acid, bleach, lime, weight. Each chore's page says how. " + phrase.Closing)
	m.macro("SH", "COMMANDS")
	for _, cmd := range root.Commands() {
		if !cmd.IsAvailableCommand() {
			continue
		}
		m.macro("SS", root.Name()+" "+cmd.Use)
		if cmd.Long == "" {
			m.text(cmd.Short + ".")
		}
		m.paragraphs(cmd.Long)
		m.flags(cmd.LocalNonPersistentFlags())
	}
	m.macro("SH", "FLAGS OF EVERY COMMAND")
	m.flags(root.PersistentFlags())
	m.macro("SH", "ENVIRONMENT")
	for _, v := range environment {
		m.term(v[0], v[1])
	}
	m.macro("SH", "FILES")
	m.term("$XDG_CONFIG_HOME/wrasse/config.toml", "Settings; wrasse config says where it is on this machine.")
	m.term(anyBook, "The book, unless another is named.")
	return m.b.String()
}

// environment is what the program takes from it.
var environment = [][2]string{
	{"WRASSE_BOOK", "The book's file, where --book does not name it."},
	{"XDG_DATA_HOME, XDG_CONFIG_HOME", "The folders of the book and of the configuration."},
	{"NO_COLOR", "If not empty, the screens use no colour."},
	{"TERM", "If it is dumb or empty there are no screens; the commands work everywhere."},
	{"COLUMNS", "Where commands fold their lines."},
}

// anyBook is where the book is unless somebody says otherwise.
const anyBook = "$XDG_DATA_HOME/wrasse/book.db"

// roff is a page in the making.
type roff struct {
	b   strings.Builder
	own string
}

// plainRoff makes text stand for itself: a backslash, and a hyphen that is to be one.
var plainRoff = strings.NewReplacer(`\`, `\e`, "-", `\-`)

// line is a line of text. One that begins like a request is kept from being one.
func (m *roff) line(s string) {
	s = plainRoff.Replace(s)
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") {
		s = `\&` + s
	}
	m.b.WriteString(s + "\n")
}

func (m *roff) text(s string) { m.line(strings.Join(strings.Fields(s), " ")) }

// macro is a request with its arguments.
func (m *roff) macro(name string, args ...string) {
	m.b.WriteString("." + name)
	for _, a := range args {
		m.b.WriteString(` "` + strings.ReplaceAll(plainRoff.Replace(a), `"`, `\(dq`) + `"`)
	}
	m.b.WriteByte('\n')
}

func (m *roff) term(name, meaning string) {
	m.macro("TP")
	m.line(name)
	m.text(meaning)
}

// paragraphs is text as --help has it; what is indented there keeps its lines.
func (m *roff) paragraphs(long string) {
	for part := range strings.SplitSeq(strings.TrimSpace(long), "\n\n") {
		if part == "" {
			continue
		}
		m.macro("PP")
		if !strings.HasPrefix(part, "  ") {
			m.text(part)
			continue
		}
		m.macro("nf")
		for line := range strings.SplitSeq(part, "\n") {
			m.line(line)
		}
		m.macro("fi")
	}
}

func (m *roff) flags(set *pflag.FlagSet) {
	set.VisitAll(func(f *pflag.Flag) {
		if f.Name == "help" {
			return
		}
		value, usage := pflag.UnquoteUsage(f)
		m.term(strings.TrimSpace(fmt.Sprintf("--%s %s", f.Name, value)), strings.ReplaceAll(usage, m.own, anyBook)+".")
	})
}
