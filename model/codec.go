package model

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// maxDepth is how deep the JSON of an entry may nest; a chore inside `with` needs 5.
const maxDepth = 8

// line is an entry as one JSON object.
type line[B Body] struct {
	Header Header `json:",embed"`
	Body   B      `json:",embed"`
}

type codec struct {
	decode   func([]byte) (Entry, error)
	trusted  func([]byte) (Entry, error)
	encode   func(Entry) ([]byte, error)
	required []string // fields that may not be left out, beyond those that check finds empty

	version   int      // of the format that the kind came with
	newFields []int    // fields that came with version 2
	newNames  []string // what these are called in the format
}

func codecOf[B Body](required ...string) codec {
	index, names := laterFields(reflect.TypeFor[B]())
	return codec{
		decode: func(data []byte) (Entry, error) {
			var l line[B]
			err := json.Unmarshal(data, &l, json.RejectUnknownMembers(true))
			return l.entry(), err
		},
		trusted: trustedOf[B],
		encode: func(e Entry) ([]byte, error) {
			body, ok := e.Body.(B)
			if !ok {
				return nil, fmt.Errorf("entry of kind %s holds a %T", e.Kind, e.Body)
			}
			return json.Marshal(line[B]{e.Header, body}, json.Deterministic(true), json.FormatNilSliceAsNull(false))
		},
		required: required,
		version:  1, newFields: index, newNames: names,
	}
}

// entry is what a line says. A kind goes by its name of version 2.
func (l *line[B]) entry() Entry {
	l.Header.Kind = l.Body.Kind()
	return Entry{l.Header, l.Body}
}

// codecs has a row for every kind of entry.
var codecs = sync.OnceValue(func() map[Kind]codec {
	return map[Kind]codec{
		KindBook:       codecOf[BookDef]("name", "units"),
		KindPlace:      codecOf[Place]("minutes"),
		KindComponent:  codecOf[Component]("reach", "access_minutes"),
		KindCounter:    codecOf[Counter](),
		KindGauge:      codecOf[Gauge](),
		KindSpare:      codecOf[Spare]("lead_days"),
		KindChore:      codecOf[Chore]("minutes", "consequence", "clocks"),
		KindVessel:     codecOf[Vessel]("capacity").later(),
		KindTick:       codecOf[Tick](),
		KindUsage:      codecOf[Usage](),
		KindMeterReset: codecOf[MeterReset](),
		KindReading:    codecOf[Reading]("value"),
		KindStock:      codecOf[Stock]("change"),
		KindFlag:       codecOf[Flag](),
		KindPutOff:     codecOf[PutOff](),
		KindBatch:      codecOf[Batch]("volume_l", "salt_g"),
		KindAway:       codecOf[Away](),
		KindFault:      codecOf[Fault](),
		KindRepair:     codecOf[Repair]("fault").later(),
		KindNormal:     codecOf[Normal]().later(),
		KindLevel:      codecOf[Level]("litres").later(),
		KindDraw:       codecOf[Draw]().later(),
		KindNeed:       needCodec().later(),
		KindNote:       codecOf[Note](),
		KindAmend:      codecOf[Amend](),
	}
})

// Kinds are the kinds of entry there are, sorted.
func Kinds() []Kind { return slices.Sorted(maps.Keys(codecs())) }

// DecodeEntry reads one line of the book format, without its line end. It is strict:
// names are case-sensitive; unknown fields, duplicate keys, bad UTF-8, trailing text
// and null (save inside `with`) are refused, and every field is checked.
func DecodeEntry(data []byte) (Entry, error) {
	names, kind, err := scan(data)
	if err != nil {
		return Entry{}, err
	}
	if kind == "" {
		return Entry{}, Missing("kind", OneOf(Kinds()...))
	}
	c, err := codecOfKind(kind)
	if err != nil {
		return Entry{}, err
	}
	e, err := c.decode(data)
	if err != nil {
		return Entry{}, plainJSON(err)
	}
	for _, field := range c.required {
		if !slices.Contains(names, field) {
			return Entry{}, Missing(field, "it a value; every entry of kind "+string(kind)+" has one")
		}
	}
	if err := e.Check(); err != nil {
		return Entry{}, err
	}
	return e, nil
}

// EncodeEntry writes an entry as one line of the book format, without a line end.
func EncodeEntry(e Entry) ([]byte, error) {
	return EncodeFor(e, FormatVersion)
}

// codecOfKind is the codec of a kind, by either of its names.
func codecOfKind(name Kind) (codec, error) {
	c, ok := codecs()[kindOf(name)]
	if !ok {
		return c, Wrong("kind", name, "%s", OneOf(Kinds()...))
	}
	return c, nil
}

// Check finds the first field of the entry that no log could accept. What depends
// on the rest of the log (references, order) is checked when a Book is extended.
func (e *Entry) Check() error {
	if e.Body == nil || e.Kind != e.Body.Kind() {
		return Wrong("kind", e.Kind, "the kind of the entry's body")
	}
	if e.At != "" {
		if _, err := time.Parse(time.RFC3339Nano, e.At); err != nil {
			return Wrong("at", e.At, "a moment as RFC 3339, such as 2026-03-31T07:00:00Z")
		}
	}
	if e.On.IsZero() && e.Kind.dated() {
		return Missing("on", "the date it happened, YYYY-MM-DD")
	}
	if !e.On.IsZero() && (e.On < FirstDate || e.On > LastDate) {
		return Wrong("on", e.On, "a date from 1970-01-01 to 2199-12-31")
	}
	if err := checkText("by", e.By, MaxNameLen); err != nil {
		return err
	}
	if err := e.Body.check(); err != nil {
		return err
	}
	switch b := e.Body.(type) {
	case PutOff:
		return checkUntil(e.On, b.Until)
	case Away:
		return checkUntil(e.On, b.Until)
	case Need:
		if b.By < e.On {
			return Wrong("by", b.By, "a date not before on, %s", e.On)
		}
	case Repair:
		if e.Seq != 0 && b.Fault >= e.Seq {
			return Wrong("fault", b.Fault, "the seq of an earlier entry, below %d", e.Seq)
		}
	case Amend:
		if e.Seq != 0 && b.Entry >= e.Seq {
			return Wrong("entry", b.Entry, "the seq of an earlier entry, below %d", e.Seq)
		}
		return checkWith(b.With)
	}
	return nil
}

func checkUntil(on, until Date) error {
	if until <= on {
		return Wrong("until", until, "a date later than on, %s", on)
	}
	return nil
}

// scan reads the tokens of one object: its top-level names and its kind. It refuses
// what is not one strict JSON object, and null outside `with`.
func scan(data []byte) (names []string, kind Kind, err error) {
	if strings.TrimSpace(string(data)) == "" {
		return nil, "", errors.New("the line is empty; give one JSON object")
	}
	dec := jsontext.NewDecoder(bytes.NewReader(data))
	for first := true; ; first = false {
		tok, err := dec.ReadToken()
		if errors.Is(err, io.EOF) && !first {
			return names, kind, nil
		}
		if err != nil {
			return nil, "", plainJSON(err)
		}
		if first && tok.Kind() != '{' {
			return nil, "", errors.New("not a JSON object; give one object in braces")
		}
		if !first && dec.StackDepth() == 0 && tok.Kind() != '}' {
			return nil, "", errors.New("text after the object; give one JSON object a line")
		}
		depth := dec.StackDepth()
		if depth > maxDepth {
			return nil, "", fmt.Errorf("nested more than %d deep; entries are flatter than that", maxDepth)
		}
		if depth == 1 && tok.Kind() == '"' {
			_, n := dec.StackIndex(1)
			switch {
			case n%2 == 1: // a name
				names = append(names, tok.String())
			case names[len(names)-1] == "kind":
				kind = Kind(tok.String())
			}
		}
		if tok.Kind() == 'n' && !(depth == 2 && names[len(names)-1] == "with") {
			return nil, "", Wrong(strings.TrimPrefix(string(dec.StackPointer()), "/"), "null", "a value, or leave the field out")
		}
	}
}

// plainJSON says in plain words what a JSON error means, with field and value.
func plainJSON(err error) error {
	var field *FieldError
	if errors.As(err, &field) {
		return field
	}
	var sem *json.SemanticError
	if errors.As(err, &sem) {
		name := strings.TrimPrefix(string(sem.JSONPointer), "/")
		if errors.Is(sem.Err, json.ErrUnknownName) {
			return Wrong(name, "unknown field", "only the fields of its kind")
		}
		given := sem.JSONKind.String()
		if len(sem.JSONValue) > 0 {
			given = string(sem.JSONValue)
		}
		switch {
		case sem.GoType == dateType && sem.JSONKind == '"', sem.GoType == spanType && sem.JSONKind == '"':
			return fmt.Errorf("%s: %w", shownName(name), sem.Err) // says what it accepts by itself
		case sem.GoType == dateType || sem.GoType == spanType:
			return Wrong(name, given, "text in quotes")
		case sem.GoType == nil:
			return Wrong(name, given, "another kind of value")
		}
		return Wrong(name, given, "%s", wanted(sem.GoType.Kind()))
	}
	var syn *jsontext.SyntacticError
	if errors.As(err, &syn) {
		switch {
		case errors.Is(syn.Err, jsontext.ErrDuplicateName):
			return Wrong(strings.TrimPrefix(string(syn.JSONPointer), "/"), "named twice", "each field once")
		case errors.Is(syn.Err, io.ErrUnexpectedEOF):
			return errors.New("the JSON breaks off; give one whole object a line")
		}
		return fmt.Errorf("broken JSON at byte %d: %v", syn.ByteOffset+1, syn.Err)
	}
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return errors.New("the JSON breaks off; give one whole object a line")
	}
	return err
}

var (
	dateType = reflect.TypeFor[Date]()
	spanType = reflect.TypeFor[Span]()
)

func wanted(k reflect.Kind) string {
	switch k {
	case reflect.Int, reflect.Int32, reflect.Uint64:
		return "a whole number"
	case reflect.Float64:
		return "a number up to 1e9"
	case reflect.String:
		return "text in quotes"
	case reflect.Bool:
		return "true or false"
	case reflect.Slice:
		return "a list in square brackets"
	}
	return "an object in braces"
}
