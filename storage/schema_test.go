package storage

import (
	"encoding/json"
	"errors"
	"flag"
	"os"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/storage/exchange"
)

var writeSchema = flag.Bool("write-schema", false, "write testdata/schema-1.db anew")

// A book of each schema is kept as it was written by the program of its time. It must
// open, verify, and take an act; what it holds stands beside it as an export.
func TestBookOfEachSchema(t *testing.T) {
	const path = "testdata/schema-1"
	if *writeSchema {
		b := made(t, logOf(60))
		write(t, b, note("a later act"), note("of two"))
		raw, err := os.ReadFile(b.Path())
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path+".db", raw, 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path+".jsonl", []byte(text(t, load(t, b))), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	raw, err := os.ReadFile(path + ".db")
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(path + ".jsonl")
	if err != nil {
		t.Fatal(err)
	}
	b := copyOf(t, raw)
	if got := text(t, whole(t, b)); got != string(want) {
		t.Errorf("reads\n%s\nwant\n%s", got, want)
	}
	if w := write(t, b, note("on an old book")); w.Act != 63 {
		t.Errorf("act %d", w.Act)
	}
	whole(t, b)
	if _, err := exchange.Import(strings.NewReader(string(want)), on); err != nil {
		t.Error(err)
	}
}

func TestNewerSchemaIsRefused(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	err := b.update(func(*image) error { return nil }, func(tx *bolt.Tx) error {
		payload, err := json.Marshal(schemaRecord{schema + 1})
		if err != nil {
			return err
		}
		return tx.Bucket(bucketMeta).Put(keySchema, seal(keySchema, payload))
	})
	if err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(b.Path())
	if err != nil {
		t.Fatal(err)
	}
	newer := again(t, b)
	for name, op := range map[string]func() error{
		"load":    func() error { _, err := newer.Load(); return err },
		"write":   func() error { _, err := newer.Write(nil); return err },
		"import":  func() error { _, err := newer.Create(setUp()); return err },
		"verify":  func() error { _, err := newer.Verify(); return err },
		"salvage": func() error { _, _, err := newer.Salvage(); return err },
		"restore": func() error { _, err := At(t.TempDir()+"/x.db", b.now).Restore(b.Path()); return err },
	} {
		err := op()
		if !errors.Is(err, ErrNewer) || !strings.Contains(err.Error(), "schema is 3, this wrasse reads 2; update wrasse") {
			t.Errorf("%s: got %v", name, err)
		}
	}
	if after, _ := os.ReadFile(b.Path()); string(after) != string(before) {
		t.Error("a newer file was changed")
	}
}
