package request

import (
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// mixed is a book with one measured batch, and the batch's seq.
func mixed(t *testing.T) (*ledger.Book, model.Seq) {
	salinity := 34.0
	b := did(t, reef(t), Mix{on(day(3)), model.Batch{VolumeL: 60, SaltG: 2250, Salinity: &salinity}}.Entries)
	return b, b.Batches()[0].Seq
}

func TestABatchIsAmended(t *testing.T) {
	b, seq := mixed(t)
	warm := 24.5
	for name, c := range map[string]struct {
		request func(*ledger.Book) ([]model.Entry, error)
		want    []string
	}{
		"measured": {Measure{on(day(4)), seq, 35.1, &warm}.Entries,
			[]string{`{"on":"2026-05-04","kind":"amend","entry":15,"with":{"salinity":35.1,"temperature_c":24.5}}`}},
		"salt added": {Correct{Stamp: on(day(4)), Batch: seq, SaltG: 50}.Entries,
			[]string{`{"on":"2026-05-04","kind":"amend","entry":15,"with":{"salinity":null,"salt_g":2300}}`,
				`{"on":"2026-05-04","kind":"amend","entry":17,"with":{"change":-2.3}}`}},
		"water added": {Correct{Stamp: on(day(4)), Batch: seq, FreshL: 1.5}.Entries,
			[]string{`{"on":"2026-05-04","kind":"amend","entry":15,"with":{"salinity":null,"volume_l":61.5}}`}},
	} {
		got, err := c.request(b)
		if err != nil || lines(t, got) != strings.Join(c.want, "\n") {
			t.Errorf("%s: %v\n%s\nwant\n%s", name, err, lines(t, got), strings.Join(c.want, "\n"))
		}
	}
}

// A batch that was never measured, or whose salt was put right in the log, is corrected
// as far as there is something to correct.
func TestCorrectingWhatIsLeft(t *testing.T) {
	b := did(t, reef(t), Mix{on(day(3)), model.Batch{VolumeL: 60, SaltG: 2250}}.Entries)
	seq := b.Batches()[0].Seq
	b = did(t, b, Log{on(day(3)), model.Amend{Entry: seq + 2, Strike: true}}.Entries)
	got, err := Correct{Stamp: on(day(4)), Batch: seq, SaltG: 50}.Entries(b)
	want := `{"on":"2026-05-04","kind":"amend","entry":15,"with":{"salt_g":2300}}`
	if err != nil || lines(t, got) != want {
		t.Errorf("%v\n%s\nwant\n%s", err, lines(t, got), want)
	}
}

func TestCorrectionsRefused(t *testing.T) {
	b, seq := mixed(t)
	for name, c := range map[string]struct {
		request func(*ledger.Book) ([]model.Entry, error)
		says    string
	}{
		"nothing added":     {Correct{Stamp: on(day(4)), Batch: seq, SaltG: 0}.Entries, "nothing was added"},
		"swapped all":       {Correct{Stamp: on(day(4)), Batch: seq, SwapL: 5000}.Entries, "less than all of it"},
		"no such batch":     {Correct{Stamp: on(day(4)), Batch: 3, SaltG: 50}.Entries, "not in the book"},
		"measured nothing":  {Measure{on(day(4)), 3, 35, nil}.Entries, "not in the book"},
		"too salty to be":   {Measure{on(day(4)), seq, 1e12, nil}.Entries, "salinity"},
		"more than a batch": {Correct{Stamp: on(day(4)), Batch: seq, SaltG: 1e12}.Entries, "salt_g"},
	} {
		if got, err := taken(b, c.request); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, %s; want an error with %q", name, err, lines(t, got), c.says)
		}
	}
}

// A counter of batches may have become a running meter. It goes up by one from the value it is known to show; where
// none is known, the batch waits for it.
func TestABatchOnARunningMeter(t *testing.T) {
	meter := model.Counter{ID: "batches", Name: "Batches mixed", Unit: "batch", Style: model.StyleMeter, Role: model.RoleBatches}
	b := did(t, reef(t), Mix{on(day(2)), model.Batch{VolumeL: 60, SaltG: 2250}}.Entries)
	b = wrote(t, b, on(day(3)).entries(meter))
	mix := Mix{on(day(5)), model.Batch{VolumeL: 60, SaltG: 2250}}
	refused := func(why string) {
		t.Helper()
		if _, err := mix.Entries(b); err == nil || !strings.Contains(err.Error(), "Batches mixed is a running meter, and what it shows is not known; log that first") {
			t.Errorf("%s: %v", why, err)
		}
	}
	refused("only amounts were logged")
	b = did(t, b, Use{Stamp: on(day(4)), Counter: "batches", Amount: 51}.Entries)
	got, err := mix.Entries(b)
	if err != nil || !strings.Contains(lines(t, got), `"counter":"batches","meter":52}`) {
		t.Errorf("after 51: %v\n%s", err, lines(t, got))
	}
	b = wrote(t, b, on(day(5)).entries(model.MeterReset{Counter: "batches"}))
	refused("it was set back")
}
