// Package model holds the nouns of a reef keeper's book and the rules that keep
// the book sound: places, components, chores and their clocks, counters, gauges,
// spares, and the log of entries from which all of them are folded. Counter and gauge
// are types of an open standard, SMIv2 (RFC 2578).
//
// Start at Entry, which is one line of the log, and at Book, which is what a log
// folds to. A Book is a snapshot: Extend returns a new one and never changes the
// old, so a screen may draw one while a command builds the next.
//
// A Book always holds all events of all things, in lists (lists.go), and moves forward by
// Extend (fold.go). A store keeps it as a snapshot with a column for each field of the
// events of a list (snapshot.go, columns.go), and the entries after it.
//
// The package is pure. It reads no clock, no file and no environment: what isn't
// held is asked of a Source that the store hands in. Dates are
// arguments, and civil (Date), never instants. What is inferred from a book
// (rates, lives, due dates) lives in package schedule; the physics of water in
// model/water; the ready-made sets and the demo in model/starter.
package model
