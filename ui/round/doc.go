// Package round is view 1: what is broken, late, due and coming, in sections, worst
// first, with the detail of the row the cursor is on; and the pages opened from it
// for the minutes at hand and for the year.
//
// Start at New. The screen keeps a cursor on a chore, not on a line, so that it stays
// on what it stood on when the round changes under it. Sentences are made in ui/phrase,
// questions asked by ui/prompt, bars drawn by ui/lifebar; the arithmetic is package
// schedule's.
package round
