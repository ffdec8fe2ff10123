package storage

import (
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"
)

// copyOf is a book in a new file of these bytes.
func copyOf(t testing.TB, content []byte) *Book {
	t.Helper()
	path := filepath.Join(t.TempDir(), "book.db")
	noError(t, os.WriteFile(path, content, 0o600))
	b := At(path, morning(2026, 3, 31).now)
	b.backedUp = on // no copy of the day: the act alone is looked at
	t.Cleanup(b.Close)
	return b
}

// content is the bytes of a book with several tables of pages, free ones among them.
func content(t testing.TB, entries int) []byte {
	t.Helper()
	b := made(t, plainLog(entries))
	for range 5 {
		write(t, b, note("a later act"))
	}
	write(t, b, longNote(), longNote())
	write(t, b, note("after the long ones"))
	raw := must(os.ReadFile(b.Path()))
	return raw
}

// oneLine makes sure that an error is one line that says what to do.
func oneLine(t *testing.T, err error) {
	t.Helper()
	if s := err.Error(); strings.ContainsRune(s, '\n') || !strings.Contains(s, "wrasse") {
		t.Errorf("%q is not one line that says what to do", s)
	}
}

// imageOf is the pages of a sound file of these bytes.
func imageOf(t testing.TB, raw []byte) *image {
	t.Helper()
	f := must(os.Open(copyOf(t, raw).Path()))
	t.Cleanup(func() { f.Close() })
	im, err := newImage(f)
	noError(t, err)
	return im
}

// usedBytes is how many bytes of a file its pages take up, free ones included; bbolt
// lets a file grow in larger steps.
func usedBytes(t testing.TB, raw []byte) (n int) {
	t.Helper()
	im := imageOf(t, raw)
	return int(im.pages) * im.pageSize
}

// A flipped byte anywhere is either found by Verify or does no harm: the book reads as
// it was, takes an act, and is sound after it. Where it is found, reading gives an error
// or the truth, and writing never makes an untruth of it.
func TestFlippedBytes(t *testing.T) {
	entries, n := 150, 120
	if *flips > 0 {
		entries, n = 13_000, *flips
	}
	original := content(t, entries)
	want, inUse := text(t, full(t, copyOf(t, original))), usedBytes(t, original)
	sound := copyOf(t, original)
	before := held(t, load(t, sound))
	write(t, sound, note("on top"))
	truths := []string{before, held(t, load(t, again(t, sound)))}
	random := rand.New(rand.NewPCG(1, 2))
	found, harmless, refused := 0, 0, 0
	flip := func(t *testing.T) {
		at, bit := random.IntN(inUse), byte(1+random.IntN(255))
		damagedContent := append([]byte(nil), original...)
		damagedContent[at] ^= bit
		b := copyOf(t, damagedContent)
		findings, err := b.Verify()
		if err != nil {
			if !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrNewer) {
				t.Fatalf("byte %d ^ %#x: verify: %v", at, bit, err)
			}
			findings = []string{err.Error()}
		}
		book, err := b.Load()
		switch {
		case err != nil:
			if !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrNewer) {
				t.Fatalf("byte %d ^ %#x: load: %v", at, bit, err)
			}
			oneLine(t, err)
			refused++
		case held(t, book) != before:
			t.Fatalf("byte %d ^ %#x: what was read is not what was written", at, bit)
		}
		if err != nil && len(findings) == 0 {
			t.Fatalf("byte %d ^ %#x: load: %v, but verify found nothing", at, bit, err)
		}
		logged, err := folded(b)
		if err == nil && text(t, logged) != want {
			t.Fatalf("byte %d ^ %#x: the log that was read is not what was written", at, bit)
		}
		if err != nil && len(findings) == 0 {
			t.Fatalf("byte %d ^ %#x: fold: %v, but verify found nothing", at, bit, err)
		}
		_, err = try(b, note("on top"))
		if len(findings) > 0 {
			found++
			if err != nil && !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrNewer) {
				t.Fatalf("byte %d ^ %#x: write: %v", at, bit, err)
			}
			if after, err := folded(again(t, b)); err == nil && !strings.HasPrefix(text(t, after), want) {
				t.Fatalf("byte %d ^ %#x: an act made an untruth of the damage", at, bit)
			}
			if after, err := again(t, b).Load(); err == nil && !slices.Contains(truths, held(t, after)) {
				t.Fatalf("byte %d ^ %#x: after an act the book is not what its log comes to", at, bit)
			}
			return
		}
		harmless++
		if err != nil {
			t.Fatalf("byte %d ^ %#x: nothing was found, but an act fails: %v", at, bit, err)
		}
		if findings, err := b.Verify(); err != nil || len(findings) > 0 {
			t.Fatalf("byte %d ^ %#x: harmless until an act: %v %q", at, bit, err, findings)
		}
	}
	for range n { // each as a test of its own: what it opened is closed before the next
		if !t.Run("", flip) {
			return
		}
	}
	t.Logf("%d flips in %d bytes: %d found, %d of them refused on read, %d harmless", n, inUse, found, refused, harmless)
	if found == 0 || harmless == 0 {
		t.Error("the flips hit one kind of page only")
	}
}

// Every byte of the headers, the list of free pages and the tables' roots counts.
func TestFlippedBytesOfTheSkeleton(t *testing.T) {
	original := content(t, 40)
	b := copyOf(t, original)
	im := imageOf(t, original)
	pages := []pageID{0, 1, im.root, im.freelist}
	buckets, err := im.walker().buckets()
	noError(t, err)
	for _, table := range buckets {
		if table.root != 0 {
			pages = append(pages, table.root)
		}
	}
	want := text(t, full(t, b))
	path := b.Path()
	for _, page := range pages {
		for offset := range pageHeaderLen + headerLen + 8 {
			at := int(page)*os.Getpagesize() + offset
			damagedContent := append([]byte(nil), original...)
			damagedContent[at] ^= 0x41
			os.Remove(path) // a new file each time: a lock could be left on the old one
			noError(t, os.WriteFile(path, damagedContent, 0o600))
			b := At(path, morning(2026, 3, 31).now)
			b.backedUp = on
			findings, verr := b.Verify()
			if _, lerr := b.Load(); lerr != nil && verr == nil && len(findings) == 0 {
				t.Fatalf("page %d byte %d: load: %v, but verify found nothing", page, offset, lerr)
			}
			book, err := folded(b)
			if err == nil && text(t, book) != want || err != nil && verr == nil && len(findings) == 0 {
				t.Fatalf("page %d byte %d: findings %q, load %v", page, offset, findings, err)
			}
			inHeader := page < 2 && (offset < 10 || offset >= pageHeaderLen && offset < pageHeaderLen+headerLen)
			if inHeader && (!errors.Is(err, errHeader) || len(findings) == 0) {
				t.Fatalf("page %d byte %d: a damaged header gives %v, findings %q", page, offset, err, findings)
			}
			foldable := err == nil
			_, err = try(b, note("on top"))
			if err == nil && foldable {
				if after, err := folded(At(path, b.now)); err != nil || !strings.HasPrefix(text(t, after), want) {
					t.Fatalf("page %d byte %d: an act broke the book: %v", page, offset, err)
				}
			}
			b.Close()
		}
	}
}

// The list of free pages has no checksum of its own. An act that trusted a wrong one
// would write over live entries.
func TestLivePageOnTheFreeList(t *testing.T) {
	original := content(t, 300)
	im := imageOf(t, original)
	free, list, err := im.freePages()
	noError(t, err)
	var live []pageID
	w := im.walker()
	w.extent = func(id, pages pageID) {
		for i := range pages {
			live = append(live, id+i)
		}
	}
	buckets, err := w.buckets()
	for _, table := range buckets {
		err = errors.Join(err, w.bucket(table))
	}
	live = append(live, im.freelist)
	if err != nil || len(free) == 0 || len(live) < 10 {
		t.Fatalf("%d free, %d live pages: %v", len(free), len(live), err)
	}
	for _, id := range live {
		forged := append([]byte(nil), original...)
		at := int(list.id)*os.Getpagesize() + pageHeaderLen
		for i := range 8 {
			forged[at+i] = byte(id >> (8 * i))
		}
		b := copyOf(t, forged)
		_, err := try(b, note("on top"))
		if !errors.Is(err, ErrDamaged) {
			t.Fatalf("page %d of the log was free to be written over: %v", id, err)
		}
		if findings, _ := b.Verify(); len(findings) == 0 {
			t.Fatalf("page %d: verify found nothing", id)
		}
		b.Close()
	}
}

func TestCutShort(t *testing.T) {
	original := content(t, 300)
	inUse := usedBytes(t, original)
	for size := 1; size < inUse; size += 1777 {
		b := copyOf(t, original[:size])
		findings, verr := b.Verify()
		if len(findings) == 0 && verr == nil {
			t.Errorf("%d bytes: nothing was found", size)
		}
		if _, err := b.Load(); !errors.Is(err, ErrDamaged) {
			t.Errorf("%d bytes: got %v", size, err)
		}
		b.Close()
	}
}

func TestGarbage(t *testing.T) {
	for name, raw := range map[string][]byte{
		"text":  []byte(strings.Repeat("not a book\n", 2000)),
		"zeros": make([]byte, 64<<10),
		"byte":  {0},
	} {
		b := copyOf(t, raw)
		_, err := b.Load()
		if !errors.Is(err, ErrDamaged) {
			t.Errorf("%s: got %v", name, err)
			continue
		}
		oneLine(t, err)
		if _, _, err := b.Salvage(); !errors.Is(err, ErrDamaged) {
			t.Errorf("%s: salvage: %v", name, err)
		}
		if _, err := b.Create(setUp()); !errors.Is(err, ErrDamaged) {
			t.Errorf("%s: an import replaced it: %v", name, err)
		}
	}
}

// What another program cuts short while bbolt has it mapped is a fault, and a page that
// no longer is what it was a panic. Either comes back as an error, and the file can be
// restored from the same process.
func TestPanicInsideATransaction(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	copied := filepath.Join(t.TempDir(), "copy.db")
	noError(t, b.Backup(copied))
	_, err := b.update(nil, func(tx *bolt.Tx) error {
		if err := os.Truncate(b.Path(), 8<<10); err != nil {
			return err
		}
		return putJSON(tx.Bucket(bucketMeta), keyState, state{})
	})
	if !errors.Is(err, ErrDamaged) {
		t.Fatalf("got %v", err)
	}
	if _, err := b.Load(); !errors.Is(err, ErrDamaged) {
		t.Errorf("then: %v", err)
	}
	if findings, err := b.Verify(); err != nil || len(findings) == 0 {
		t.Errorf("verify: %v %q", err, findings)
	}
	if _, err := b.Restore(copied); err != nil {
		t.Fatal(err)
	}
	if w := write(t, b, note("goes on")); w.Act != 7 {
		t.Errorf("act %d after it was restored", w.Act)
	}
}

// FuzzDamagedFile overwrites parts of a book's file. Nothing may panic or hang, and what
// can be read is what was written or, under a forged checksum, at least a whole book.
func FuzzDamagedFile(f *testing.F) {
	original := content(f, 120)
	f.Add(uint32(0), []byte{1}, uint32(0))
	f.Add(uint32(4096), make([]byte, 16), uint32(0))
	f.Add(uint32(3*4096+10), []byte{0xff, 0xff}, uint32(0))
	f.Add(uint32(5*4096), []byte("garbage"), uint32(20_000))
	f.Fuzz(func(t *testing.T, at uint32, over []byte, cut uint32) {
		raw := append([]byte(nil), original...)
		copy(raw[int(at)%len(raw):], over)
		if cut > 0 {
			raw = raw[:int(cut)%len(raw)]
		}
		b := copyOf(t, raw)
		findings, verr := b.Verify()
		book, err := b.Load()
		if err == nil {
			held(t, book)
		}
		if err != nil && strings.ContainsRune(err.Error(), '\n') {
			t.Fatalf("error of several lines: %q", err)
		}
		if err != nil && verr == nil && len(findings) == 0 {
			t.Fatalf("load: %v, but verify found nothing", err)
		}
		if saved, _, err := b.Salvage(); err == nil {
			for _, err := range saved.All() {
				if err != nil {
					t.Fatalf("what was salvaged is no book: %v", err)
				}
			}
		}
		_, werr := try(b, note("on top"))
		if werr == nil && err == nil {
			if _, err := again(t, b).Load(); err != nil {
				t.Fatalf("an act broke the book: %v", err)
			}
		}
	})
}
