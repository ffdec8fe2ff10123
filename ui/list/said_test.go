package list

import (
	"fmt"
	"strings"
	"testing"

	"brine/wrasse/ui/text"

	"github.com/charmbracelet/x/ansi"
)

// Whatever the window, the cursor's row is in sight with its mark in the first column,
// no other line has one, and a click finds the row drawn under it.
func TestSaid(t *testing.T) {
	for _, long := range []int{1, 12, 60} {
		s := Said{N: 30, Section: func(i int) string { return []string{"near", "far", ""}[i/10] }, Row: func(i int) string {
			return fmt.Sprintf("row %d,%s", i, strings.Repeat(" so it is", long))
		}}
		for at := 0; at < s.N; at += 3 {
			for _, w := range []int{4, 20, 60} {
				for _, h := range []int{0, 1, 2, 3, 6, 19} {
					s.At = at
					lines := s.Lines(look(), w, h)
					if len(lines) > h {
						t.Fatalf("%d lines of %d", len(lines), h)
					}
					marks := 0
					for y, line := range lines {
						plain := ansi.Strip(line)
						if text.Width(line) != w {
							t.Fatalf("%d cells, want %d: %q", text.Width(line), w, plain)
						}
						if strings.HasPrefix(plain, ">") {
							marks++
							if got := s.RowAt(w, h, y); got != at {
								t.Fatalf("the mark stands on row %d, want %d", got, at)
							}
						}
						if w >= 20 && strings.HasPrefix(plain[2:], "row ") && !strings.HasPrefix(plain[2:], fmt.Sprintf("row %d,", s.RowAt(w, h, y))) {
							t.Fatalf("a click on %q finds row %d", plain, s.RowAt(w, h, y))
						}
					}
					if h > 0 && marks != 1 {
						t.Fatalf("row %d at %d x %d: %d marks in %q", at, w, h, marks, lines)
					}
				}
			}
		}
	}
}

func TestSaidHeadings(t *testing.T) {
	s := Said{N: 3, At: 2, Section: func(i int) string { return []string{"near", "near", "far\x1b[2J"}[i] }, Row: func(i int) string { return string(rune('a' + i)) }}
	var got []string
	for _, l := range s.Lines(look(), 10, 9) {
		got = append(got, strings.TrimRight(ansi.Strip(l), " "))
	}
	if want := "near|  a|  b|far|> c"; strings.Join(got, "|") != want {
		t.Errorf("drawn %q, want %q", strings.Join(got, "|"), want)
	}
	if none := (Said{}).Lines(look(), 10, 9); len(none) != 0 {
		t.Errorf("nothing is drawn as %q", none)
	}
}
