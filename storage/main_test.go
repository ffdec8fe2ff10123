package storage

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"strconv"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

var (
	rounds = flag.Int("rounds", 25, "rounds of the crash test")
	acts   = flag.Int("acts", 40, "acts of each of the four writers")
	pages  = flag.Int("pages", 0, "pages put back to what they were within 30 acts; 0: those of a few states")
	flips  = flag.Int("flips", 0, "flips in a book of 2 MB; 0: fewer flips in a small one")
)

// Tests that need another process run this binary again; the job is named in the
// environment.
const (
	jobEnv  = "STORAGE_TEST_JOB"
	pathEnv = "STORAGE_TEST_BOOK"
	argEnv  = "STORAGE_TEST_ARG"
)

var jobs = map[string]func(b *Book, arg string) error{
	"write for ever": writeForEver,
	"write some":     writeSome,
	"hold the lock":  holdTheLock,
	"go over":        goOver,
}

func TestMain(m *testing.M) {
	if job := jobs[os.Getenv(jobEnv)]; job != nil {
		b := At(os.Getenv(pathEnv), time.Now)
		if err := job(b, os.Getenv(argEnv)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	// Each drawn sequence does dozens of fsynced acts; the flag still asks for more.
	if err := flag.Set("rapid.checks", "25"); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}

// writeForEver does acts of one to three notes and says after each, on a line, the seq
// of its last entry. Its reader may believe every whole line.
func writeForEver(b *Book, _ string) error {
	for i := 0; ; i++ {
		w, err := b.Write(func(book *ledger.Book) ([]model.Entry, error) {
			if book.Empty() {
				return setUp(), nil
			}
			// No date: what a note says is checked against its act.
			n := 1 + i%3
			var out []model.Entry
			for k := range n {
				out = append(out, note(fmt.Sprintf("%d of %d", k+1, n)))
			}
			return out, nil
		})
		if err != nil {
			return err
		}
		fmt.Println(w.Book.Last())
	}
}

// writeSome does as many acts as arg says, each naming the process and its number. One
// that finds the book in use tries again, as a keeper would.
func writeSome(b *Book, arg string) error {
	n, err := strconv.Atoi(arg)
	if err != nil {
		return err
	}
	for i := 0; i < n; i++ {
		_, err := b.Write(func(*ledger.Book) ([]model.Entry, error) {
			return []model.Entry{note(fmt.Sprintf("%d %d", os.Getpid(), i))}, nil
		})
		if errors.Is(err, ErrBusy) {
			fmt.Println("busy")
			i--
		} else if err != nil {
			return err
		}
	}
	return nil
}

// holdTheLock locks the file, says so, and waits until its input ends.
func holdTheLock(b *Book, _ string) error {
	f, err := b.open(true)
	if err != nil {
		return err
	}
	defer f.Close()
	fmt.Println("held")
	_, err = os.Stdin.Read(make([]byte, 1))
	return ignoreEOF(err)
}
