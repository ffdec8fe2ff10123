package water

import (
	"errors"
	"math"
	"testing"
)

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

// must is what can't fail here.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
