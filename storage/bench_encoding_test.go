package storage

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/longlog"
)

// encoding is a way to keep an entry as the payload of a record.
type encoding struct {
	name   string
	encode func(model.Entry) ([]byte, error)
	decode func([]byte) (model.Entry, error)
}

// encodings are the one that the file has, first, and those it might have had.
func encodings() []encoding {
	// What entries have in common, the most frequent last, as deflate wants it.
	common := []byte(`"salinity":35.1,"temperature_c":24.5}"price":"change":"spare":"note":"volume_l":50,"salt_g":"found":"light","minutes":1` +
		`,"planned":"20{"seq":1,"at":"2020-01-01T10:00:00+01:00","on":"2020-01-01","kind":"tick","by":"","chore":"kind":"reading","act":1,` +
		`"gauge":"tds-","value":"minutes_running":1}"kind":"usage","counter":"water-made","amount":`)
	return []encoding{
		{"json", model.EncodeEntry, model.DecodeTrusted},
		{"packed", packed, unpacked},
		deflated("deflate", nil),
		deflated("deflate-dict", common),
	}
}

// records are a log in an encoding, sealed as the file seals them.
func (c encoding) records(tb testing.TB, log []model.Entry) []record {
	tb.Helper()
	out := make([]record, len(log))
	for i, e := range log {
		payload, err := c.encode(e)
		if err != nil {
			tb.Fatal(err)
		}
		key := keyOf(e.Seq)
		out[i] = record{e.Seq, key, seal(key, payload)}
	}
	return out
}

func longLog(entries int) []model.Entry {
	return slices.Collect(longlog.Household(1, entries, model.NewDate(2026, time.November, 25)))
}

// TestEncodingsLoseNothing holds the compared ones to be comparable.
func TestEncodingsLoseNothing(t *testing.T) {
	log := longLog(3000)
	for _, c := range encodings() {
		for i, r := range c.records(t, log) {
			payload, ok := unseal(r.key, r.value)
			got, err := c.decode(payload)
			if !ok || err != nil || !reflect.DeepEqual(got, log[i]) {
				t.Fatalf("%s: entry %d comes back as %+v, %v; want %+v", c.name, r.seq, got, err, log[i])
			}
		}
	}
}

// BenchmarkEncoding writes and reads the records of 10 000 entries: the time is that of
// all of them, ns/entry that of one, and bytes/entry the size of a record's value.
func BenchmarkEncoding(b *testing.B) {
	log := longLog(10_000)
	perEntry := func(b *testing.B, size int) {
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(log)), "ns/entry")
		b.ReportMetric(float64(size)/float64(len(log)), "bytes/entry")
	}
	for _, c := range encodings() {
		records := c.records(b, log)
		size := 0
		for _, r := range records {
			size += len(r.value)
		}
		b.Run(c.name+"/encode", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.records(b, log)
			}
			perEntry(b, size)
		})
		b.Run(c.name+"/decode", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				for _, r := range records {
					payload, ok := unseal(r.key, r.value)
					if _, err := c.decode(payload); !ok || err != nil {
						b.Fatal(err)
					}
				}
			}
			perEntry(b, size)
		})
	}
}

// deflated is the JSON compressed entry by entry, perhaps with a dictionary.
func deflated(name string, dict []byte) encoding {
	var into bytes.Buffer
	w, err := flate.NewWriterDict(&into, flate.DefaultCompression, dict) // BestSpeed heeds no dictionary
	if err != nil {
		panic(err) // the level is one there is
	}
	r := flate.NewReaderDict(bytes.NewReader(nil), dict)
	return encoding{name,
		func(e model.Entry) ([]byte, error) {
			line, err := model.EncodeEntry(e)
			if err != nil {
				return nil, err
			}
			into.Reset()
			w.Reset(&into)
			_, err = w.Write(line)
			err = errors.Join(err, w.Close())
			return bytes.Clone(into.Bytes()), err
		},
		func(data []byte) (model.Entry, error) {
			if err := r.(flate.Resetter).Reset(bytes.NewReader(data), dict); err != nil {
				return model.Entry{}, err
			}
			line, err := io.ReadAll(r)
			if err != nil {
				return model.Entry{}, err
			}
			return model.DecodeTrusted(line)
		}}
}

// The packed form: fields in a fixed order without their names, numbers as varints. Kinds
// of which a log has few are left as JSON, which says so by its brace.
var packedKinds = []model.Kind{model.KindTick, model.KindUsage, model.KindReading, model.KindStock, model.KindBatch}

var packedFound = []model.Found{"", model.FoundClean, model.FoundLight, model.FoundHeavy, model.FoundFailed, model.FoundPassed}

func packed(e model.Entry) ([]byte, error) {
	kind := slices.Index(packedKinds, e.Kind)
	if kind < 0 {
		return model.EncodeEntry(e)
	}
	p := packer{byte(kind)}
	p.whole(int64(e.Seq))
	p.moment(e.At)
	p.whole(int64(e.On))
	p.whole(int64(e.Act))
	p.text(e.By)
	switch b := e.Body.(type) {
	case model.Tick:
		p.text(string(b.Chore))
		flags := byte(slices.Index(packedFound, b.Found))
		if b.About {
			flags |= 0x80
		}
		p = append(p, flags)
		if b.Minutes == nil {
			p.whole(-1)
		} else {
			p.whole(int64(*b.Minutes))
		}
		p.whole(int64(b.Planned))
		p.text(b.Note)
	case model.Usage:
		p.text(string(b.Counter))
		p.optional(b.Amount)
		p.optional(b.Meter)
	case model.Reading:
		p.text(string(b.Gauge))
		p.number(b.Value)
		p.optional(b.MinutesRunning)
	case model.Stock:
		p.text(string(b.Spare))
		p.number(b.Change)
		p.optional(b.Price)
	case model.Batch:
		p.number(b.VolumeL)
		p.number(b.SaltG)
		p.optional(b.Salinity)
		p.optional(b.TemperatureC)
	}
	return p, nil
}

func unpacked(data []byte) (model.Entry, error) {
	if len(data) > 0 && data[0] == '{' {
		return model.DecodeTrusted(data)
	}
	u := unpacker{data: data}
	kind := u.one()
	if int(kind) >= len(packedKinds) {
		return model.Entry{}, errPacked
	}
	e := model.Entry{Header: model.Header{Kind: packedKinds[kind]}}
	e.Seq, e.At, e.On, e.Act, e.By = model.Seq(u.whole()), u.moment(), model.Date(u.whole()), model.Seq(u.whole()), u.text()
	switch e.Kind {
	case model.KindTick:
		t := model.Tick{Chore: model.ID(u.text())}
		flags := u.one()
		t.About = flags&0x80 != 0
		if n := int(flags &^ 0x80); n < len(packedFound) {
			t.Found = packedFound[n]
		}
		if n := int(u.whole()); n >= 0 {
			t.Minutes = &n
		}
		t.Planned, t.Note = model.Date(u.whole()), u.text()
		e.Body = t
	case model.KindUsage:
		e.Body = model.Usage{Counter: model.ID(u.text()), Amount: u.optional(), Meter: u.optional()}
	case model.KindReading:
		e.Body = model.Reading{Gauge: model.ID(u.text()), Value: u.number(), MinutesRunning: u.optional()}
	case model.KindStock:
		e.Body = model.Stock{Spare: model.ID(u.text()), Change: u.number(), Price: u.optional()}
	case model.KindBatch:
		e.Body = model.Batch{VolumeL: u.number(), SaltG: u.number(), Salinity: u.optional(), TemperatureC: u.optional()}
	}
	if u.short || len(u.data) > 0 {
		return model.Entry{}, errPacked
	}
	return e, nil
}

var errPacked = errors.New("not a packed entry")

type packer []byte

func (p *packer) whole(n int64) { *p = binary.AppendVarint(*p, n) }

func (p *packer) text(s string) {
	*p = binary.AppendUvarint(*p, uint64(len(s)))
	*p = append(*p, s...)
}

// moment is seconds and an offset where these give the same text back, else the text.
func (p *packer) moment(at string) {
	t, err := time.Parse(time.RFC3339, at)
	if _, offset := t.Zone(); err == nil && t.Format(time.RFC3339) == at {
		*p = append(*p, 1)
		p.whole(t.Unix())
		p.whole(int64(offset / 60))
		return
	}
	*p = append(*p, 0)
	p.text(at)
}

const (
	mostDecimals = 6
	wholeFloat   = mostDecimals + 1
	noNumber     = mostDecimals + 2
)

var tens = [...]float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6}

// number is a whole number and a count of decimals where that is exact, else 8 bytes.
func (p *packer) number(v float64) {
	for d, ten := range tens {
		if m := math.Round(v * ten); math.Abs(m) < 1<<50 && m/ten == v {
			*p = append(*p, byte(d))
			p.whole(int64(m))
			return
		}
	}
	*p = append(*p, wholeFloat)
	*p = binary.LittleEndian.AppendUint64(*p, math.Float64bits(v))
}

func (p *packer) optional(v *float64) {
	if v == nil {
		*p = append(*p, noNumber)
		return
	}
	p.number(*v)
}

// unpacker reads what packer wrote; short tells that it wanted more than there was.
type unpacker struct {
	data  []byte
	short bool
}

func (u *unpacker) take(n int) []byte {
	if n > len(u.data) {
		u.short, n = true, 0
	}
	out := u.data[:n]
	u.data = u.data[n:]
	return out
}

func (u *unpacker) one() byte {
	if b := u.take(1); len(b) == 1 {
		return b[0]
	}
	return 0
}

func (u *unpacker) whole() int64 {
	v, n := binary.Varint(u.data)
	u.short = u.short || n <= 0
	u.take(max(n, 0))
	return v
}

func (u *unpacker) text() string {
	v, n := binary.Uvarint(u.data)
	u.short = u.short || n <= 0
	u.take(max(n, 0))
	return string(u.take(int(v)))
}

func (u *unpacker) moment() string {
	if u.one() == 0 {
		return u.text()
	}
	seconds, minutes := u.whole(), u.whole()
	zone := time.UTC
	if minutes != 0 {
		zone = time.FixedZone("", int(minutes)*60)
	}
	return time.Unix(seconds, 0).In(zone).Format(time.RFC3339)
}

func (u *unpacker) optional() *float64 {
	d := u.one()
	if d == noNumber {
		return nil
	}
	v := u.numberOf(d)
	return &v
}

func (u *unpacker) number() float64 { return u.numberOf(u.one()) }

func (u *unpacker) numberOf(decimals byte) float64 {
	switch {
	case decimals == wholeFloat:
		if b := u.take(8); len(b) == 8 {
			return math.Float64frombits(binary.LittleEndian.Uint64(b))
		}
		return 0
	case decimals > mostDecimals:
		u.short = true
		return 0
	}
	return float64(u.whole()) / tens[decimals]
}
