package storage

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestCaution(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		folder, mark, want string
	}{
		{"reef", "", ""},
		{"Sync/reef", "", "Sync"},
		{"My Cloud/a/b", "", "My Cloud"},
		{"Family Drive", "", "Family Drive"},
		{"plain/reef", "plain/.sync", "plain"},
	} {
		folder := filepath.Join(dir, c.folder)
		noError(t, os.MkdirAll(folder, 0o700))
		if c.mark != "" {
			noError(t, os.Mkdir(filepath.Join(dir, c.mark), 0o700))
		}
		// The last folder is not made yet, as at the first start.
		b := At(filepath.Join(folder, "later", "book.db"), time.Now)
		got := b.Caution()
		if (got == "") != (c.want == "") || c.want != "" && !strings.Contains(got, filepath.Join(dir, c.want)+",") {
			t.Errorf("%s: %q", c.folder, got)
		}
		if got != "" && (strings.ContainsRune(got, '\n') || !strings.Contains(got, "wrasse export jsonl")) {
			t.Errorf("%s: %q is not one line that says what to do instead", c.folder, got)
		}
		if second := b.Caution(); second != "" {
			t.Errorf("%s: said twice: %q", c.folder, second)
		}
	}
	if soundsSynced("/media/kit/backup-drive") || soundsSynced("/mnt/cloud") {
		t.Error("a mounted disk counts as a synchronised folder")
	}
}
