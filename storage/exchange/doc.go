// Package exchange reads and writes the files a book goes out and comes in by.
//
// The book format, JSON Lines, is the whole book, the definitions and the log alike:
// start at Import and Export. What an export holds can be imported into an empty book
// and gives an equal one, and a second export is equal to the first to the byte. An
// import is refused as a whole, with line and reason. Tables (CSV, WriteTable and
// ReadTable) and calendars (iCalendar, WriteCalendar) are plain rows and events here;
// what stands in them is made and understood elsewhere.
//
// It does no file work; writing imported entries down is package storage.
package exchange
