package command

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/sheet"
)

func (p *program) sheetCommand() *cobra.Command {
	weeks, html, force, sitter := sheet.DefaultWeeks, false, false, ""
	cmd := &cobra.Command{
		Use:   "sheet [FILE]",
		Short: "Make a wall sheet for the station: wrasse sheet --html wall.html",
		Long: `Makes a sheet to print and hang at the station: what is due in the coming weeks with
boxes to tick off, room for readings and litres, cautions, and the steps of the rarer
wet jobs. As text, or with --html (or a FILE ending in .html) as a page that any
browser prints on A4 or Letter. Without FILE it goes to standard output.

With --sitter it is a page for somebody who looks after the tank until that day, your
first day back, and has never kept one: what to do on which day, what to leave alone,
what to do when something goes wrong.`,
		Example: "  wrasse sheet wall.html --weeks 4\n  wrasse sheet --sitter 2w | less",
		Args:    wordCount(0, 1, "at most a file"),
		RunE: func(_ *cobra.Command, args []string) error {
			file := "-"
			if len(args) == 1 {
				file = args[0]
			}
			return p.sheet(weeks, sitter, html || strings.EqualFold(filepath.Ext(file), ".html"), force, file)
		},
	}
	cmd.Flags().Var(whole{&weeks, sheet.MinWeeks, sheet.MaxWeeks}, "weeks", fmt.Sprintf("how many weeks from today on, %d to %d", sheet.MinWeeks, sheet.MaxWeeks))
	cmd.Flags().StringVar(&sitter, "sitter", "", "a page for a sitter, until the first day you are back")
	forceFlag(cmd, &force)
	cmd.Flags().BoolVar(&html, "html", false, "a page for a browser")
	return cmd
}

func (p *program) sheet(weeks int, sitter string, html, force bool, file string) error {
	when, err := p.date()
	if err != nil {
		return err
	}
	var until model.Date
	if sitter != "" {
		if until, err = parse.Until(sitter, when.On); err != nil {
			return usageError{err}
		}
	}
	b, err := p.load()
	if err != nil {
		return err
	}
	r := schedule.Make(b, when.On)
	var s interface {
		Text() string
		HTML() string
	}
	if until.IsZero() {
		s = sheet.Make(b, r, weeks)
	} else if s, err = sheet.ForSitter(b, r, absenceUntil(r, until)); err != nil {
		return usageError{err}
	}
	write := func(w io.Writer) error {
		text := s.Text
		if html {
			text = s.HTML
		}
		_, err := io.WriteString(w, text())
		return err
	}
	if file == "-" {
		return write(p.Stdout)
	}
	return p.toFile(file, force, write)
}

// absenceUntil is an absence up to a date: the one the book has, or from today on.
func absenceUntil(r *schedule.Round, until model.Date) schedule.Absence {
	if a := r.Absence; a != nil && a.Until == until {
		return *a
	}
	return schedule.Absence{From: r.On, Until: until}
}
