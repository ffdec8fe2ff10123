package phrase

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

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

// Caution is the first thing to be careful of in a chore, "" where there is none, and whether others stand on its page.
func Caution(b *ledger.Book, c model.Chore) (first string, others bool) {
	if len(c.Cautions) == 0 {
		return "", false
	}
	return parse.Wording(c.Cautions[0], b.Def().Units), len(c.Cautions) > 1
}

// clause ends at a semicolon, a full stop or a colon, but not at the one behind the word a caution begins with: "Mains" alone
// warns of nothing.
var clause = regexp.MustCompile(`^(\S+: )?.*?[;.:](\s|$)`)

// FirstClause is how a caution begins: "Mains: unplug the light before it is opened".
func FirstClause(caution string) string {
	return strings.TrimRight(cmp.Or(clause.FindString(caution), caution), ";.: ")
}
