package water

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// The tables in testdata/reference are described, with their sources and tolerances, in the README beside them.

type row map[string]string

func table(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, line := range lines[1:] {
		r := row{}
		for i, v := range line {
			r[lines[0][i]] = v
		}
		rows = append(rows, r)
	}
	if len(rows) < 2 {
		t.Fatalf("%s: only %d rows", name, len(rows))
	}
	return rows
}

func (r row) num(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

// near compares a computed value with an expected one within an absolute tolerance.
func near(t *testing.T, what string, got float64, err error, want, tolerance float64) {
	t.Helper()
	if err != nil {
		t.Errorf("%s: %v", what, err)
		return
	}
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

// refused checks for a RangeError whose text says all of the given.
func refused(t *testing.T, what string, err error) {
	t.Helper()
	var re *RangeError
	if !errors.As(err, &re) {
		t.Errorf("%s: error %v, want a RangeError", what, err)
		return
	}
	if re.Quantity == "" || re.Accepted == "" {
		t.Errorf("%s: %q does not say what is accepted", what, err)
	}
}

func TestRangeErrorSaysWhatIsAccepted(t *testing.T) {
	_, err := TCF(60)
	if got, want := err.Error(), "water temperature 60 °C: accepted is 0 to 45 °C"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	_, err = PracticalSalinityUpTo(2.9, 25, maxPractical)
	if got, want := err.Error(), "practical salinity behind the conductivity 1.50388: accepted is 2 to 42"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
