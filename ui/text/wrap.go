package text

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Wrap breaks plain text into lines of at most w cells, at spaces where it
// can and inside a word only when the word alone is wider than the line. Runs
// of spaces shrink to one; a line break in s always breaks. A width below one
// gives no lines; an empty text gives one empty line.
func Wrap(s string, w int) []string {
	if w < 1 {
		return nil
	}
	var out []string
	for part := range strings.SplitSeq(s, "\n") {
		out = append(out, wrapOne(part, w)...)
	}
	return out
}

// Para is a text of a book as a paragraph in lines of at most w cells: cleaned, wrapped,
// drawn by look unless that is nil, the first line behind first and the others behind
// rest.
func Para(w int, first, rest string, look func(...string) string, s string) []string {
	lines := Wrap(Clean(s), w-max(Width(first), Width(rest)))
	for i, l := range lines {
		if look != nil {
			l = look(l)
		}
		lines[i] = first + l
		first = rest
	}
	return lines
}

// Longest is the longest text that fits in w cells, of some that are given longest first;
// "" when none does.
func Longest(w int, texts ...string) string {
	for _, s := range texts {
		if Width(s) <= w {
			return s
		}
	}
	return ""
}

// Clauses are as many of the first clauses of a text as fit in w cells, none of them open in brackets; "" when not even one
// does.
func Clauses(s string, w int) string {
	for i := len(s); i > 1; i-- {
		ends := i == len(s) || s[i] == ' ' && s[i+1:] != "" && s[i+1] == '(' || strings.ContainsRune(",;:.", rune(s[i])) && (i+1 == len(s) || s[i+1] == ' ') || s[i] == ' ' && (s[i-1] == '?' || strings.HasPrefix(s[i:], " · "))
		if ends && s[i-1] != ' ' && Width(s[:i]) <= w && strings.Count(s[:i], "(") == strings.Count(s[:i], ")") {
			return s[:i]
		}
	}
	return ""
}

// Brief is as much of a text as goes into h lines of w cells: whole clauses, or what there is room for of the first.
func Brief(s string, w, h int) []string {
	for c := s; c != ""; c = Clauses(c, Width(c)-1) {
		if lines := Wrap(c, w); len(lines) <= h {
			return lines
		}
	}
	lines := Wrap(s, w)
	if s == "" || h < 1 || len(lines) < h {
		return nil
	}
	return append(lines[:h-1:h-1], strings.TrimRight(Fit(lines[h-1]+" "+Ellipsis, w), " "))
}

// wrapOne wraps a text without line breaks.
func wrapOne(s string, w int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(s) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if Width(joined) <= w {
			line = joined
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		pieces := chop(word, w)
		out = append(out, pieces[:len(pieces)-1]...)
		line = pieces[len(pieces)-1]
	}
	return append(out, line)
}

// chop cuts one word into pieces of at most w cells, never inside a character.
// A character that is itself too wide is replaced by the ellipsis. There is
// always at least one piece.
func chop(word string, w int) []string {
	var out []string
	piece := ""
	for len(word) > 0 {
		char, n := ansi.FirstGraphemeCluster(word, ansi.GraphemeWidth)
		word = word[len(char):]
		if n > w {
			char = Ellipsis
		}
		if piece != "" && Width(piece+char) > w {
			out = append(out, piece)
			piece = ""
		}
		piece += char
	}
	return append(out, piece)
}
