package table

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/ui"
	"brine/wrasse/ui/text"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

// shown is lines as they are read: without colours and the spaces at their ends.
func shown(lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = strings.TrimRight(ansi.Strip(l), " ")
	}
	return out
}

func TestRowsUnderHeadings(t *testing.T) {
	r := Rows{N: 5, At: 3,
		Section: func(i int) string { return []string{"near", "near", "far\x1b[2J", "", "far"}[i] },
		Row:     func(i int) string { return string(rune('a' + i)) }}
	if got, want := strings.Join(shown(r.Lines(look(), 9, 20)), "|"), "near| a| b|far| c|>d|far| e"; got != want {
		t.Errorf("drawn %q, want %q", got, want)
	}
	r = Rows{N: 2, At: 1, Section: func(int) string { return "" }, Row: func(i int) string { return string(rune('a'+i)) + "\n-" }}
	if got, want := strings.Join(shown(r.Lines(look(), 9, 20)), "|"), " a| -|>b| -"; got != want {
		t.Errorf("rows of two lines are drawn %q, want %q", got, want)
	}
	if none := (Rows{}).Lines(look(), 9, 20); len(none) != 0 {
		t.Errorf("nothing is drawn as %q", none)
	}
}

// Drawing all rows and cutting out what is in sight comes to the same as Lines, which
// draws only the rows around the cursor; and a click finds the row under it.
func TestRowsInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, h := rapid.IntRange(1, 30).Draw(t, "rows"), rapid.IntRange(-1, 12).Draw(t, "lines")
		heads := rapid.SliceOfN(rapid.SampledFrom([]string{"", "near", "far"}), n, n).Draw(t, "sections")
		tall := rapid.SliceOfN(rapid.IntRange(1, 3), n, n).Draw(t, "heights")
		r := Rows{N: n, At: rapid.IntRange(0, n-1).Draw(t, "cursor"),
			Section: func(i int) string { return heads[i] },
			Row:     func(i int) string { return strings.Repeat(fmt.Sprintf("%d\n", i), tall[i]-1) + "end" }}

		var all []string
		var rows []int
		cursor, last := 0, ""
		for i := range n {
			if heads[i] != "" && heads[i] != last {
				all, rows = append(all, heads[i]), append(rows, -1)
			}
			last = heads[i]
			if i == r.At {
				cursor = len(all)
			}
			for part, l := range strings.Split(r.Row(i), "\n") {
				mark := " "
				if i == r.At && part == 0 {
					mark = ">"
				}
				all, rows = append(all, mark+l), append(rows, i)
			}
		}
		from := ui.Window(cursor, len(all), h)
		to := min(len(all), from+max(h, 0))
		if to > from && rows[to-1] < 0 {
			all[to-1] += " (more below)"
		}
		if got, want := shown(r.Lines(look(), 20, h)), all[from:to]; !slices.Equal(got, want) {
			t.Fatalf("drawn %q, want %q", got, want)
		}
		for y := -1; y <= h; y++ {
			want := -1
			if y >= 0 && from+y < to {
				want = rows[from+y]
			}
			if got := r.RowAt(h, y); got != want {
				t.Fatalf("a click on line %d finds row %d, want %d", y, got, want)
			}
		}
	})
}

// Whatever the window, the row of the cursor is in sight, its mark in the first column and
// on no other line.
func TestSaid(t *testing.T) {
	for _, long := range []int{1, 12, 60} {
		for _, w := range []int{4, 20, 60} {
			r := Rows{N: 30, Section: func(i int) string { return []string{"near", "far", ""}[i/10] }, Row: func(i int) string {
				return Said(look(), fmt.Sprintf("row %d,%s", i, strings.Repeat(" so it is", long)), w)
			}}
			for r.At = 0; r.At < r.N; r.At += 3 {
				for _, h := range []int{0, 1, 2, 3, 6, 19} {
					lines := r.Lines(look(), w, h)
					if len(lines) > h {
						t.Fatalf("%d lines of %d", len(lines), h)
					}
					marks := 0
					for y, line := range lines {
						if text.Width(line) != w {
							t.Fatalf("%d cells, want %d: %q", text.Width(line), w, line)
						}
						if strings.HasPrefix(ansi.Strip(line), ">") {
							marks++
							if got := r.RowAt(h, y); got != r.At {
								t.Fatalf("the mark stands on row %d, want %d", got, r.At)
							}
						}
					}
					if h > 0 && marks != 1 {
						t.Fatalf("row %d at %d x %d: %d marks in %q", r.At, w, h, marks, lines)
					}
				}
			}
		}
	}
}

func TestWrapped(t *testing.T) {
	long := strings.Repeat("shut the tap ", 200)
	for w := 1; w < 60; w++ {
		if n := strings.Count(Wrapped(look().Text.Render, long, w), "\n") + 1; n > mostWrapped {
			t.Fatalf("%d lines at %d cells", n, w)
		}
	}
}
