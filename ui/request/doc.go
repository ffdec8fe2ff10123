// Package request turns what a keeper asks for into the entries of one act: ticking
// chores off, logging amounts and readings, flagging, reporting a fault, putting
// off, going away, mixing, taking back, defining and rearranging things, and starting
// a book. Foresee says what entries would move before they are written.
//
// A request is a value; its Entries method reads a book and returns what to
// write, or says what is wrong. It has the shape a store's write takes, so that
//
//	store.Write(request.Use{...}.Entries)
//
// runs it on the book as it is, again when another process wrote meanwhile. The
// screens and the one-shot commands write through here and nowhere else, so a
// tick means the same from both.
//
// The package is pure: no clock, no file, no terminal. It parses nothing (that
// is package parse) and does not decide whether a value is odd enough to ask
// about (parse too): a request that comes here is meant.
package request
