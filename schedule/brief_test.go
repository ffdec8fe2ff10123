package schedule

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"brine/wrasse/model"
	"brine/wrasse/model/longlog"
)

// kept is a book folded in memory, and its log.
type kept struct {
	longlog.Records
	log []model.Entry
}

func keep(t testing.TB, b *model.Book, log []model.Entry) *kept {
	t.Helper()
	k := &kept{log: log}
	if err := k.Take(b); err != nil {
		t.Fatal(err)
	}
	return k
}

func (k *kept) Entry(seq model.Seq) (*model.Entry, error) { return &k.log[seq-1], nil }

// TestARoundOfTheLatestEvents makes rounds of invented households from a book that holds only the latest events, and
// holds them to those of the whole log, for dates from the first about which it can answer.
func TestARoundOfTheLatestEvents(t *testing.T) {
	today := date(t, "2026-03-31")
	for seed := range uint64(4) {
		log := slices.Collect(longlog.Household(seed, []int{3000, 8000, 15000, 24000}[seed], today))
		full, err := model.Fold(log)
		if err != nil {
			t.Fatal(err)
		}
		records := keep(t, full, log)
		brief, err := model.Open(records, full.Last(), records, model.Hold{})
		if err != nil {
			t.Fatal(err)
		}
		wide, err := model.Open(records, full.Last(), records, model.HoldAll)
		if err != nil {
			t.Fatal(err)
		}
		if floor := brief.Floor(); floor > today || !brief.Brief() {
			t.Fatalf("seed %d: a brief book whose floor is %s", seed, floor)
		}
		for _, on := range []model.Date{brief.Floor(), brief.Floor() + 1, (brief.Floor() + today) / 2, today - 1, today, today + 1, today + 45} {
			if on < brief.Floor() {
				continue
			}
			got, want := Make(brief, on), Make(full, on)
			about := cmp.Options{
				cmpopts.EquateApprox(1e-9, 1e-12), cmpopts.EquateEmpty(),
				cmpopts.IgnoreUnexported(ClockStanding{}, Standing{}, Round{}),
			}
			if diff := cmp.Diff(want, got, about); diff != "" {
				t.Fatalf("seed %d on %s (floor %s), - of the whole log, + of the latest events:\n%.3000s", seed, on, brief.Floor(), diff)
			}
			if diff := cmp.Diff(want.Rethink(full), got.Rethink(wide), about); diff != "" {
				t.Fatalf("seed %d on %s, what placing costs:\n%.3000s", seed, on, diff)
			}
			if diff := cmp.Diff(want.Shelf(), got.Shelf(), about); diff != "" {
				t.Fatalf("seed %d on %s, the shelf:\n%.3000s", seed, on, diff)
			}
		}
	}
}
