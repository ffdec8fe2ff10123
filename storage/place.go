package storage

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Caution says, once, why the folder of the book is no good place for it: one on another
// machine, where locks can't be relied on, or one that a program keeps in step with
// other machines and so replaces files in the middle of an act. It is one line, and ""
// when there is nothing to say or it was said before.
func (b *Book) Caution() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.cautioned {
		return ""
	}
	b.cautioned = true
	return b.doubtful()
}

// doubtful is what Caution says.
func (b *Book) doubtful() string {
	dir := existing(b.folder())
	const instead = "keep the book on this machine, and carry it elsewhere with: wrasse export jsonl"
	if kind := remoteKind(dir); kind != "" {
		return fmt.Sprintf("%s lies on a network file system (%s), where two programs at once can damage it; %s", b.path, kind, instead)
	}
	if synced := syncedBy(dir); synced != "" {
		return fmt.Sprintf("%s lies in %s, which looks like a synchronised folder; that can damage it or bring back an old one; %s", b.path, synced, instead)
	}
	return ""
}

// existing is the nearest folder above a path that is there.
func existing(dir string) string {
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	for {
		if _, err := os.Stat(dir); err == nil || dir == filepath.Dir(dir) {
			return dir
		}
		dir = filepath.Dir(dir)
	}
}

// syncMarks are names that programs which synchronise folders leave in the top one.
var syncMarks = []string{".sync", ".synced"}

// mountRoots are where disks are mounted, whose names say nothing about synchronising.
var mountRoots = []string{"/media/", "/mnt/", "/run/", "/Volumes/"}

// syncedBy is the folder at or above dir that is kept in step with other machines, as
// far as its name or a mark in it tells; "" when none is.
func syncedBy(dir string) string {
	for ; dir != filepath.Dir(dir); dir = filepath.Dir(dir) {
		if soundsSynced(dir) {
			return dir
		}
		for _, mark := range syncMarks {
			if _, err := os.Stat(filepath.Join(dir, mark)); err == nil {
				return dir
			}
		}
	}
	return ""
}

func soundsSynced(dir string) bool {
	for _, root := range mountRoots {
		if strings.HasPrefix(dir, root) {
			return false
		}
	}
	name := strings.ToLower(filepath.Base(dir))
	return strings.Contains(name, "cloud") || strings.HasPrefix(name, "sync") || strings.HasSuffix(name, "drive")
}
