package logbook

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"brine/wrasse/model"

	"github.com/go-json-experiment/json/jsontext"
)

// scalar is a field of an entry that holds one text, number, date or yes or no.
type scalar struct {
	name  string
	value jsontext.Value
}

// text is the value as a keeper reads and types it.
func (s scalar) text() string {
	if s.value.Kind() == '"' {
		if plain, err := jsontext.AppendUnquote(nil, s.value); err == nil {
			return string(plain)
		}
	}
	switch string(s.value) {
	case "true":
		return "yes"
	case "false":
		return "no"
	}
	return string(s.value)
}

// heads are the fields of an entry that are not its body's.
var heads = []string{"seq", "at", "on", "kind", "act", "by", "id"}

// scalars are the fields of an entry's body that hold one value, in the order of
// the book format.
func scalars(e *model.Entry) []scalar {
	data, err := model.EncodeEntry(*e)
	if err != nil {
		return nil
	}
	var out []scalar
	for _, f := range members(data) {
		if k := f.value.Kind(); k != '{' && k != '[' && !slices.Contains(heads, f.name) {
			out = append(out, f)
		}
	}
	return out
}

// members are the members of a JSON object, in order; none of what is none.
func members(object jsontext.Value) []scalar {
	dec := jsontext.NewDecoder(bytes.NewReader(object))
	if tok, err := dec.ReadToken(); err != nil || tok.Kind() != '{' {
		return nil
	}
	var out []scalar
	for dec.PeekKind() == '"' {
		name, err := dec.ReadToken()
		if err != nil {
			return out
		}
		key := name.String()
		value, err := dec.ReadValue()
		if err != nil {
			return out
		}
		out = append(out, scalar{key, value.Clone()})
	}
	return out
}

// replaced says what an amend puts in place, field by field.
func replaced(with model.Fields) []string {
	var out []string
	for _, f := range members(with) {
		name := strings.ReplaceAll(f.name, "_", " ")
		switch f.value.Kind() {
		case 'n':
			out = append(out, name+" taken out")
		case '{', '[':
			out = append(out, name+" replaced")
		default:
			out = append(out, name+" "+f.text())
		}
	}
	return out
}

// like reads what was typed as a value of the kind a field had before.
func (s scalar) like(typed string) (any, bool) {
	switch s.value.Kind() {
	case '0':
		v, err := strconv.ParseFloat(typed, 64)
		return v, err == nil
	case 't', 'f':
		return typed == "yes", typed == "yes" || typed == "no"
	}
	return typed, true
}
