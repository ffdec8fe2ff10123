// Package ledger folds a log of entries into a Book, and a Book to bytes and back.
//
// Start at Book and its Extend (fold.go). A Book is a snapshot: Extend returns a new one and never changes the old, so a
// screen may draw one while a command builds the next. It always holds all events of all things, in lists (lists.go).
// What one entry must hold whatever came before it is checked in package model; what it must find in the book, here.
// A store keeps a Book as columns, one for each field of the events of a list (columns.go), and the entries
// after it.
//
// The package is pure. Entries that a Book doesn't hold are asked of a Source that the store hands in. What is inferred
// from a book (rates, lives, due dates) lives in package schedule.
package ledger
