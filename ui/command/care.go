package command

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
)

// Keeper looks after the file of a book.
type Keeper interface {
	// Backup copies the book to a new file.
	Backup(to string) error
	// Restore puts a copy in the book's place and says where the old file is kept.
	Restore(from string) (kept string, err error)
	// Verify finds everything that is wrong with the file.
	Verify() (findings []string, err error)
	// Accept makes a book whole again that lost its last act to a damaged header.
	Accept() (kept string, err error)
	// Salvage is what can still be read of a damaged book, and what can't.
	Salvage() (book *model.Book, lost []string, err error)
}

// keeper looks after a file that is there.
func (p *program) keeper() (Keeper, error) {
	if _, err := os.Stat(p.path()); errors.Is(err, fs.ErrNotExist) {
		return nil, p.noBook()
	}
	return p.Keep(p.path()), nil
}

func (p *program) backupCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "backup FILE",
		Short: "Copy the book to a new file, while others may use it",
		Args:  wordCount(1, 1, "a file"),
		RunE: func(_ *cobra.Command, args []string) error {
			k, err := p.keeper()
			if err != nil {
				return err
			}
			if err := k.Backup(args[0]); err != nil {
				return err
			}
			return p.did("copied to", args[0])
		},
	}
}

func (p *program) restoreCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "restore FILE",
		Short: "Put a backup in the book's place; the old file is kept",
		Long: `Puts a backup in the book's place once it has been checked from end to end, and
prints where the file it replaces is kept.`,
		Args: wordCount(1, 1, "a file"),
		RunE: func(_ *cobra.Command, args []string) error {
			kept, err := p.Keep(p.path()).Restore(args[0])
			if err != nil {
				return err
			}
			return p.did("restored; the old file is kept as", kept)
		},
	}
}

func (p *program) verifyCommand() *cobra.Command {
	var accept bool
	cmd := &cobra.Command{
		Use:   "verify",
		Short: "Check everything there is to the book's file",
		Long: `Checks the file from end to end and prints a line for each finding; exit code 1 when
there is one. It changes nothing, unless --accept is given: then a book of which one
header is damaged goes on from the other, which may cost the last act.`,
		Args: wordCount(0, 0, "no words, only flags"),
		RunE: func(*cobra.Command, []string) error {
			k, err := p.keeper()
			if err != nil {
				return err
			}
			if !accept {
				return p.verify(k)
			}
			kept, err := k.Accept()
			if err != nil {
				return err
			}
			return p.did("whole again; the damaged file is kept as", kept)
		},
	}
	cmd.Flags().BoolVar(&accept, "accept", false, "go on from the header that is whole")
	return cmd
}

func (p *program) verify(k Keeper) error {
	findings, err := k.Verify()
	if err != nil {
		return err
	}
	if p.json {
		err = p.printJSON(struct {
			Book     string   `json:"book"`
			Findings []string `json:"findings"`
		}{p.path(), findings})
	} else {
		var out page
		for _, f := range findings {
			out.line("%s", f)
		}
		if len(findings) == 0 {
			out.line("%s is sound", p.path())
		}
		err = out.print(p.Stdout)
	}
	if err == nil && len(findings) > 0 {
		err = fmt.Errorf("%s is damaged; bring a copy back with: wrasse restore FILE, or save what can be read with: wrasse export jsonl --salvage", p.path())
	}
	return err
}

// did says what was done to a file, "" when there was none.
func (p *program) did(what, file string) error {
	if p.json {
		return p.printJSON(struct {
			Book string `json:"book"`
			File string `json:"file"`
		}{p.path(), file})
	}
	var out page
	if file == "" {
		out.line("%s: restored", p.path())
	} else {
		out.line("%s: %s %s", p.path(), what, file)
	}
	return out.print(p.Stdout)
}

// salvage exports what can still be read, with a remark for what can't.
func (p *program) salvage() (*model.Book, error) {
	k, err := p.keeper()
	if err != nil {
		return nil, err
	}
	b, lost, err := k.Salvage()
	for _, l := range lost {
		p.remark("note: %s", l)
	}
	return b, err
}
