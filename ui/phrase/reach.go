package phrase

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Flagged is the latest flag of a component that still asks for something, nil when
// none does.
func Flagged(b *ledger.Book, component model.ID) *ledger.Logged[model.Flag] {
	flags := b.Flags(component)
	if len(flags) == 0 {
		return nil
	}
	last := flags[len(flags)-1]
	if s := last.What.State; s != model.FlagFlagged && s != model.FlagPlanned {
		return nil
	}
	return &last
}

// Grade is a reach grade, with a mark when nobody has confirmed it.
func Grade(c model.Component) string {
	if slices.Contains(c.Guess, "reach") {
		return fmt.Sprintf("%d?", c.Reach)
	}
	return fmt.Sprint(c.Reach)
}

// ReachCell is a grade as it stands in a column: "4f" for a component that is flagged.
// The grades of a column stand below each other.
func ReachCell(grade string, flagged bool) string {
	if flagged {
		grade += "f"
	}
	return fmt.Sprintf("%-2s", grade)
}
