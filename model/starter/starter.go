// Package starter holds what a new book may begin with: four ready-made sets of
// definitions, kept as embedded JSON Lines in the book format, and the demo, an
// invented library's reef tank with two years of log made by code.
//
// The sets stand alone and go together in any combination; lines they share are the
// same in each. Their intervals are common practice of careful keepers, no source:
// they are a start, and the keeper's to edit. What a set guesses, such as how hard a
// part is to get at, it marks as a guess.
//
// The package knows no storage and no schedule. It hands out entries; who writes them
// gives them their dates and numbers.
package starter

import (
	"bufio"
	"bytes"
	"embed"
	"fmt"
	"slices"

	"brine/wrasse/model"
)

//go:embed ro-di.jsonl mixing.jsonl display.jsonl extras.jsonl
var files embed.FS

// names are the sets that are taken whole, in the order the water flows.
var names = []string{"ro-di", "mixing", "display"}

// all are all sets: the last is picked from.
var all = append(slices.Clone(names), "extras")

// Names are the names of the sets that are taken whole, in the order the water flows: ro-di the
// RO/DI unit, mixing the mixing station, display the display tank. Of the fourth, extras, single
// things are picked (Pick).
func Names() []string { return slices.Clone(names) }

// Set is the definitions of a starter set, without dates and numbers, in an order in
// which each line refers to earlier ones only. An unknown name is an error.
func Set(name string) ([]model.Entry, error) {
	if !slices.Contains(all, name) {
		return nil, fmt.Errorf("no starter set %q; give one of %v", name, all)
	}
	data, err := files.ReadFile(name + ".jsonl")
	if err != nil {
		return nil, fmt.Errorf("reading the starter set %s: %w", name, err)
	}
	lines := bufio.NewScanner(bytes.NewReader(data))
	lines.Scan() // the header line, which a test holds to the book format
	var set []model.Entry
	for lines.Scan() {
		e, err := model.DecodeEntry(lines.Bytes())
		if err != nil {
			return nil, fmt.Errorf("reading line %d of the starter set %s: %w", len(set)+2, name, err)
		}
		set = append(set, e)
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("reading the starter set %s: %w", name, err)
	}
	return set, nil
}

// Combine is several sets as one: of lines that define the same thing the first is
// kept, so that a spare shared by two sets is there once. The order stays.
func Combine(sets ...[]model.Entry) []model.Entry {
	seen := map[definition]bool{}
	var out []model.Entry
	for _, set := range sets {
		for _, e := range set {
			k := defines(e)
			if k.id == "" || !seen[k] {
				seen[k] = true
				out = append(out, e)
			}
		}
	}
	return out
}

// definition names what an entry defines. Its id is "" of an entry that defines nothing.
type definition struct {
	kind model.Kind
	id   model.ID
}

func defines(e model.Entry) definition { return definition{e.Kind, e.DefinedID()} }
