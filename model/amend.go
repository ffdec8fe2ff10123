package model

import (
	"bytes"
	"fmt"
	"slices"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// With makes the replacement fields of an amend. A nil value removes a field.
func With(fields map[string]any) (Fields, error) {
	data, err := json.Marshal(fields, json.Deterministic(true))
	if err != nil {
		return nil, fmt.Errorf("writing the fields of an amend: %w", err)
	}
	return data, nil
}

// unamendable are the fields by which the log itself hangs together.
var unamendable = []string{"kind", "seq", "at", "act"}

func checkWith(with Fields) error {
	if with == nil {
		return nil
	}
	fields, err := members(with)
	if err != nil {
		return Wrong("with", string(with), "an object of fields to replace")
	}
	if len(fields) == 0 {
		return Wrong("with", "{}", "at least one field to replace")
	}
	for _, f := range fields {
		if slices.Contains(unamendable, f.name) {
			return Wrong("with", f.name, "fields other than kind, seq, at and act; strike the entry and write another")
		}
	}
	return nil
}

type member struct {
	name  string
	value jsontext.Value
}

// members are the members of a JSON object, in order.
func members(object jsontext.Value) ([]member, error) {
	dec := jsontext.NewDecoder(bytes.NewReader(object))
	if tok, err := dec.ReadToken(); err != nil || tok.Kind() != '{' {
		return nil, fmt.Errorf("not an object")
	}
	var out []member
	for dec.PeekKind() == '"' {
		name, err := dec.ReadToken()
		if err != nil {
			return nil, err
		}
		key := name.String()
		v, err := dec.ReadValue()
		if err != nil {
			return nil, err
		}
		out = append(out, member{key, v.Clone()})
	}
	_, err := dec.ReadToken()
	return out, err
}

// Amended is an entry as it reads with the fields of its amends, in their order.
func Amended(e *Entry, withs []Fields) (*Entry, error) {
	data, err := EncodeEntry(*e)
	if err != nil {
		return nil, err
	}
	base, err := members(data)
	if err != nil {
		return nil, err
	}
	for _, with := range withs {
		over, err := members(with)
		if err != nil {
			return nil, err
		}
		for _, f := range over {
			i := slices.IndexFunc(base, func(m member) bool { return m.name == f.name })
			switch {
			case f.value.Kind() == 'n' && i >= 0:
				base = slices.Delete(base, i, i+1)
			case f.value.Kind() == 'n':
			case i >= 0:
				base[i].value = f.value
			default:
				base = append(base, f)
			}
		}
	}
	var out bytes.Buffer
	enc := jsontext.NewEncoder(&out)
	if err := writeMembers(enc, base); err != nil {
		return nil, err
	}
	read, err := DecodeEntry(bytes.TrimSpace(out.Bytes()))
	if err != nil {
		return nil, err
	}
	return &read, nil
}

func writeMembers(enc *jsontext.Encoder, fields []member) error {
	if err := enc.WriteToken(jsontext.BeginObject); err != nil {
		return err
	}
	for _, f := range fields {
		if err := enc.WriteToken(jsontext.String(f.name)); err != nil {
			return err
		}
		if err := enc.WriteValue(f.value); err != nil {
			return err
		}
	}
	return enc.WriteToken(jsontext.EndObject)
}
