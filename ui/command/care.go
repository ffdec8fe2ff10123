package command

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"brine/wrasse/model/ledger"
)

// Keeper looks after the file of a book.
type Keeper interface {
	// Backup copies the book to a new file.
	Backup(to string) error
	// Copies calls each for every daily copy of the book, the newest first, with how
	// many entries it holds or what is wrong with it.
	Copies(each func(path string, entries int, err error))
	// Restore puts a copy in the book's place and says where the old file is kept.
	Restore(from string) (kept string, err error)
	// Verify finds everything that is wrong with the file.
	Verify() (findings []string, err error)
	// WayOut says how to get a damaged book back, in lines to type.
	WayOut() string
	// Accept makes a book whole again that lost its last act to a damaged header.
	Accept() (kept string, err error)
	// Rebuild makes the file anew of its log, when nothing else in it can be trusted.
	Rebuild() (kept string, err error)
	// Salvage is what can still be read of a damaged book, and what can't.
	Salvage() (book *ledger.Book, lost []string, err error)
}

// keeper looks after a file that is there.
func (p *program) keeper() (Keeper, error) {
	if _, err := os.Stat(p.path()); errors.Is(err, fs.ErrNotExist) {
		if _, err := p.load(); err != nil {
			return nil, err // one that was never begun, or one that has been lost
		}
	}
	return p.Keep(p.path()), nil
}

func (p *program) backupCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "backup FILE",
		Short:   "Copy the book to a new file, while others may use it",
		Example: "  wrasse backup reef-copy.db",
		Args:    wordCount(1, 1, "a file"),
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
		Use:     "restore [FILE]",
		Short:   "Put a backup in the book's place; without one, list the daily copies",
		Example: "  wrasse restore\n  wrasse restore reef-copy.db",
		Long: `Puts a backup in the book's place once it has been checked from end to end, and
prints where the file it replaces is kept. Without FILE it changes nothing and lists
the daily copies beside the book, the newest first, with how many entries each holds.`,
		Args: wordCount(0, 1, "at most one file"),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return p.copies()
			}
			kept, err := p.Keep(p.path()).Restore(args[0])
			if err != nil {
				return err
			}
			return p.did("restored; the old file is kept as", kept)
		},
	}
}

// dailyCopy is a daily copy of the book as JSON.
type dailyCopy struct {
	File    string  `json:"file" says:"where it is"`
	Entries *int    `json:"entries" says:"it holds; null where it is no good"`
	Problem *string `json:"problem" says:"what is wrong with it"`
}

type copiesOut struct {
	Book   string      `json:"book" says:"where the book is"`
	Copies []dailyCopy `json:"copies" says:"the newest first"`
}

// copies lists the daily copies.
func (p *program) copies() error {
	all := []dailyCopy{}
	rows := [][]string{}
	p.Keep(p.path()).Copies(func(path string, entries int, err error) {
		if err != nil {
			all = append(all, dailyCopy{File: path, Problem: new(err.Error())})
			rows = append(rows, []string{path, err.Error()})
			return
		}
		all = append(all, dailyCopy{File: path, Entries: &entries})
		rows = append(rows, []string{path, fmt.Sprintf("%d entries", entries)})
	})
	var out page
	if len(all) == 0 {
		out.line("%s has no daily copies yet; the first entry of a day makes one", p.path())
	} else {
		out.line("Daily copies of %s, the newest first; bring one back with: wrasse restore FILE", p.path())
		out.table(rows)
	}
	return p.print(&out, copiesOut{p.path(), all})
}

func (p *program) verifyCommand() *cobra.Command {
	var accept, rebuild bool
	cmd := &cobra.Command{
		Use:     "verify",
		Short:   "Check everything there is to the book's file",
		Example: "  wrasse verify",
		Long: `Checks the file from end to end and prints a line for each finding; exit code 1 when
there is one. It changes nothing, unless told to: with --accept a book of which one
header is damaged goes on from the other, which may cost the last act; with --rebuild
all that was worked out of the log is made anew of it, and the log stays as it is.
Either prints where the file as it was is kept.`,
		Args: wordCount(0, 0, "no words, only flags"),
		RunE: func(*cobra.Command, []string) error {
			k, err := p.keeper()
			if err != nil {
				return err
			}
			mend := k.Accept
			switch {
			case accept && rebuild:
				return usagef("--accept and --rebuild don't go together; give one")
			case rebuild:
				mend = k.Rebuild
			case !accept:
				return p.verify(k)
			}
			kept, err := mend()
			if err != nil {
				return err
			}
			return p.did("whole again; the file as it was is kept as", kept)
		},
	}
	cmd.Flags().BoolVar(&accept, "accept", false, "go on from the header that is whole")
	cmd.Flags().BoolVar(&rebuild, "rebuild", false, "make anew what was worked out of the log")
	return cmd
}

type verifyOut struct {
	Book     string   `json:"book" says:"where the book is"`
	Findings []string `json:"findings" says:"none: it is sound"`
}

func (p *program) verify(k Keeper) error {
	findings, err := k.Verify()
	if err != nil {
		return err
	}
	var out page
	out.each(findings)
	if len(findings) == 0 {
		out.line("%s is sound", p.path())
	}
	err = p.print(&out, verifyOut{p.path(), findings})
	if err == nil && len(findings) > 0 {
		err = fmt.Errorf("%s is damaged; %s", p.path(), k.WayOut())
	}
	return err
}

type didOut struct {
	Book string `json:"book" says:"where the book is"`
	File string `json:"file" says:"the copy, or where the old file is kept; empty: there was none"`
}

// did says what was done to a file, "" when there was none.
func (p *program) did(what, file string) error {
	return p.written(func() error {
		var out page
		if file == "" {
			out.line("%s: restored", p.path())
		} else {
			out.line("%s: %s %s", p.path(), what, file)
		}
		return p.print(&out, didOut{p.path(), file})
	})
}

// salvage exports what can still be read, with a remark for what can't.
func (p *program) salvage() (*ledger.Book, error) {
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
