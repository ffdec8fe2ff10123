package parse

import (
	"fmt"
	"slices"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

// Loggable finds what a line of a list can be about, as it is called on screen: a
// chore, a gauge or a counter. An id goes before a whole name, and that before a part
// of one; what fits two things is refused.
func Loggable(b *ledger.Book, s string) (model.Kind, model.ID, error) {
	query := strings.TrimSpace(s)
	if prefix, _, ok := strings.Cut(query, ":"); ok && slices.Contains(loggable, model.Kind(prefix)) {
		return loggableAs(b, model.Kind(prefix), query)
	}
	words := strings.Fields(folded(query))
	if len(words) == 0 {
		return "", "", fmt.Errorf("no name; give a chore, a gauge or a counter")
	}
	all := map[model.Kind][]thing{model.KindChore: chores(b), model.KindGauge: gauges(b), model.KindCounter: counters(b)}
	for _, fits := range []func(thing) bool{
		func(t thing) bool { return string(t.id) == query },
		func(t thing) bool {
			return slices.Equal(strings.Fields(folded(t.label)), words) || slices.Equal(strings.Fields(folded(t.name)), words)
		},
		func(t thing) bool { return t.holds(words) },
	} {
		var found []string
		var kind model.Kind
		var id model.ID
		for _, k := range loggable {
			for _, t := range all[k] {
				if fits(t) && (t.inUse || string(t.id) == query) {
					kind, id = k, t.id
					found = append(found, fmt.Sprintf("%s:%s (%s)", k, t.id, t.label))
				}
			}
		}
		switch {
		case len(found) == 1:
			return kind, id, nil
		case len(found) > maxCandidates:
			return "", "", fmt.Errorf("%q fits %d things; give an id or more of the name", s, len(found))
		case len(found) > 1:
			return "", "", fmt.Errorf("%q fits %s; give one of them", s, strings.Join(found, ", "))
		}
	}
	return "", "", fmt.Errorf("%q is no chore, gauge or counter of the book; give %s%s", s, namesFor(words), nearest(query, slices.Concat(all[model.KindGauge], all[model.KindCounter], all[model.KindChore])))
}

// loggable are the kinds a line of a list can be about.
var loggable = []model.Kind{model.KindChore, model.KindGauge, model.KindCounter}

func loggableAs(b *ledger.Book, kind model.Kind, s string) (model.Kind, model.ID, error) {
	switch kind {
	case model.KindGauge:
		g, err := Gauge(b, s)
		return kind, g.ID, err
	case model.KindCounter:
		c, err := Counter(b, s)
		return kind, c.ID, err
	}
	c, err := Chore(b, s)
	return kind, c.ID, err
}
