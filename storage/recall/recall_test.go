package recall

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
)

func got(t *testing.T, f Folder, question, of, want string) {
	t.Helper()
	answer, ok := f.Get(question, of)
	if ok != (want != "") || string(answer) != want {
		t.Errorf("Get(%q, %q) gives %q, %t, want %q", question, of, answer, ok, want)
	}
}

func TestAnswerIsForTheSameOnly(t *testing.T) {
	f := In(filepath.Join(t.TempDir(), "not", "there", "yet"))
	got(t, f, "round", "a", "")
	f.Put("round", "a", []byte("one"))
	f.Put("year", "a", []byte("two"))
	got(t, f, "round", "a", "one")
	got(t, f, "year", "a", "two")
	got(t, f, "round", "b", "")
	got(t, f, "rounda", "", "") // the same letters, divided otherwise
	f.Put("round", "b", []byte("three"))
	got(t, f, "round", "a", "")
	got(t, f, "round", "b", "three")
	info, err := os.Stat(f.path)
	if err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("the folder has mode %v: %v", info.Mode(), err)
	}
	if files, err := os.ReadDir(f.path); err != nil || len(files) != 2 {
		t.Errorf("%d files: %v", len(files), err)
	}
}

func TestDamagedAnswerIsNone(t *testing.T) {
	f := In(t.TempDir())
	f.Put("round", "a", []byte("one"))
	whole, err := os.ReadFile(f.file("round"))
	if err != nil {
		t.Fatal(err)
	}
	damaged := [][]byte{nil, whole[:3], whole[:len(whole)-1], append(whole[:len(whole):len(whole)], 'x')}
	for i := range whole {
		bad := append([]byte(nil), whole...)
		bad[i] ^= 0x20
		damaged = append(damaged, bad)
	}
	for _, data := range damaged {
		if err := os.WriteFile(f.file("round"), data, 0o600); err != nil {
			t.Fatal(err)
		}
		got(t, f, "round", "a", "")
	}
	f.Put("round", "a", []byte("two"))
	got(t, f, "round", "a", "two")
}

func TestFolderThatCannotBe(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, f := range []Folder{{}, In(file), In(filepath.Join(file, "below"))} {
		f.Put("round", "a", []byte("one"))
		got(t, f, "round", "a", "")
	}
}

// Whoever reads while others write gets a whole answer or none.
func TestManyAtOnce(t *testing.T) {
	f := In(t.TempDir())
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for range 100 {
				f.Put("round", "a", []byte("one"))
				if answer, ok := f.Get("round", "a"); !ok || string(answer) != "one" {
					t.Errorf("got %q, %t", answer, ok)
				}
			}
		})
	}
	all.Wait()
	if files, err := os.ReadDir(f.path); err != nil || len(files) != 1 {
		t.Errorf("%d files: %v", len(files), err)
	}
}
