package command

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

func (p *program) manualCommand() *cobra.Command {
	return &cobra.Command{
		Use:               "man",
		Short:             "Write the manual page: wrasse man > wrasse.1",
		Example:           "  wrasse man > wrasse.1\n  wrasse man | man -l -",
		Args:              wordCount(0, 0, "nothing more"),
		PersistentPreRunE: func(*cobra.Command, []string) error { return nil },
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := io.WriteString(p.Stdout, manual(cmd.Root(), p.Version(), p.Revised(), p.defaultBook()))
			return err
		},
	}
}

// manual is the manual page, in the man macros, made of what --help says. The pages a
// library would make come with a reader of Markdown in the program; this needs none.
// The book in the folder of whoever makes the page is named as anybody's.
func manual(root *cobra.Command, version, revised, own string) string {
	m := roff{own: own}
	m.macro("TH", strings.ToUpper(root.Name()), "1", revised, root.Name()+" "+version, "")
	m.macro("SH", "NAME")
	m.text(root.Name() + " - " + root.Short)
	m.macro("SH", "SYNOPSIS")
	m.text(root.Name() + " [COMMAND] [FLAGS]")
	m.section("SH", "DESCRIPTION", root.Long)
	m.section("SH", "CAUTIONS", "Work on a station can hurt: mains beside water, pressure, acid, bleach, lime, weight. Each chore's page says how. "+phrase.Closing)
	m.macro("SH", "COMMANDS")
	for _, group := range root.Groups() {
		for _, cmd := range root.Commands() {
			if cmd.GroupID != group.ID {
				continue
			}
			m.section("SS", root.Name()+" "+cmd.Use, about(cmd))
			m.flags(cmd.LocalNonPersistentFlags())
			if cmd.Example != "" {
				m.paragraphs("Such as:\n\n" + cmd.Example)
			}
		}
	}
	m.macro("SH", "FLAGS OF EVERY COMMAND")
	m.flags(root.PersistentFlags())
	m.macro("SH", "EXIT STATUS")
	for _, v := range exitCodes {
		m.term(v[0], v[1])
	}
	m.macro("SH", "ENVIRONMENT")
	for _, v := range environment {
		m.term(v[0], v[1])
	}
	m.macro("SH", "FILES")
	m.term("$XDG_CONFIG_HOME/wrasse/config.toml", "Settings; wrasse config says where it is on this machine.")
	m.term(anyBook, "The book, unless another is named.")
	m.term("BOOK.backups/", "Daily copies of a book, beside it.")
	m.term("$XDG_STATE_HOME/wrasse/written.jsonl", "What commands wrote of late, for undo.")
	m.section("SH", "KEYS", "On the screens. What works anywhere stands once; ? shows the keys of a screen.")
	for _, scope := range keys.Scopes() {
		for i, section := range keys.Own(scope) {
			if i == 0 {
				m.macro("SS", "Keys of "+scope.String())
			}
			m.term(section.Label, section.Desc+".")
		}
	}
	m.section("SH", "DATES", datesPage)
	m.section("SH", "VERDICTS", verdictsPage)
	m.section("SH", "EXAMPLES", examples)
	m.contract()
	return m.b.String()
}

// exitCodes are the codes a command ends with.
var exitCodes = [][2]string{
	{"0", "Done, or nothing late."},
	{"1", "It could not be done; a line on standard error says what to do."},
	{"2", "The command line is wrong."},
	{"10", "Of round: something is late."},
	{"11", "Of round: something of consequence 2 or 3 is past its limit, a fault is open, or a value is outside its safe range."},
}

const examples = `What is late, each morning by mail, and only if something is:

  0 7 * * * out=$(wrasse round) || echo "$out"

Water made, what the meter showed, and a pump cleaned:

  wrasse use water 40
  wrasse read tds-tap 258 tds-membrane 7 tds-product 3
  wrasse tick clean-impeller --found light

The late chores, for a script:

  wrasse round --json | jq -r '.chores[] | select(.state == "late") | .id'`

// environment is what the program takes from it.
var environment = [][2]string{
	{"WRASSE_BOOK", "The book's file, where --book does not name it."},
	{"XDG_DATA_HOME, XDG_CONFIG_HOME, XDG_STATE_HOME", "The folders of the book, of the configuration, and of what undo knows."},
	{"NO_COLOR", "If not empty, the screens use no colour."},
	{"TERM", "If it is dumb or empty there are no screens; the commands work everywhere."},
	{"COLUMNS", "How wide commands print; else as wide as the terminal is."},
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

// text is flowing text, in lines that a reader of the page's source can read.
func (m *roff) text(s string) {
	for _, line := range text.Wrap(strings.Join(strings.Fields(s), " "), roffWidth) {
		m.line(line)
	}
}

// roffWidth leaves room for what stands for itself only behind a backslash.
const roffWidth = 70

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

// section is a heading with text below it, of which the first paragraph needs no request.
func (m *roff) section(macro, title, long string) {
	m.macro(macro, title)
	first, rest, _ := strings.Cut(strings.TrimSpace(long), "\n\n")
	m.paragraph(first)
	m.paragraphs(rest)
}

// paragraphs is text as --help has it; what is indented there keeps its lines.
func (m *roff) paragraphs(long string) {
	for part := range strings.SplitSeq(strings.Trim(long, "\n"), "\n\n") {
		if part != "" {
			m.macro("PP")
			m.paragraph(part)
		}
	}
}

func (m *roff) paragraph(part string) {
	if !strings.HasPrefix(part, "  ") {
		m.text(part)
		return
	}
	m.macro("nf")
	for line := range strings.SplitSeq(part, "\n") {
		m.line(line)
	}
	m.macro("fi")
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
