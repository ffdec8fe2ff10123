package table

import (
	"cmp"
	"slices"

	"brine/wrasse/ui/text"
	"brine/wrasse/ui/theme"
)

// Columns share out the width of a list. Names stand first and take what the others
// leave, up to Most cells: figures stay near their names.
type Columns struct {
	Most int
	Rest []Column
}

// Sized are the columns in w cells where they would cut a name of the rows: no wider than their cells ask for and, if that is
// not enough, without those that only wide lists have.
func (c Columns) Sized(w int, rows [][]string) Columns {
	widest := 0
	for _, r := range rows {
		widest = max(widest, text.Width(r[0]))
	}
	widest = min(widest, c.Most)
	if c.in(w)[0].Width >= widest {
		return c
	}
	out := Columns{c.Most, slices.Clone(c.Rest)}
	for i := range out.Rest {
		k := &out.Rest[i]
		want := text.Width(k.Head)
		for _, r := range rows {
			want = max(want, text.Width(r[i+1]))
		}
		k.Width = min(k.Width, want)
	}
	for out.in(w)[0].Width < widest {
		last := slices.MaxFunc(out.Rest, func(a, b Column) int { return cmp.Compare(a.shownFrom(w), b.shownFrom(w)) })
		if last.shownFrom(w) == 0 {
			break
		}
		out.Rest[slices.Index(out.Rest, last)].From = w + 1
	}
	return out
}

// shownFrom is From of a column that is shown in w cells.
func (k Column) shownFrom(w int) int {
	if k.From > w {
		return 0
	}
	return k.From
}

// Column is one of the others.
type Column struct {
	Head  string
	Width int
	Right bool // as figures are
	From  int  // the width of the list from which it is shown
	Fills bool // it takes what names can't use
}

// gap is the cells between two columns.
const gap = 1

// in is the columns of a list of w cells, of which two are the cursor's mark and a sign.
func (c Columns) in(w int) []text.Column {
	out := make([]text.Column, 1+len(c.Rest))
	for i, k := range c.Rest {
		if w >= k.From {
			out[1+i] = text.Column{Width: k.Width, Right: k.Right}
		}
	}
	room := max(w-2-text.RowWidth(gap, out)-gap, 8)
	out[0].Width = min(room, c.Most)
	for i, k := range c.Rest {
		if k.Fills && w >= k.From {
			out[1+i].Width += room - out[0].Width
		}
	}
	return out
}

// Bare is what a list of w cells has besides its names and what fills it.
func (c Columns) Bare(w int) int {
	in := c.in(w)
	in[0].Width = 0
	for i, k := range c.Rest {
		if k.Fills {
			in[1+i].Width = 0
		}
	}
	return 2 + text.RowWidth(gap, in) + gap
}

// Heads is the line of the heads; in plain words there is none.
func (c Columns) Heads(th theme.Theme, w int) []string {
	if th.Plain {
		return nil
	}
	heads := []string{""}
	for _, k := range c.Rest {
		heads = append(heads, k.Head)
	}
	return []string{th.Dim.Render("  " + text.Row(gap, c.in(w), heads...))}
}

// Row returns what lays the cells of a row out in a list of w cells.
func (c Columns) Row(w int) func(cells ...string) string {
	columns := c.in(w)
	return func(cells ...string) string { return " " + text.Row(gap, columns, cells...) }
}
