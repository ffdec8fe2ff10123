package parse

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// ChoreLabel is a chore as it is called: its component and its own name.
func ChoreLabel(b *ledger.Book, c model.Chore) string {
	on, _ := b.Component(c.Component)
	return on.Name + ": " + c.Name
}

// Chore finds a chore by its id, or by any part of its name and its component's
// that fits no other chore in use.
func Chore(b *ledger.Book, s string) (model.Chore, error) { return theOne(b.Chore, s, chores(b)) }

// Component finds a component by its id or any part of its name.
func Component(b *ledger.Book, s string) (model.Component, error) {
	return theOne(b.Component, s, things(b.Components(), func(c model.Component) thing { return thing{c.ID, c.Name, c.Name, c.Retired.IsZero()} }))
}

// Vessel finds a vessel by its id or any part of its name.
func Vessel(b *ledger.Book, s string) (model.Vessel, error) { return theOne(b.Vessel, s, vessels(b)) }

// VesselIDs are the ids of the vessels in use, in a row.
func VesselIDs(b *ledger.Book) string {
	var out []string
	for _, v := range matching(vessels(b), func(thing) bool { return true }) {
		out = append(out, string(v.id))
	}
	return strings.Join(out, ", ")
}

// Counter finds a counter by its id or any part of its name.
func Counter(b *ledger.Book, s string) (model.Counter, error) {
	return theOne(b.Counter, s, counters(b))
}

// Gauge finds a gauge by its id or any part of its name.
func Gauge(b *ledger.Book, s string) (model.Gauge, error) { return theOne(b.Gauge, s, gauges(b)) }

// Spare finds a spare by its id or any part of its name.
func Spare(b *ledger.Book, s string) (model.Spare, error) {
	return theOne(b.Spare, s, things(b.Spares(), func(s model.Spare) thing { return thing{s.ID, s.Name, s.Name, s.Retired.IsZero()} }))
}

// theOne is the definition that words name among things of its kind.
func theOne[D model.Body](get func(model.ID) (D, bool), s string, all []thing) (D, error) {
	var d D
	id, err := find(d.Kind(), s, all)
	d, _ = get(id)
	return d, err
}

// thing is what can be found: by id, by its label, or by its own name.
type thing struct {
	id    model.ID
	label string
	name  string
	inUse bool
}

func things[D any](all []D, describe func(D) thing) []thing {
	out := make([]thing, len(all))
	for i, d := range all {
		out[i] = describe(d)
	}
	return out
}

func chores(b *ledger.Book) []thing {
	return things(b.Chores(), func(c model.Chore) thing {
		on, _ := b.Component(c.Component)
		return thing{c.ID, ChoreLabel(b, c), c.Name, c.Retired.IsZero() && on.Retired.IsZero()}
	})
}

func vessels(b *ledger.Book) []thing {
	return things(b.Vessels(), func(v model.Vessel) thing { return thing{v.ID, v.Name, v.Name, v.Retired.IsZero()} })
}

func counters(b *ledger.Book) []thing {
	return things(b.Counters(), func(c model.Counter) thing { return thing{c.ID, c.Name, c.Name, c.Retired.IsZero()} })
}

func gauges(b *ledger.Book) []thing {
	return things(b.Gauges(), func(g model.Gauge) thing { return thing{g.ID, g.Name, g.Name, g.Retired.IsZero()} })
}

// find looks for an id first, then for a whole name, then for a thing in use whose
// id and label hold every word of s. It accepts `kind:id` for its own kind.
func find(kind model.Kind, s string, all []thing) (model.ID, error) {
	query := strings.TrimSpace(s)
	if prefix, rest, ok := strings.Cut(query, ":"); ok && slices.Contains(model.Kinds(), model.Kind(prefix)) {
		if model.Kind(prefix) != kind {
			return "", fmt.Errorf("%q names a %s; give a %s", s, prefix, kind)
		}
		query = strings.TrimSpace(rest)
	}
	if query == "" {
		return "", fmt.Errorf("no %s named; give an id or part of a name", kind)
	}
	for _, t := range all {
		if string(t.id) == query {
			return t.id, nil
		}
	}
	words := strings.Fields(folded(query))
	whole := matching(all, func(t thing) bool {
		return slices.Equal(strings.Fields(folded(t.label)), words) || slices.Equal(strings.Fields(folded(t.name)), words)
	})
	if len(whole) == 1 {
		return whole[0].id, nil
	}
	part := matching(all, func(t thing) bool { return t.holds(words) })
	switch len(part) {
	case 0:
		return "", fmt.Errorf("no %s fits %q; give %s%s", kind, s, namesFor(words), nearest(query, all))
	case 1:
		return part[0].id, nil
	}
	return "", fmt.Errorf("%q fits %d %ss: %s; give an id or more of the name", s, len(part), kind, candidates(part))
}

// partLetters are the letters a word has at least to stand for a part of another: "ph" is not phosphate.
const partLetters = 4

// holds tells whether an id and a label hold every word: one of under four letters as a word, others anywhere.
func (t thing) holds(words []string) bool {
	text := string(t.id) + " " + folded(t.label)
	own := append(strings.Fields(text), strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '-' || r == '.' })...)
	return !slices.ContainsFunc(words, func(w string) bool {
		if short(w) {
			return !slices.Contains(own, w)
		}
		return !strings.Contains(text, w)
	})
}

func short(word string) bool { return utf8.RuneCountInString(word) < partLetters }

// namesFor is what may be given in place of words that fit nothing.
func namesFor(words []string) string {
	if slices.ContainsFunc(words, short) {
		return fmt.Sprintf("an id, a whole word of a name, or %d letters or more of it", partLetters)
	}
	return "an id or part of a name"
}

func matching(all []thing, fits func(thing) bool) []thing {
	var out []thing
	for _, t := range all {
		if t.inUse && fits(t) {
			out = append(out, t)
		}
	}
	return out
}

// folded is s in lower case with accents off and punctuation made space.
func folded(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Mn, r):
			return -1
		case unicode.IsLetter(r), unicode.IsDigit(r), r == '-', r == '.':
			return unicode.ToLower(r)
		}
		return ' '
	}, norm.NFKD.String(s))
}

const (
	maxCandidates = 3
	nearLetters   = 3
)

func candidates(list []thing) string {
	var out []string
	for i, t := range list {
		if i == maxCandidates {
			out = append(out, fmt.Sprintf("and %d more", len(list)-i))
			break
		}
		out = append(out, fmt.Sprintf("%s (%s)", t.id, t.label))
	}
	return strings.Join(out, ", ")
}

// nearest names things that share the beginning of a word with the query.
func nearest(query string, all []thing) string {
	start := []rune(folded(query))
	if len(start) > nearLetters {
		start = start[:nearLetters]
	}
	near := matching(all, func(t thing) bool {
		return strings.Contains(" "+folded(strings.ReplaceAll(string(t.id), "-", " ")+" "+t.label), " "+string(start))
	})
	if len(near) == 0 {
		near = matching(all, func(thing) bool { return true })
	}
	if len(near) == 0 {
		return ""
	}
	return ", such as " + candidates(near)
}
