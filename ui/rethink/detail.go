package rethink

import (
	"fmt"
	"strings"

	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
	"brine/wrasse/ui/table"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
)

// detail is everything there is to say about a component's placing, in lines of w
// cells.
func (v *View) detail(a *schedule.Awkward, w, h int) []string {
	if a == nil {
		return nil
	}
	th, today := v.session.Root.Theme(), v.session.Today()
	d := table.NewDetail(th, w)
	d.Title(a.Component.Name, a.Place.Name)
	if a.Rebuilt != nil {
		d.Add(v.compared(a, w)...)
	}
	d.Put(nil, costs(v.session.Book, a))
	d.Put(nil, record(a))
	for _, f := range a.Flags {
		d.Put(nil, request.SayFlag(f, today))
	}
	if a.Flag == nil {
		d.Put(th.Dim.Render, "not on the list; f puts it there")
	}
	cost := v.cost()
	total := hours(cost.spent) + " a year go into getting at things; moving them could save " + hours(cost.save)
	if cost.listed > 0 {
		total += ", " + hours(cost.listed) + " of it by those to be rethought"
	}
	if minutes, parts := v.saved(); parts > 0 {
		total += "; " + phrase.Count(parts, "rebuilt part") + " " + verb(parts, "saves", "save") + " " + hours(minutes)
	}
	d.Say("in all", total, th.Dim.Render)
	return d.Whole(h)
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// costs is the sum behind the minutes a year.
func costs(b *ledger.Book, a *schedule.Awkward) string {
	s := fmt.Sprintf("reach %s, %d min to get at it", phrase.Grade(a.Component), a.AccessMinutes)
	if a.Component.OpensWith != "" {
		with, _ := b.Component(a.Component.OpensWith)
		s += " (opens with " + with.Name + ")"
	}
	visits := phrase.Count(int(a.Visits+0.5), "visit")
	if a.Projected {
		s += ", about " + visits + " a year as its clocks have it: " + hours(a.MinutesAYear) + " a year"
	} else {
		s += ", " + visits + " in the last year: " + hours(a.MinutesAYear) + " a year"
	}
	if with, ok := b.Component(a.Component.OpensWith); ok {
		s += "; what a move would save stands with " + with.Name
	} else if a.Score >= 1 {
		s += "; within easy reach it would save " + hours(a.Score)
	}
	return s
}

// record is what the ticks say about the placing.
func record(a *schedule.Awkward) string {
	s := ""
	if a.SlipTicks > 0 {
		s = fmt.Sprintf("its jobs come late, by %s of the time between two (%s)", percent(a.Slip), phrase.Count(a.SlipTicks, "tick"))
	}
	if a.Ticks > 0 {
		if s != "" {
			s += "; "
		}
		s += fmt.Sprintf("%.0f of %s found heavy or failed", a.Spent*float64(a.Ticks), phrase.Count(a.Ticks, "tick"))
	}
	return s
}

// compared sets the figures before and after a rebuilding side by side, once there
// are ticks enough since.
func (v *View) compared(a *schedule.Awkward, w int) []string {
	th := v.session.Root.Theme()
	minutes, ok := saving(a)
	if !ok {
		s := fmt.Sprintf("rebuilt from reach %d, %d min; before and after are compared at %d ticks, there %s %d",
			a.Before.Component.Reach, a.Before.AccessMinutes, ticksToTell, verb(a.After.Ticks, "is", "are"), a.After.Ticks)
		return text.Wrap(s, w)
	}
	verdict := th.Good.Render("saves " + hours(minutes) + " a year")
	if minutes < 0 {
		verdict = th.Late.Render("costs " + hours(-minutes) + " a year more")
	}
	verdicts := []string{verdict}
	if a.Left != nil {
		verdicts = append(verdicts, text.Wrap(text.Clean(a.Left.Component.Name)+" still costs "+hours(a.Left.MinutesAYear), w)...)
	}
	switch {
	case th.Plain:
		return append(inWords(a, w), verdicts...)
	case w < acrossFrom:
		return append(down(th, a), verdicts...)
	}
	return append(across(th, a), verdicts...)
}

// acrossFrom is the width from which before and after are two lines, not two columns.
const acrossFrom = 66

// heads are what is compared.
var heads = []string{"reach", "access", "visits a year", "time a year", "late", "heavy or failed"}

func figures(p *schedule.Placing) []string {
	return []string{fmt.Sprint(p.Component.Reach), fmt.Sprintf("%d min", p.AccessMinutes), fmt.Sprintf("%.0f", p.Visits),
		hours(p.MinutesAYear), percent(p.Slip), percent(p.Spent)}
}

// inWords has a sentence for before and one for after.
func inWords(a *schedule.Awkward, w int) []string {
	var out []string
	for _, when := range []struct {
		word string
		p    *schedule.Placing
	}{{"before", a.Before}, {"after", a.After}} {
		var parts []string
		for i, figure := range figures(when.p) {
			parts = append(parts, heads[i]+" "+figure)
		}
		out = append(out, text.Wrap(text.Spoken(when.word+": "+strings.Join(parts, ", ")), w)...)
	}
	return out
}

// down has a line for each figure, for panes that are narrow and tall.
func down(th theme.Theme, a *schedule.Awkward) []string {
	figure := text.Column{Width: 8, Right: true}
	cols := []text.Column{{Width: 16}, figure, figure}
	out := []string{th.Dim.Render(text.Row(gap, cols, "", "before", "after"))}
	before, after := figures(a.Before), figures(a.After)
	for i, head := range heads {
		out = append(out, text.Row(gap, cols, head, before[i], after[i]))
	}
	return out
}

// across has a line for before and one for after, for panes that are wide and low.
func across(th theme.Theme, a *schedule.Awkward) []string {
	cols := []text.Column{{Width: 7}}
	for _, head := range heads {
		cols = append(cols, text.Column{Width: max(len(head), 7), Right: true})
	}
	row := func(label string, cells []string) string {
		return text.Row(gap, cols, append([]string{label}, cells...)...)
	}
	return []string{th.Dim.Render(row("", heads)), row("before", figures(a.Before)), row("after", figures(a.After))}
}
