// Package keys holds the one table that says what every key does. Dispatch,
// the key line and the help all read it, so they cannot drift apart.
//
// A screen names its Scope and is handed Actions; it never sees the key. Look
// a key up with Dispatch; draw from Foot and Help. To add a key, add a row to
// the table in table.go: the tests check that it clashes with nothing and is
// explained.
//
// Rules the tests hold: ctrl+c quits from every scope and ctrl+z suspends; they are the only
// ctrl keys, because terminals and multiplexers keep the others for themselves; esc goes
// back and never quits; scopes in which letters are text bind no letter.
package keys

import "slices"

// Scope is where keys are pressed.
type Scope int

// The scopes. Each sees its own keys and those of the scopes it stands in; see
// Scope.chain.
const (
	Anywhere   Scope = iota // every screen, text or not
	Browsing                // every screen in which letters are commands
	Lists                   // anything with a cursor on a row
	Round                   // view 1
	Water                   // view 2
	Gear                    // view 3
	Shelf                   // view 4
	Rethink                 // view 5
	Log                     // view 6
	Chore                   // a chore's page
	Part                    // a component's page
	Definition              // how a chore is defined
	HelpPage                // the key overlay
	Reading                 // a page of text or charts to scroll
	Unread                  // what stands there when the book can't be read
	Form                    // text fields
	Start                   // the questions of a new book: enter goes on
	Leaving                 // the form of an absence
	Filter                  // the filter line above a list
	Box                     // the minutes at hand: digits are text
	Choice                  // a question answered by one letter
	scopes                  // their number
)

// names are the headings of the help.
var names = [scopes]string{
	"anywhere", "any view or page", "lists", "round", "water", "gear", "shelf", "rethink", "log",
	"a chore", "a component", "a chore's definition", "keys", "a page", "no book", "a form", "a new book", "going away", "the filter", "the minutes at hand", "a question",
}

// String is the scope's heading in the help.
func (s Scope) String() string { return names[s] }

// inside says which scope each stands in; Anywhere stands in none.
var inside = [scopes]Scope{
	Browsing: Anywhere,
	Lists:    Browsing,
	Round:    Lists,
	Water:    Lists,
	Gear:     Lists,
	Shelf:    Lists,
	Rethink:  Lists,
	Log:      Lists,
	Chore:    Lists,
	Part:     Lists,

	Definition: Lists,

	HelpPage: Browsing,
	Reading:  Browsing,
	Unread:   Browsing,
	Form:     Anywhere,
	Start:    Anywhere,
	Leaving:  Form,
	Filter:   Anywhere,
	Box:      Anywhere,
	Choice:   Anywhere,
}

// chain is s and the scopes it stands in, innermost first.
func (s Scope) chain() []Scope {
	out := []Scope{s}
	for s != Anywhere {
		s = inside[s]
		out = append(out, s)
	}
	return out
}

// Bind is one row of the table.
type Bind struct {
	Scope  Scope
	Action Action
	Keys   []string // as bubbletea names them
	Label  string   // the keys as the key line and the help print them
	Desc   string   // what the help says
	Foot   string   // the word in the key line; empty keeps it off the line
}

// Dispatch returns the action of a key pressed in scope, or None. The key is
// named as tea.KeyMsg.String names it. An inner scope's key hides an outer one.
func Dispatch(scope Scope, key string) Action {
	for _, s := range scope.chain() {
		for _, b := range table {
			if b.Scope == s && slices.Contains(b.Keys, key) {
				return b.Action
			}
		}
	}
	return None
}

// Scopes lists every scope.
func Scopes() []Scope {
	out := make([]Scope, scopes)
	for i := range out {
		out[i] = Scope(i)
	}
	return out
}

// Own are the rows of a scope itself, in the order of the table.
func Own(scope Scope) []Bind {
	return slices.DeleteFunc(slices.Clone(table), func(b Bind) bool { return b.Scope != scope || b.Desc == "" })
}

// Section is the help of one scope.
type Section struct {
	Name  string
	Binds []Bind
}

// Help returns the rows that work in scope, innermost first, leaving out rows
// whose every key an inner scope has taken over.
func Help(scope Scope) []Section {
	var out []Section
	taken := map[string]bool{}
	for _, s := range scope.chain() {
		sec := Section{Name: s.String()}
		for _, b := range table {
			if b.Scope == s && slices.ContainsFunc(b.Keys, func(k string) bool { return !taken[k] }) {
				sec.Binds = append(sec.Binds, b)
			}
		}
		for _, b := range sec.Binds {
			for _, k := range b.Keys {
				taken[k] = true
			}
		}
		if len(sec.Binds) > 0 {
			out = append(out, sec)
		}
	}
	return out
}

// Hint is one entry of the key line.
type Hint struct {
	Label, Word string
	Action      Action
}

// Gap is what stands between two hints, and a space between label and word.
const Gap = "  "

// Foot returns the hints of a scope that fit in w cells, in table order. When
// room is short it is the later ones that go, but those of the outer scopes
// (help, leaving) stay longest: whoever knows them finds the rest.
func Foot(scope Scope, w int) []Hint {
	var inner, outer []Hint
	for _, sec := range Help(scope) {
		for _, b := range sec.Binds {
			switch {
			case b.Foot == "":
			case b.Scope == Anywhere || b.Scope == Browsing:
				outer = append(outer, Hint{b.Label, b.Foot, b.Action})
			default:
				inner = append(inner, Hint{b.Label, b.Foot, b.Action})
			}
		}
	}
	for len(outer) > 0 && length(outer) > w {
		outer = outer[:len(outer)-1]
	}
	for len(inner) > 0 && length(append(slices.Clone(inner), outer...)) > w {
		inner = inner[:len(inner)-1]
	}
	return append(inner, outer...)
}

// length is the width of a key line; labels and words are ASCII, which the
// tests hold, so a byte is a cell.
func length(hints []Hint) int {
	n := max(len(hints)-1, 0) * len(Gap)
	for _, h := range hints {
		n += len(h.Label) + 1 + len(h.Word)
	}
	return n
}
