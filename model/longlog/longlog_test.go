package longlog

import (
	"bytes"
	"crypto/sha256"
	"iter"
	"slices"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/storage/exchange"
)

var until = model.NewDate(2026, time.November, 25)

// hash is the sum over the lines of a log.
func hash(t *testing.T, log iter.Seq[model.Entry]) [sha256.Size]byte {
	t.Helper()
	h := sha256.New()
	for e := range log {
		line, err := model.EncodeEntry(e)
		if err != nil {
			t.Fatal(err)
		}
		h.Write(line)
	}
	return [sha256.Size]byte(h.Sum(nil))
}

func folded(t *testing.T, log iter.Seq[model.Entry]) *ledger.Book {
	t.Helper()
	b, err := ledger.Fold(slices.Collect(log))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestSameSeedSameLog(t *testing.T) {
	one := hash(t, Household(1, 3000, until))
	if one != hash(t, Household(1, 3000, until)) {
		t.Error("seed 1 gives another log the second time")
	}
	if one == hash(t, Household(2, 3000, until)) {
		t.Error("seeds 1 and 2 give the same log")
	}
}

func TestHouseholdFoldsWhateverItsLengthAndSeed(t *testing.T) {
	for seed, n := range []int{1, 60, 150, 151, 500, 2000, 4000, 10_000} {
		b := folded(t, Household(uint64(seed), n, until))
		if got := int(b.Last()); got != n {
			t.Errorf("asked for %d entries, got %d", n, got)
		}
	}
}

func TestHouseholdIsSpreadAsItSays(t *testing.T) {
	const n = 10_000
	b := folded(t, Household(3, n, until))
	if got := len(b.Chores()); got != 40 {
		t.Errorf("%d chores, want 40", got)
	}
	kinds := map[model.Kind]int{}
	strikes, backdated, by, acts, redefined := 0, 0, 0, 0, 0
	first, last := model.LastDate, model.FirstDate
	for seq := model.Seq(1); seq <= b.Last(); seq++ {
		e := must(b.Written(seq))
		kinds[e.Kind]++
		first, last = min(first, e.On), max(last, e.On)
		if e.At == "" || e.On.IsZero() || e.Written() < e.On {
			t.Fatalf("entry %d was written %q about %s", seq, e.At, e.On)
		}
		if a, ok := e.Body.(model.Amend); ok && a.Strike {
			strikes++
		}
		if e.By != "" {
			by++
		}
		if e.Act == e.Seq {
			acts++
		}
		switch e.Kind {
		case model.KindComponent, model.KindChore, model.KindSpare, model.KindPlace:
			if seq > 200 {
				redefined++
			}
		}
		if seq > 1 && e.On < must(b.Written(seq-1)).On {
			backdated++
		}
	}
	if first != until.AddMonths(-240) || last > until || last < until.AddDays(-3) {
		t.Errorf("from %s to %s, want twenty years to %s", first, last, until)
	}
	for what, c := range map[string]struct{ got, low, high int }{
		"usage":        {kinds[model.KindUsage], 3800, 4300},
		"reading":      {kinds[model.KindReading], 3250, 3750},
		"tick":         {kinds[model.KindTick], 1050, 1350},
		"batch":        {kinds[model.KindBatch], 340, 460},
		"stock":        {kinds[model.KindStock], 240, 360},
		"note":         {kinds[model.KindNote], 150, 250},
		"defer":        {kinds[model.KindPutOff], 25, 80},
		"fault":        {kinds[model.KindFault], 20, 70},
		"flag":         {kinds[model.KindFlag], 20, 70},
		"away":         {kinds[model.KindAway], 12, 50},
		"meter reset":  {kinds[model.KindMeterReset], 6, 30},
		"strike":       {strikes, 20, 80},
		"replacement":  {kinds[model.KindAmend] - strikes, 15, 70},
		"backdated":    {backdated, 25, 100},
		"by somebody":  {by, 2500, 3500},
		"long act":     {acts, 800, 2500},
		"redefinition": {redefined, 15, 70},
	} {
		if c.got < c.low || c.got > c.high {
			t.Errorf("%s: %d of %d, want %d to %d", what, c.got, n, c.low, c.high)
		}
	}
}

func TestHouseholdHasEveryKindOfClockAndRole(t *testing.T) {
	b := folded(t, Household(4, 10_000, until))
	clocks := map[model.ClockKind]bool{}
	graded, costs, consequences := map[int]bool{}, 0, map[int]bool{}
	for _, c := range b.Chores() {
		for _, k := range c.Clocks {
			clocks[k.Kind] = true
		}
		if c.Cost != nil {
			costs++
		}
		consequences[c.Consequence] = true
		if len(b.Ticks(c.ID)) == 0 {
			t.Errorf("%s was never ticked", c.ID)
		}
	}
	for seq := model.Seq(1); seq <= b.Last(); seq++ {
		if c, ok := must(b.Written(seq)).Body.(model.Component); ok {
			graded[c.Reach] = true
		}
	}
	if len(clocks) != 4 || len(graded) != 5 || costs < 3 || len(consequences) != 3 {
		t.Errorf("%d kinds of clock, %d grades, %d costs, %d consequences", len(clocks), len(graded), costs, len(consequences))
	}
	for _, role := range []string{model.RoleTDSTap, model.RoleTDSMembrane, model.RoleTDSProduct, model.RolePressureLine,
		model.RolePressureMembrane, model.RoleTemperatureWater, model.RoleFlowProduct, model.RoleFlowWaste,
		model.RoleSalinity, model.RoleChlorineTap, model.RoleChlorineCarbon} {
		if g, ok := b.GaugeByRole(role); !ok || len(b.Readings(g.ID)) < 10 {
			t.Errorf("role %s: %d readings", role, len(b.Readings(g.ID)))
		}
	}
	for _, c := range b.Counters() {
		if len(b.Amounts(c.ID)) < 100 {
			t.Errorf("counter %s: %d amounts", c.ID, len(b.Amounts(c.ID)))
		}
	}
}

func TestWhatIsWrittenCanBeImported(t *testing.T) {
	log := Household(6, 1000, until)
	var file bytes.Buffer
	if err := write(&file, log); err != nil {
		t.Fatal(err)
	}
	want := slices.Collect(log)
	got, err := exchange.Import(&file, until)
	if err != nil || len(got) != len(want) {
		t.Errorf("%d of %d entries: %v", len(got), len(want), err)
	}
}

// must is what can't fail here.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
