package command

import (
	"fmt"
	"io"
	"os"
	"slices"

	"github.com/spf13/cobra"

	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/columns"
)

// exporting is the flags of export.
type exporting struct {
	salvage, round, force, bom bool
	calendar                   calendar
}

// formats are what a book can be exported as.
var formats = []string{"jsonl", "csv", "ics"}

func (p *program) exportCommand() *cobra.Command {
	var e exporting
	cmd := &cobra.Command{
		Use:   "export FORMAT [FILE]",
		Short: "Write the book as jsonl (all of it), csv (its log) or ics (its due dates)",
		Long: `Writes to FILE, or to standard output. A file that is there is replaced with --force.

  jsonl  the whole book, which import takes back
  csv    the log as it reads; import takes its values and ticks back
  ics    an all-day event for each chore on the day to do it and for each open
         fault; calendar programs move those they know of an earlier export`,
		Example: "  wrasse export jsonl archive.jsonl\n  wrasse export ics reef.ics --alarm 08:00 --force\n  wrasse export csv --round > round.csv",
		Args:    wordCount(1, 2, "a format and perhaps a file"),
		RunE: func(_ *cobra.Command, args []string) error {
			write, err := p.exportAs(args[0], e)
			if err != nil {
				return err
			}
			if len(args) == 1 || args[1] == "-" {
				return write(p.Stdout)
			}
			return p.toFile(args[1], e.force, write)
		},
	}
	f := cmd.Flags()
	forceFlag(cmd, &e.force)
	f.BoolVar(&e.salvage, "salvage", false, "jsonl of a damaged book: what can still be read")
	f.BoolVar(&e.round, "round", false, "csv of the round instead of the log")
	f.BoolVar(&e.bom, "bom", false, "csv that begins with a byte order mark, by which a spreadsheet knows µ and °")
	f.BoolVar(&e.calendar.todo, "todo", false, "ics with to-dos instead of events")
	f.StringVar(&e.calendar.alarm, "alarm", "", "ics with an alarm on the day, at `HH:MM`")
	return cmd
}

// forceFlag is the flag of commands that write what can be made again.
func forceFlag(cmd *cobra.Command, force *bool) {
	cmd.Flags().BoolVar(force, "force", false, "replace FILE where it is there")
}

// toFile writes a file, over another only if that is meant.
func (p *program) toFile(path string, force bool, write func(io.Writer) error) error {
	if force {
		return p.ReplaceFile(path, write)
	}
	err := p.NewFile(path, write)
	if _, there := os.Stat(path); err != nil && there == nil {
		return fmt.Errorf("%w, or replace it with --force", err)
	}
	return err
}

// exportAs makes the writer of a format.
func (p *program) exportAs(format string, e exporting) (func(io.Writer) error, error) {
	if !slices.Contains(formats, format) {
		return nil, usagef("format %q is not known; give jsonl, csv or ics", format)
	}
	switch {
	case e.salvage && format != "jsonl":
		return nil, usagef("--salvage goes with jsonl, not with %s", format)
	case e.round && format != "csv":
		return nil, usagef("--round goes with csv, not with %s", format)
	case e.bom && format != "csv":
		return nil, usagef("--bom goes with csv, not with %s", format)
	case e.calendar.asked() && format != "ics":
		return nil, usagef("--todo and --alarm go with ics, not with %s", format)
	}
	switch {
	case format == "ics":
		return p.exportCalendar(e.calendar)
	case e.round:
		_, r, err := p.ahead()
		if err != nil {
			return nil, err
		}
		return p.tableWriter(columns.Round(r), e.bom), nil
	case p.on != "":
		if _, err := p.date(); err != nil {
			return nil, err
		}
	}
	read := p.load
	if e.salvage {
		read = p.salvage
	}
	b, err := read()
	if err != nil {
		return nil, err
	}
	if format == "csv" {
		rows, err := columns.Log(b)
		return p.tableWriter(rows, e.bom), err
	}
	return func(w io.Writer) error { return p.Export(w, b) }, nil
}

// tableWriter is the writer of rows as CSV, perhaps behind a byte order mark.
func (p *program) tableWriter(rows [][]string, bom bool) func(io.Writer) error {
	return func(w io.Writer) error {
		if bom {
			if _, err := io.WriteString(w, "\ufeff"); err != nil {
				return err
			}
		}
		return p.WriteTable(w, rows)
	}
}

func (p *program) importCommand() *cobra.Command {
	var t tableImport
	cmd := &cobra.Command{
		Use:   "import FILE",
		Short: "Make a new book of a JSON Lines export, or add a CSV table to the book",
		Long: `A JSON Lines export makes a new book; - reads it from standard input.

A table (a FILE ending in .csv, or any with --csv) is added to the book: lines of date,
name as it is on screen, and value or as-found word; or a column of dates and one for
each gauge, counter or chore. What the book has already is left out, so a table may be
imported again. Look first with --dry-run; what is far from usual takes --yes.`,
		Example: "  wrasse import archive.jsonl --book again.db\n  wrasse import readings.csv --dry-run",
		Args:    wordCount(1, 1, "a file"),
		RunE:    func(_ *cobra.Command, args []string) error { return p.importFrom(args[0], t) },
	}
	f := cmd.Flags()
	f.BoolVar(&t.csv, "csv", false, "read a table, whatever the file is called")
	f.BoolVar(&t.dry, "dry-run", false, "of a table: say what would be added, and add nothing")
	f.StringVar(&t.order, "order", "", "of the dates in a table, `ORDER`: ymd, dmy or mdy")
	f.StringVar(&t.decimal, "decimal", "", "of the figures in a table, `SIGN` before the decimals: comma or point")
	f.StringVar(&t.by, "by", "", "of a table: who did it, where it does not say")
	return cmd
}

type importOut struct {
	Book    string `json:"book" says:"the name of the new book"`
	Entries int    `json:"entries" says:"in its log"`
	Chores  int    `json:"chores" says:"it defines"`
}

func (p *program) importFrom(file string, t tableImport) error {
	from := p.Stdin
	if file != "-" {
		f, err := p.OpenFile(file)
		if err != nil {
			return fmt.Errorf("opening what to import: %w", err)
		}
		defer f.Close()
		from = f
	}
	if t.wants(file) {
		return p.importTable(file, from, t)
	}
	if t != (tableImport{}) {
		return usagef("--csv, --dry-run, --order, --decimal and --by go with a table, and %s is no .csv", file)
	}
	b, err := p.Import(p.path(), from)
	if err != nil {
		return fmt.Errorf("importing %s: %w", file, err)
	}
	return p.written(func() error { return p.imported(b) })
}

// imported says what a new book holds.
func (p *program) imported(b *ledger.Book) error {
	var out page
	out.line("%s: %d entries, %d chores, into %s", b.Def().Name, b.Last(), len(b.Chores()), p.path())
	return p.print(&out, importOut{b.Def().Name, int(b.Last()), len(b.Chores())})
}
