package ui

import (
	"strings"
	"testing"

	"brine/wrasse/ui/keys"
	"brine/wrasse/ui/text"
)

func TestLay(t *testing.T) {
	for _, c := range []struct {
		w, h int
		want Layout
	}{
		{80, 24, Layout{W: 80, H: 24, Body: 20}},
		{60, 16, Layout{W: 60, H: 16, Body: 12}},
		{60, 15, Layout{W: 60, H: 15, Compact: true, Body: 12}},
		{40, 12, Layout{W: 40, H: 12, Compact: true, Body: 9}},
		{39, 24, Layout{W: 39, H: 24, TooSmall: true}},
		{80, 11, Layout{W: 80, H: 11, TooSmall: true}},
		{-1, -1, Layout{TooSmall: true}},
	} {
		if got := Lay(c.w, c.h); got != c.want {
			t.Errorf("Lay(%d, %d) = %+v, want %+v", c.w, c.h, got, c.want)
		}
	}
}

func TestLayPanes(t *testing.T) {
	for _, c := range []struct {
		name string
		w, h int
		want Panes
	}{
		{"brief", 60, 12, Panes{ListW: 60, ListH: 9, DetailW: 60, DetailH: 2}},
		{"brief, low", 40, 9, Panes{ListW: 40, ListH: 8, DetailW: 40, DetailH: 1}},
		{"wide", 120, 36, Panes{ListW: 69, ListH: 36, DetailW: 48, DetailH: 36, Beside: true}},
		{"very wide", 200, 46, Panes{ListW: 133, ListH: 46, DetailW: 64, DetailH: 46, Beside: true}},
		{"tall", 80, 20, Panes{ListW: 80, ListH: 13, DetailW: 80, DetailH: 6}},
		{"very tall", 80, 60, Panes{ListW: 80, ListH: 49, DetailW: 80, DetailH: 10}},
		{"small", 60, 12, Panes{ListW: 60, ListH: 12}},
		{"nothing", -3, -3, Panes{}},
	} {
		if got := layPanes(c.w, c.h, 0, strings.HasPrefix(c.name, "brief")); got != c.want {
			t.Errorf("%s: layPanes(%d, %d) = %+v, want %+v", c.name, c.w, c.h, got, c.want)
		}
	}
}

func TestPanesFillTheirBody(t *testing.T) {
	fill := func(w, h int) string { return text.Block([]string{"x"}, w, h) }
	for w := 1; w <= 220; w += 3 {
		for h := 1; h <= 60; h++ {
			exact(t, layPanes(w, h, w%90, w%2 == 0).Draw(testTheme(), fill, fill), w, h)
		}
	}
}

func TestWindowKeepsTheCursorInSight(t *testing.T) {
	for n := range 30 {
		for h := 1; h < 12; h++ {
			for at := range n {
				from := Window(at, n, h)
				if from < 0 || at < from || at >= from+h || (n >= h && from+h > n) {
					t.Fatalf("Window(%d, %d, %d) = %d", at, n, h, from)
				}
			}
		}
	}
}

func TestStepAndScroll(t *testing.T) {
	for _, c := range []struct {
		action     keys.Action
		at, n, h   int
		step, from int
	}{
		{keys.Down, 0, 20, 5, 1, 1},
		{keys.Up, 0, 20, 5, 0, 0},
		{keys.Down, 19, 20, 5, 19, 15},
		{keys.PageDown, 3, 20, 5, 7, 7},
		{keys.PageUp, 3, 20, 5, 0, 0},
		{keys.Last, 3, 20, 5, 19, 15},
		{keys.First, 9, 20, 5, 0, 0},
		{keys.Tick, 3, 20, 5, 3, 3},
		{keys.Down, 7, 0, 5, 0, 0},
		{keys.Tick, 7, 3, 5, 2, 0},
	} {
		if got := Step(c.action, c.at, c.n, c.h); got != c.step {
			t.Errorf("Step(%d, %d, %d, %d) = %d, want %d", c.action, c.at, c.n, c.h, got, c.step)
		}
		if got := Scroll(c.action, c.at, c.n, c.h); got != c.from {
			t.Errorf("Scroll(%d, %d, %d, %d) = %d, want %d", c.action, c.at, c.n, c.h, got, c.from)
		}
	}
}
