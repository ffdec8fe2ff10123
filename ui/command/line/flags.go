package line

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Flag is one flag.
type Flag struct {
	Name    string
	Letter  byte   // of -h; 0 for none
	Usage   string // what it is for; a name in back quotes is that of its value
	Value   Value
	Changed bool       // whether it was given
	Words   Completion // of its value; nil leaves it to the shell

	initial string
}

// Value is what a flag sets.
type Value interface {
	Set(string) error
	String() string
	Type() string // what it takes, "bool" for one that takes nothing
}

// alone tells whether a flag stands without a value.
func (f *Flag) alone() bool { return f.Value.Type() == "bool" }

// Unquote is the name of the flag's value, "" where it takes none, and its usage in plain.
func (f *Flag) Unquote() (value, usage string) {
	if before, rest, ok := strings.Cut(f.Usage, "`"); ok {
		if name, after, ok := strings.Cut(rest, "`"); ok {
			return name, before + name + after
		}
	}
	if f.alone() {
		return "", f.Usage
	}
	return f.Value.Type(), f.Usage
}

// FlagSet is some flags, in the order of their names. The zero value is ready for use.
type FlagSet struct{ list []*Flag }

// add puts a flag in its place.
func (s *FlagSet) add(f *Flag) {
	f.initial = f.Value.String()
	s.insert(f)
}

func (s *FlagSet) insert(f *Flag) {
	at, _ := slices.BinarySearchFunc(s.list, f.Name, func(f *Flag, name string) int { return strings.Compare(f.Name, name) })
	s.list = slices.Insert(s.list, at, f)
}

// All are the flags in the order of their names.
func (s *FlagSet) All() []*Flag { return s.list }

// Lookup finds a flag by its name; nil when there is none.
func (s *FlagSet) Lookup(name string) *Flag {
	for _, f := range s.list {
		if f.Name == name {
			return f
		}
	}
	return nil
}

func (s *FlagSet) letter(letter byte) *Flag {
	for _, f := range s.list {
		if f.Letter == letter {
			return f
		}
	}
	return nil
}

// Changed tells whether a flag was given.
func (s *FlagSet) Changed(name string) bool {
	f := s.Lookup(name)
	return f != nil && f.Changed
}

// StringVar, BoolVar, IntVar and Float64Var add a flag that sets what they point to.
func (s *FlagSet) StringVar(p *string, name, initial, usage string) {
	*p = initial
	s.add(&Flag{Name: name, Usage: usage, Value: (*words)(p)})
}

func (s *FlagSet) BoolVar(p *bool, name string, initial bool, usage string) {
	*p = initial
	s.add(&Flag{Name: name, Usage: usage, Value: (*truth)(p)})
}

func (s *FlagSet) IntVar(p *int, name string, initial int, usage string) {
	*p = initial
	s.add(&Flag{Name: name, Usage: usage, Value: (*whole)(p)})
}

func (s *FlagSet) Float64Var(p *float64, name string, initial float64, usage string) {
	*p = initial
	s.add(&Flag{Name: name, Usage: usage, Value: (*number)(p)})
}

type (
	words  string
	truth  bool
	whole  int
	number float64
)

func (w *words) Set(s string) error { *w = words(s); return nil }
func (w *words) String() string     { return string(*w) }
func (*words) Type() string         { return "string" }

func (t *truth) Set(s string) error {
	v, err := strconv.ParseBool(s)
	*t = truth(v)
	return err
}
func (t *truth) String() string { return strconv.FormatBool(bool(*t)) }
func (*truth) Type() string     { return "bool" }

func (w *whole) Set(s string) error {
	v, err := strconv.ParseInt(s, 0, strconv.IntSize)
	*w = whole(v)
	return err
}
func (w *whole) String() string { return strconv.Itoa(int(*w)) }
func (*whole) Type() string     { return "int" }

func (n *number) Set(s string) error {
	v, err := strconv.ParseFloat(s, 64)
	*n = number(v)
	return err
}
func (n *number) String() string { return strconv.FormatFloat(float64(*n), 'g', -1, 64) }
func (*number) Type() string     { return "float" }

// LetterError is a letter that is no flag.
type LetterError struct {
	Letter  byte
	Letters string // the word it stands in, without its hyphen
}

func (e *LetterError) Error() string {
	return fmt.Sprintf("unknown shorthand flag: %q in -%s", e.Letter, e.Letters)
}

// set gives a flag its value.
func (f *Flag) set(value string) error {
	if err := f.Value.Set(value); err != nil {
		name := "--" + f.Name
		if f.Letter != 0 {
			name = fmt.Sprintf("-%c, %s", f.Letter, name)
		}
		return fmt.Errorf("invalid argument %q for %q flag: %w", value, name, err)
	}
	f.Changed = true
	return nil
}

// parse sets the flags that args hold and returns the words between them.
func (c *Command) parse(args []string) ([]string, error) {
	var words []string
	for len(args) > 0 {
		s := args[0]
		args = args[1:]
		var err error
		switch {
		case s == "--":
			return append(words, args...), nil
		case strings.HasPrefix(s, "--"):
			args, err = c.parseName(s, args)
		case len(s) > 1 && s[0] == '-':
			args, err = c.parseLetters(s[1:], args)
		default:
			words = append(words, s)
		}
		if err != nil {
			return words, err
		}
	}
	return words, nil
}

// parseName takes --name, --name=value or --name value, and returns the args behind it.
func (c *Command) parseName(s string, args []string) ([]string, error) {
	name, value, given := strings.Cut(s[2:], "=")
	if name == "" || name[0] == '-' {
		return nil, errors.New("bad flag syntax: " + s)
	}
	f := c.flag(name)
	switch {
	case f == nil:
		return nil, errors.New("unknown flag: --" + name)
	case given:
	case f.alone():
		value = "true"
	case len(args) == 0:
		return nil, errors.New("flag needs an argument: --" + name)
	default:
		value, args = args[0], args[1:]
	}
	return args, f.set(value)
}

// parseLetters takes the letters behind one hyphen, of which the last may have a value.
func (c *Command) parseLetters(letters string, args []string) ([]string, error) {
	for rest := letters; rest != ""; {
		f := c.short(rest[0])
		if f == nil {
			return nil, &LetterError{rest[0], rest}
		}
		value := "true"
		switch behind := rest[1:]; {
		case len(behind) > 1 && behind[0] == '=':
			value, rest = behind[1:], ""
		case f.alone():
			rest = behind
		case behind != "":
			value, rest = behind, ""
		case len(args) == 0:
			return nil, fmt.Errorf("flag needs an argument: %q in -%s", f.Letter, letters)
		default:
			value, args, rest = args[0], args[1:], ""
		}
		if err := f.set(value); err != nil {
			return nil, err
		}
	}
	return args, nil
}
