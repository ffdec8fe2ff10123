package model

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// FieldError says which field of an entry is wrong, what it held and what it accepts.
type FieldError struct {
	Field string
	Value string // as it was given; "" when it was missing
	Want  string // what is accepted
}

const maxShownValue = 60

func (e *FieldError) Error() string {
	field := shownName(e.Field)
	if e.Value == "" {
		return fmt.Sprintf("%s is missing; give %s", field, e.Want)
	}
	return fmt.Sprintf("%s: %q is not accepted; give %s", field, shortened(e.Value), e.Want)
}

// shownName is the name of a field as an error may print it. A name that nobody knows
// comes from the text itself and may hold anything, escapes for a terminal included.
func shownName(name string) string {
	if strings.ContainsFunc(name, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return strconv.Quote(shortened(name))
	}
	return shortened(name)
}

func shortened(s string) string {
	if r := []rune(s); len(r) > maxShownValue {
		return string(r[:maxShownValue]) + "…"
	}
	return s
}

// Wrong is the error of a field whose value is not accepted.
func Wrong(field string, value any, want string, args ...any) error {
	return &FieldError{Field: field, Value: fmt.Sprint(value), Want: fmt.Sprintf(want, args...)}
}

// Missing is the error of a field that must be there.
func Missing(field, want string) error { return &FieldError{Field: field, Want: want} }

// OneOf joins accepted words for an error message.
func OneOf[T ~string](words ...T) string { return "one of " + Joined(words...) }

// Joined joins words by commas.
func Joined[T ~string](words ...T) string {
	s := make([]string, len(words))
	for i, w := range words {
		s[i] = string(w)
	}
	return strings.Join(s, ", ")
}
