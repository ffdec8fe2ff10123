package round

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/lifebar"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

// Widths from which columns are added or widened, in cells of the list.
const (
	wideBar   = 110 // a longer tide bar
	placeFrom = 76  // where it stands
	pairFrom  = 66  // thing and verb in columns of their own
	wordsFrom = 56  // the longer words for when
	waitFrom  = 46  // waiting minutes
)

// widest is the widest of what stands in columns as wide as names are, in cells.
type widest struct{ thing, verb, place int }

func widestOf(b *model.Book, rows []row) widest {
	var out widest
	for _, r := range rows {
		if r.s != nil {
			out.thing = max(out.thing, text.Width(text.Clean(r.s.Component.Name)))
			out.verb = max(out.verb, text.Width(text.Clean(verb(b, r.s))))
			out.place = max(out.place, text.Width(text.Clean(r.s.Place.Name)))
		}
	}
	return out
}

// columns are the widths of a row's parts; zero leaves a part out.
type columns struct {
	thing, verb, when, bar, reach, min, where int
	short                                     bool // verb before thing in one column; short words
}

const (
	marks   = 2  // cursor and mark
	gap     = 1  // between reach and minutes the flag stands in it
	mostBar = 41 // a longer tide bar says no more
)

// layColumns shares w cells out. The tide bar and what stands left and right of it
// have the same columns in every row; names get what is left.
func layColumns(w int, names widest) columns {
	c := columns{when: 11, bar: 13, reach: 2, min: 7}
	gaps := 4
	switch {
	case w < waitFrom:
		c.when, c.bar, c.reach, c.min, c.short = 8, lifebar.MinWidth+2, 1, 3, true
	case w < wordsFrom:
		c.when, c.bar, c.short = 8, lifebar.MinWidth+2, true
	case w < pairFrom:
		c.bar, c.short = 11, true
	}
	if w >= wideBar {
		c.bar, c.reach = 21, 3
	}
	if w >= placeFrom {
		c.where = min(max(names.place, 6), max((w-62)/2, 9))
		gaps++
	}
	room := w - marks - c.when - c.bar - c.reach - c.min - c.where - gaps*gap
	if c.short {
		c.thing = max(room, 1)
		return c
	}
	room -= gap
	c.thing = min(max(names.thing, 8), room/2)
	c.verb = room - c.thing
	if w >= wideBar { // what names do not need goes to the bar
		spare := max(c.verb-max(names.verb, 8), 0)
		longer := min(spare, mostBar-c.bar)
		c.verb, c.bar = c.verb-longer, c.bar+longer
	}
	return c
}

// heads is the line of column heads. The two lines of the tide bar are named where
// they stand.
func (c columns) heads(w int) string {
	at := marks + c.thing + gap
	if !c.short {
		at += c.verb + gap
	}
	line := newRuler(w)
	line.put(at, "when")
	bar := at + c.when + gap
	before, between, _ := lifebar.Reaches(c.bar)
	line.put(bar+before-2, "due")         // ends on its line
	line.put(bar+before+1+between, "lim") // begins on its line
	if before > 7 {
		line.put(bar, "life")
	}
	reach := bar + c.bar + gap + c.reach
	minutes := reach + gap + c.min
	line.put(minutes-3, "min")
	line.put(reach-1, "reach")
	if c.where > 0 {
		line.put(minutes+gap, "where")
	}
	return line.String()
}

// ruler is a line that texts are put into at given columns; one that would touch an
// earlier one is left out.
type ruler struct{ cells []byte }

func newRuler(w int) *ruler { return &ruler{[]byte(strings.Repeat(" ", max(w, 0)))} }

func (r *ruler) put(at int, s string) {
	if at < 0 || at+len(s) > len(r.cells) {
		return
	}
	if strings.TrimSpace(string(r.cells[max(at-1, 0):min(at+len(s)+1, len(r.cells))])) != "" {
		return
	}
	copy(r.cells[at:], s)
}

func (r *ruler) String() string { return string(r.cells) }

// name is the part of a row that says what is to be done to what.
func (c columns) name(thing, verb string) string {
	thing, verb = text.Clean(thing), text.Clean(verb)
	if c.short {
		return text.Fit(verb+" "+thing, c.thing)
	}
	return text.Fit(thing, c.thing) + " " + text.Fit(verb, c.verb)
}

// whenWord is the word for when, as long as there is room for.
func (c columns) whenWord(s *schedule.Standing, r *schedule.Round) string {
	if c.when >= 11 {
		if w := phrase.When(s, r.On); text.Width(w) <= c.when {
			return w
		}
	}
	return phrase.WhenShort(s, r.On)
}
