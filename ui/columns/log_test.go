package columns

import (
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/schedule"
)

// parts splits a log into its definitions and its values and ticks as first written, and
// drops the rest.
func parts(log []model.Entry) (definitions, logged []model.Entry) {
	for _, e := range log {
		e.Act = 0
		switch {
		case e.Kind == model.KindTick || e.Kind == model.KindUsage || e.Kind == model.KindReading:
			logged = append(logged, e)
		case e.Kind.Defines():
			definitions = append(definitions, e)
		}
	}
	return definitions, logged
}

func rowsOf(cells [][]string) []Row {
	var out []Row
	for i, c := range cells {
		out = append(out, Row{i + 1, c})
	}
	return out
}

// The demo's log, written as a table and read into a book that only has its
// definitions, is the same log, through units that are not the ones it is kept in; read
// again, it adds nothing.
func TestTheLogComesBack(t *testing.T) {
	units := model.Units{Volume: "gal", Temperature: "F", Pressure: "psi"}
	demo := starter.Demo(today)
	definitions, logged := parts(demo)
	for i := range definitions {
		if def, ok := definitions[i].Body.(model.BookDef); ok {
			def.Units = units
			definitions[i].Body = def
		}
	}
	empty := fold(t, new(ledger.Book), slices.Clone(definitions))
	whole := fold(t, new(ledger.Book), slices.Concat(definitions, logged))
	rows := logRows(t, whole)
	if len(rows) != len(logged)+1 {
		t.Fatalf("%d rows for %d entries", len(rows), len(logged))
	}
	plan, err := Read(empty, rowsOf(rows), Asked{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	acts, err := plan.Acts(empty)
	if err != nil {
		t.Fatal(err)
	}
	back := empty
	for _, a := range acts {
		back = fold(t, back, a.Entries)
	}
	again := logRows(t, back)
	if len(again) != len(rows) {
		t.Fatalf("%d rows come back of %d", len(again), len(rows))
	}
	const seq = 10
	for i := range rows {
		if !slices.Equal(slices.Delete(slices.Clone(again[i]), seq, seq+1), slices.Delete(slices.Clone(rows[i]), seq, seq+1)) {
			t.Fatalf("row %d comes back as\n%q, was\n%q", i, again[i], rows[i])
		}
	}
	if plan, err = Read(back, rowsOf(rows), Asked{Today: today}); err != nil || len(plan.Items) != 0 || plan.Known != len(logged) {
		t.Errorf("read again: %d new, %d known of %d, %v", len(plan.Items), plan.Known, len(logged), err)
	}
}

// What an instrument showed too much at a check that failed goes out and comes in, in the units shown; it is refused in a book
// where no gauge is read with it, and known in the book it came from all the same.
func TestOffsetsComeBack(t *testing.T) {
	definitions, _ := parts(starter.Demo(today))
	for i := range definitions {
		if def, ok := definitions[i].Body.(model.BookDef); ok {
			def.Units.Temperature = "F"
			definitions[i].Body = def
		}
	}
	off, half := 1.5, -0.25
	checks := []model.Entry{
		model.NewEntry(today, model.Tick{Chore: "compare-thermometers", Found: model.FoundFailed, Offset: &off}),
		model.NewEntry(today, model.Tick{Chore: "check-salinity-meter", Found: model.FoundFailed, Offset: &half}),
	}
	empty := fold(t, new(ledger.Book), slices.Clone(definitions))
	whole := fold(t, empty, checks)
	rows := logRows(t, whole)
	if got := []string{rows[0][11], rows[1][11], rows[2][11]}; !slices.Equal(got, []string{"offset", "2.7", "-0.25"}) {
		t.Fatalf("the last column is %q", got)
	}
	plan, err := Read(whole, rowsOf(rows), Asked{Today: today})
	if err != nil || len(plan.Items) != 0 || plan.Known != 2 {
		t.Errorf("read into the same book: %d new, %d known, %v", len(plan.Items), plan.Known, err)
	}
	if plan, err = Read(empty, rowsOf(rows), Asked{Today: today}); err != nil || len(plan.Items) != 2 {
		t.Fatalf("read into an empty one: %+v, %v", plan, err)
	}
	acts, err := plan.Acts(empty)
	if err != nil {
		t.Fatal(err)
	}
	if again := logRows(t, fold(t, empty, acts[0].Entries)); again[1][11] != "2.7" || again[2][11] != "-0.25" {
		t.Errorf("what comes back is %q", again)
	}
	gauge, _ := whole.Gauge("tank-temperature")
	gauge.Instrument = ""
	apart := []model.Entry{model.NewEntry(today, gauge)}
	if plan, err = Read(fold(t, whole, apart), rowsOf(rows), Asked{Today: today}); err != nil || len(plan.Items) != 0 {
		t.Errorf("known, though no gauge names the instrument any more: %+v, %v", plan, err)
	}
	if _, err = Read(fold(t, empty, apart), rowsOf(rows), Asked{Today: today}); err == nil || !strings.Contains(err.Error(), "line 2: offset: ") {
		t.Errorf("an offset of what is no instrument: %v", err)
	}
}

// The whole demo log has rows of every other kind too, which Read counts and leaves.
func TestOtherKindsAreLeft(t *testing.T) {
	b := fold(t, new(ledger.Book), starter.Demo(today))
	rows := logRows(t, b)
	kinds := map[string]int{}
	for _, r := range rows[1:] {
		kinds[r[8]]++
		if r[0] == "" || len(r) != len(rows[0]) {
			t.Fatalf("row %q", r)
		}
	}
	plan, err := Read(b, rowsOf(rows), Asked{Today: today, Future: true})
	if err != nil {
		t.Fatal(err)
	}
	if plan.Known != kinds["tick"]+kinds["usage"]+kinds["reading"] || len(plan.Items) != 0 {
		t.Errorf("%d known and %d new of %v", plan.Known, len(plan.Items), kinds)
	}
	if left := strings.Join(plan.Others, ", "); !strings.Contains(left, "stock") || !strings.Contains(left, "batch") {
		t.Errorf("left: %s", left)
	}
}

func TestStruckEntriesAreNoRows(t *testing.T) {
	b := reef(t, metric)
	v := 40.0
	b = fold(t, b, []model.Entry{model.NewEntry(today, model.Usage{Counter: "water-made", Amount: &v})})
	if rows := logRows(t, b); len(rows) != 2 {
		t.Fatalf("%d rows", len(rows))
	}
	struck, err := b.Strike(b.Last(), today)
	if err != nil {
		t.Fatal(err)
	}
	b = fold(t, b, struck)
	if rows := logRows(t, b); len(rows) != 1 {
		t.Errorf("%d rows after striking", len(rows))
	}
}

func TestRoundRows(t *testing.T) {
	b := fold(t, new(ledger.Book), starter.Demo(today))
	r := schedule.Make(b, today)
	rows := Round(r)
	if len(rows) != len(r.Standings)+1 {
		t.Fatalf("%d rows for %d chores", len(rows), len(r.Standings))
	}
	for i, row := range rows[1:] {
		s := r.Standings[i]
		if row[0] != string(s.Chore.ID) || row[6] != s.Due.String() || len(row) != len(rows[0]) {
			t.Errorf("row %d: %q", i, row)
		}
	}
}

// logRows is the log of a book as a table.
func logRows(t testing.TB, b *ledger.Book) [][]string {
	t.Helper()
	rows, err := Log(b)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// file is the file of a book, as far as it is read for a table.
type file struct {
	ledger.Source
	book  *ledger.Book
	asked int
	fails error
}

func (f *file) Entries(from, to model.Seq) (out []model.Entry, err error) {
	f.asked++
	entries, err := f.book.Entries(from, to)
	for _, e := range entries {
		out = append(out, *e)
	}
	return out, errors.Join(err, f.fails)
}

// A log is read a long stretch at a time, and one that can't be read makes no table.
func TestLogOfAFile(t *testing.T) {
	whole := fold(t, new(ledger.Book), starter.Demo(today))
	f := &file{book: whole}
	b := whole.In(f)
	if got, want := logRows(t, b), logRows(t, whole); !reflect.DeepEqual(got, want) {
		t.Errorf("%d rows, want %d", len(got), len(want))
	}
	if f.asked > 10 {
		t.Errorf("the file is read %d times", f.asked)
	}
	f.fails = errors.New("torn")
	if _, err := Log(b); !errors.Is(err, f.fails) {
		t.Errorf("got %v", err)
	}
}
