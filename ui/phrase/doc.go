// Package phrase turns the facts of a round into plain sentences: when a chore is
// due and why, what its log has taught, what would change it, what a job needs.
//
// It is pure text without colour or width: a screen wraps it, a command prints it.
// Names and notes stand in it as the book has them, so whoever draws it cleans it.
// The arithmetic is package schedule's; nothing is computed here that a date rests
// on. "Planned" is a word of the arithmetic only: on screen there is due and limit.
package phrase
