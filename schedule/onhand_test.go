package schedule

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"brine/wrasse/model"
)

// TestWaterBooks holds the water on hand of eight books to what a second implementation makes of them.
func TestWaterBooks(t *testing.T) {
	t.Parallel()
	for _, row := range rows(t, "on_hand_expected.csv") {
		b := readBook(t, "water-"+row["book"]+".jsonl")
		on := date(t, row["on"])
		o := Make(b, on).OnHandIn(model.ID(row["vessel"]))
		if o == nil {
			t.Fatalf("book %s has no vessel %s", row["book"], row["vessel"])
		}
		where := fmt.Sprintf("book %s, %s", row["book"], row["vessel"])
		dates := map[string]model.Date{"short": o.Short, "start_by": o.StartBy, "ready": o.Ready}
		for name, got := range dates {
			if got.String() != row[name] {
				t.Errorf("%s: %s is %s, want %s", where, name, got, row[name])
			}
		}
		figure := func(name string, got float64, known bool) {
			want, err := strconv.ParseFloat(row[name], 64)
			switch {
			case row[name] == "" && known:
				t.Errorf("%s: %s is %v, want none", where, name, got)
			case row[name] == "":
			case err != nil || !known || math.Abs(got-want) > 1e-6*max(1, math.Abs(want)):
				t.Errorf("%s: %s is %v (known: %v), want %s", where, name, got, known, row[name])
			}
		}
		figure("level", o.Level, o.Counted != nil && !o.Vessel.Auto)
		figure("use_per_day", o.Use, o.HasUse)
		made := o.Fed() && !o.Short.IsZero()
		figure("missing", o.Missing, made)
		figure("hours", o.Hours, made && o.Flow.Known())
		figure("over", o.Over, made)
		var mixes []string
		for _, m := range o.Mixes {
			mixes = append(mixes, m.By.String()+":"+strconv.FormatFloat(m.Litres, 'g', 9, 64))
		}
		if got := strings.Join(mixes, " "); got != row["mixes"] {
			t.Errorf("%s: mixes %s, want %s", where, got, row["mixes"])
		}
	}
}
