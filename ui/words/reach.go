package words

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
)

// Flagged is the latest flag of a component that still asks for something, nil when
// none does.
func Flagged(b *model.Book, component model.ID) *model.Logged[model.Flag] {
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
