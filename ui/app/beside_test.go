package app

import (
	"flag"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"
)

// uses is the commands run beside open windows: few, as each is a process of its own;
// -uses 100 for the whole of it.
var uses = flag.Int("uses", 12, "commands run beside open windows")

// TestCommandsBesideOpenWindows logs from the command line while two windows have the
// same book open, of which one writes too. Every command succeeds, both windows show
// what the commands and the other window wrote, and nothing is lost.
func TestCommandsBesideOpenWindows(t *testing.T) {
	t.Parallel()
	bin := termtest.Build(t, "../..")
	book := t.TempDir() + "/book.db"
	command := func(args ...string) string {
		t.Helper()
		out, err := exec.Command(bin, append(args, "--no-config", "--book", book)...).CombinedOutput()
		if err != nil {
			t.Fatalf("wrasse %v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	command("import", "../../testdata/books/fixed-1.jsonl")
	logged := func(kind string) int { return strings.Count(command("export", "jsonl"), `"kind":"`+kind+`"`) }
	usages, ticks := logged("usage"), logged("tick")

	window := func(view, shows string) *termtest.Terminal {
		s := inTerminal(t, "--no-config", "--book", book)
		s.WaitFor("[Round]", "d tick", "> ")
		s.Send(view)
		s.WaitFor(shows)
		return s
	}
	reads, writes := window("6", "[Log]"), window("6", "[Log]")

	for i := range *uses {
		command("use", "water", fmt.Sprintf("%d", 100+i))
		if i == *uses/2 {
			writes.Send("1d")
			writes.WaitFor("as found?")
			writes.Send("<enter>")
			writes.WaitFor("ticked ")
			writes.Send("6")
			reads.Until("the tick stands first", func(screen string) bool {
				rows := strings.Split(screen, "\n")
				return len(rows) > 2 && strings.Contains(rows[2], "ticked ")
			})
		}
	}
	last := fmt.Sprintf("%d L", 100+*uses-1)
	reads.WaitFor(last)
	writes.WaitFor(last)
	if got := logged("usage") - usages; got != *uses {
		t.Errorf("%d uses in the book, want %d", got, *uses)
	}
	if got := logged("tick") - ticks; got != 1 {
		t.Errorf("%d ticks in the book, want the window's one", got)
	}
}

// TestAnotherBookIsPutInItsPlace puts another file in the place of a book that is open in
// a window, with fewer entries: the window shows that one, and can't take back in it what
// it wrote in the other.
func TestAnotherBookIsPutInItsPlace(t *testing.T) {
	t.Parallel()
	bin := termtest.Build(t, "../..")
	folder := t.TempDir()
	book, other := folder+"/book.db", folder+"/other.db"
	command := func(book string, args ...string) {
		t.Helper()
		if out, err := exec.Command(bin, append(args, "--no-config", "--book", book)...).CombinedOutput(); err != nil {
			t.Fatalf("wrasse %v: %v\n%s", args, err, out)
		}
	}
	command(book, "import", "../../testdata/books/fixed-1.jsonl")
	command(other, "import", "../../testdata/books/fixed-4.jsonl")
	command(other, "use", "water", "123")

	s := inTerminal(t, "--no-config", "--book", book)
	s.WaitFor("[Round]", "d tick", "> ")
	s.Send("d")
	s.WaitFor("as found?")
	s.Send("<enter>")
	s.WaitFor("ticked ")
	s.Send("6")
	s.WaitFor("[Log]", "640 entries")
	if err := os.Rename(other, book); err != nil {
		t.Fatal(err)
	}
	s.WaitFor("66 entries", "123 L")
	s.Send("z")
	s.WaitFor("nothing")
	command(book, "use", "water", "124")
	s.WaitFor("67 entries", "124 L")
}
