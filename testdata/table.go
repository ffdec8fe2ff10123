// Package testdata reads the tables that lie below it, for the tests that hold the program to them. The READMEs beside
// them say where each comes from. It is no part of the program.
package testdata

import (
	"embed"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"
)

//go:embed reference/*.csv books/*.csv
var tables embed.FS

// Row is a line of a table, by the names in its first line.
type Row map[string]string

// Table is the rows of a table, at least one, such as "reference/pss78.csv".
func Table(t testing.TB, name string) []Row {
	t.Helper()
	f, err := tables.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil || len(lines) < 2 {
		t.Fatalf("%s: %d lines, %v", name, len(lines), err)
	}
	rows := make([]Row, len(lines)-1)
	for i, line := range lines[1:] {
		rows[i] = Row{}
		for column, cell := range line {
			rows[i][lines[0][column]] = strings.TrimSpace(cell)
		}
	}
	return rows
}

// Number is a cell that holds a number.
func (r Row) Number(t testing.TB, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, r, err)
	}
	return v
}
