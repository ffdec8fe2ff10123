package command

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"reflect"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"brine/wrasse/model"
)

// factsVersion is the version of what --json prints. It grows when a field goes or comes to
// mean something else; a new field leaves it as it is.
const factsVersion = 1

// document is what a command prints with --json: a struct of which the tags give the name of
// each fact (json) and what it means, with its unit and what null says where that is not plain
// (says). The page of the manual is made of them.
type document struct {
	commands string
	of       any
}

// documents are all there are, in the order of the manual.
func documents() []document {
	return []document{
		{"round", roundOut{}}, {"list", listOut{}}, {"log", logOut{}}, {"water", waterOut{}}, {"shelf", shelfOut{}},
		{"rethink", rethinkOut{}}, {"year", yearOut{}}, {"mix, without --log", mixOut{}}, {"salinity", salinityOut{}},
		{"tick, use, read, count, level, draw, need, flag, fault, repair, put-off, away, vessel, mix --log, strike, undo", writtenAct{}},
		{"import of a table", planned{}}, {"import of a book, begin", importOut{}},
		{"config", configOut{}}, {"verify", verifyOut{}}, {"backup, restore FILE, verify --accept or --rebuild", didOut{}},
		{"restore", copiesOut{}},
	}
}

// field is a line of the page: a fact of a document, those of its parts below it.
type field struct {
	path string // "chores[].due": [] stands for each of a list
	kind string
	says string
}

// fields are the facts of a struct and of its parts, in order.
func fields(of reflect.Type, below string) []field {
	var out []field
	for i := range of.NumField() {
		f := of.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "" { // the facts of an embedded struct stand beside the others
			out = append(out, fields(f.Type, below)...)
			continue
		}
		line := field{path: below + name, says: f.Tag.Get("says")}
		var part reflect.Type
		line.kind, part = kindOf(f.Type)
		out = append(out, line)
		if part != nil {
			if strings.HasPrefix(line.kind, "list") {
				name += "[]"
			}
			out = append(out, fields(part, below+name+".")...)
		}
	}
	return out
}

// kindOf is what a type is in JSON, and the struct that an object of it, or each of a list, is.
func kindOf(t reflect.Type) (kind string, part reflect.Type) {
	switch {
	case t == reflect.TypeFor[model.Date]():
		return "date", nil
	case t == reflect.TypeFor[jsontext.Value]():
		return "entry", nil
	}
	switch t.Kind() {
	case reflect.Pointer:
		kind, part = kindOf(t.Elem())
		return kind + " or null", part
	case reflect.Slice, reflect.Array:
		kind, part = kindOf(t.Elem())
		return "list of " + kind, part
	case reflect.Struct:
		return "object", t
	case reflect.Map:
		return "object", nil
	case reflect.Bool:
		return "boolean", nil
	case reflect.Float64:
		return "number", nil
	case reflect.String:
		return "text", nil
	}
	return "integer", nil
}

// contract is the part of the manual on --json.
func (m *roff) contract() {
	m.section("SH", "JSON", `Every command that prints facts, and every one that writes, takes --json and prints one
object on one line. Its field version, `+strconv.Itoa(factsVersion)+` now, grows when a field goes or comes to mean
something else; a new field leaves it as it is. Every field is always there; what does
not exist is null, and a list of nothing is []. Dates are YYYY-MM-DD. Quantities are in
one unit each, whatever units the book shows: L, C, bar, ppm, L/h, g, or the one that a
field unit beside them names. Shares are parts of 1. Ids stay the same for ever; names
are as the book has them now. An entry is an object as wrasse export jsonl writes it.`)
	for _, d := range documents() {
		m.macro("SS", "JSON of wrasse "+d.commands)
		for _, f := range fields(reflect.TypeOf(d.of), "") {
			m.term(f.path, f.kind+"; "+f.says+".")
		}
	}
}

// writeJSON writes a document as one line of JSON, its version first.
func writeJSON(to io.Writer, v any) error {
	data, err := json.Marshal(v, json.Deterministic(true), json.WithMarshalers(json.MarshalToFunc(writeNumber)))
	if err != nil {
		return fmt.Errorf("writing JSON: %w", err)
	}
	line := fmt.Appendf(nil, `{"version":%d,%s`+"\n", factsVersion, bytes.TrimPrefix(data, []byte("{")))
	_, err = to.Write(model.Harmless(line))
	return err
}

// figuresKept is how many figures of a number are printed: the rest of them is what sums of
// binary fractions leave, 0.8999999999999996 for 0.9.
const figuresKept = 12

func writeNumber(enc *jsontext.Encoder, v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("%v is no number of JSON", v)
	}
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', figuresKept, 64), 64)
	if err != nil {
		return err
	}
	return enc.WriteToken(jsontext.Float(short))
}
