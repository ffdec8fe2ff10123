package sheet

import (
	"fmt"

	"brine/wrasse/ui/phrase"
)

// HTML is the page as one file that needs nothing else.
func (s Sitter) HTML() string {
	p := pageHTML{}
	p.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n")
	p.element("title", "", s.title())
	p.put("<style>\n" + running(s.title()+", "+s.span()) + sitterStyle + "</style>\n</head>\n<body>\n")
	p.element("h1", "", s.title())
	p.element("p", "span", s.span())
	p.element("p", "intro", intro)
	first, before, after := s.parts()
	for _, part := range first {
		part.html(&p)
	}
	p.put("<div class=\"next\">\n")
	for _, part := range before {
		part.html(&p)
	}
	p.put("</div>\n")
	s.htmlDays(&p)
	if len(s.Tasks) > 0 {
		p.put("<section class=\"jobs\">\n")
		for i := range s.Tasks {
			s.htmlTask(&p, i)
		}
		p.put("</section>\n")
	}
	for _, part := range after {
		part.html(&p)
	}
	p.put("</body>\n</html>\n")
	return p.b.String()
}

func (t part) html(p *pageHTML) {
	class := ""
	if t.danger {
		class = " class=\"danger\""
	}
	p.put("<section" + class + ">\n")
	p.element("h2", "", t.title)
	if t.say != "" {
		p.element("p", "", t.say)
	}
	for _, c := range t.cases {
		p.put("<div class=\"case\">\n")
		p.element("h3", "", c.when)
		p.put("<ol>\n")
		for _, do := range c.do {
			p.element("li", "", do)
		}
		p.put("</ol>\n</div>\n")
	}
	p.list("", t.items)
	for _, b := range t.blanks {
		p.element("p", "blank", b)
	}
	p.put("</section>\n")
}

func (s Sitter) htmlDays(p *pageHTML) {
	p.put("<section class=\"days\">\n")
	p.element("h2", "", "Day by day")
	p.element("p", "", dayByDay)
	p.put("<table>\n<thead><tr><th class=\"day\">day</th><th class=\"looked\">looked</th><th>to do</th><th class=\"odd\">thermometer, anything odd</th></tr></thead>\n<tbody>\n")
	for _, d := range s.Days {
		p.put("<tr><td class=\"day\">" + esc(phrase.Weekday(d.On, s.From)) + "</td><td class=\"looked\"><i></i></td><td>")
		for _, i := range d.Tasks {
			p.put("<span><i></i> " + esc(s.number(i)) + "</span> ")
		}
		for _, w := range d.Water {
			p.put("<span><i></i> " + esc(w) + "</span> ")
		}
		p.put("</td><td></td></tr>\n")
	}
	p.put("</tbody>\n</table>\n</section>\n")
}

func (s Sitter) htmlTask(p *pageHTML, i int) {
	t := s.Tasks[i]
	p.put("<article>\n")
	p.element("h2", "", fmt.Sprint("Job ", s.number(i)))
	p.element("p", "facts", t.facts())
	p.element("p", "blank", looks)
	p.list("cautions", t.Cautions)
	p.put("<ol>\n")
	for _, st := range t.Steps {
		p.element("li", "", st.say())
	}
	p.put("</ol>\n")
	if last := t.writes(); last != "" {
		p.element("p", "", last)
	}
	p.put("</article>\n")
}

// sitterStyle is how the page looks: larger than the wall sheet, for somebody who reads it once and in a hurry.
const sitterStyle = `@page { margin: 12mm 14mm 11mm; }
* { box-sizing: border-box; }
body { font: 10pt/1.25 "Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif; color: #000; background: #fff; max-width: 182mm; margin: 0 auto; }
h1 { font-size: 19pt; margin: 0; line-height: 1.1; overflow-wrap: anywhere; }
.span { font-size: 12.5pt; font-weight: bold; margin: 1mm 0; }
.intro { margin: 0 0 2mm; }
section { margin: 0 0 2.5mm; }
section:not(.days, .jobs) { break-inside: avoid; }
h2 { font-size: 12.5pt; margin: 0 0 1mm; border-bottom: 0.35mm solid #000; break-after: avoid; overflow-wrap: anywhere; }
h3 { font-size: 10pt; margin: 1.2mm 0 0; break-after: avoid; }
p { margin: 0 0 1mm; }
ul, ol { margin: 0; padding-left: 6mm; }
li { overflow-wrap: anywhere; }
.danger { border: 0.7mm solid #000; padding: 1.5mm 3mm; }
.danger h2 { border: 0; }
.case, article, tr { break-inside: avoid; }
.blank { margin: 2.2mm 0 0; border-bottom: 0.2mm solid #000; }
article .blank { margin: 1mm 0 1.5mm; }
.next { break-before: page; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; }
th { text-align: left; font-size: 8.5pt; border-bottom: 0.35mm solid #000; padding: 0 1mm; }
td { border-bottom: 0.2mm solid #777; padding: 1.2mm 1mm; vertical-align: top; height: 9mm; overflow-wrap: anywhere; }
.day { width: 24mm; white-space: nowrap; }
.looked { width: 16mm; text-align: center; }
.odd { width: 52mm; }
i { display: inline-block; width: 3.6mm; height: 3.6mm; border: 0.35mm solid #000; vertical-align: -0.4mm; }
td span { display: inline-block; margin-right: 4mm; }
article { margin: 0 0 4mm; }
.facts { font-style: italic; }
.cautions { margin: 0 0 1mm; padding: 0; list-style: none; font-weight: bold; }
.cautions li { padding-left: 4mm; text-indent: -4mm; }
.cautions li::before { content: "!"; display: inline-block; width: 4mm; text-indent: 0; }
`
