package storage

import (
	"errors"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
)

// putRaw puts a value under a key of the book folded as it stands, or takes it away.
func putRaw(t testing.TB, b *Book, key string, value []byte) {
	t.Helper()
	err := b.update(func(*image) error { return nil }, func(tx *bolt.Tx) error {
		return putFolded(tx, []change{{[]byte(key), value}})
	})
	if err != nil {
		t.Fatal(err)
	}
}

// rebuilt makes a book's file anew and looks whether nothing but what was derived changed.
func rebuilt(t *testing.T, b *Book, want string) {
	t.Helper()
	kept, err := b.Rebuild()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(kept); err != nil {
		t.Errorf("the file as it was: %v", err)
	}
	if got := text(t, whole(t, b)); got != want {
		t.Errorf("rebuilt:\n%s\nwant\n%s", got, want)
	}
	last := load(t, b).Last()
	if w := write(t, b, note("goes on")); w.Act != last+1 {
		t.Errorf("act %d", w.Act)
	}
	whole(t, b)
}

// A record of the book folded that no longer is what the log comes to is found, however
// sound it looks, and made anew of the log.
func TestRecordsThatDifferAreFoundAndMadeAnew(t *testing.T) {
	const key = "now/chore/clean-pump"
	for name, spoil := range map[string]func(*Book){
		"another value": func(b *Book) { putRaw(t, b, key, seal([]byte(key), []byte("forged"))) },
		"missing":       func(b *Book) { putRaw(t, b, key, nil) },
		"one too many":  func(b *Book) { putRaw(t, b, "now/chore/other", seal([]byte("now/chore/other"), nil)) },
		"broken seal":   func(b *Book) { putRaw(t, b, key, []byte("no seal at all")) },
	} {
		b := made(t, logOf(200))
		want := text(t, full(t, b))
		spoil(b)
		findings, err := b.Verify()
		if err != nil || len(findings) == 0 {
			t.Fatalf("%s: verify finds %q, %v", name, findings, err)
		}
		if out := b.WayOut(); !strings.HasPrefix(out, "make it anew of the log with: wrasse --book "+b.Path()+" verify --rebuild, or ") {
			t.Errorf("%s: the way out is %q", name, out)
		}
		if got := text(t, full(t, again(t, b))); got != want {
			t.Errorf("%s: the log reads\n%s", name, got)
		}
		_, err = again(t, b).Load()
		if !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "verify --rebuild") {
			t.Errorf("%s: load: %v", name, err)
		}
		rebuilt(t, b, want)
	}
}

// What is kept as sound bytes and can't be told from the truth by a read is found by Verify.
func TestSoundLookingUntruthIsFound(t *testing.T) {
	b, other := made(t, logOf(200)), made(t, logOf(190))
	var value []byte
	if err := reading(other, func(r *reader) (err error) { value, err = r.Get("now/gauge/tds"); return err }); err != nil {
		t.Fatal(err)
	}
	want := text(t, full(t, b))
	putRaw(t, b, "now/gauge/tds", seal([]byte("now/gauge/tds"), value))
	findings, err := b.Verify()
	if err != nil || len(findings) != 1 || !strings.Contains(findings[0], `its record "now/gauge/tds" differs`) {
		t.Errorf("verify: %q, %v", findings, err)
	}
	rebuilt(t, b, want)
}

// Nothing is made anew of a log that is damaged itself.
func TestRebuildRefusesADamagedLog(t *testing.T) {
	b := made(t, logOf(60))
	err := b.update(func(*image) error { return nil }, func(tx *bolt.Tx) error {
		return tx.Bucket(bucketLog).Put(keyOf(7), []byte("no entry"))
	})
	if err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(b.Path())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Rebuild(); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "entry 7") {
		t.Errorf("got %v", err)
	}
	if after, _ := os.ReadFile(b.Path()); string(after) != string(before) {
		t.Error("the file was changed")
	}
	if out := b.WayOut(); strings.Contains(out, "--rebuild") {
		t.Errorf("the way out is %q", out)
	}
}

// Whatever is written, and however far it reaches back, the records are those of a rebuild.
func TestRecordsStayThoseOfARebuild(t *testing.T) {
	b := made(t, logOf(2000))
	b.backedUp = on
	random := rand.New(rand.NewPCG(3, 4))
	chore := setUp()[5]
	for i := range 60 {
		day := model.NewDate(2020, 1, 1).AddDays(random.IntN(600))
		amount := float64(random.IntN(30))
		act := func(*model.Book) ([]model.Entry, error) {
			switch random.IntN(5) {
			case 0:
				return []model.Entry{model.NewEntry(day, model.Tick{Chore: "clean-pump", Found: model.FoundHeavy})}, nil
			case 1:
				return []model.Entry{model.NewEntry(day, model.Usage{Counter: "litres", Amount: &amount}), note("with it")}, nil
			case 2:
				return []model.Entry{model.NewEntry(day, model.Reading{Gauge: "tds", Value: amount})}, nil
			case 3:
				c := chore.Body.(model.Chore)
				c.Minutes, c.Clocks[0].Rule = 3+random.IntN(9), []model.Rule{model.RuleEvery, model.RuleLasts}[random.IntN(2)]
				return []model.Entry{model.NewEntry(on, c)}, nil
			}
			return []model.Entry{note("plain")}, nil
		}
		if i%6 == 5 { // a slip among the old ones, or of a definition
			seq := model.Seq(1 + random.IntN(2000))
			act = func(book *model.Book) ([]model.Entry, error) { return book.Strike(seq, on) }
		}
		_, err := b.Write(act)
		var refused *model.EntryError
		if err != nil && !errors.As(err, &refused) && i%6 != 5 {
			t.Fatal(err)
		}
		if i%10 == 9 {
			whole(t, b)
			b.known = nil // as another process
		}
	}
	whole(t, b)
}
