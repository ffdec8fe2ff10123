// Package columns is the log and the round as rows of text for a spreadsheet, and what
// a spreadsheet kept as entries of the log.
//
// Out: Log and Round. In: Read makes a Plan of rows that say a date, a name as it is
// on screen and a value or an as-found word; Plan.Acts are what to write. What Log
// wrote, Read understands, and what is in the book already it leaves out, so that a
// table may be read twice.
//
// The package is pure: files and the rules of CSV are elsewhere, and whether to write
// or only to show the plan is the caller's to decide.
package columns
