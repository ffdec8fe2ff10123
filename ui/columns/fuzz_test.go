package columns

import (
	"strings"
	"testing"
)

// Whatever a table holds, it is read or refused with lines that name where; nothing is
// read beside an error, and what is read can be written.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"date;name;value\n2026-03-03;tds-tap;248", "2026-03-03;clean-impeller;h", "date;tds-tap (ppm)\n1/2/26;3",
		"date;kind;id;value\n~3 mar 2026;tick;renew-resin;x", "T;;", "date;(ppm)\n;", "date;name;value;unit;about\n2026-01-01;water-made;1;gal;yes",
	} {
		f.Add(s)
	}
	b := reef(f, metric)
	f.Fuzz(func(t *testing.T, text string) {
		plan, err := Read(b, lines(text), Asked{Today: today})
		if err != nil {
			if len(plan.Items) != 0 {
				t.Errorf("%d items beside %v", len(plan.Items), err)
			}
			for line := range strings.SplitSeq(err.Error(), "\n") {
				if !strings.HasPrefix(line, "line ") && !strings.HasPrefix(line, "the table is empty") {
					t.Errorf("an error without its line: %q", err)
				}
			}
			return
		}
		if acts, err := plan.Acts(b); err == nil && len(plan.Items) > 0 && len(acts) == 0 {
			t.Error("items, and nothing to write")
		}
	})
}
