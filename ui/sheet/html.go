package sheet

import (
	"fmt"
	"html"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui/phrase"
)

// The lines there are for what is written down at the station.
const (
	readingLines = 4
	litreLines   = 10
)

// HTML is the sheet as one page of HTML that needs nothing else.
func (s Sheet) HTML() string {
	p := pageHTML{}
	p.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	p.put("<meta name=\"viewport\" content=\"width=device-width\">\n")
	title := s.Book + ": wall sheet, " + s.span()
	p.element("title", "", title)
	p.put("<style>\n" + running(title) + style + fmt.Sprintf(weekStyle, boxesWidth/float64(len(s.Weeks))) + "</style>\n</head>\n<body>\n<section class=\"wall\">\n")
	p.element("h1", "", s.Book)
	p.put("<p class=\"span\">" + esc(s.span()) + "</p>\n")
	p.element("p", "basis", s.basis())
	for _, b := range s.Broken {
		p.element("p", "broken", "Broken now: "+b)
	}
	s.htmlRows(&p)
	p.element("p", "legend", howTo+" "+strings.Join(legend(), "; ")+".")
	if len(s.Orders) > 0 {
		p.element("p", "orders", "To order: "+strings.Join(s.Orders, "; ")+".")
	}
	p.put("<div class=\"written\">\n")
	s.htmlReadings(&p)
	s.htmlLitres(&p)
	p.put("</div>\n")
	p.list("cautions", s.Cautions)
	p.put("</section>\n")
	if len(s.Jobs) > 0 {
		p.put("<section class=\"jobs\">\n")
		for _, j := range s.Jobs {
			s.htmlJob(&p, j)
		}
		p.put("</section>\n")
	}
	p.put("</body>\n</html>\n")
	return p.b.String()
}

func (s Sheet) htmlRows(p *pageHTML) {
	p.put("<table class=\"due\">\n<thead><tr><th class=\"number\"></th><th class=\"when\">due</th><th>chore</th><th class=\"where\">where</th><th class=\"min\">min</th>")
	for _, w := range s.Weeks {
		p.element("th", "week", phrase.Day(w, s.On))
	}
	p.put("</tr></thead>\n<tbody>\n")
	for i, r := range s.Rows {
		class := ""
		if r.Late {
			class = " class=\"late\""
		}
		p.put("<tr" + class + ">")
		p.element("td", "number", fmt.Sprint(i+1))
		p.element("td", "when", r.When)
		p.element("td", "what", r.What)
		p.element("td", "where", r.Where)
		p.element("td", "min", r.Minutes)
		for _, week := range r.Visits {
			p.put("<td class=\"boxes\">" + r.boxesHTML(week, len(s.Weeks)) + "</td>")
		}
		p.put("</tr>\n")
	}
	if len(s.Rows) == 0 {
		p.put(fmt.Sprintf("<tr><td colspan=\"%d\">Nothing is due in these weeks.</td></tr>\n", 5+len(s.Weeks)))
	}
	p.put("</tbody>\n</table>\n")
}

// running are the rules that put a number on every page and a title at the head of each after
// the first, which has it in large.
func running(title string) string {
	title = strings.NewReplacer("\\", "\\\\", "\"", "\\\"", "<", "\\3c ").Replace(title)
	return "@page { @top-left { font: 8pt sans-serif; white-space: nowrap; content: \"" + title + "\"; } }\n@page :first { @top-left { content: \"\"; } }\n" +
		"@page { @bottom-right { font: 8pt sans-serif; content: counter(page) \" of \" counter(pages); } }\n"
}

// narrowest is how narrow a box may be, in mm, for its letters to have room. Where
// those of a week would be narrower, one box says how many there are.
const narrowest = 10

// boxesHTML is where ticks are written: the days of a week it is due, with room and
// the letters to ring.
func (r Row) boxesHTML(week []model.Date, weeks int) string {
	if len(week) == 0 {
		return ""
	}
	if len(week) > 1 && boxesWidth/float64(weeks*len(week)) < narrowest {
		return "<div>" + box(fmt.Sprintf("%d times", len(week)), r.Letters) + "</div>"
	}
	out := ""
	for _, day := range week {
		out += box(day.Format("2."), r.Letters)
	}
	return fmt.Sprintf("<div class=\"of%d\">%s</div>", len(week), out)
}

func box(day, letters string) string {
	return "<span class=\"box\"><i>" + esc(day) + "</i><b>" + esc(letters) + "</b></span>"
}

func (s Sheet) htmlReadings(p *pageHTML) {
	if len(s.Readings) == 0 {
		return
	}
	p.put("<table class=\"readings\">\n<thead><tr><th>day</th>")
	for _, r := range s.Readings {
		p.element("th", "", r)
	}
	p.put("</tr></thead>\n<tbody>\n")
	for range readingLines {
		p.put("<tr>" + strings.Repeat("<td></td>", 1+len(s.Readings)) + "</tr>\n")
	}
	p.put("</tbody>\n</table>\n")
}

func (s Sheet) htmlLitres(p *pageHTML) {
	if s.Litres == "" {
		return
	}
	p.put("<table class=\"litres\">\n<thead><tr>")
	for range 2 {
		p.element("th", "", "day")
		p.element("th", "", s.Litres)
	}
	p.put("</tr></thead>\n<tbody>\n")
	for range litreLines / 2 {
		p.put("<tr>" + strings.Repeat("<td></td>", 4) + "</tr>\n")
	}
	p.put("</tbody>\n</table>\n")
}

// numbered is the number of a job's row.
func (s Sheet) numbered(j Job) string {
	return fmt.Sprintf("no. %d", 1+slices.IndexFunc(s.Rows, func(r Row) bool { return r.ID == j.ID }))
}

func (s Sheet) htmlJob(p *pageHTML, j Job) {
	p.put("<article>\n<h2>" + esc(j.Title) + " <small>" + esc(s.numbered(j)) + ", " + esc(j.Takes) + "</small></h2>\n")
	if j.Needs != "" {
		p.element("p", "needs", j.Needs)
	}
	p.list("cautions", j.Cautions)
	p.put("<ol>\n")
	for _, st := range j.Steps {
		p.element("li", "", st.say())
	}
	p.put("</ol>\n</article>\n")
}

type pageHTML struct{ b strings.Builder }

func (p *pageHTML) put(markup string) { p.b.WriteString(markup) }

// element writes an element of text.
func (p *pageHTML) element(name, class, content string) {
	open := name
	if class != "" {
		open += " class=\"" + class + "\""
	}
	p.put("<" + open + ">" + esc(content) + "</" + name + ">\n")
}

func (p *pageHTML) list(class string, items []string) {
	if len(items) == 0 {
		return
	}
	if class != "" {
		class = " class=\"" + class + "\""
	}
	p.put("<ul" + class + ">\n")
	for _, item := range items {
		p.element("li", "", item)
	}
	p.put("</ul>\n")
}

// esc is text for a page, where nothing in it is markup.
func esc(s string) string { return html.EscapeString(s) }
