// Package lifebar draws the tide bar: how far a chore has come through its life,
// against two fixed lines. Bar is plain text of an exact width; Draw gives it its hues.
package lifebar

import (
	"math"
	"strings"
)

// The three signs of a bar: what has run, the due line, the limit line. In ASCII the root
// makes ~, : and | of them.
const (
	Water = "━"
	Due   = "┊"
	Limit = "│"
)

// MinWidth is the narrowest bar with a cell in each of its three reaches.
const MinWidth = 5

// Level says how far a chore has come. Each reach is a fraction: ToDue runs
// from 0 (done today) to 1 (due today); ToLimit from 0 (due today) to 1 (at the
// limit); Beyond from 0 (at the limit) to 1 (as far past it as the bar shows).
// Values outside 0 to 1, and NaN, are taken as the nearest end; a later reach
// counts only once the earlier ones are full.
type Level struct {
	ToDue, ToLimit, Beyond float64
}

// At places a day on the scale: elapsed days since the chore was last done,
// days from then to due, days from due to limit. Past the limit the bar is full
// after as many days as lie between due and limit. A chore with no span between
// due and limit is past its limit on the first day after due.
func At(elapsed, toDue, toLimit int) Level {
	switch {
	case elapsed < toDue:
		return Level{ToDue: share(elapsed, toDue)}
	case elapsed < toDue+toLimit || elapsed == toDue:
		return Level{ToDue: 1, ToLimit: share(elapsed-toDue, toLimit)}
	}
	return Level{ToDue: 1, ToLimit: 1, Beyond: share(elapsed-toDue-toLimit, max(toLimit, 1))}
}

// share is part of whole, or nothing of a whole that is not there.
func share(part, whole int) float64 {
	if whole <= 0 {
		return 0
	}
	return float64(part) / float64(whole)
}

// Bar draws level in exactly w cells. The due and limit lines stand in the same
// columns for every level, so that a list of bars reads like a tide table. Up
// to due the water is rounded down and after due up: a day early never touches
// the line, a day late always shows. A width below MinWidth leaves no room for
// the scale and gives w blanks.
func Bar(w int, level Level) string {
	if w < MinWidth {
		return strings.Repeat(" ", max(w, 0))
	}
	before, between, beyond := Reaches(w)
	toDue := clamp(level.ToDue)
	toLimit, past := 0.0, 0.0
	if toDue == 1 {
		toLimit = clamp(level.ToLimit)
	}
	if toLimit == 1 {
		past = clamp(level.Beyond)
	}
	filled := int(math.Floor(toDue * float64(before)))
	if toDue < 1 {
		filled = min(filled, before-1)
	}
	var b strings.Builder
	reach(&b, before, filled)
	b.WriteString(Due)
	reach(&b, between, int(math.Ceil(toLimit*float64(between))))
	b.WriteString(Limit)
	reach(&b, beyond, int(math.Ceil(past*float64(beyond))))
	return b.String()
}

// Reaches is how the cells of a bar w wide are shared out: up to due, between
// due and limit, beyond the limit. The two lines take a cell each. Life up to
// due gets most, because most chores are there on most days.
func Reaches(w int) (before, between, beyond int) {
	room := max(w-2, 0)
	between = max(room/5, min(room, 1))
	beyond = max(room/5-1, min(room-between, 1))
	return room - between - beyond, between, beyond
}

// reach writes one stretch of the scale, its first cells under water.
func reach(b *strings.Builder, cells, filled int) {
	filled = min(max(filled, 0), cells)
	b.WriteString(strings.Repeat(Water, filled))
	b.WriteString(strings.Repeat(" ", cells-filled))
}

// clamp takes x to the nearest end of 0 to 1; NaN, which has none, is 0.
func clamp(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	return min(x, 1)
}
