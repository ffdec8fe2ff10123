// Package storage keeps a book in one bbolt file, as an append-only log of entries and
// as what they come to. The log is the truth: a ledger.Book is folded from it, and an
// amendment is one more entry. It is the only package that knows bbolt; it takes and returns model values.
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
// wrong. All of them read the file page by page through image, which checks each number
// before it uses it; bbolt itself runs only to write.
//
// Layout of the file, schema 2: bucket "log" maps the entry's seq (8 bytes, big-endian)
// to a version byte, a CRC-32C over key and rest, and the entry as the book format
// writes it; bucket "meta" holds the schema and the number of entries, sealed alike.
// Buckets "now" and "chunks" are the book folded, record by record, as package model makes
// it: an act writes what it changes of it in its own transaction, and Load reads a brief
// book of it. What lies far back has a bucket of its own, which keeps the other small.
// Bucket "learnt" is for what a caller has worked out and would rather not again. A file
// of schema 1 has no "now"; its log is folded, until an act brings it over.
//
// Subpackage exchange reads and writes the book format. Nothing here infers dates or
// states from a book; that is package schedule. The locks are flock on Unix and those of
// LockFileEx on Windows.
package storage
