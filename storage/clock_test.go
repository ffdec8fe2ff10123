package storage

import (
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// A clock that is behind the last entry is remarked on once, whoever wrote that, and one that
// is ahead of it, or was set right by a little, is not.
func TestAClockBehindTheLog(t *testing.T) {
	c := morning(2026, 3, 31)
	first := At(newBook(t).Path(), c.now)
	t.Cleanup(first.Close)
	write(t, first, setUp()...)
	for _, back := range []time.Duration{-48 * time.Hour, 0, time.Minute, time.Hour} {
		b := again(t, first)
		c.t = morning(2026, 3, 31).t.Add(-back)
		if said := b.Behind(load(t, b)); said != "" {
			t.Errorf("%v behind: said %q", back, said)
		}
	}
	b := again(t, first)
	c.t = morning(2026, 3, 31).t
	before := load(t, b)
	c.t = time.Date(1970, 2, 5, 6, 0, 0, 0, c.t.Location())
	w := write(t, b, note("by a wrong clock"))
	said := b.Behind(before)
	for _, want := range []string{"1970-02-05 06:00", "2026-03-31 07:30", "set the clock"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q does not say %q", said, want)
		}
	}
	if strings.Contains(said, "\n") {
		t.Errorf("%q is more than a line", said)
	}
	if again := b.Behind(before) + b.Behind(w.Book); again != "" {
		t.Errorf("said again: %q", again)
	}
	if said := b.Behind(new(ledger.Book)); said != "" {
		t.Errorf("an empty book: %q", said)
	}
}

// By a clock that shows no date of a book nothing is written, in one line.
func TestAnImpossibleClock(t *testing.T) {
	for _, at := range []time.Time{{}, time.Date(1960, 5, 1, 9, 0, 0, 0, time.UTC), time.Date(1969, 12, 31, 9, 0, 0, 0, time.UTC), time.Date(2250, 1, 1, 9, 0, 0, 0, time.UTC)} {
		c := morning(2026, 3, 31)
		b := At(newBook(t).Path(), c.now)
		t.Cleanup(b.Close)
		act := func(...model.Entry) error {
			_, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) {
				if book.Empty() {
					return setUp(), nil
				}
				return []model.Entry{note("n")}, nil
			})
			return err
		}
		c.t = at
		refused := func() {
			t.Helper()
			err := act()
			if err == nil || !strings.Contains(err.Error(), "the clock says "+at.Format(time.DateOnly)) || strings.Contains(err.Error(), "\n") {
				t.Errorf("in %v: %v", at, err)
			}
		}
		refused()
		c.t = morning(2026, 3, 31).t
		noError(t, act())
		c.t = at
		refused()
		if n := whole(t, b).Last(); n != 6 {
			t.Errorf("in %v: %d entries", at, n)
		}
	}
}
