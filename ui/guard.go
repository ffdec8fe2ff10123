package ui

import (
	"errors"
	"fmt"
	"runtime/debug"
)

// PanicError is a panic caught in a command. bubbletea prints such a trace into
// the alternate screen, where it is lost; main prints this one after the screen
// has been given back.
type PanicError struct {
	Op    string // what was being done
	Value any    // what panicked
	Stack []byte // where
}

func (e *PanicError) Error() string {
	return fmt.Sprintf("%s: the program has a fault here: %v", e.Op, e.Value)
}

// Guard runs f, which may do I/O, and returns its error with op, what was being
// done, before it. A panic in f is returned as a *PanicError.
func Guard(op string, f func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &PanicError{Op: op, Value: v, Stack: debug.Stack()}
		}
	}()
	if err := f(); err != nil {
		return fmt.Errorf("%s: %w", op, err)
	}
	return nil
}

// panicIn is the panic err comes from, or nil.
func panicIn(err error) *PanicError {
	var p *PanicError
	errors.As(err, &p)
	return p
}
