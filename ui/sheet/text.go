package sheet

import (
	"fmt"
	"strings"

	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// textWidth is how many cells a line of the sheet as text has at most.
const textWidth = 79

// Text is the sheet as plain text, for a printer without a browser.
func (s Sheet) Text() string {
	var p pageText
	p.wrap("", s.Book+": wall sheet, "+s.span())
	p.wrap("", s.basis())
	for _, b := range s.Broken {
		p.wrap("BROKEN NOW: ", b)
	}
	p.rule()
	s.textRows(&p)
	p.add("")
	p.wrap("", howTo)
	for _, l := range legend() {
		p.wrap("  ", l)
	}
	for i, o := range s.Orders {
		p.wrap([]string{"to order: ", "          "}[min(i, 1)], o)
	}
	s.textReadings(&p)
	if len(s.Cautions) > 0 {
		p.rule()
		for _, c := range s.Cautions {
			p.wrap("! ", c)
		}
	}
	for _, j := range s.Jobs {
		p.rule()
		j.text(&p)
	}
	return p.b.String()
}

// The columns of a row: when, what, minutes, and the boxes below one another.
var textColumns = []text.Column{{Width: 12}, {Width: 36}, {Width: 6, Right: true}, {Width: 22}}

func (s Sheet) textRows(p *pageText) {
	p.add(text.Row(1, textColumns, "due", "chore (id), where", "min", "day      found"))
	if len(s.Rows) == 0 {
		p.add("nothing is due in these weeks")
	}
	for _, r := range s.Rows {
		when, boxes := text.Wrap(r.When, textColumns[0].Width), r.boxes(s)
		what := text.Wrap(r.What, textColumns[1].Width)
		for _, line := range text.Wrap("("+r.ID+") "+r.Where, textColumns[1].Width-2) {
			what = append(what, "  "+line)
		}
		minutes := []string{r.Minutes}
		for i := range max(len(when), len(what), len(boxes)) {
			at := func(lines []string) string {
				if i < len(lines) {
					return lines[i]
				}
				return ""
			}
			p.add(text.Row(1, textColumns, at(when), at(what), at(minutes), at(boxes)))
		}
	}
}

// boxes are one for each day a chore is due, to write the day done into.
func (r Row) boxes(s Sheet) []string {
	var out []string
	for _, week := range r.Visits {
		for _, day := range week {
			out = append(out, strings.TrimRight(fmt.Sprintf("[%6s ___  %s", phrase.Day(day, s.On), r.Letters), " ")+" ]")
		}
	}
	return out
}

func (s Sheet) textReadings(p *pageText) {
	if len(s.Readings) > 0 {
		p.rule()
		p.wrap("", "day      "+strings.Join(s.Readings, "   "))
		for range readingLines {
			p.add("_______  " + strings.Repeat("____________   ", len(s.Readings)))
		}
	}
	if s.Litres != "" {
		p.rule()
		p.wrap("day and ", s.Litres+":")
		for range litreLines / 2 {
			p.add(text.Fit("_______  ____________", 36) + "   _______  ____________")
		}
	}
}

func (j Job) text(p *pageText) {
	p.wrap("", strings.ToUpper(j.Title)+" ("+j.ID+"), "+j.Takes)
	if j.Needs != "" {
		p.wrap("  ", j.Needs)
	}
	for _, c := range j.Cautions {
		p.wrap("  ! ", c)
	}
	for i, st := range j.Steps {
		p.wrap(fmt.Sprintf("%3d. ", i+1), st.say())
	}
}

// say is a step with its wait.
func (s Step) say() string {
	if s.Wait == 0 {
		return s.Text
	}
	return fmt.Sprintf("%s (%d min)", s.Text, s.Wait)
}

type pageText struct{ b strings.Builder }

func (p *pageText) add(line string) {
	p.b.WriteString(strings.TrimRight(line, " "))
	p.b.WriteByte('\n')
}

func (p *pageText) rule() { p.add(strings.Repeat("-", textWidth)) }

// wrap adds lines of a text with a head before the first.
func (p *pageText) wrap(head, s string) {
	for i, line := range text.Wrap(s, textWidth-text.Width(head)) {
		if i == 1 {
			head = strings.Repeat(" ", text.Width(head))
		}
		p.add(head + line)
	}
}
