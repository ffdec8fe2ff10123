// Package storage keeps a book in one bbolt file, as an append-only log of entries and
// as what they come to. The log is the truth: a ledger.Book is folded from it, and an
// amendment is one more entry. It is the only package that knows bbolt; it takes and returns values of model and its ledger.
//
// Start at Book, and there at Load and Write. Each of them opens the file, runs one
// transaction and lets go, so that screens, commands and a nightly job share a book;
// waiting for one another is bounded. What Write has returned without an error has been
// fsynced. A file is never trusted before both its headers, its list of free pages and
// the way to its last entry have been looked at, and no record before its checksum, so
// damage comes back as ErrDamaged instead of as figures that are not true.
//
// Beside a book, in a folder named after it, lie the daily copies that the first act of a
// day makes; Backup, Restore, Verify, Accept, Rebuild and Salvage are for when something went
// wrong. What looks at a file that may be damaged reads it page by page through image, which
// checks each number before it uses it; only then does bbolt open it, behind a guard.
//
// Layout of the file, schema 3, every value but those of dates sealed: bucket "log" maps the entry's seq (8 bytes,
// big-endian) to the entry as the book format writes it, in a chain of seals; "dates" has the entries in the order of
// time; "snapshot" the Book as it was at some entry, as package model/ledger packs it; "meta" the schema and where the
// chain ends. An act writes all of it in one transaction. Load unpacks the snapshot and folds the entries after it. Of
// files of schemas 1 and 2 the log alone is read, until an act brings them over.
//
// Subpackage exchange reads and writes the book format. Nothing here infers dates or
// states from a book; that is package schedule. The locks are flock on Unix and those of
// LockFileEx on Windows.
package storage
