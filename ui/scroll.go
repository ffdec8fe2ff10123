package ui

import "brine/wrasse/ui/keys"

// Window is the first of n lines to draw in h so that line at is in sight and,
// away from the ends, in the middle. It needs no memory of the last one, so
// drawing can stay pure.
func Window(at, n, h int) int {
	return min(max(at-h/2, 0), max(n-h, 0))
}

// Step is the row of n a cursor is on after action a moved it from row at, a
// page being h rows. Other actions leave it, within the rows there are.
func Step(a keys.Action, at, n, h int) int {
	return min(max(at+moved(a, n, h), 0), max(n-1, 0))
}

// Scroll is the first line of n to show in a window of h, after action a moved
// it from line from. Other actions leave it, within the lines there are.
func Scroll(a keys.Action, from, n, h int) int {
	return min(max(from+moved(a, n, h), 0), max(n-h, 0))
}

// moved is how many lines an action moves by among n, a page being h. A page
// keeps one line of the last in sight.
func moved(a keys.Action, n, h int) int {
	page := max(h-1, 1)
	switch a {
	case keys.Up:
		return -1
	case keys.Down:
		return 1
	case keys.PageUp:
		return -page
	case keys.PageDown:
		return page
	case keys.First:
		return -n
	case keys.Last:
		return n
	}
	return 0
}
