// Package model holds the nouns of a reef keeper's book and the rules that keep
// the book sound: places, components, chores and their clocks, counters, gauges,
// spares, and the log of entries from which all of them are folded.
//
// Start at Entry, which is one line of the log, and at Book, which is what a log
// folds to. A Book is a snapshot: Extend returns a new one and never changes the
// old, so a screen may draw one while a command builds the next.
//
// The package is pure. It reads no clock, no file and no environment; dates are
// arguments, and civil (Date), never instants. What is inferred from a book
// (rates, lives, due dates) lives in package schedule; the physics of water in
// model/water; the ready-made sets and the demo in model/starter.
package model
