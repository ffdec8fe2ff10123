package exchange

import (
	"bytes"
	"cmp"
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func table(t testing.TB, rows ...[]string) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteTable(&b, rows); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// RFC 4180, section 2, rules 1 to 7.
func TestWriteTableFollowsTheRFC(t *testing.T) {
	for want, row := range map[string][]string{
		"aaa,bbb,ccc\r\n":                {"aaa", "bbb", "ccc"},
		"aaa,\"b\r\nbb\",ccc\r\n":        {"aaa", "b\nbb", "ccc"},
		"aaa,\"b\"\"bb\",ccc\r\n":        {"aaa", `b"bb`, "ccc"},
		"\"zzz,yyy\",\"\"\"\"\"\",x\r\n": {"zzz,yyy", `""`, "x"},
		",,\r\n":                         {"", "", ""},
	} {
		if got := table(t, row); got != want {
			t.Errorf("%q is written %q, want %q", row, got, want)
		}
	}
}

func TestNoCellRuns(t *testing.T) {
	for cell, want := range map[string]string{
		"=1+1": "'=1+1", "+1 555": "'+1 555", "-2+3": "'-2+3", "@sum(a1)": "'@sum(a1)", "=cmd|' /C calc'!A0": "'=cmd|' /C calc'!A0",
		"\tx": "'\tx", "＝1": "'＝1", "'=1": "''=1", "--": "'--", "-inf": "'-inf", "-0x1p4": "'-0x1p4",
		"-1.5": "-1.5", "+3": "+3", "-1e-3": "-1e-3", "clean": "clean", "it's": "it's", "'": "'", "a=b": "a=b", "": "",
	} {
		got := neutral(cell)
		if got != want {
			t.Errorf("neutral(%q) = %q, want %q", cell, got, want)
		}
		if back := plain(got); back != cell {
			t.Errorf("%q comes back as %q", cell, back)
		}
	}
	if got := table(t, []string{"a\x1b[31mb\u009b"}); got != "a[31mb\r\n" {
		t.Errorf("controls are written: %q", got)
	}
}

func TestTablesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.Map(rapid.StringOf(rapid.RuneFrom([]rune("ab=+-@',;\"\n 1.é"))), strings.TrimSpace)
		width := rapid.IntRange(1, 4).Draw(t, "width")
		rows := rapid.SliceOfN(rapid.SliceOfN(cell, width, width), 1, 5).Draw(t, "rows")
		rows = append([][]string{make([]string, width)}, rows...)
		rows[0][0] = "x" // a first line from which the separator can be told
		var b bytes.Buffer
		if err := WriteTable(&b, rows); err != nil {
			t.Fatal(err)
		}
		got, _, err := ReadTable(&b)
		if err != nil {
			t.Fatal(err)
		}
		rows = slices.DeleteFunc(rows, func(r []string) bool { return strings.Join(r, "") == "" })
		if len(got) != len(rows) {
			t.Fatalf("%q reads back as %v", rows, got)
		}
		for i := range rows {
			if !slices.Equal(got[i].Cells, rows[i]) {
				t.Fatalf("%q reads back as %q", rows[i], got[i].Cells)
			}
		}
	})
}

func TestReadTable(t *testing.T) {
	for name, c := range map[string]struct {
		file string
		want []Row
	}{
		"commas":      {"date,name\n2026-01-02,tap\n", []Row{{1, []string{"date", "name"}}, {2, []string{"2026-01-02", "tap"}}}},
		"semicolons":  {"date;name\n2.1.2026;12,5\n", []Row{{1, []string{"date", "name"}}, {2, []string{"2.1.2026", "12,5"}}}},
		"tabs":        {"date\tname\r\n1\t2\r\n", []Row{{1, []string{"date", "name"}}, {2, []string{"1", "2"}}}},
		"empty cells": {"a\tb\tc\n\t\tx\n", []Row{{1, []string{"a", "b", "c"}}, {2, []string{"", "", "x"}}}},
		"byte order":  {"\uFEFFdate,name", []Row{{1, []string{"date", "name"}}}},
		"blank lines": {"\n\na,b\n,,\n\nc,d\n", []Row{{3, []string{"a", "b"}}, {6, []string{"c", "d"}}}},
		"quoted":      {"\"a;b\",\"c\nd\"\ne,f\n", []Row{{1, []string{"a;b", "c\nd"}}, {3, []string{"e", "f"}}}},
		"ragged":      {"a,b\nc\n", []Row{{1, []string{"a", "b"}}, {2, []string{"c"}}}},
		"neutralised": {"a,'=1\n", []Row{{1, []string{"a", "=1"}}}},
		"one column":  {"a\n", []Row{{1, []string{"a"}}}},
	} {
		got, between, err := ReadTable(strings.NewReader(c.file))
		if separators := map[string]rune{"semicolons": ';', "tabs": '\t', "empty cells": '\t'}; err == nil && between != cmp.Or(separators[name], ',') {
			t.Errorf("%s: between the cells stands %q", name, between)
		}
		if err != nil || len(got) != len(c.want) {
			t.Errorf("%s: %v, %v; want %v", name, got, err, c.want)
			continue
		}
		for i := range got {
			if got[i].Line != c.want[i].Line || !slices.Equal(got[i].Cells, c.want[i].Cells) {
				t.Errorf("%s: row %d is %v, want %v", name, i, got[i], c.want[i])
			}
		}
	}
}

func TestReadTableRefuses(t *testing.T) {
	for file, says := range map[string]string{
		"":                "line 1: the table is empty",
		"\n ,\n":          "line 1: the table is empty",
		"a,b\nc,\xff\n":   "line 2: not UTF-8",
		"a,b\nc,\"d\n":    "line 2: a quoted cell does not end",
		"a,b\n\"c\"d,e\n": "line 2: a quoted cell does not end",
		"a,b\nc\"d,e\n":   "line 2: a quote stands inside",
	} {
		_, _, err := ReadTable(strings.NewReader(file))
		var at *ImportError
		if err == nil || !errors.As(err, &at) || !strings.Contains(err.Error(), says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v; want an error with %q in one line", file, err, says)
		}
	}
}

func FuzzReadTable(f *testing.F) {
	for _, s := range []string{"a,b\n", "\uFEFFa;b", "\"", "'=1", "a\t\r\n", "\xff"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, _, err := ReadTable(bytes.NewReader(data))
		if (err == nil) != (len(rows) > 0) {
			t.Fatalf("%d rows beside the error %v", len(rows), err)
		}
	})
}

// What no spreadsheet saves is refused in a short line, before it takes memory or time.
func TestOddTablesAreRefused(t *testing.T) {
	many := func(text string, n int) string { return strings.Repeat(text, n) }
	for name, c := range map[string]struct{ table, want string }{
		"too large":        {many("a", MaxTable+1), "line 1: the table is larger than 16 MiB"},
		"an open quote":    {"date,name,value\n2026-01-01,\"" + many("x\n", MaxTable/3), "line 2: a row of more than 256 KiB begins here; perhaps a quote is never closed"},
		"only quotes":      {"date,name\n" + many(`"`, MaxTable/2), "line 2: a row of more than 256 KiB"},
		"one line":         {many("\x00", MaxTable/2), "line 1: a row of more than 256 KiB"},
		"many columns":     {"date\n" + many(",", 1000) + "\n", "line 2: 1001 columns are more than the 1000"},
		"commas":           {many(",", MaxTable-1), "line 1: a row of more than 256 KiB"},
		"many rows":        {many("a\n", 200_001), "line 200001: the table has more than 200000 rows"},
		"a long cell":      {"date,name,value\n2026-01-01,x," + many("1", 40_001) + "\n", "line 2: the cell in column 3 is longer than 40000 bytes"},
		"empty lines only": {many("\n", MaxTable-1), "line 1: the table is empty"},
	} {
		rows, _, err := ReadTable(strings.NewReader(c.table))
		var line *ImportError
		if !errors.As(err, &line) || !strings.HasPrefix(err.Error(), c.want) || len(err.Error()) > 200 {
			t.Errorf("%s: %d rows, %.300v; want %s", name, len(rows), err, c.want)
		}
	}
	rows, _, err := ReadTable(strings.NewReader("date,note\n" + many("2026-01-01,\""+many("é\n", 10_000)+"\"\n", 20)))
	if err != nil || len(rows) != 21 {
		t.Errorf("the longest notes: %d rows, %v", len(rows), err)
	}
}
