package storage

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"brine/wrasse/model"
)

// How many copies are kept: the newest of each of the last days, weeks and months that
// have one.
const (
	keepDays   = 7
	keepWeeks  = 4
	keepMonths = 12
)

// copyExt ends the name of a daily copy. Its date stands before that.
const copyExt = ".db"

// copies is the folder of the daily copies, beside the book.
func (b *Book) copies() string { return b.file + ".backups" }

// Backups are the daily copies that are kept beside the book, the newest first. Those
// dated after today come last: the clock was wrong when they were made, and what looks
// like the newest may be years old. It reads one folder; nil without copies.
func (b *Book) Backups() []string {
	days := daysOf(b.copies())
	today := model.DateOf(b.now())
	past := slices.IndexFunc(days, func(d model.Date) bool { return d <= today })
	if past > 0 {
		days = slices.Concat(days[past:], days[:past])
	}
	var out []string
	for _, day := range days {
		out = append(out, filepath.Join(b.copies(), day.String()+copyExt))
	}
	return out
}

// Copies calls each for every one of Backups with how many entries it holds, or with
// what is wrong with it. It reads each copy from end to end.
func (b *Book) Copies(each func(path string, entries int, err error)) {
	for _, path := range b.Backups() {
		entries, err := sound(path)
		each(path, entries, err)
	}
}

// daysOf are the days of the copies in a folder, the newest first.
func daysOf(dir string) []model.Date {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var days []model.Date
	for _, e := range entries {
		name, ok := strings.CutSuffix(e.Name(), copyExt)
		if day, err := model.ParseDate(name); ok && err == nil && e.Type().IsRegular() {
			days = append(days, day)
		}
	}
	slices.Sort(days)
	slices.Reverse(days)
	return days
}

// backUpToday makes the copy of the day before its first act, unless it is there.
func (b *Book) backUpToday() error {
	today := model.DateOf(b.now())
	if b.backedUp == today {
		return nil
	}
	if err := b.backUp(today); err != nil {
		return fmt.Errorf("the act was written, but the copy of the day was not: %w%s", err, copyRemedy(err, b.copies()))
	}
	b.backedUp = today
	return nil
}

func (b *Book) backUp(today model.Date) error {
	dir := b.copies()
	path := filepath.Join(dir, today.String()+copyExt)
	if err := MakeFolder(dir); err != nil {
		return err
	}
	if is, err := isCopy(path); is || err != nil {
		return err
	}
	return inFolder(dir, func() error {
		if is, err := isCopy(path); is || err != nil {
			return err // another process was faster
		}
		if err := install(path, b.copyTo); err != nil {
			return err
		}
		for _, day := range surplus(daysOf(dir), today) {
			os.Remove(filepath.Join(dir, day.String()+copyExt))
		}
		return nil
	})
}

// isCopy tells whether a copy of that name is there, and refuses anything else.
func isCopy(path string) (bool, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err == nil && !info.Mode().IsRegular():
		err = fmt.Errorf("%s is no copy; %w", path, errInTheWay)
	}
	return err == nil, err
}

// backUpSchema copies a book of an earlier schema before it becomes one of this. No
// later day's copy takes the place of that one.
func (b *Book) backUpSchema() error {
	dir := b.copies()
	if err := MakeFolder(dir); err != nil {
		return err
	}
	path := filepath.Join(dir, fmt.Sprintf("%s-schema-%d%s", model.DateOf(b.now()), b.known.schema, copyExt))
	return inFolder(dir, func() error {
		if is, err := isCopy(path); is || err != nil {
			return err // of a try that got no further, or of a copy brought back today
		}
		return install(path, b.copyTo)
	})
}

// copyTo copies the book as it stands between two acts, and reads the copy back.
func (b *Book) copyTo(path string) error {
	f, err := b.open(false)
	if err != nil {
		return err
	}
	defer f.Close()
	im, err := newImage(f)
	if err != nil {
		return err
	}
	out, err := os.OpenFile(path, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, io.NewSectionReader(f, 0, int64(im.pages)*int64(im.pageSize)))
	if err = errors.Join(err, out.Close()); err == nil {
		_, err = sound(path)
	}
	return err
}

// sound reads the log of a file from end to end: headers, pages, checksums and the number of
// entries, which it returns. What else there is can be made again of it, as Restore does.
func sound(path string) (entries int, err error) {
	f, err := OpenFile(path)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	im, err := newImage(f)
	if err != nil {
		return 0, err
	}
	var v verifier
	if err = v.walk(im); err == nil && v.broken {
		err = damaged("%s", v.findings[0])
	}
	return int(v.st.Count), err
}

// surplus are the days, of days from the newest to the oldest, whose copies are neither
// among the last days nor the newest of one of the last weeks or months. Those after
// today are left alone and take nobody's place: either they were made by a clock that
// ran ahead, or it is today that is wrong and they are all there is.
func surplus(days []model.Date, today model.Date) []model.Date {
	days = slices.DeleteFunc(slices.Clone(days), func(d model.Date) bool { return d > today })
	keep := map[model.Date]bool{}
	pick := func(most int, period func(model.Date) string) {
		seen := map[string]bool{}
		for _, d := range days {
			if p := period(d); !seen[p] && len(seen) < most {
				seen[p], keep[d] = true, true
			}
		}
	}
	pick(keepDays, model.Date.String)
	pick(keepWeeks, func(d model.Date) string {
		toMonday := (int(d.Weekday()) + 6) % 7
		return d.AddDays(-toMonday).String()
	})
	pick(keepMonths, func(d model.Date) string { return d.Format("2006-01") })
	return slices.DeleteFunc(days, func(d model.Date) bool { return keep[d] })
}

// Backup copies the book to a new file, while others may read it. It refuses to replace
// a file. O(size of the file).
func (b *Book) Backup(to string) error {
	end, err := b.begin()
	if err != nil {
		return err
	}
	defer end()
	dir := filepath.Dir(to)
	err = inFolder(dir, func() error {
		if _, err := os.Lstat(to); err == nil {
			return fmt.Errorf("%s is there already; name a new file", to)
		}
		return install(to, b.copyTo)
	})
	return b.advise(err)
}
