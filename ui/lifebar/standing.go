package lifebar

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/theme"

	"github.com/charmbracelet/lipgloss"
)

// Of is how far a chore has come on a date.
func Of(s *schedule.Standing, on model.Date) Level {
	if !s.HasDue {
		return Level{}
	}
	toDue := max(s.Due.Sub(s.Start), 0)
	toLimit := max(toDue, 1)
	if !s.Limit.IsZero() {
		toLimit = max(s.Limit.Sub(s.Due), 0)
	}
	return At(on.Sub(s.Start), toDue, toLimit)
}

// Draw is the bar of a level: the water in one hue up to due, in another beyond.
func Draw(th theme.Theme, w int, level Level) string {
	before, after, ok := strings.Cut(Bar(w, level), Due)
	if !ok {
		return before
	}
	between, beyond, _ := strings.Cut(after, Limit)
	return th.Tide.Render(before) + Due + th.Past.Render(between) + Limit + th.Past.Render(beyond)
}

// Look is how what is said of a chore's date is drawn; calm, where it is not pressing.
func Look(th theme.Theme, s *schedule.Standing, calm lipgloss.Style) lipgloss.Style {
	switch {
	case s.PastLimit && s.State != schedule.StateDeferred:
		return th.Limit
	case s.State == schedule.StateLate:
		return th.Late
	case s.State == schedule.StateDue:
		return th.Soon
	}
	return calm
}
