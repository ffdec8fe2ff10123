package ledger

import (
	"testing"

	"brine/wrasse/model"
)

func date(t *testing.T, s string) model.Date {
	t.Helper()
	d, err := model.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
