package command_test

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/longlog"
	"brine/wrasse/ui/command"
	"brine/wrasse/ui/stage"
)

// whole is a store that always gives the full book, as if there were no other grade.
type whole struct{ book *model.Book }

func (w *whole) Load() (*model.Book, error) { return w.book, nil }
func (w *whole) Wide() (*model.Book, error) { return w.book, nil }
func (w *whole) Full() (*model.Book, error) { return w.book, nil }

func (w *whole) Write(build func(*model.Book) ([]model.Entry, error)) (*model.Book, model.Seq, error) {
	entries, err := build(w.book)
	if err != nil || len(entries) == 0 {
		return w.book, 0, err
	}
	first := w.book.Last() + 1
	for i := range entries {
		entries[i].Seq = first + model.Seq(i)
		if len(entries) > 1 {
			entries[i].Act = first
		}
		entries[i].At = at.Format(time.RFC3339)
	}
	next, err := w.book.Extend(entries)
	if err != nil {
		return nil, 0, err
	}
	w.book = next
	return next, first, nil
}

// at is the moment at which stage keeps its books.
var at = time.Date(2026, 11, 25, 7, 30, 0, 0, time.UTC)

// says is all that a command says of a store.
func says(s command.Store, stdin string, args ...string) string {
	var stdout, stderr bytes.Buffer
	code := command.Run(command.Env{
		Stdin: strings.NewReader(stdin), Stdout: &stdout, Stderr: &stderr,
		Getenv: func(string) string { return "" }, Now: func() time.Time { return at },
		Terminal:   func() bool { return false },
		Open:       func(string) command.Store { return s },
		Export:     func(w io.Writer, b *model.Book) error { return dump(w, b) },
		WriteTable: func(w io.Writer, rows [][]string) error { _, err := fmt.Fprintln(w, rows); return err },
		WriteCalendar: func(w io.Writer, c command.Calendar) error {
			_, err := fmt.Fprintf(w, "%+v\n", c)
			return err
		},
	}, append(args, "--no-config"))
	return fmt.Sprintf("%s%sexit code %d", &stdout, &stderr, code)
}

// long is a number of more digits than a sum keeps that is made in another order.
var long = regexp.MustCompile(`\d+\.\d{10,}`)

func rounded(s string) string {
	return long.ReplaceAllStringFunc(s, func(figure string) string {
		v, _ := strconv.ParseFloat(figure, 64)
		return strconv.FormatFloat(v, 'g', 12, 64)
	})
}

func dump(w io.Writer, b *model.Book) error {
	log, err := b.Entries(1, b.Last())
	if err != nil {
		return err
	}
	for _, e := range log {
		line, err := model.EncodeEntry(*e)
		if err != nil {
			return err
		}
		fmt.Fprintf(w, "%s\n", line)
	}
	return nil
}

// A command says the same whether a file gives it the brief, the wide or the full book,
// today and on a date that the brief one can't answer for; and an act means the same.
func TestCommandsSayTheSameOfEveryGrade(t *testing.T) {
	var log []model.Entry
	for e := range longlog.Household(7, 6000, stage.Today) {
		log = append(log, e)
	}
	books := map[string]*model.Book{"demo": stage.Demo(t), "household": stage.Book(t, log)}
	for name, book := range books {
		t.Run(name, func(t *testing.T) {
			graded, full := stage.Kept(t, book), &whole{book}
			if b, err := graded.Load(); err != nil || !b.Brief() || b.Floor() <= model.DateOf(at).AddDays(-400) {
				t.Fatalf("the book is not brief enough to tell: %v, floor %s", err, b.Floor())
			}
			same := func(stdin string, args ...string) {
				t.Helper()
				if got, want := rounded(says(graded, stdin, args...)), rounded(says(full, stdin, args...)); got != want {
					at := 0
					for at < min(len(got), len(want)) && got[at] == want[at] {
						at++
					}
					t.Errorf("wrasse %s, at byte %d: %.200q, of the full book %.200q", strings.Join(args, " "), at, got[max(at-60, 0):], want[max(at-60, 0):])
				}
			}
			chore := string(book.Chores()[len(book.Chores())/2].ID)
			water, _ := book.CounterByRole(model.RoleWaterMade)
			tap, _ := book.GaugeByRole(model.RoleTDSTap)
			look := func() {
				t.Helper()
				for _, on := range []string{"today", "40d", "400d"} {
					for _, c := range []string{"round --all", "round --json --minutes 45", "shelf --json", "year", "rethink --json", "water --json", "sheet", "export csv --round", "export ics"} {
						same("", append(strings.Fields(c), "--on", on)...)
					}
				}
				same("", "export", "csv")
				same("", "export", "jsonl")
				same("", "mix", "--volume", "100L", "--target", "35")
			}
			look()
			for _, on := range []string{"today", "2d", "40d", "400d"} {
				same("", "tick", chore, "--on", on)
				same("", "use", string(water.ID), "100000", "--on", on) // a meter's value is high, an amount odd
				same("", "read", string(tap.ID), "250", "--on", on)
			}
			same("", "flag", string(book.Components()[0].ID))
			same("", "fault", string(book.Components()[1].ID))
			same("", "away", "2026-12-01")
			same("40d "+chore+"\ntoday "+chore+"\n", "tick", "-")
			same("", "mix", "--volume", "100L", "--target", "35", "--log")
			look()
		})
	}
}
