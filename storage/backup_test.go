package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"brine/wrasse/model"
)

// The first act of a day makes a copy of the book as it was before it; no other does.
func TestDailyCopy(t *testing.T) {
	c := morning(2026, 3, 31)
	b := At(filepath.Join(t.TempDir(), "book.db"), c.now)
	defer b.Close()
	write(t, b, setUp()...)
	if got := b.Backups(); got != nil {
		t.Errorf("the act that made the book made copies: %v", got)
	}
	write(t, b, note("the second act of the day is the first with a book to copy"))
	before := text(t, load(t, b))
	c.t = c.t.AddDate(0, 0, 1)
	for range 3 {
		write(t, b, note("next day"))
	}
	write(t, again(t, b), note("by another process"))
	want := []string{b.Path() + ".backups/2026-04-01.db", b.Path() + ".backups/2026-03-31.db"}
	if got := b.Backups(); !reflect.DeepEqual(got, want) {
		t.Fatalf("copies %v, want %v", got, want)
	}
	if got := text(t, load(t, At(want[0], c.now))); got != before {
		t.Errorf("the copy is not the book as it was before the day's first act:\n%s", got)
	}
	info, err := os.Stat(want[0])
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v (%v)", info.Mode(), err)
	}
	if _, err := try(b); err != nil {
		t.Fatal(err)
	}
}

func TestReadingMakesNoCopy(t *testing.T) {
	c := morning(2026, 3, 31)
	b := At(filepath.Join(t.TempDir(), "book.db"), c.now)
	defer b.Close()
	write(t, b, setUp()...)
	c.t = c.t.AddDate(0, 0, 3)
	load(t, again(t, b))
	if _, err := try(b); err != nil {
		t.Fatal(err)
	}
	if got := b.Backups(); got != nil {
		t.Errorf("copies %v", got)
	}
}

// A copy that can't be made is no reason to lose an act.
func TestActGoesThroughWithoutCopy(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	if err := os.WriteFile(b.Path()+".backups", nil, 0o600); err != nil { // a file where the folder should be
		t.Fatal(err)
	}
	w, err := try(b, note("n"))
	if err != nil || w.Act != 7 {
		t.Fatalf("act %d: %v", w.Act, err)
	}
	if w.Warning == nil || !strings.Contains(w.Warning.Error(), "the copy of the day was not") {
		t.Errorf("warning %v", w.Warning)
	}
}

func TestCopiesKept(t *testing.T) {
	today := model.NewDate(2026, 3, 31) // a Tuesday
	var days []model.Date
	for i := range 500 {
		days = append(days, today.AddDays(-i))
	}
	gone := surplus(days, today)
	var kept []string
	for _, d := range days {
		if !slices.Contains(gone, d) {
			kept = append(kept, d.String())
		}
	}
	want := []string{
		"2026-03-31", "2026-03-30", "2026-03-29", "2026-03-28", "2026-03-27", "2026-03-26", "2026-03-25", // 7 days
		"2026-03-22", "2026-03-15", // the Sundays that end the 3rd and 4th week
		"2026-02-28", "2026-01-31", "2025-12-31", "2025-11-30", "2025-10-31", "2025-09-30",
		"2025-08-31", "2025-07-31", "2025-06-30", "2025-05-31", "2025-04-30", // with March: 12 months
	}
	if !reflect.DeepEqual(kept, want) {
		t.Errorf("kept %v\nwant %v", kept, want)
	}
}

// Kept day by day, the copies are those kept of all at once, and never too many.
func TestCopiesKeptDayByDay(t *testing.T) {
	c := morning(2025, 1, 1)
	b := At(filepath.Join(t.TempDir(), "book.db"), c.now)
	defer b.Close()
	write(t, b, setUp()...)
	for range 120 {
		c.t = c.t.AddDate(0, 0, 1)
		noError(t, b.backUp(model.DateOf(c.t)))
		if n := len(b.Backups()); n > keepDays+keepWeeks+keepMonths {
			t.Fatalf("%d copies", n)
		}
	}
	var got []string
	for _, path := range b.Backups() {
		got = append(got, strings.TrimSuffix(filepath.Base(path), copyExt))
	}
	want := []string{"2025-05-01", "2025-04-30", "2025-04-29", "2025-04-28", "2025-04-27", "2025-04-26", "2025-04-25",
		"2025-04-20", "2025-04-13", "2025-03-31", "2025-02-28", "2025-01-31"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("kept %v\nwant %v", got, want)
	}
}

// A clock that jumps ahead and back must not cost the copies of the last days.
func TestClockJumps(t *testing.T) {
	c := morning(2026, 3, 31)
	b := At(filepath.Join(t.TempDir(), "book.db"), c.now)
	defer b.Close()
	write(t, b, setUp()...)
	for _, day := range []time.Time{c.t, c.t.AddDate(9, 0, 0), c.t.AddDate(0, 0, 1), c.t.AddDate(0, 0, -400)} {
		c.t = day
		write(t, b, note(day.Format(time.DateOnly)))
	}
	if n := len(b.Backups()); n != 4 {
		t.Errorf("%d copies", n)
	}
	book := load(t, again(t, b))
	if n := book.Notes(); len(n) != 4 || must(book.Written(book.Last())).At[:10] != "2025-02-24" {
		t.Errorf("%v", n)
	}
	whole(t, b)
}

func TestBackup(t *testing.T) {
	b := newBook(t)
	if err := b.Backup(filepath.Join(t.TempDir(), "copy.db")); !errors.Is(err, ErrNoBook) {
		t.Errorf("no book to copy: %v", err)
	}
	write(t, b, setUp()...)
	to := filepath.Join(t.TempDir(), "copy.db")
	noError(t, b.Backup(to))
	if got := load(t, At(to, b.now)); held(t, got) != held(t, load(t, b)) {
		t.Error("the copy differs")
	}
	if err := b.Backup(to); err == nil || !strings.Contains(err.Error(), "there already") {
		t.Errorf("a second copy of the same name: %v", err)
	}
	if err := b.Backup(filepath.Join(t.TempDir(), "no", "copy.db")); err == nil {
		t.Error("copied into a folder that is not there")
	}
}

// Copies that a clock running ahead made take nobody's place, and a clock that fell
// back to its first day costs none of those that are good.
func TestAWrongClockCostsNoCopies(t *testing.T) {
	today := model.NewDate(2026, 3, 31)
	var days []model.Date
	for i := range 30 {
		days = append(days, today.AddDays(-i))
	}
	ahead := []model.Date{today.AddDays(3000), today.AddDays(2000), today.AddDays(1000)}
	if got, want := surplus(slices.Concat(ahead, days), today), surplus(days, today); !reflect.DeepEqual(got, want) {
		t.Errorf("ahead: gone %v, want %v", got, want)
	}
	reset := model.NewDate(1970, 1, 1)
	if got := surplus(append(days, reset), reset); len(got) != 0 {
		t.Errorf("back to %s: gone %v", reset, got)
	}
}

// Nights on which clocks change, and a move to another zone: the moment stamped goes
// back, the order of writing does not, and every day has its one copy. Changes of the
// clocks are those of the IANA time zone database.
func TestOrderIsThatOfWritingWhateverTheClockSays(t *testing.T) {
	zone := func(name string) *time.Location {
		z := must(time.LoadLocation(name))
		return z
	}
	berlin, kiritimati, honolulu := zone("Europe/Berlin"), zone("Pacific/Kiritimati"), zone("Pacific/Honolulu")
	autumn := time.Date(2025, 10, 26, 0, 30, 0, 0, time.UTC) // 02:30 in Berlin, for the first time
	moments := []time.Time{
		autumn.In(berlin), autumn.Add(time.Hour).In(berlin), // 02:30 twice
		autumn.Add(2 * time.Hour).In(kiritimati), // a day ahead
		autumn.Add(3 * time.Hour).In(honolulu),   // and a day back
		time.Date(2026, 3, 29, 0, 59, 0, 0, time.UTC).In(berlin), time.Date(2026, 3, 29, 1, 1, 0, 0, time.UTC).In(berlin),
		time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC), // an empty clock battery
		time.Date(2026, 3, 29, 2, 0, 0, 0, time.UTC).In(berlin),
	}
	c := &clock{moments[0]}
	b := At(filepath.Join(t.TempDir(), "book.db"), c.now)
	defer b.Close()
	write(t, b, setUp()...)
	days := map[string]bool{}
	for i, now := range moments {
		c.t = now
		days[now.Format(time.DateOnly)] = true
		w := write(t, b, model.NewEntry(model.DateOf(now), model.Note{Text: now.Format(time.RFC3339)}))
		if w.Act != model.Seq(7+i) || w.Warning != nil {
			t.Fatalf("act %d at %s (%v)", w.Act, now, w.Warning)
		}
	}
	book := whole(t, again(t, b))
	for i, now := range moments {
		e := must(book.Written(model.Seq(7 + i)))
		if want := now.Format(time.RFC3339); e.At != want || e.Body.(model.Note).Text != want || e.On != model.DateOf(now) {
			t.Errorf("entry %d is that of %s on %s, want %s", 7+i, e.At, e.On, want)
		}
	}
	if got := len(b.Backups()); got != len(days) {
		t.Errorf("%d copies of %d days", got, len(days))
	}
}

// What is said to help is what helps: room, where that is what is missing, and nothing else.
func TestWhyThereIsNoCopyOfTheDay(t *testing.T) {
	for name, c := range map[string]struct {
		spoil     func(t *testing.T, b *Book)
		want, not string
	}{
		"a file in the place of the folder": {func(t *testing.T, b *Book) {
			noError(t, os.WriteFile(b.copies(), nil, 0o600))
		}, "book.db.backups is no folder; move it away", "room"},
		"a folder in the place of the copy": {func(t *testing.T, b *Book) {
			noError(t, os.MkdirAll(filepath.Join(b.copies(), "2026-03-31.db", "x"), 0o700))
		}, "2026-03-31.db is no copy; move it away", "room"},
		"a lock": {func(t *testing.T, b *Book) {
			noError(t, os.Mkdir(b.copies(), 0o700))
			release, err := lockFolder(b.copies(), time.Now().Add(time.Second))
			noError(t, err)
			t.Cleanup(release)
		}, "the book is in use: ", "room"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b := newBook(t)
			write(t, b, setUp()...)
			c.spoil(t, b)
			w, err := try(b, note("n"))
			if err != nil || w.Act == 0 || w.Warning == nil {
				t.Fatalf("act %d, warning %v, %v", w.Act, w.Warning, err)
			}
			if said := w.Warning.Error(); !strings.Contains(said, "the act was written") || !strings.Contains(said, c.want) ||
				strings.Contains(said, c.not) || strings.Contains(said, "\n") {
				t.Errorf("said %q", said)
			}
		})
	}
	for err, want := range map[error]string{
		syscall.ENOSPC:                "; make room in DIR",
		fs.ErrPermission:              "; make DIR writable",
		syscall.EROFS:                 "; make DIR writable",
		syscall.EIO:                   "; mend DIR, or the disk it lies on",
		damaged("page 7"):             "",
		fmt.Errorf("%w: so", ErrBusy): "",
	} {
		if got := copyRemedy(err, "DIR"); got != want && runtime.GOOS != "windows" {
			t.Errorf("%v: %q helps, want %q", err, got, want)
		}
	}
}
