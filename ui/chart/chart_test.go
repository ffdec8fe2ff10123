package chart

import (
	"fmt"
	"math"
	"math/bits"
	"strings"
	"testing"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

func mono() theme.Theme {
	return theme.Named("", "unicode", func(k string) string { return map[string]string{"TERM": "dumb"}[k] })
}

func number(v float64) string { return fmt.Sprintf("%g", v) }

// drawn is a chart as plain lines without the blanks at their ends.
func drawn(c Chart, w, h int) []string {
	if c.Number == nil {
		c.Number = number
	}
	lines := c.Draw(mono(), w, h)
	for i := range lines {
		lines[i] = strings.TrimRight(ansi.Strip(lines[i]), " ")
	}
	return lines
}

// A straight line from the lower left to the upper right, on an axis with round numbers.
func TestLine(t *testing.T) {
	c := Chart{
		Title: "Rejection, %", Aside: "90 d", From: 0, To: 30,
		Series: []Series{{Name: "now 98", Points: []Point{{X: 0, Y: 90}, {X: 30, Y: 98}}}},
		Ticks:  []Tick{{0, "1 Nov"}, {15, "15 Nov"}},
	}
	got := strings.Join(drawn(c, 40, 8), "\n")
	want := strings.Join([]string{
		"Rejection, %                        90 d",
		"100",
		"                          ⣀⣀⠤⠤⠒⠒⠉ now 98",
		" 95               ⢀⣀⡠⠤⠔⠒⠉⠉",
		"           ⣀⣀⠤⠔⠒⠊⠉⠁",
		" 90 ⣀⠤⠤⠒⠒⠉⠉",
		"    ─────────────────────────────",
		"    1 Nov         15 Nov",
	}, "\n")
	if got != want {
		t.Errorf("drawn\n%s\nwant\n%s", got, want)
	}
}

// On the logarithmic axis each power of ten takes as much room, and nothing stands at
// the bottom under 1.
func TestLogAxis(t *testing.T) {
	s := (&Chart{Log: true, Floor: 1, Number: number, To: 1, Series: []Series{{Points: []Point{{Y: 250}}}}}).scale(9)
	if a, b := s.height(10)-s.height(1), s.height(100)-s.height(10); math.Abs(a-b) > 1e-9 || a <= 0 {
		t.Errorf("1 to 10 takes %v, 10 to 100 %v", a, b)
	}
	if s.height(0) != 0 || s.height(1) <= 0.05 || s.height(300) != 1 {
		t.Errorf("0, 1 and 300 stand at %v, %v, %v", s.height(0), s.height(1), s.height(300))
	}
	for rows, want := range map[int]string{4: "0 10 100 ", 9: "0 10 100 ", 20: "0 1 3 10 30 100 300 "} {
		names := ""
		for _, m := range (&Chart{Log: true, Floor: 1, Number: number, To: 1, Series: []Series{{Points: []Point{{Y: 250}}}}}).scale(rows).marks {
			names += m.name + " "
		}
		if names != want {
			t.Errorf("in %d lines the axis reads %s, want %s", rows, names, want)
		}
	}
}

// Limits, marks and rings are there without colour: dots and a name, a letter, an o.
func TestSignsWithoutColour(t *testing.T) {
	c := Chart{
		From: 0, To: 100, Number: number,
		Series: []Series{{Name: "resin 3", Points: []Point{{X: 0, Y: 0}, {X: 50, Y: 6, Ring: true}, {X: 100, Y: 3}}}},
		Limits: []Limit{{Y: 1, Name: "change at 1"}},
		Marks:  []Mark{{X: 25, Letter: 'R'}, {X: 25, Letter: 'M'}},
	}
	got := strings.Join(drawn(c, 60, 10), "\n")
	for _, want := range []string{"resin 3", "change at 1", "RM", "o"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing:\n%s", want, got)
		}
	}
	if strings.Count(got, "o") != 1 {
		t.Errorf("want one ring:\n%s", got)
	}
}

func TestNothingRead(t *testing.T) {
	got := strings.Join(drawn(Chart{Title: "TDS", To: 10, Empty: "nothing read in this span"}, 50, 9), "\n")
	if !strings.Contains(got, "nothing read in this span") {
		t.Errorf("an empty chart says nothing:\n%s", got)
	}
}

// Bars stand on the bottom, each as high as its value.
func TestBars(t *testing.T) {
	c := Chart{From: 0, To: 14, Number: number, Series: []Series{{Bars: true, BarDays: 7, Points: []Point{{X: 0, Y: 100}, {X: 7, Y: 50}}}}}
	lines := drawn(c, 30, 13)
	full := func(x int) int {
		n := 0
		for _, line := range lines[1 : len(lines)-2] {
			if r := []rune(line); x < len(r) && r[x] >= 0x2800 && r[x] <= 0x28ff && r[x] != 0x2800 {
				n++
			}
		}
		return n
	}
	if high, low := full(6), full(22); high != 10 || low != 5 && low != 6 {
		t.Errorf("the bars are %d and %d lines high, want 10 and 5:\n%s", high, low, strings.Join(lines, "\n"))
	}
}

// Whatever is drawn, in whatever room: exact lines, and no number that is none.
func TestAnyChart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.SampledFrom([]float64{0, 1e-9, 0.3, 1, 5, 98.7, 250, 1e6, -3, math.NaN(), math.Inf(1)})
		c := Chart{
			Title: "TDS", Aside: "90 d", From: 10, To: rapid.Float64Range(10, 800).Draw(t, "to"),
			Log: rapid.Bool().Draw(t, "log"), Floor: 1, Number: number, Empty: "nothing",
		}
		for range rapid.IntRange(0, 3).Draw(t, "series") {
			s := Series{Name: "name", Bars: rapid.Bool().Draw(t, "bars"), BarDays: 7}
			x := 0.0
			for range rapid.IntRange(0, 12).Draw(t, "points") {
				x += rapid.Float64Range(0, 90).Draw(t, "gap")
				s.Points = append(s.Points, Point{X: x, Y: value.Draw(t, "y"), Ring: rapid.Bool().Draw(t, "ring")})
			}
			c.Series = append(c.Series, s)
		}
		if rapid.Bool().Draw(t, "limit") {
			c.Limits = []Limit{{Y: 1, Name: "change at 1"}}
			c.Marks = []Mark{{X: rapid.Float64Range(0, 900).Draw(t, "mark"), Letter: 'R'}}
			c.Ticks = []Tick{{X: 20, Name: "1 Nov"}, {X: 30, Name: "1 Dec"}}
		}
		w, h := rapid.IntRange(0, 130).Draw(t, "w"), rapid.IntRange(0, 30).Draw(t, "h")
		lines := c.Draw(mono(), w, h)
		if len(lines) != h {
			t.Fatalf("%d lines, want %d", len(lines), h)
		}
		for _, line := range lines {
			if text.Width(line) != w {
				t.Fatalf("%d cells, want %d: %q", text.Width(line), w, line)
			}
			if strings.Contains(line, "NaN") || strings.Contains(line, "Inf") {
				t.Fatalf("no number: %q", line)
			}
		}
	})
}

// A line is not joined across a day on which another part began.
func TestBreaks(t *testing.T) {
	dots := func(breaks ...float64) int {
		c := Chart{From: 0, To: 100, Number: func(float64) string { return "" },
			Series: []Series{{Points: []Point{{X: 0, Y: 1}, {X: 100, Y: 2}}, Breaks: breaks}}}
		n := 0
		for _, r := range ansi.Strip(strings.Join(c.Draw(theme.Theme{}, 60, 12), "")) {
			if r > 0x2800 && r < 0x2900 {
				n += bits.OnesCount8(uint8(r - 0x2800))
			}
		}
		return n
	}
	if joined, broken := dots(), dots(50); joined < 50 || broken != 2 {
		t.Errorf("%d dots of a line, %d of one that is broken", joined, broken)
	}
}
