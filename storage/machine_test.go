package storage

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Any order of acts through two windows, undos, copies, restores and new starts leaves
// the book that a plain list of lines kept beside it comes to.
func TestAgainstAPlainList(t *testing.T) {
	dir := t.TempDir()
	run := 0
	rapid.Check(t, func(t *rapid.T) {
		run++
		path := filepath.Join(dir, fmt.Sprint(run), "book.db")
		c := morning(2026, 3, 31)
		open := func() *Book { return At(path, c.now) }
		windows := []*Book{open(), open()}
		defer func() {
			for _, b := range windows {
				b.Close()
			}
		}()
		var lines []string // of the export, as they should be
		copies := map[string][]string{}
		window := func() int { return rapid.IntRange(0, 1).Draw(t, "window") }
		write := func(b *Book, build func(*ledger.Book) []model.Entry) {
			w, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) { return build(book), nil })
			if err != nil || w.Warning != nil {
				t.Fatal(err, w.Warning)
			}
			if len(w.Entries) > 0 && int(w.Act) != len(lines)+1 {
				t.Fatalf("act %d after %d entries", w.Act, len(lines))
			}
			for _, e := range w.Entries {
				line := must(model.EncodeEntry(e))
				lines = append(lines, string(line))
			}
		}
		write(windows[0], func(*ledger.Book) []model.Entry { return setUp() })
		t.Repeat(map[string]func(*rapid.T){
			"": func(t *rapid.T) {
				book, err := windows[window()].Load()
				noError(t, err)
				var got []string
				for seq := model.Seq(1); seq <= book.Last(); seq++ {
					line := must(model.EncodeEntry(*must(book.Written(seq))))
					got = append(got, string(line))
				}
				if !slices.Equal(got, lines) {
					t.Fatalf("holds\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(lines, "\n"))
				}
			},
			"act": func(t *rapid.T) {
				var out []model.Entry
				for range rapid.IntRange(1, 3).Draw(t, "entries") {
					day := on.AddDays(-rapid.IntRange(0, 9).Draw(t, "days ago"))
					out = append(out, model.NewEntry(day, model.Tick{Chore: "clean-pump", Note: rapid.String().Draw(t, "note")}))
				}
				write(windows[window()], func(*ledger.Book) []model.Entry { return out })
			},
			"undo": func(t *rapid.T) {
				write(windows[window()], func(b *ledger.Book) []model.Entry {
					if b.Last() <= 6 {
						return nil
					}
					return must(b.Strike(must(b.Act(b.Last()))[0].Seq, on))
				})
			},
			"start anew": func(*rapid.T) {
				i := window()
				windows[i].Close()
				windows[i] = open()
			},
			"next day": func(*rapid.T) { c.t = c.t.AddDate(0, 0, 1) },
			"copy": func(t *rapid.T) {
				to := filepath.Join(filepath.Dir(path), fmt.Sprintf("copy%d.db", len(copies)))
				noError(t, windows[window()].Backup(to))
				copies[to] = slices.Clone(lines)
			},
			"restore": func(t *rapid.T) {
				if len(copies) == 0 {
					return
				}
				from := filepath.Join(filepath.Dir(path), fmt.Sprintf("copy%d.db", rapid.IntRange(0, len(copies)-1).Draw(t, "copy")))
				if _, err := windows[window()].Restore(from); err != nil {
					t.Fatal(err)
				}
				lines = slices.Clone(copies[from])
			},
			"verify": func(t *rapid.T) {
				if findings, err := windows[window()].Verify(); err != nil || len(findings) > 0 {
					t.Fatal(findings, err)
				}
			},
		})
	})
}
