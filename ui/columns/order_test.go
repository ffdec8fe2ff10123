package columns

import (
	"strings"
	"testing"

	"brine/wrasse/model"
)

var today = model.NewDate(2026, 11, 25)

func settled(texts []string, order Order) ([]string, error) {
	var cells []cellDate
	for i, text := range texts {
		c, err := dateCell(i+1, text, today)
		if err != nil {
			return nil, err
		}
		cells = append(cells, c)
	}
	if err := settle(cells, order, None); err != nil {
		return nil, err
	}
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = c.on.String()
		if c.about {
			out[i] = "~" + out[i]
		}
	}
	return out, nil
}

func TestDatesAreRead(t *testing.T) {
	for _, c := range []struct {
		texts string
		order Order
		want  string
	}{
		{"2026-03-04", None, "2026-03-04"},
		{"2026/3/4|2026.03.05", None, "2026-03-04|2026-03-05"},
		{"2026-03-04 07:15|2026-03-04T07:15:00", None, "2026-03-04|2026-03-04"},
		{"3/4/2026 7:15:00 AM", MDY, "2026-03-04"},
		{"13/02/2026|03/04/2026", None, "2026-02-13|2026-04-03"},
		{"02/13/2026|03/04/2026", None, "2026-02-13|2026-03-04"},
		{"31.12.25|01.02.26", DMY, "2025-12-31|2026-02-01"},
		{"12/31/25|1/2/26", None, "2025-12-31|2026-01-02"},
		{"26-03-04", YMD, "2026-03-04"},
		{"04/04/2026|05/05/2026", None, "2026-04-04|2026-05-05"},
		{"03/04/2026", DMY, "2026-04-03"},
		{"03/04/2026", MDY, "2026-03-04"},
		{"03/04/70|03/04/69", DMY, "1970-04-03|2069-04-03"},
		{"3 Mar 2026|March 3, 2026|3 march 2026", None, "2026-03-03|2026-03-03|2026-03-03"},
		{"~2026-03-04|about 2026-03-04", None, "~2026-03-04|~2026-03-04"},
		{"2026-03-04|13/02/2026", None, "2026-03-04|2026-02-13"},
	} {
		got, err := settled(strings.Split(c.texts, "|"), c.order)
		if err != nil || strings.Join(got, "|") != c.want {
			t.Errorf("%s as %q: %v, %v; want %s", c.texts, c.order, got, err, c.want)
		}
	}
}

func TestDatesThatAreNotPlainAreAskedAbout(t *testing.T) {
	for _, c := range []struct {
		texts string
		order Order
		says  string
	}{
		{"03/04/2026", None, `line 1: date "03/04/2026" could be 2026-04-03 as dmy or 2026-03-04 as mdy; say which: --order dmy or --order mdy`},
		{"04/04/2026|03/04/2026", None, "line 2"},
		{"03/04/05", None, "2003-04-05 as ymd or 2005-04-03 as dmy or 2005-03-04 as mdy"},
		{"13/02/2026|02/13/2026", None, `line 2: date "02/13/2026" does not go together with "13/02/2026" in line 1`},
		{"13/13/2026", None, "no such day"},
		{"13/02/2026", MDY, "does not fit the order mdy"},
		{"2026-02-30", None, "no such day"},
		{"march", None, "give YYYY-MM-DD"},
		{"3 mar", None, "give YYYY-MM-DD"},
		{"yesterday", None, "give YYYY-MM-DD"},
		{"45000", None, "give YYYY-MM-DD"},
		{"", None, "give YYYY-MM-DD"},
		{"1/2/3/4", None, "give YYYY-MM-DD"},
		{"1/2/026", None, "give YYYY-MM-DD"},
	} {
		got, err := settled(strings.Split(c.texts, "|"), c.order)
		if err == nil || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s as %q: %v, %v; want an error with %q", c.texts, c.order, got, err, c.says)
		}
	}
}

// The usual order settles what is not plain, and nothing else.
func TestUsualOrder(t *testing.T) {
	for text, want := range map[string]string{"03/04/2026": "2026-03-04", "13/02/2026": "2026-02-13"} {
		c, err := dateCell(1, text, today)
		if err != nil {
			t.Fatal(err)
		}
		cells := []cellDate{c}
		if err := settle(cells, None, MDY); err != nil || cells[0].on.String() != want {
			t.Errorf("%s: %s, %v; want %s", text, cells[0].on, err, want)
		}
	}
}
