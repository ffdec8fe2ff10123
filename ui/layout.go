package ui

// The sizes the program is drawn for, in cells. From full size on nothing of
// the frame is missing; between minimum and full the status and key lines share
// one; below the minimum there is only a notice.
const (
	MinW, MinH   = 40, 12
	FullW, FullH = 60, 16

	sideFrom  = 116 // width from which detail stands beside the list
	sideLow   = 100 // likewise, in a body too low for it to stand below
	sideRule  = 3   // cells of the rule between them
	leastSide = 35  // the least width of the detail there
	belowFrom = 18  // body height from which it stands below
	briefFrom = 12  // likewise two lines of it, under a rule
	lineFrom  = 8   // likewise one line of it
)

// Layout says what of the frame is drawn in a window.
type Layout struct {
	W, H     int
	TooSmall bool
	Compact  bool // status and key line share a line
	Body     int  // lines left for the screen
}

// Lay plans the frame of a window of w by h cells.
func Lay(w, h int) Layout {
	l := Layout{W: max(w, 0), H: max(h, 0)}
	if w < MinW || h < MinH {
		l.TooSmall = true
		return l
	}
	l.Compact = h < FullH
	l.Body = h - 4 // title, views, status, keys
	if l.Compact {
		l.Body++
	}
	return l
}

// Panes shares a body between a list and the detail of its current row.
type Panes struct {
	ListW, ListH     int
	DetailW, DetailH int // zero when there is no room for detail
	Beside           bool
}

// LayPanes plans a body of w by h cells: detail beside the list when it is
// wide, below it under a rule when it is tall, and otherwise only on its own
// page, where brief asks for a line or two of it. The list gets want cells beside the
// detail, and its usual share where that is 0. In plain words it has the body: a pane
// that changes with every move of the cursor would be read out every time.
func (r *Root) LayPanes(w, h, want int, brief bool) Panes {
	if r.theme.Plain {
		return Panes{ListW: max(w, 0), ListH: max(h, 0)}
	}
	return layPanes(w, h, want, brief)
}

func layPanes(w, h, want int, brief bool) Panes {
	w, h = max(w, 0), max(h, 0)
	switch {
	case w >= sideFrom, w >= sideLow && h < belowFrom:
		detail := min(w*2/5, 64)
		if want > 0 {
			detail = max(w-sideRule-want, leastSide)
		}
		return Panes{ListW: w - detail - sideRule, ListH: h, DetailW: detail, DetailH: h, Beside: true}
	case h >= belowFrom:
		detail := min(h/3, 10)
		return Panes{ListW: w, ListH: h - detail - 1, DetailW: w, DetailH: detail}
	case brief && h >= briefFrom:
		return Panes{ListW: w, ListH: h - 3, DetailW: w, DetailH: 2}
	case brief && h >= lineFrom:
		return Panes{ListW: w, ListH: h - 1, DetailW: w, DetailH: 1}
	}
	return Panes{ListW: w, ListH: h}
}
