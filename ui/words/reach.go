package words

import (
	"fmt"
	"slices"

	"brine/wrasse/model"
)

// Grade is a reach grade, with a mark when nobody has confirmed it: "4", "4?".
func Grade(c model.Component) string {
	if slices.Contains(c.Guess, "reach") {
		return fmt.Sprintf("%d?", c.Reach)
	}
	return fmt.Sprint(c.Reach)
}

// Flagged is how far a component has come on the list of what is to be rethought, and the
// latest cause given; both are empty when nothing is to be done about it.
func Flagged(b *model.Book, component model.ID) (state model.FlagState, cause model.Cause) {
	for _, f := range b.Flags(component) {
		if f.What.Cause != "" {
			cause = f.What.Cause
		}
		state = f.What.State
	}
	if state != model.FlagFlagged && state != model.FlagPlanned {
		return "", ""
	}
	return state, cause
}
