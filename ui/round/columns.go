package round

import (
	"strings"

	"brine/wrasse/schedule"
	"brine/wrasse/ui/lifebar"
	"brine/wrasse/ui/phrase"
)

// Widths from which columns are widened, in cells of the list.
const (
	wideBar   = 110 // a longer tide bar
	wordsFrom = 66  // the longer words for when
	waitFrom  = 46  // waiting minutes
)

// columns are the widths of a row's parts.
type columns struct {
	name, when, bar, reach, min int
	short                       bool // words for when
}

// wants are the cells that the texts of all rows take.
type wants struct{ name, when, short, min int }

const (
	marks    = 2  // cursor and mark
	gap      = 1  // between reach and minutes the flag stands in it
	gaps     = 4  // of them
	headed   = 7  // minutes, so that "reach" and "min" stand side by side
	usualBar = 13 // what a tide bar takes,
	leastBar = 11 // and where names would be cut
	smallBar = lifebar.MinWidth + 2
	mostBar  = 41 // a longer one says no more
)

// layColumns shares w cells out. The tide bar and what stands left and right of it
// have the same columns in every row; names get what is left.
func layColumns(w int, want wants) columns {
	c, least := columns{when: want.when, bar: usualBar, reach: 2, min: max(want.min+1, headed)}, leastBar
	switch {
	case w < waitFrom:
		c, least = columns{when: want.short, bar: smallBar, reach: 1, min: 3, short: true}, smallBar
	case w < wordsFrom:
		c.when, c.bar, c.min, c.short, least = want.short, leastBar, want.min+1, true, smallBar
	case w >= wideBar:
		c.bar, c.reach = 21, 3
	}
	c.name = max(w-c.besides(), 1)
	if narrower := min(want.name-c.name, c.bar-least); narrower > 0 { // names come before a finer bar
		c.name, c.bar = c.name+narrower, c.bar-narrower
	}
	if w >= wideBar { // what names do not need goes to the bar
		longer := min(max(c.name-want.name, 0), mostBar-c.bar)
		c.name, c.bar = c.name-longer, c.bar+longer
	}
	return c
}

// besides is the cells of a row that names do not have.
func (c columns) besides() int { return marks + c.when + c.bar + c.reach + c.min + gaps*gap }

// enough is the width of a list that cuts no name.
func enough(want wants) int {
	return max(layColumns(wordsFrom, wants{0, want.when, want.short, want.min}).besides()+want.name, wordsFrom)
}

// heads is the line of column heads. The two lines of the tide bar are named where
// they stand.
func (c columns) heads(w int) string {
	at := marks + c.name + gap
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

// whenWord is the word for when.
func (c columns) whenWord(s *schedule.Standing, r *schedule.Round) string {
	if c.short {
		return phrase.WhenShort(s, r.On)
	}
	return phrase.When(s, r.On)
}
