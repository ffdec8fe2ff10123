// Package exchange reads and writes the book format: JSON Lines, the whole book, the
// definitions and the log alike. Start at Import and Export. What an export holds can
// be imported into an empty book and gives an equal one, and a second export is equal
// to the first to the byte. An import is refused as a whole, with line and reason.
//
// It does no file work; writing imported entries down is package storage.
package exchange
