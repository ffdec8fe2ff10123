package command

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/schedule"
	"brine/wrasse/ui/sheet"
)

func (p *program) sheetCommand() *cobra.Command {
	weeks, html := sheet.DefaultWeeks, false
	cmd := &cobra.Command{
		Use:   "sheet [FILE]",
		Short: "Make a wall sheet for the station: wrasse sheet --html wall.html",
		Long: `Makes a sheet to print and hang at the station: what is due in the coming weeks with
boxes to tick off, room for readings and litres, cautions, and the steps of the rarer
wet jobs. As text, or with --html (or a FILE ending in .html) as a page that any
browser prints on A4 or Letter. Without FILE it goes to standard output.`,
		Args: wordCount(0, 1, "at most a file"),
		RunE: func(_ *cobra.Command, args []string) error {
			if p.json {
				return usagef("--json goes with no sheet; see: wrasse round --json")
			}
			file := "-"
			if len(args) == 1 {
				file = args[0]
			}
			return p.sheet(weeks, html || strings.EqualFold(filepath.Ext(file), ".html"), file)
		},
	}
	cmd.Flags().Var(whole{&weeks, sheet.MinWeeks, sheet.MaxWeeks}, "weeks", fmt.Sprintf("how many weeks from today on, %d to %d", sheet.MinWeeks, sheet.MaxWeeks))
	cmd.Flags().BoolVar(&html, "html", false, "a page for a browser")
	return cmd
}

func (p *program) sheet(weeks int, html bool, file string) error {
	when, err := p.date()
	if err != nil {
		return err
	}
	b, err := p.load()
	if err != nil {
		return err
	}
	s := sheet.Make(b, schedule.Make(b, when.On), weeks)
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
	return p.NewFile(file, write)
}
