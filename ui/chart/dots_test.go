package chart

import (
	"strings"
	"testing"
)

// read is a sheet as its lines of dots, where # is one that is set.
func read(d dots) string {
	var out []string
	for y := range d.h * dotsHigh {
		line := ""
		for x := range d.w * dotsWide {
			mark := "."
			if d.cells[y/dotsHigh*d.w+x/dotsWide]&dotBits[y%dotsHigh][x%dotsWide] != 0 {
				mark = "#"
			}
			line += mark
		}
		out = append(out, line)
	}
	return strings.Join(out, " ")
}

// The names of these characters in the Unicode chart of the block U+2800 say which dots
// they have: BRAILLE PATTERN DOTS-1 and so on.
func TestDotsOfACell(t *testing.T) {
	for _, c := range []struct {
		at   dot
		want rune
	}{
		{dot{0, 0}, '\u2801'}, {dot{0, 1}, '\u2802'}, {dot{0, 2}, '\u2804'}, {dot{0, 3}, '\u2840'},
		{dot{1, 0}, '\u2808'}, {dot{1, 1}, '\u2810'}, {dot{1, 2}, '\u2820'}, {dot{1, 3}, '\u2880'},
	} {
		d := newDots(1, 1)
		d.set(c.at)
		if got := brailleBlank | d.cells[0]; got != c.want {
			t.Errorf("the dot at %v is %q, want %q", c.at, got, c.want)
		}
	}
}

func TestLines(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to dot
		want     string
	}{
		{"a dot", dot{1, 2}, dot{1, 2}, ".... .... .#.. ...."},
		{"level", dot{0, 1}, dot{3, 1}, ".... #### .... ...."},
		{"aslant", dot{0, 3}, dot{3, 0}, "...# ..#. .#.. #..."},
		{"flat, nearer to the left", dot{0, 0}, dot{2, 1}, "##.. ..#. .... ...."},
		{"the same back", dot{2, 1}, dot{0, 0}, "##.. ..#. .... ...."},
		{"steep, nearer to the top", dot{0, 2}, dot{1, 0}, ".#.. .#.. #... ...."},
		{"out of the sheet", dot{-4, 0}, dot{9, 0}, "#### .... .... ...."},
		{"beside the sheet", dot{-4, -1}, dot{9, -1}, ".... .... .... ...."},
	} {
		d := newDots(2, 1)
		d.line(c.from, c.to)
		if got := read(d); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
