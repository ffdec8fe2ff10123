// Package model holds the nouns of a reef keeper's book, the format they are written in, and what keeps one entry
// sound whatever else the book holds: places, components, chores and their clocks, counters, gauges, spares, vessels,
// and the events of the log. Counter and gauge are types of an open standard, SMIv2 (RFC 2578).
//
// Start at Entry, which is one line of the log. What a log folds to is a Book of package model/ledger.
//
// The package is pure. It reads no clock, no file and no environment. Dates are arguments, and civil (Date), never
// instants. The physics of water lives in model/water, the ready-made sets and the demo in model/starter.
package model
