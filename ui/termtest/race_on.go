//go:build race

package termtest

// raced tells that the tests run with the race detector.
const raced = true
