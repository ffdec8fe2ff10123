package model

import (
	"bytes"
	"strconv"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// DecodeTrusted reads what EncodeEntry wrote, where a checksum vouches for the bytes. It
// is far cheaper than DecodeEntry because it looks for nothing that EncodeEntry would
// not write; text from anywhere else must go through DecodeEntry.
func DecodeTrusted(data []byte) (Entry, error) {
	if e, ok := decodeFlat(data); ok {
		return e, nil
	}
	// Only seq, at and on stand before the kind, and none of them can hold this text.
	const mark = `"kind":"`
	_, rest, _ := bytes.Cut(data, []byte(mark))
	kind, _, _ := bytes.Cut(rest, []byte{'"'})
	c, err := codecOfKind(Kind(kind))
	if err != nil {
		return Entry{}, err
	}
	e, err := c.trusted(data)
	if err != nil {
		return Entry{}, plainJSON(err)
	}
	return e, nil
}

// trustedOf reads the general case.
func trustedOf[B Body](data []byte) (Entry, error) {
	var l line[B]
	err := json.Unmarshal(data, &l, jsontext.AllowDuplicateNames(true))
	return l.entry(), err
}

// decodeFlat reads the kinds of entry a log mostly consists of, without escapes and
// without reflection: less than half the time of the general case. It gives up (ok is
// false) on whatever it does not expect.
func decodeFlat(data []byte) (e Entry, ok bool) {
	var (
		tick    Tick
		usage   Usage
		reading Reading
		stock   Stock
		batch   Batch
	)
	ok = eachMember(data, func(name, v []byte) bool {
		if known, ok := e.Header.set(name, v); known {
			return ok
		}
		switch e.Kind {
		case KindTick:
			return tick.set(name, v)
		case KindUsage:
			return usage.set(name, v)
		case KindReading:
			return reading.set(name, v)
		case KindStock:
			return stock.set(name, v)
		case KindBatch:
			return batch.set(name, v)
		}
		return false
	})
	switch e.Kind {
	case KindTick:
		e.Body = tick
	case KindUsage:
		e.Body = usage
	case KindReading:
		e.Body = reading
	case KindStock:
		e.Body = stock
	case KindBatch:
		e.Body = batch
	default:
		return Entry{}, false
	}
	return e, ok
}

// eachMember calls set for each member of an object of texts without escapes, numbers and
// true or false, as long as it returns true. Texts come with their quotes.
func eachMember(data []byte, set func(name, value []byte) bool) bool {
	if len(data) < 2 || data[0] != '{' {
		return false
	}
	for rest := data[1:]; ; {
		name, after, ok := quoted(rest)
		if !ok || len(after) < 2 || after[0] != ':' {
			return false
		}
		value, after, ok := scalar(after[1:])
		if !ok || !set(name[1:len(name)-1], value) {
			return false
		}
		switch {
		case len(after) == 1 && after[0] == '}':
			return true
		case len(after) == 0 || after[0] != ',':
			return false
		}
		rest = after[1:]
	}
}

// quoted cuts a text without escapes off b.
func quoted(b []byte) (text, after []byte, ok bool) {
	if len(b) == 0 || b[0] != '"' {
		return nil, nil, false
	}
	end := bytes.IndexByte(b[1:], '"') + 2
	if end < 2 || bytes.IndexByte(b[:end], '\\') >= 0 {
		return nil, nil, false
	}
	return b[:end], b[end:], true
}

// scalar cuts a text, a number, true or false off b.
func scalar(b []byte) (value, after []byte, ok bool) {
	if b[0] == '"' {
		return quoted(b)
	}
	end := bytes.IndexAny(b, ",}")
	if end < 1 || b[0] == '{' || b[0] == '[' {
		return nil, nil, false
	}
	return b[:end], b[end:], true
}

// set reads one member of the header; known is false when it is none.
func (h *Header) set(name, v []byte) (known, ok bool) {
	switch string(name) {
	case "seq":
		return true, setSeq(&h.Seq, v)
	case "at":
		return true, setText(&h.At, v)
	case "on":
		return true, setDate(&h.On, v)
	case "kind":
		return true, setWord(&h.Kind, v, KindTick, KindUsage, KindReading, KindStock, KindBatch)
	case "act":
		return true, setSeq(&h.Act, v)
	case "by":
		return true, setText(&h.By, v)
	}
	return false, false
}

func (t *Tick) set(name, v []byte) bool {
	switch string(name) {
	case "chore":
		return setText(&t.Chore, v)
	case "found":
		return setWord(&t.Found, v, FoundClean, FoundLight, FoundHeavy, FoundFailed, FoundPassed)
	case "about":
		t.About = string(v) == "true"
		return t.About
	case "assumed":
		t.Assumed = string(v) == "true"
		return t.Assumed
	case "minutes":
		n, err := strconv.Atoi(string(v))
		t.Minutes = &n
		return err == nil
	case "litres":
		t.Litres = new(float64)
		return setNumber(t.Litres, v)
	case "planned":
		return setDate(&t.Planned, v)
	case "note":
		return setText(&t.Note, v)
	}
	return false
}

func (u *Usage) set(name, v []byte) bool {
	switch string(name) {
	case "counter":
		return setText(&u.Counter, v)
	case "amount":
		u.Amount = new(float64)
		return setNumber(u.Amount, v)
	case "meter":
		u.Meter = new(float64)
		return setNumber(u.Meter, v)
	}
	return false
}

func (r *Reading) set(name, v []byte) bool {
	switch string(name) {
	case "gauge":
		return setText(&r.Gauge, v)
	case "value":
		return setNumber(&r.Value, v)
	case "minutes_running":
		r.MinutesRunning = new(float64)
		return setNumber(r.MinutesRunning, v)
	}
	return false
}

func (s *Stock) set(name, v []byte) bool {
	switch string(name) {
	case "spare":
		return setText(&s.Spare, v)
	case "change":
		return setNumber(&s.Change, v)
	case "price":
		s.Price = new(float64)
		return setNumber(s.Price, v)
	}
	return false
}

func (b *Batch) set(name, v []byte) bool {
	switch string(name) {
	case "volume_l":
		return setNumber(&b.VolumeL, v)
	case "salt_g":
		return setNumber(&b.SaltG, v)
	case "salinity":
		b.Salinity = new(float64)
		return setNumber(b.Salinity, v)
	case "temperature_c":
		b.TemperatureC = new(float64)
		return setNumber(b.TemperatureC, v)
	case "from":
		return setText(&b.From, v)
	case "into":
		return setText(&b.Into, v)
	}
	return false
}

func setText[T ~string](into *T, v []byte) bool {
	if len(v) < 2 || v[0] != '"' {
		return false
	}
	*into = T(v[1 : len(v)-1])
	return true
}

// setWord reads one of a few words, without memory of its own for it.
func setWord[T ~string](into *T, v []byte, words ...T) bool {
	for _, w := range words {
		if len(v) == len(w)+2 && string(v[1:len(v)-1]) == string(w) {
			*into = w
			return true
		}
	}
	return false
}

func setSeq(into *Seq, v []byte) bool {
	n, err := strconv.ParseUint(string(v), 10, 64)
	*into = Seq(n)
	return err == nil
}

func setNumber(into *float64, v []byte) bool {
	n, err := strconv.ParseFloat(string(v), 64)
	*into = n
	return err == nil
}

// setDate reads "YYYY-MM-DD"; that such a day exists was checked when it was written.
func setDate(into *Date, v []byte) bool {
	if len(v) != len(`"2006-01-02"`) || v[0] != '"' || v[5] != '-' || v[8] != '-' {
		return false
	}
	y, err1 := strconv.Atoi(string(v[1:5]))
	m, err2 := strconv.Atoi(string(v[6:8]))
	d, err3 := strconv.Atoi(string(v[9:11]))
	*into = NewDate(y, time.Month(m), d)
	return err1 == nil && err2 == nil && err3 == nil
}
