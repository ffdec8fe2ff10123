package exchange

import (
	"bufio"
	"bytes"
	"io"
	"slices"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/longlog"
)

// benchEntries is the length of the log that is taken in and given out.
const benchEntries = 20_000

func longBook(b *testing.B) (*ledger.Book, []byte) {
	b.Helper()
	book := must(ledger.Fold(slices.Collect(longlog.Household(1, benchEntries, today))))
	var out bytes.Buffer
	if err := Export(&out, book); err != nil {
		b.Fatal(err)
	}
	return book, out.Bytes()
}

// BenchmarkExport writes a log as JSON Lines, and BenchmarkExportFloor the same bytes, ready as they are.
func BenchmarkExport(b *testing.B) {
	book, text := longBook(b)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if err := Export(io.Discard, book); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*benchEntries), "ns/entry")
}

func BenchmarkExportFloor(b *testing.B) {
	_, text := longBook(b)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		w := bufio.NewWriter(io.Discard)
		for line := range bytes.Lines(text) {
			w.Write(line)
		}
		w.Flush()
	}
}

// BenchmarkImport reads a log, strictly, and folds it as a new book does; BenchmarkImportFloor only splits it into
// lines, and BenchmarkImportTrusted decodes them without a check: what strictness costs stands between.
func BenchmarkImport(b *testing.B) {
	_, text := longBook(b)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		entries := must(Import(bytes.NewReader(text), today))
		if _, err := ledger.Fold(entries); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*benchEntries), "ns/entry")
}

func BenchmarkImportTrusted(b *testing.B) {
	_, text := longBook(b)
	_, text, _ = bytes.Cut(text, []byte("\n")) // the header is no entry
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		for line := range bytes.Lines(text) {
			if _, err := model.DecodeTrusted(bytes.TrimSpace(line)); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkImportFloor(b *testing.B) {
	_, text := longBook(b)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		n := 0
		for s := bufio.NewScanner(bytes.NewReader(text)); s.Scan(); {
			n += len(s.Bytes())
		}
		if n == 0 {
			b.Fatal("nothing read")
		}
	}
}
