// Package prompt puts the questions of the daily acts to the keeper: as found, a cause,
// an amount, readings, a date, how hard something is to reach. Each function opens a
// sheet over the present screen and, once answered, writes one act through the session.
//
// What is typed is read by package typed and written by package act; this package
// decides only what is asked, what is said beside it while it is typed, and when a
// second thought is wanted. Any screen may ask any of its questions.
package prompt
