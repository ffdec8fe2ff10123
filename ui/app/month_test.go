package app

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"brine/wrasse/ui/termtest"
)

// A month of water by keys alone. Every figure is worked by hand from what is typed; the book begins on Mon 2 Nov 2026 with
// a reservoir of 100 L that keeps 5, a vat of 80 L, a product flow of 5 L/h, and a change of 40 L every 28 days.
func TestAMonthOfWater(t *testing.T) {
	t.Parallel()
	day := filepath.Join(t.TempDir(), "day")
	s := termtest.Start(t, termtest.Options{Bin: termtest.Build(t, "testdata/month"), Args: []string{day}})
	on := func(after int, sees string) {
		t.Helper()
		if err := os.WriteFile(day, []byte(strconv.Itoa(after)), 0o600); err != nil {
			t.Fatal(err)
		}
		s.Send("j")
		s.WaitFor(sees)
	}
	s.WaitFor("Mon 2 Nov 2026")
	s.Send("l60\r")
	s.WaitFor("Reservoir holds 60 L")

	// A week later 40 L were made: 60 + 40 = 100 L, of which 88 are left. 12 L in 7 days went unlogged: 12/7 = 1.71 L a day.
	on(7, "Mon 9 Nov 2026")
	s.Send("u40\r")
	s.WaitFor("Water made, 40 L")
	s.Send("l88")
	s.WaitFor("88 of 100 L; 1.71 L a day")
	s.Send("\r")
	s.WaitFor("Reservoir holds 88 L")
	s.Send("l0\t \r")
	s.WaitFor("Vat holds 0 L")

	// 40 L for Saturday are mixed a day before. For that and the change of Mon 30 Nov 40 L each leave the reservoir, the
	// second on Sun 29 Nov: 88 - 40 - 20 x 12/7 - 40 = -26.3 L, less than 5. In the seven days from then on the least is
	// 88 - 80 - 26 x 12/7 = -36.6 L, 41.6 below 5: 8 h 19 at 5 L/h, of 12 h a day one day, started on Sat 28 Nov.
	s.Send("n40 sat")
	s.WaitFor("mix 40 L, by Fri 13 Nov", "4 trips with 10 L", "Reservoir: make 41.6 L, start by Sat 28 Nov; takes 8 h 19 at 5 L/h")
	s.Send("\r")
	s.WaitFor("40 L from Vat wanted by Sat 14 Nov: mix 40 L, by Fri 13 Nov")

	// Four days on 88 - 4 x 12/7 - 40 = 41.1 L are left once it is mixed, and nothing is wanted that the vat hasn't.
	on(11, "Fri 13 Nov 2026")
	s.Send("2mn")
	s.WaitFor("Mix a batch")
	s.Send("40\r")
	s.WaitFor("mixed 40 L")
	s.WaitFor("Reservoir: 41 of 100 L", "Vat: 40 of 80 L")
	s.Send("1")
	s.WaitFor("40 L from Vat wanted by Sat 14 Nov: there is enough")

	// The change takes the 40 L, and the need is met.
	on(12, "Sat 14 Nov 2026")
	s.Send("/change\r")
	s.WaitFor("> Tank: change the water")
	s.Send("d\r")
	s.WaitFor("ticked Tank: change the water")
	s.WaitGone("wanted by")
	s.Send("2")
	s.WaitFor("Vat: 0 of 80 L")

	// Making water is told how much. Fifteen days later 41.1 - 15 x 12/7 = 15.4 L are left; with 30 L made 45.4.
	s.Send("1\x1b")
	on(26, "Sat 28 Nov 2026")
	s.Send("/make\r")
	s.WaitFor("> Unit: make")
	s.Send("d")
	s.WaitFor("how much was made?")
	s.Send("30\r")
	s.WaitFor("Water made, 30 L")
	s.Send("2")
	s.WaitFor("Reservoir: 45 of 100 L")
}
