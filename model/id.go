package model

import (
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// ID names a definition within its kind: 1 to 64 of a-z, 0-9, '-' and '.'.
// Ids never change; a name may.
type ID string

const (
	maxIDLen   = 64
	maxSlugLen = 40
)

// Valid tells whether id has the form of an id.
func (id ID) Valid() bool {
	if len(id) == 0 || len(id) > maxIDLen {
		return false
	}
	for _, r := range id {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' && r != '.' {
			return false
		}
	}
	return true
}

// The derived gauges: computed from readings, and so not free as ids of gauges.
const (
	Rejection      ID = "rejection"
	NormalisedFlow ID = "normalised-flow"
	PrefilterDrop  ID = "prefilter-drop"
	WasteRatio     ID = "waste-ratio"
)

// Derived tells whether id names a derived gauge.
func (id ID) Derived() bool {
	switch id {
	case Rejection, NormalisedFlow, PrefilterDrop, WasteRatio:
		return true
	}
	return false
}

// MakeID makes an id from a name: lower case, accents folded, every other run of
// characters a '-', at most 40 long; a taken one gets -2, -3 and so on. A name of
// which nothing is left gives the kind.
func MakeID(name string, kind Kind, taken func(ID) bool) ID {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(strings.ToLower(name)) {
		switch {
		case unicode.Is(unicode.Mn, r):
			continue // an accent, folded away
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
		default:
			gap = true
		}
	}
	slug := b.String()
	if len(slug) > maxSlugLen {
		slug = strings.TrimRight(slug[:maxSlugLen], "-")
	}
	if slug == "" {
		slug = string(kind)
	}
	id := ID(slug)
	for n := 2; taken(id) || (kind == KindGauge && id.Derived()); n++ {
		id = ID(slug + "-" + strconv.Itoa(n))
	}
	return id
}
