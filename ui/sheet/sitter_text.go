package sheet

import (
	"fmt"
	"strings"

	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// Text is the page as plain text.
func (s Sitter) Text() string {
	var p pageText
	p.wrap("", s.title())
	p.wrap("", s.span())
	p.add("")
	p.wrap("", intro)
	first, before, after := s.parts()
	for _, part := range append(first, before...) {
		part.text(&p)
	}
	s.textDays(&p)
	for i := range s.Tasks {
		s.textTask(&p, i)
	}
	for _, part := range after {
		part.text(&p)
	}
	return p.b.String()
}

func (t part) text(p *pageText) {
	p.rule()
	title := strings.ToUpper(t.title)
	if t.danger {
		title = "! " + title
	}
	p.wrap("", title)
	if t.say != "" {
		p.wrap("", t.say)
	}
	for _, c := range t.cases {
		p.add("")
		p.wrap("! ", c.when)
		for i, do := range c.do {
			p.wrap(fmt.Sprintf("  %d. ", i+1), do)
		}
	}
	for _, item := range t.items {
		p.wrap("- ", item)
	}
	for _, b := range t.blanks {
		p.blank(b)
	}
}

// blank is a line to write on, behind what it is for.
func (p *pageText) blank(what string) {
	p.add("")
	p.add(what + ": " + strings.Repeat("_", max(textWidth-text.Width(what)-2, 0)))
}

func (s Sitter) textDays(p *pageText) {
	p.rule()
	p.wrap("", "DAY BY DAY")
	p.wrap("", dayByDay)
	for _, d := range s.Days {
		p.add("")
		p.add(fmt.Sprintf("%-11s [ ] looked   thermometer, anything odd: %s", phrase.Weekday(d.On, s.From), strings.Repeat("_", 27)))
		for _, i := range d.Tasks {
			p.wrap("            [ ] ", s.number(i))
		}
		for _, w := range d.Water {
			p.wrap("            [ ] ", w)
		}
	}
}

// dayByDay heads the days.
const dayByDay = "The days that are ringed are yours; where none is, every day. Tick what is done, and write down what you read and what " +
	"looked odd. What to do, step by step, stands below under its number. What goes other than written there, or counts as failed: stop, write it down, call."

// looks is what a keeper writes behind a task: a part has a name only for those who know it.
const looks = "what it looks like, and which plug"

func (s Sitter) textTask(p *pageText, i int) {
	t := s.Tasks[i]
	p.rule()
	p.wrap("", strings.ToUpper(s.number(i)))
	p.wrap("   ", t.facts())
	p.blank("   " + looks)
	for _, c := range t.Cautions {
		p.wrap("   ! ", c)
	}
	for n, st := range t.Steps {
		p.wrap(fmt.Sprintf("  %2d. ", n+1), st.say())
	}
	if last := t.writes(); last != "" {
		p.wrap("      ", last)
	}
}

// facts are where a task is done, how long it takes, and what it needs.
func (t Task) facts() string {
	out := "Where: " + t.Where + ". Takes " + t.Takes + "."
	if len(t.Needs) > 0 {
		out += " You need " + strings.Join(t.Needs, ", ") + "."
	}
	return out
}

// writes is what is written down of a task; empty where that is nothing.
func (t Task) writes() string {
	if len(t.Figures) == 0 {
		return ""
	}
	return "Write down, on the line of the day: " + strings.Join(t.Figures, "; ") + "."
}
