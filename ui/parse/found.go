package parse

import (
	"fmt"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Word is an as-found word as the keeper reads it, with the letter that types it.
type Word struct {
	Letter string
	Text   string
	Found  model.Found
}

var (
	cleanWords = []Word{
		{"c", "clean", model.FoundClean}, {"l", "light", model.FoundLight},
		{"h", "heavy", model.FoundHeavy}, {"f", "stopped", model.FoundFailed},
	}
	renewWords = []Word{
		{"c", "under half", model.FoundClean}, {"l", "half", model.FoundLight},
		{"h", "nearly", model.FoundHeavy}, {"f", "spent", model.FoundFailed},
	}
	testWords = []Word{{"p", "passed", model.FoundPassed}, {"f", "failed", model.FoundFailed}}
)

// Words are the as-found words of a kind of work, best first; none for work read.
func Words(w model.Work) []Word {
	switch w {
	case model.WorkClean:
		return cleanWords
	case model.WorkRenew:
		return renewWords
	case model.WorkTest:
		return testWords
	}
	return nil
}

// WordsOf are the as-found words that a chore is asked for: those of its work, but none where no eye can tell. A carbon
// block and a membrane look the same on their last day as on their first (common practice, no source).
func WordsOf(b *ledger.Book, c model.Chore) []Word {
	part, _ := b.Component(c.Component)
	if c.Work == model.WorkRenew && (part.Stage == model.StageCarbon || part.Stage == model.StageMembrane) {
		return nil
	}
	return Words(c.Work)
}

// FoundText is what was found, in the words of the kind of work.
func FoundText(w model.Work, f model.Found) string {
	for _, word := range Words(w) {
		if word.Found == f {
			return word.Text
		}
	}
	return string(f)
}

// Found reads an as-found word or its letter. Work renew takes either set of words:
// its own, or those the book keeps them as. Nothing typed is nothing found.
func Found(s string, w model.Work) (model.Found, error) {
	typed := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(s, "-", " ")), " "))
	if typed == "" {
		return "", nil
	}
	words := Words(w)
	for _, word := range words {
		if typed == word.Letter || typed == word.Text || typed == string(word.Found) {
			return word.Found, nil
		}
	}
	if len(words) == 0 {
		return "", fmt.Errorf("found %q: a reading has no as-found word; leave it out", s)
	}
	return "", fmt.Errorf("found %q: not a word for work %s; give %s", s, w, listed(words))
}

func listed(words []Word) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = w.Letter + " " + w.Text
	}
	return strings.Join(out, ", ")
}

// OffsetUnit is the unit in which a check says how far off an instrument is: that of the gauges read with it; "" of a chore
// that checks none.
func OffsetUnit(b *ledger.Book, c model.Chore) string {
	if c.Work != model.WorkTest {
		return ""
	}
	for _, g := range b.ReadWith(c.Component) {
		return g.Unit
	}
	return ""
}

// Offset reads what an instrument shows too much, of a check of it that failed.
func Offset(b *ledger.Book, s string, c model.Chore, found model.Found) (*float64, error) {
	switch {
	case strings.TrimSpace(s) == "":
		return nil, nil
	case len(b.ReadWith(c.Component)) == 0 || c.Work != model.WorkTest:
		return nil, fmt.Errorf("%s is no check of an instrument that a gauge is read with; say in Gear what a gauge is read with", ChoreLabel(b, c))
	case found != model.FoundFailed:
		return nil, fmt.Errorf("%q: an offset goes with a check that failed; say that it was found failed, or leave the offset out", strings.TrimSpace(s))
	}
	v, err := ReadDifference(s, OffsetUnit(b, c), b.Def().Units)
	return &v, err
}
