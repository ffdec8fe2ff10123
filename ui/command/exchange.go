package command

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
)

func (p *program) exportCommand() *cobra.Command {
	var salvage bool
	cmd := &cobra.Command{
		Use:   "export FORMAT [FILE]",
		Short: "Write the whole book as JSON Lines: wrasse export jsonl reef.jsonl",
		Long:  "Writes the whole book to FILE, which must not exist yet, or to standard output. FORMAT is jsonl.",
		Args:  wordCount(1, 2, "a format and perhaps a file"),
		RunE: func(_ *cobra.Command, args []string) error {
			if args[0] != "jsonl" {
				return usagef("format %q is not known; give jsonl", args[0])
			}
			read := p.load
			if salvage {
				read = p.salvage
			}
			b, err := read()
			if err != nil {
				return err
			}
			if len(args) == 1 {
				return p.exported(b, "-")
			}
			return p.exported(b, args[1])
		},
	}
	cmd.Flags().BoolVar(&salvage, "salvage", false, "of a damaged book: what can still be read")
	return cmd
}

// exported writes a book to a new file, or to standard output.
func (p *program) exported(b *model.Book, file string) error {
	if file == "-" {
		return p.Export(p.Stdout, b)
	}
	return intoNew(file, func(w io.Writer) error { return p.Export(w, b) })
}

// intoNew writes a file that must not be there yet, and leaves none behind when that
// goes wrong.
func intoNew(path string, write func(io.Writer) error) (err error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if os.IsExist(err) {
		return fmt.Errorf("%s is there already; name a new file, or remove it first", path)
	}
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(path)
		}
	}()
	if err := write(f); err != nil {
		f.Close()
		return err
	}
	if err := f.Sync(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

func (p *program) importCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "import FILE",
		Short: "Make a new book of a JSON Lines export (- reads standard input)",
		Args:  wordCount(1, 1, "a file"),
		RunE:  func(_ *cobra.Command, args []string) error { return p.importFrom(args[0]) },
	}
}

func (p *program) importFrom(file string) error {
	from := p.Stdin
	if file != "-" {
		f, err := os.Open(file)
		if err != nil {
			return fmt.Errorf("opening what to import: %w", err)
		}
		defer f.Close()
		from = f
	}
	b, err := p.Import(p.path(), from)
	if err != nil {
		return fmt.Errorf("importing %s: %w", file, err)
	}
	if p.json {
		return p.printJSON(struct {
			Book    string `json:"book"`
			Entries int    `json:"entries"`
			Chores  int    `json:"chores"`
		}{b.Def().Name, int(b.Last()), len(b.Chores())})
	}
	var out page
	out.line("%s: %d entries, %d chores, into %s", b.Def().Name, b.Last(), len(b.Chores()), p.path())
	return out.print(p.Stdout)
}
