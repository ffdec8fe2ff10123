package model

import (
	"fmt"
	"strings"
)

// FieldError says which field of an entry is wrong, what it held and what it accepts.
type FieldError struct {
	Field string
	Value string // as it was given; "" when it was missing
	Want  string // what is accepted
}

const maxShownValue = 60

func (e *FieldError) Error() string {
	if e.Value == "" {
		return fmt.Sprintf("%s is missing; give %s", e.Field, e.Want)
	}
	v := e.Value
	if r := []rune(v); len(r) > maxShownValue {
		v = string(r[:maxShownValue]) + "…"
	}
	return fmt.Sprintf("%s: %q is not accepted; give %s", e.Field, v, e.Want)
}

// wrong is the error of a field whose value is not accepted.
func wrong(field string, value any, want string, args ...any) error {
	return &FieldError{Field: field, Value: fmt.Sprint(value), Want: fmt.Sprintf(want, args...)}
}

func missing(field, want string) error { return &FieldError{Field: field, Want: want} }

// oneOf joins accepted words for an error message.
func oneOf[T ~string](words ...T) string {
	s := make([]string, len(words))
	for i, w := range words {
		s[i] = string(w)
	}
	return "one of " + strings.Join(s, ", ")
}
