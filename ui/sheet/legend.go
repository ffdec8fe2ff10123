package sheet

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
)

// legend says what the letters stand for.
func legend() []string {
	return []string{
		"cleaned: " + letters(model.WorkClean),
		"renewed: " + letters(model.WorkRenew),
		"tested: " + letters(model.WorkTest),
	}
}

func letters(w model.Work) string {
	var out []string
	for _, word := range parse.Words(w) {
		out = append(out, word.Letter+" "+word.Text)
	}
	return strings.Join(out, ", ")
}

// span is the days the sheet covers.
func (s Sheet) span() string {
	return phrase.Weekday(s.On, s.On) + " to " + phrase.Weekday(s.Until, s.On) + s.Until.Format(" 2006")
}

// basis is the day and the rates that the dates rest on.
func (s Sheet) basis() string {
	out := "As of " + phrase.Today(s.On)
	if len(s.Rates) > 0 {
		out += ". The dates take: " + strings.Join(s.Rates, "; ")
	}
	return out + "."
}

const howTo = "When it is done, write the day and ring what was found."
