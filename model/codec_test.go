package model

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"unicode"
)

// samples are entries of every kind with every field, as they are written.
var samples = []string{
	`{"seq":1,"at":"2026-03-31T07:30:15+02:00","on":"2026-03-31","kind":"book","by":"kit","name":"Vat","units":{"volume":"L","temperature":"C","pressure":"bar"},"minute_value":0.25,"care":"careful","contact":"Kit, 555 0100"}`,
	`{"kind":"place","id":"cellar","name":"Cellar","minutes":3,"guess":["minutes"]}`,
	`{"on":"2026-03-31","kind":"component","id":"pump","name":"Pump","place":"cellar","reach":5,"access_minutes":0,"opens_with":"vat","in_service":"2024-02-29","stage":"resin","rated":{"flow_l_h":11.8,"pressure_bar":3.45},"guess":["reach"],"retired":"2026-03-01"}`,
	`{"kind":"counter","id":"litres","name":"Litres","unit":"L","style":"amount","role":"water-made","declared_rate":12.5,"guess":["declared_rate"],"retired":"2026-03-01"}`,
	`{"kind":"gauge","id":"tds","name":"TDS","unit":"ppm","role":"tds-product","component":"pump","scale":"0.5","safe":{"low":24,"high":27.5},"guess":[],"retired":"2026-03-01"}`,
	`{"kind":"gauge","id":"heat","name":"Heat","unit":"C","safe":{"high":0}}`,
	`{"kind":"spare","id":"salt","name":"Salt","unit":"kg","lead_days":0,"price":2.5,"role":"salt","guess":["price"],"retired":"2026-03-01"}`,
	`{"kind":"chore","id":"c","component":"pump","name":"C","work":"read","minutes":0,"consequence":3,"hidden":true,"fixed":true,"done_by":["tds"],"cost":{"planned":1,"failure":10},"clocks":[{"calendar":"6mo","rule":"every"},{"usage":"litres","amount":40,"feed_ratio":0.5,"rule":"lasts"},{"load":"litres","inlet":"tds","outlet":"tds","grams":7,"rule":"lasts"},{"reading":"tds","limit":1,"bad":"above"}],"spares":[{"spare":"salt","quantity":1.5}],"steps":[{"text":"Wait","timer_minutes":10}],"hazards":["acid"],"cautions":["Gloves"],"then":[{"chore":"d","after":"1d"},{"chore":"e","after":"2w"}],"sitter":true,"guess":["minutes"],"retired":"2026-03-01"}`,
	`{"kind":"chore","id":"d","component":"pump","name":"D","work":"renew","minutes":0,"consequence":3,"clocks":[{"load":"litres","inlet":"tds","outlet":"tds","meq":297,"rule":"lasts"}],"spares":[],"steps":[],"hazards":[],"cautions":[]}`,
	`{"on":"2026-03-31","kind":"tick","act":3,"chore":"c","found":"clean","about":true,"minutes":0,"planned":"2026-03-30","note":"n"}`,
	`{"on":"2026-03-31","kind":"usage","counter":"litres","amount":0}`,
	`{"on":"2026-03-31","kind":"usage","counter":"hours","meter":1234.5}`,
	`{"on":"2026-03-31","kind":"meter-reset","counter":"hours"}`,
	`{"on":"2026-03-31","kind":"reading","gauge":"tds","value":-0.125,"minutes_running":0}`,
	`{"on":"2026-03-31","kind":"stock","spare":"salt","change":-2,"price":3}`,
	`{"on":"2026-03-31","kind":"flag","component":"pump","state":"rebuilt","cause":"too-tight","note":"n","reach":1,"access_minutes":0}`,
	`{"on":"2026-03-31","kind":"put-off","chore":"c","until":"2026-04-01","reason":"r"}`,
	`{"on":"2026-03-31","kind":"batch","volume_l":100,"salt_g":0,"salinity":34.5,"temperature_c":25}`,
	`{"on":"2026-03-31","kind":"away","until":"2026-04-01"}`,
	`{"on":"2026-03-31","kind":"fault","component":"pump","note":"n"}`,
	`{"on":"2026-03-31","kind":"repair","fault":7,"note":"n","uses":[{"spare":"salt","quantity":1.5}]}`,
	`{"on":"2026-03-31","kind":"normal","component":"pump"}`,
	`{"kind":"vessel","id":"reservoir","name":"Reservoir","place":"cellar","holds":"fresh","capacity":100,"keep":5,"fed_by":"litres","auto":true,"declared_use":0,"guess":["declared_use"],"retired":"2026-03-01"}`,
	`{"kind":"chore","id":"e","component":"pump","name":"E","work":"clean","minutes":0,"consequence":3,"clocks":[{"level":"reservoir"}],"spares":[],"takes":[{"vessel":"reservoir","litres":40.5}],"steps":[],"hazards":[],"cautions":[]}`,
	`{"on":"2026-03-31","kind":"tick","chore":"e","litres":0}`,
	`{"on":"2026-03-31","kind":"batch","volume_l":100,"salt_g":0,"from":"reservoir","into":"vat"}`,
	`{"on":"2026-03-31","kind":"level","vessel":"reservoir","litres":0,"about":true}`,
	`{"on":"2026-03-31","kind":"draw","vessel":"reservoir","litres":12,"for":"top-up","into":"can"}`,
	`{"on":"2026-03-31","kind":"need","vessel":"reservoir","litres":120,"by":"2026-03-31","chore":"e","note":"n"}`,
	`{"on":"2026-03-31","kind":"note","text":"\"kind\":\"tick\" <é> \u0001","on_what":"component:pump"}`,
	`{"seq":9,"kind":"amend","entry":8,"with":{"note":null,"found":"light"}}`,
	`{"kind":"amend","entry":8,"strike":true}`,
}

func TestSamplesCoverEveryKind(t *testing.T) {
	seen := map[Kind]bool{}
	for _, s := range samples {
		e, err := DecodeEntry([]byte(s))
		if err != nil {
			t.Fatalf("%s: %v", s, err)
		}
		seen[e.Kind] = true
	}
	for _, k := range Kinds() {
		if !seen[k] {
			t.Errorf("no sample of kind %s", k)
		}
	}
}

func TestDecodeEncode(t *testing.T) {
	for _, s := range samples {
		e, err := DecodeEntry([]byte(s))
		if err != nil {
			t.Fatalf("%s: %v", s, err)
		}
		out, err := EncodeEntry(e)
		if err != nil {
			t.Fatalf("%s: %v", s, err)
		}
		strict, err := DecodeEntry(out)
		if err != nil {
			t.Fatalf("%s: reading it back: %v", out, err)
		}
		trusted, err := DecodeTrusted(out)
		if err != nil {
			t.Fatalf("%s: reading it back trusted: %v", out, err)
		}
		if !reflect.DeepEqual(strict, trusted) {
			t.Errorf("%s:\nstrict  %+v\ntrusted %+v", s, strict, trusted)
		}
		if again, _ := EncodeEntry(strict); !bytes.Equal(again, out) {
			t.Errorf("%s: written a second time as %s", out, again)
		}
		for _, field := range []string{"guess", "spares", "steps", "hazards", "cautions"} { // empty lists may be written out
			out = bytes.ReplaceAll(out, []byte(`,"`+field+`":[]`), nil)
			s = strings.ReplaceAll(s, `,"`+field+`":[]`, "")
		}
		if string(out) != s {
			t.Errorf("read\n%s\nwritten\n%s", s, out)
		}
	}
}

func TestDecoderIsStrict(t *testing.T) {
	const tick = `{"on":"2026-03-31","kind":"tick","chore":"c"`
	const chore = `{"kind":"chore","id":"c","component":"p","name":"C","work":"clean","minutes":1,"consequence":1,"clocks":[{"calendar":"6mo","rule":"every"}],`
	for _, c := range []struct{ name, text, want string }{
		{"nothing", ``, "empty"},
		{"blank", ` `, "empty"},
		{"a list", `[]`, "not a JSON object"},
		{"a number", `7`, "not a JSON object"},
		{"breaks off", tick, "breaks off"},
		{"two values", tick + `}{}`, "byte"},
		{"unknown field", tick + `,"colour":1}`, "colour"},
		{"case", tick + `,"Note":"n"}`, "Note"},
		{"case of the kind", `{"on":"2026-03-31","Kind":"tick","chore":"c"}`, "kind is missing"},
		{"twice", tick + `,"chore":"d"}`, "named twice"},
		{"twice by escape", tick + `,"ch\u006fre":"d"}`, "named twice"},
		{"null", tick + `,"note":null}`, "null"},
		{"null deep", `{"kind":"book","name":"V","units":{"volume":null,"temperature":"C","pressure":"bar"}}`, "null"},
		{"null in a value of with", `{"kind":"amend","entry":1,"with":{"cost":{"planned":null}}}`, "null"},
		{"bad UTF-8", tick + ",\"note\":\"\xff\"}", "byte"},
		{"lone surrogate", tick + `,"note":"\ud800"}`, "byte"},
		{"a kind of another type", `{"kind":3}`, "kind"},
		{"nothing in a list", `{"kind":"place","id":"p","name":"P","minutes":1,"guess":[1]}`, "guess"},
		{"fraction of minutes", tick + `,"minutes":1.5}`, "minutes"},
		{"negative minutes", tick + `,"minutes":-1}`, "minutes"},
		{"minutes of two days", tick + `,"minutes":2880}`, "minutes"},
		{"infinity", `{"on":"2026-03-31","kind":"reading","gauge":"g","value":1e999}`, "value"},
		{"value missing", `{"on":"2026-03-31","kind":"reading","gauge":"g"}`, "value is missing"},
		{"true as a word", tick + `,"about":"true"}`, "about"},
		{"seq 0.5", `{"seq":0.5,"on":"2026-03-31","kind":"away","until":"2026-04-01"}`, "seq"},
		{"negative seq", `{"seq":-1,"on":"2026-03-31","kind":"away","until":"2026-04-01"}`, "seq"},
		{"date in another form", `{"on":"31.3.2026","kind":"away","until":"2026-04-01"}`, "31.3.2026"},
		{"both amount and meter", `{"on":"2026-03-31","kind":"usage","counter":"c","amount":1,"meter":2}`, "not both"},
		{"neither amount nor meter", `{"on":"2026-03-31","kind":"usage","counter":"c"}`, "either amount or meter"},
		{"both strike and with", `{"kind":"amend","entry":1,"strike":true,"with":{"note":"n"}}`, "not both"},
		{"with of nothing", `{"kind":"amend","entry":1,"with":{}}`, "at least one"},
		{"with a kind", `{"kind":"amend","entry":1,"with":{"kind":"note"}}`, "with"},
		{"amend of a later one", `{"seq":3,"kind":"amend","entry":3,"strike":true}`, "entry"},
		{"fields of two clocks", `{"kind":"chore","id":"c","component":"p","name":"C","work":"clean","minutes":1,"consequence":1,"clocks":[{"calendar":"6mo","limit":1,"rule":"every"}]}`, "clock"},
		{"grams and meq", `{"kind":"chore","id":"c","component":"p","name":"C","work":"renew","minutes":1,"consequence":1,"clocks":[{"load":"l","inlet":"t","grams":7,"meq":300,"rule":"lasts"}]}`, "clocks"},
		{"meq of nothing", `{"kind":"chore","id":"c","component":"p","name":"C","work":"renew","minutes":1,"consequence":1,"clocks":[{"load":"l","inlet":"t","meq":0,"rule":"lasts"}]}`, "meq"},
		{"safe without an end", `{"kind":"gauge","id":"g","name":"G","unit":"C","safe":{}}`, "safe"},
		{"safe the wrong way round", `{"kind":"gauge","id":"g","name":"G","unit":"C","safe":{"low":27,"high":24}}`, "safe.low"},
		{"rated without a pressure", `{"kind":"component","id":"m","name":"M","place":"p","reach":1,"access_minutes":0,"rated":{"flow_l_h":11.8}}`, "rated.pressure_bar"},
		{"a follow-up of itself", chore + `"then":[{"chore":"c","after":"1d"}]}`, "then.chore"},
		{"a follow-up twice", chore + `"then":[{"chore":"d","after":"1d"},{"chore":"d","after":"2d"}]}`, "then.chore"},
		{"a follow-up without a span", chore + `"then":[{"chore":"d"}]}`, "then.after"},
		{"a follow-up after nothing", chore + `"then":[{"chore":"d","after":"0d"}]}`, "after"},
		{"a sitter in words", chore + `"sitter":"yes"}`, "sitter"},
		{"a repair of nothing", `{"on":"2026-03-31","kind":"repair"}`, "fault"},
		{"a repair of what comes later", `{"seq":3,"on":"2026-03-31","kind":"repair","fault":3}`, "fault"},
		{"a repair without a date", `{"kind":"repair","fault":3}`, "on"},
		{"a repair that takes none of a spare", `{"on":"2026-03-31","kind":"repair","fault":3,"uses":[{"spare":"salt","quantity":0}]}`, "uses.quantity"},
		{"normal of nothing", `{"on":"2026-03-31","kind":"normal"}`, "component"},
		{"clock of no kind", `{"kind":"chore","id":"c","component":"p","name":"C","work":"clean","minutes":1,"consequence":1,"clocks":[{"rule":"every"}]}`, "clock"},
		{"five clocks", `{"kind":"chore","id":"c","component":"p","name":"C","work":"clean","minutes":1,"consequence":1,"clocks":[` + strings.Repeat(`{"calendar":"6mo","rule":"every"},`, 4) + `{"calendar":"6mo","rule":"every"}]}`, "1 to 4 clocks"},
	} {
		e, err := DecodeEntry([]byte(c.text))
		if err == nil {
			t.Errorf("%s: %s was accepted", c.name, c.text)
			continue
		}
		if !strings.Contains(err.Error(), c.want) || strings.ContainsRune(err.Error(), '\n') {
			t.Errorf("%s: %q, want one line with %q", c.name, err, c.want)
		}
		if !reflect.DeepEqual(e, Entry{}) {
			t.Errorf("%s: an entry came with the error", c.name)
		}
	}
}

// printable tells whether a text may go to a terminal as it is.
func printable(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) })
}

// What an error repeats of the text must not reach a terminal as an escape, nor fill it.
func TestErrorsArePrintable(t *testing.T) {
	const esc = `\u001b[2J\u009b\u202e`
	for _, text := range []string{
		`{"` + esc + `":1,"kind":"note","on":"2026-01-01","text":"x"}`,
		`{"` + esc + `":null}`,
		`{"` + esc + `":1,"` + esc + `":1}`,
		`{"kind":"` + esc + `"}`,
		`{"kind":"away","on":"` + esc + `","until":"2026-01-01"}`,
		`{"kind":"note","on":"2026-01-01","text":"x","at":"` + esc + `"}`,
		`{"kind":"amend","entry":1,"with":{"` + esc + `":{"` + esc + `":null}}}`,
		`{"kind":"place","id":"` + esc + `","name":"P","minutes":1}`,
		`{"` + strings.Repeat("long", 5000) + `":1,"kind":"note","on":"2026-01-01","text":"x"}`,
		"{\"kind\":\"note\",\"on\":\"2026-01-01\",\"text\":\"\x1b[2J\"}",
		"\x1b[2J",
	} {
		_, err := DecodeEntry([]byte(text))
		if err == nil || !printable(err.Error()) || len(err.Error()) > 300 {
			t.Errorf("%.80s: error %q", text, err)
		}
	}
}

func FuzzDecodeEntry(f *testing.F) {
	for _, s := range samples {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		e, err := DecodeEntry(data)
		if err != nil {
			if !printable(err.Error()) || !reflect.DeepEqual(e, Entry{}) {
				t.Fatalf("error %q with %+v", err, e)
			}
			return
		}
		out, err := EncodeEntry(e)
		if err != nil {
			t.Fatalf("what was read can't be written: %v", err)
		}
		strict, err := DecodeEntry(out)
		if err != nil {
			t.Fatalf("%s: what was written can't be read: %v", out, err)
		}
		trusted, err := DecodeTrusted(out)
		if err != nil || !reflect.DeepEqual(strict, trusted) {
			t.Fatalf("%s: trusted %+v, strict %+v: %v", out, trusted, strict, err)
		}
		if again, err := EncodeEntry(strict); err != nil || !bytes.Equal(again, out) {
			t.Fatalf("written %s, then %s (%v)", out, again, err)
		}
	})
}
