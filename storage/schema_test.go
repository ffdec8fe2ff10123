package storage

import (
	"bufio"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/storage/exchange"
)

var writeSchema = flag.Bool("write-schema", false, "write the book of the present schema in testdata anew")

// schemaBook is the path, without its ending, of the book that is kept of a schema.
func schemaBook(n int) string { return fmt.Sprintf("testdata/schema-%d", n) }

// oldBook is a copy of the book that is kept of a schema, with what it holds as text.
func oldBook(t *testing.T, n int) (b *Book, want string) {
	t.Helper()
	raw := must(os.ReadFile(schemaBook(n) + ".db"))
	export := must(os.ReadFile(schemaBook(n) + ".jsonl"))
	return copyOf(t, raw), string(export)
}

// schemaOf is the schema of a file.
func schemaOf(t *testing.T, b *Book) (n int) {
	t.Helper()
	err := b.view(func(tx *bolt.Tx, _ mark) error {
		st, err := stateIn(tx)
		n = st.schema
		return err
	})
	noError(t, err)
	return n
}

// A book of each schema is kept as it was written by the program of its time. It must
// open, verify, and take an act; what it holds stands beside it as an export.
func TestBookOfEachSchema(t *testing.T) {
	if *writeSchema {
		b := made(t, plainLog(60))
		write(t, b, note("a later act"), note("of two"))
		raw := must(os.ReadFile(b.Path()))
		noError(t, os.WriteFile(schemaBook(schema)+".db", raw, 0o600))
		noError(t, os.WriteFile(schemaBook(schema)+".jsonl", []byte(text(t, full(t, b))), 0o600))
	}
	for n := 1; n <= schema; n++ {
		b, want := oldBook(t, n)
		if got := text(t, whole(t, b)); got != want || schemaOf(t, b) != n {
			t.Errorf("schema %d reads\n%s\nwant\n%s", n, got, want)
		}
		if book := load(t, b); text(t, book) != want || len(book.Readings("tds")) != 28 {
			t.Errorf("schema %d holds %d readings and reads\n%s\nwant\n%s", n, len(book.Readings("tds")), text(t, book), want)
		}
		if w := write(t, b, note("on an old book")); w.Act != 63 {
			t.Errorf("act %d", w.Act)
		}
		if w := write(t, b, note("and another")); w.Act != 64 {
			t.Errorf("act %d", w.Act)
		}
		if got := text(t, whole(t, b)); !strings.HasPrefix(got, want) || schemaOf(t, b) != schema {
			t.Errorf("schema %d became %d and holds\n%s", n, schemaOf(t, b), got)
		}
		if _, err := exchange.Import(strings.NewReader(want), on); err != nil {
			t.Error(err)
		}
	}
}

// A book of an earlier schema is copied before it becomes one of this, beside the copy
// of the day and out of the rotation's way; and a read leaves it as it is.
func TestOldBookIsCopiedFirst(t *testing.T) {
	b, want := oldBook(t, 1)
	before := must(os.ReadFile(b.Path()))
	load(t, b)
	if after, _ := os.ReadFile(b.Path()); string(after) != string(before) {
		t.Fatal("reading changed the file")
	}
	write(t, b, note("goes over"))
	copied := filepath.Join(b.copies(), "2026-03-31-schema-1.db")
	if old := At(copied, b.now); text(t, full(t, old)) != want || schemaOf(t, old) != 1 {
		t.Error("the copy is not the book as it was")
	}
	if got := b.Backups(); len(got) != 0 {
		t.Errorf("it counts as a daily copy: %q", got)
	}
	if _, err := b.Restore(copied); err != nil {
		t.Fatal(err)
	}
	if got := text(t, full(t, b)); got != want || schemaOf(t, b) != 1 {
		t.Error("the copy did not bring the old book back")
	}
}

// goOver writes one act to an old book and says that it begins.
func goOver(b *Book, _ string) error {
	_, err := b.Write(func(*ledger.Book) ([]model.Entry, error) {
		fmt.Println("begins")
		return []model.Entry{note("goes over")}, nil
	})
	return err
}

// writeOld writes a file of an earlier schema, as the programs of its time did.
func writeOld(t *testing.T, path string, of int, log []model.Entry) {
	t.Helper()
	db, err := bolt.Open(path, 0o600, bareOptions())
	noError(t, err)
	err = db.Update(func(tx *bolt.Tx) error {
		entries, err := tx.CreateBucketIfNotExists(bucketLog)
		if err != nil {
			return err
		}
		for i := range log {
			log[i].Seq = model.Seq(i + 1)
			payload, err := model.EncodeEntry(log[i])
			if err != nil {
				return err
			}
			if err := entries.Put(keyOf(log[i].Seq), seal(keyOf(log[i].Seq), payload)); err != nil {
				return err
			}
		}
		meta, err := tx.CreateBucketIfNotExists(bucketMeta)
		if err != nil {
			return err
		}
		return errors.Join(putJSON(meta, keySchema, schemaRecord{of}), putJSON(meta, keyState, map[string]int{"count": len(log)}))
	})
	noError(t, errors.Join(err, db.Close()))
}

// A process that is killed while it brings a book over leaves it as it was, or brought
// over as a whole with the act.
func TestKilledWhileGoingOver(t *testing.T) {
	log := plainLog(3000) // so that there is something to bring over
	dir := t.TempDir()
	master := filepath.Join(dir, "old.db")
	writeOld(t, master, 1, log)
	before, over := 0, 0
	for round := range *rounds / 2 {
		path := filepath.Join(dir, fmt.Sprint(round), "book.db")
		noError(t, os.Mkdir(filepath.Dir(path), 0o700))
		noError(t, os.WriteFile(path, nil, 0o600))
		noError(t, copyFile(master, path))
		cmd := process(path, "go over", "")
		out := must(cmd.StdoutPipe())
		noError(t, cmd.Start())
		if _, err := bufio.NewReader(out).ReadString('\n'); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.IntN(60)) * time.Millisecond) // somewhere in the act
		cmd.Process.Kill()
		cmd.Wait()
		b := At(path, morning(2026, 3, 31).now)
		b.backedUp = on
		book := whole(t, b)
		switch {
		case schemaOf(t, b) == 1 && book.Last() == 3000:
			before++
		case schemaOf(t, b) == schema && book.Last() == 3001:
			over++
		default:
			t.Fatalf("schema %d with %d entries", schemaOf(t, b), book.Last())
		}
		write(t, b, note("after it"))
		whole(t, b)
		b.Close()
	}
	t.Logf("%d as before, %d brought over", before, over)
}

func TestNewerSchemaIsRefused(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	_, err := b.update(nil, func(tx *bolt.Tx) error {
		payload, err := json.Marshal(schemaRecord{schema + 1})
		if err != nil {
			return err
		}
		return tx.Bucket(bucketMeta).Put(keySchema, seal(keySchema, payload))
	})
	noError(t, err)
	before := must(os.ReadFile(b.Path()))
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
		if !errors.Is(err, ErrNewer) || !strings.Contains(err.Error(), "schema is 4, this wrasse reads 3; update wrasse") {
			t.Errorf("%s: got %v", name, err)
		}
	}
	if after, _ := os.ReadFile(b.Path()); string(after) != string(before) {
		t.Error("a newer file was changed")
	}
}
