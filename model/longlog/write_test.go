package longlog

import (
	"bufio"
	"flag"
	"fmt"
	"io"
	"iter"
	"os"
	"testing"

	"brine/wrasse/model"
)

var (
	out     = flag.String("out", "", "write a log to this `file`, as JSON Lines that import takes")
	entries = flag.Int("entries", 100_000, "of the household's log that -out writes")
	seed    = flag.Uint64("seed", 1, "of the log that -out writes")
	end     = flag.String("until", "", "the last `date` of the log that -out writes; 2026-11-25 when not given")
)

// TestWrite makes a file of a log, to try the program on.
func TestWrite(t *testing.T) {
	if *out == "" {
		t.Skip("writes a file only when -out names one")
	}
	last := until
	if *end != "" {
		var err error
		if last, err = model.ParseDate(*end); err != nil {
			t.Fatal(err)
		}
	}
	f, err := os.Create(*out)
	if err != nil {
		t.Fatal(err)
	}
	if err := write(f, Household(*seed, *entries, last)); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// write writes a log in the book format.
func write(to io.Writer, log iter.Seq[model.Entry]) error {
	w := bufio.NewWriter(to)
	fmt.Fprintln(w, `{"kind":"wrasse-book","version":1}`)
	for e := range log {
		line, err := model.EncodeEntry(e)
		if err != nil {
			return err
		}
		w.Write(line)
		w.WriteByte('\n')
	}
	return w.Flush()
}
