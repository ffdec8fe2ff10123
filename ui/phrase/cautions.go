package phrase

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
)

// Closing is the last line below the cautions of every page: who knows better than the program does.
const Closing = "Local codes and the makers' instructions go first. Wiring and plumbing: licensed hands."

// Cautions are what some chores ask to be careful of, each once, in the units of the book, and the closing line.
func Cautions(b *ledger.Book, chores ...model.Chore) []string {
	var out []string
	for _, c := range chores {
		for _, s := range c.Cautions {
			if s = parse.Wording(s, b.Def().Units); !slices.Contains(out, s) {
				out = append(out, s)
			}
		}
	}
	return append(out, Closing)
}

// Caution is the first thing to be careful of in a chore, and how many more stand on its page; "" where there is none.
func Caution(b *ledger.Book, c model.Chore) string {
	if len(c.Cautions) == 0 {
		return ""
	}
	first := parse.Wording(c.Cautions[0], b.Def().Units)
	if n := len(c.Cautions) - 1; n > 0 {
		first += fmt.Sprintf(" (%d more on its page)", n)
	}
	return first
}
