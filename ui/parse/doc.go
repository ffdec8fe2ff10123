// Package parse reads what a keeper types and writes figures back the same way:
// amounts, readings, dates, as-found words, and names of things in the book.
//
// What is typed and shown follows the units of the book (gal, F, psi where the
// keeper chose them); what is returned is in the unit of the counter or gauge, as
// the book keeps it. Every error says what was wrong and what would be accepted,
// in one line.
//
// The package also knows what can't be (possible.go) and refuses it, and what is odd
// (odd.go): values that can be meant but often are a slip of the finger. Whether to ask
// about those is the caller's to decide.
//
// It is pure, and it decides nothing about the book: package act does.
package parse
