package exchange

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"
	"unicode"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

var today = model.NewDate(2026, 3, 31)

const head = `{"kind":"wrasse-book","version":1}` + "\n"

// sound is the smallest log with something to refer to.
const sound = head +
	`{"kind":"book","name":"Vat","units":{"volume":"L","temperature":"C","pressure":"bar"}}
{"kind":"place","id":"cellar","name":"Cellar","minutes":3}
{"kind":"component","id":"pump","name":"Pump","place":"cellar","reach":2,"access_minutes":4}
{"kind":"counter","id":"hours","name":"Hours","unit":"h","style":"meter"}
{"kind":"counter","id":"litres","name":"Litres","unit":"L","style":"amount"}
{"kind":"gauge","id":"tds","name":"TDS","unit":"ppm","role":"tds-product"}
{"kind":"chore","id":"clean-pump","component":"pump","name":"Clean","work":"clean","minutes":5,"consequence":2,"clocks":[{"calendar":"6mo","rule":"every"}]}
`

func export(t testing.TB, entries []model.Entry) []byte {
	t.Helper()
	book := must(ledger.Fold(entries))
	var out bytes.Buffer
	if err := Export(&out, book); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestBooksSurvive(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/books/*.jsonl")
	if err != nil || len(paths) != 20 {
		t.Fatalf("%d books found, want 20 (%v)", len(paths), err)
	}
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			file := must(os.Open(path))
			defer file.Close()
			entries := must(Import(file, today))
			first := export(t, entries)
			again := must(Import(bytes.NewReader(first), today.AddDays(90)))
			if second := export(t, again); !bytes.Equal(first, second) {
				t.Errorf("the second export differs from the first")
			}
			if lines := bytes.Count(first, []byte("\n")); lines != len(entries)+1 {
				t.Errorf("%d lines for %d entries and a header", lines, len(entries))
			}
		})
	}
}

const vessel = `{"on":"2026-01-01","kind":"vessel","id":"reservoir","name":"Reservoir","place":"cellar","holds":"fresh","capacity":100}` + "\n"

// A chore is put off under the name that the version of the book has for it.
func TestPutOffByEitherName(t *testing.T) {
	log := strings.TrimPrefix(sound, head)
	for _, c := range []struct{ rest, want string }{{"", "defer"}, {vessel, "put-off"}} {
		for _, given := range []string{"defer", "put-off"} {
			put := `{"on":"2026-03-01","kind":"` + given + `","chore":"clean-pump","until":"2026-04-01"}` + "\n"
			entries := must(Import(strings.NewReader(head+log+c.rest+put), today))
			if out := string(export(t, entries)); !strings.Contains(out, `"kind":"`+c.want+`"`) {
				t.Errorf("%s stands as\n%s\nwant %s", given, out, c.want)
			}
		}
	}
}

// TestVersionOfTheHeader reads books with and without a field of version 2 under either header, and expects the lower
// version that knows what they hold.
func TestVersionOfTheHeader(t *testing.T) {
	log := strings.TrimPrefix(sound, head)
	cared := strings.Replace(log, `"pressure":"bar"}}`, `"pressure":"bar"},"care":"easy"}`, 1)
	for _, c := range []struct {
		name, log string
		want      int
	}{
		{"nothing of version 2", log, 1},
		{"care", cared, 2},
		{"care by an amend", log + `{"kind":"amend","entry":1,"with":{"care":"careful"}}` + "\n", 2},
		{"a safe range", log + `{"kind":"gauge","id":"tds","name":"TDS","unit":"ppm","safe":{"high":1}}` + "\n", 2},
		{"a safe range taken out by an amend", log + `{"kind":"amend","entry":1,"with":{"safe":null}}` + "\n", 2},
		{"a label", log + `{"on":"2026-01-01","kind":"component","id":"el","name":"E","place":"cellar","reach":1,"access_minutes":0,"rated":{"flow_l_h":12,"pressure_bar":3.4}}` + "\n", 2},
		{"normal", log + `{"on":"2026-01-01","kind":"normal","component":"pump"}` + "\n", 2},
		{"a vessel", log + vessel, 2},
		{"a repair", log + `{"on":"2026-01-01","kind":"fault","component":"pump"}` + "\n" + fmt.Sprintf(`{"on":"2026-01-02","kind":"repair","fault":%d}`, strings.Count(log, "\n")+1) + "\n", 2},
		{"a follow-up by an amend", log + fmt.Sprintf(`{"kind":"amend","entry":%d,"with":{"then":null}}`, 1+strings.Count(log[:strings.Index(log, `"kind":"chore"`)], "\n")) + "\n", 2},
		{"a contact", strings.Replace(log, `"pressure":"bar"}}`, `"pressure":"bar"},"contact":"Kit"}`, 1), 2},
		{"a chore for a sitter", strings.Replace(log, `"kind":"chore",`, `"kind":"chore","sitter":true,`, 1), 2},
		{"hours of running", strings.Replace(log, `"pressure":"bar"}}`, `"pressure":"bar"},"run_hours":8}`, 1), 2},
		{"care taken out by an amend", cared + `{"kind":"amend","entry":1,"with":{"care":null}}` + "\n", 2},
	} {
		for given := 1; given <= 2; given++ {
			entries, err := Import(strings.NewReader(fmt.Sprintf(`{"kind":"wrasse-book","version":%d}`, given)+"\n"+c.log), today)
			if err != nil {
				t.Fatalf("%s: %v", c.name, err)
			}
			first, _, _ := strings.Cut(string(export(t, entries)), "\n")
			if want := fmt.Sprintf(`{"kind":"wrasse-book","version":%d}`, c.want); first != want {
				t.Errorf("%s, read as version %d: the header is %s, want %s", c.name, given, first, want)
			}
		}
	}
}

func TestInService(t *testing.T) {
	const comp = `{"kind":"component","id":"p","name":"P","place":"cellar","reach":1,"access_minutes":0`
	const place = head + `{"kind":"place","id":"cellar","name":"Cellar","minutes":3}` + "\n"
	for _, c := range []struct{ name, rest, want string }{
		{"given", `,"in_service":"2020-02-29","on":"2024-01-01"}`, "2020-02-29"},
		{"from on", `,"on":"2024-01-01","at":"2024-05-06T07:08:09Z"}`, "2024-01-01"},
		{"from at, in its own zone", `,"at":"2024-05-06T23:30:00-08:00"}`, "2024-05-06"},
		{"from the day of the import", `}`, "2026-03-31"},
	} {
		t.Run(c.name, func(t *testing.T) {
			entries := must(Import(strings.NewReader(place+comp+c.rest), today))
			book := must(ledger.Fold(entries))
			if p, _ := book.Component("p"); p.InService.String() != c.want {
				t.Errorf("in service %s, want %s", p.InService, c.want)
			}
		})
	}
}

func TestMissingAtStaysMissing(t *testing.T) {
	entries := must(Import(strings.NewReader(sound), today))
	if out := export(t, entries); bytes.Contains(out, []byte(`"at"`)) {
		t.Errorf("a moment of writing was made up:\n%s", out)
	}
}

// zeros is an endless line.
type zeros struct{ left int }

func (z *zeros) Read(p []byte) (int, error) {
	if z.left == 0 {
		return 0, io.EOF
	}
	n := min(len(p), z.left)
	for i := range p[:n] {
		p[i] = '0'
	}
	z.left -= n
	return n, nil
}

func TestLongLineInLittleMemory(t *testing.T) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := Import(io.MultiReader(strings.NewReader(sound), &zeros{100 << 20}), today)
	runtime.ReadMemStats(&after)
	wantError(t, err, 9, "longer than 1048576 bytes")
	if used := after.TotalAlloc - before.TotalAlloc; used > 8*MaxLine {
		t.Errorf("%d bytes were allocated for a line of 100 MB", used)
	}
}

func TestLongestLine(t *testing.T) {
	note := `{"kind":"note","on":"2026-01-01","text":"x"}`
	full := note + strings.Repeat(" ", MaxLine-len(note))
	if _, err := Import(strings.NewReader(sound+full+"\n"), today); err != nil {
		t.Errorf("a line of just the limit: %v", err)
	}
	_, err := Import(strings.NewReader(sound+full+" \n"), today)
	wantError(t, err, 9, "longer than")
}

func wantError(t *testing.T, err error, line int, want string) {
	t.Helper()
	var at *ImportError
	if !errors.As(err, &at) {
		t.Fatalf("got %v, want an error of line %d", err, line)
	}
	if at.Line != line || !strings.Contains(err.Error(), want) {
		t.Errorf("got %q, want line %d and %q", err, line, want)
	}
	if strings.ContainsRune(err.Error(), '\n') {
		t.Errorf("%q is more than one line", err)
	}
}

// badImports are refused as a whole. The line counts from the header's.
var badImports = []struct {
	name, text string
	line       int
	want       string
}{
	{"empty file", "", 1, "the file is empty"},
	{"no header", strings.TrimPrefix(sound, head), 1, "not the header of a book"},
	{"header with another field", `{"kind":"wrasse-book","version":1,"x":2}`, 1, "not the header"},
	{"newer version", `{"kind":"wrasse-book","version":3}`, 1, "update wrasse"},
	{"version 0", `{"kind":"wrasse-book","version":0}`, 1, "give 1 or 2"},
	{"care in another word", head + `{"kind":"book","name":"Vat","units":{"volume":"L","temperature":"C","pressure":"bar"},"care":"keen"}`, 2, `care: "keen"`},
	{"header only", head, 1, "no entries"},
	{"broken JSON", sound + `{"kind":"note","on":"2026-01-01","text":"x"`, 9, "breaks off"},
	{"not an object", sound + `["note"]`, 9, "not a JSON object"},
	{"two objects", sound + `{"kind":"note","on":"2026-01-01","text":"x"} {}`, 9, "after top-level value"},
	{"empty line", head + "\n" + strings.TrimPrefix(sound, head), 2, "the line is empty"},
	{"byte order mark", "\ufeff" + sound, 1, "not the header"},
	{"unknown kind", sound + `{"kind":"tock","on":"2026-01-01"}`, 9, `kind: "tock"`},
	{"kind missing", sound + `{"on":"2026-01-01","text":"x"}`, 9, "kind is missing"},
	{"unknown field", sound + `{"kind":"note","on":"2026-01-01","text":"x","color":"red"}`, 9, "color"},
	{"field in capitals", sound + `{"kind":"note","on":"2026-01-01","Text":"x"}`, 9, "Text"},
	{"field twice", sound + `{"kind":"note","on":"2026-01-01","text":"x","text":"y"}`, 9, "text: \"named twice\""},
	{"null", sound + `{"kind":"note","on":"2026-01-01","text":null}`, 9, "null"},
	{"missing reference", sound + `{"kind":"tick","chore":"no-such","on":"2026-01-01"}`, 9, `chore: "no-such"`},
	{"reference to a later line", head + `{"kind":"component","id":"p","name":"P","place":"cellar","reach":1,"access_minutes":0}` + "\n" + strings.TrimPrefix(sound, head), 2, `place: "cellar"`},
	{"negative amount", sound + `{"kind":"usage","counter":"litres","amount":-1,"on":"2026-01-01"}`, 9, `amount: "-1"`},
	{"too large an amount", sound + `{"kind":"usage","counter":"litres","amount":1e10,"on":"2026-01-01"}`, 9, "amount"},
	{"amount as text", sound + `{"kind":"usage","counter":"litres","amount":"3","on":"2026-01-01"}`, 9, "amount"},
	{"reach 7", sound + `{"kind":"component","id":"p","name":"P","place":"cellar","reach":7,"access_minutes":0}`, 9, `reach: "7"`},
	{"31 February", sound + `{"kind":"note","on":"2026-02-31","text":"x"}`, 9, "2026-02-31"},
	{"date too early", sound + `{"kind":"note","on":"1969-12-31","text":"x"}`, 9, "1969-12-31"},
	{"date missing", sound + `{"kind":"note","text":"x"}`, 9, "on is missing"},
	{"at without a zone", sound + `{"kind":"note","on":"2026-01-01","at":"2026-01-01T10:00:00","text":"x"}`, 9, "at:"},
	{"falling meter", sound + `{"kind":"usage","counter":"hours","meter":9,"on":"2026-01-01"}` + "\n" + `{"kind":"usage","counter":"hours","meter":8,"on":"2026-01-02"}`, 10, `meter: "8"`},
	{"meter of an amount counter", sound + `{"kind":"usage","counter":"litres","meter":9,"on":"2026-01-01"}`, 9, "meter"},
	{"not UTF-8", sound + "{\"kind\":\"note\",\"on\":\"2026-01-01\",\"text\":\"\xff\"}", 9, "not UTF-8"},
	{"as-found word of another work", sound + `{"kind":"tick","chore":"clean-pump","found":"passed","on":"2026-01-01"}`, 9, `found: "passed"`},
	{"two gauges of one role", sound + `{"kind":"gauge","id":"tds2","name":"TDS","unit":"ppm","role":"tds-product"}`, 9, `role: "tds-product"`},
	{"reserved gauge", sound + `{"kind":"gauge","id":"rejection","name":"R","unit":"%"}`, 9, "reserved"},
	{"id with a space", sound + `{"kind":"place","id":"the cellar","name":"C","minutes":1}`, 9, `id: "the cellar"`},
	{"no clock", sound + `{"kind":"chore","id":"c","component":"pump","name":"C","work":"clean","minutes":5,"consequence":2,"clocks":[]}`, 9, "clocks"},
	{"until not later", sound + `{"kind":"away","on":"2026-01-02","until":"2026-01-02"}`, 9, "until"},
	{"opens with itself", sound + `{"kind":"component","id":"pump","name":"Pump","place":"cellar","reach":2,"access_minutes":4,"opens_with":"pump"}`, 9, "opens_with"},
	{"amends what comes later", sound + `{"kind":"amend","entry":8,"strike":true}`, 9, "entry"},
	{"amend that leaves a reference dangling", sound + `{"kind":"amend","entry":2,"strike":true}`, 4, `place: "cellar"`},
	{"seq on one line only", sound + `{"seq":8,"kind":"note","on":"2026-01-01","text":"x"}`, 9, "on every line or on none"},
	{"seq missing on one line", head + `{"seq":1,"kind":"note","on":"2026-01-01","text":"x"}` + "\n" + `{"kind":"note","on":"2026-01-01","text":"x"}`, 3, "seq is missing"},
	{"seq twice", head + `{"seq":1,"kind":"note","on":"2026-01-01","text":"x"}` + "\n" + `{"seq":1,"kind":"note","on":"2026-01-01","text":"x"}`, 3, "give 2"},
	{"seq with a gap", head + `{"seq":1,"kind":"note","on":"2026-01-01","text":"x"}` + "\n" + `{"seq":3,"kind":"note","on":"2026-01-01","text":"x"}`, 3, "give 2"},
	{"act torn apart", sound + strings.Repeat(`{"kind":"note","on":"2026-01-01","text":"x","act":8}`+"\n"+`{"kind":"note","on":"2026-01-01","text":"x"}`+"\n", 2), 11, "act"},
	{"note too long", sound + `{"kind":"note","on":"2026-01-01","text":"` + strings.Repeat("x", 10_001) + `"}`, 9, "at most 10000"},
	{"nested too deep", sound + `{"kind":"note","on":"2026-01-01","text":` + strings.Repeat("[", 100) + strings.Repeat("]", 100) + `}`, 9, "nested"},
}

func TestBadImports(t *testing.T) {
	if _, err := Import(strings.NewReader(sound), today); err != nil {
		t.Fatalf("the book the bad lines are added to: %v", err)
	}
	for _, c := range badImports {
		t.Run(c.name, func(t *testing.T) {
			entries, err := Import(strings.NewReader(c.text), today)
			wantError(t, err, c.line, c.want)
			if entries != nil {
				t.Errorf("%d entries came with the error", len(entries))
			}
		})
	}
}

func TestErrorOfTheReader(t *testing.T) {
	broken := errors.New("cable pulled")
	_, err := Import(io.MultiReader(strings.NewReader(sound), iotest.ErrReader(broken)), today)
	var at *ImportError
	if !errors.Is(err, broken) || errors.As(err, &at) {
		t.Errorf("got %v, want the reader's own error without a line", err)
	}
}

func TestExportError(t *testing.T) {
	entries := must(Import(strings.NewReader(sound), today))
	book, _ := ledger.Fold(entries)
	if err := Export(fullDisk{}, book); err == nil || !strings.Contains(err.Error(), "no room") {
		t.Errorf("got %v, want the writer's error", err)
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, fmt.Errorf("no room") }

// What a terminal acts on leaves an export escaped, and comes back as it was.
func TestExportIsSafeToPrint(t *testing.T) {
	const text = "a\x1b[2Jb\u009b31mc\u007fd\u0085e\u202ef\u2066g\u200bh\u2028i\U000e0041j"
	entry := model.NewEntry(today, model.Note{Text: text})
	entries := must(Import(strings.NewReader(sound), today))
	entry.Seq = model.Seq(len(entries) + 1)
	out := export(t, append(entries, entry))
	for _, r := range string(out) {
		if r != '\n' && unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) {
			t.Fatalf("%q stands bare in the export", r)
		}
	}
	back := must(Import(bytes.NewReader(out), today))
	if n, ok := back[len(back)-1].Body.(model.Note); !ok || n.Text != text {
		t.Errorf("comes back as %q", n.Text)
	}
}

// must is what can't fail here.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
