package command

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
)

// startingBook is the flags of begin, as typed.
type startingBook struct {
	sets, units, week, waste, by string
	last                         []string
}

func (p *program) beginCommand() *cobra.Command {
	var f startingBook
	cmd := &cobra.Command{
		Use:   "begin NAME",
		Short: "Begin a book without the screens",
		Long: `Begins a new book with a name and with sets of ready-made chores, as the screens do: ` + strings.Join(starter.Names(), ", ") + `.
Units are the configuration's unless --units says others. --last says when a chore of
them was last done; the others are taken to be half worn, and what endangers animals or
people is due at once.`,
		Example: `  wrasse begin "Home reef" --book reef.db
  wrasse begin Loft --sets ro-di --units gal,F,psi --last "renew-resin 3w"`,
		Args: wordCount(1, -1, "the name of the book"),
		RunE: func(_ *cobra.Command, args []string) error { return p.begin(strings.Join(args, " "), f) },
	}
	cmd.Flags().StringVar(&f.sets, "sets", strings.Join(starter.Names(), ","), "which `SETS`, with commas between; none for none")
	cmd.Flags().StringVar(&f.units, "units", "", "`UNITS` to type and show: L or gal, C or F, bar or psi, with commas between")
	cmd.Flags().StringVar(&f.week, "week", "", "the `AMOUNT` of water made in a week, about")
	cmd.Flags().StringVar(&f.waste, "waste", "", "`PARTS` of waste for one of product, as measured")
	cmd.Flags().StringArrayVar(&f.last, "last", nil, "a `CHORE and a date` it was last done; may be there often")
	cmd.Flags().StringVar(&f.by, "by", "", "who says so")
	return cmd
}

func (p *program) begin(name string, f startingBook) error {
	stamp, err := p.stamp(f.by)
	if err != nil {
		return err
	}
	units, err := unitsOf(f.units, p.config.Units)
	if err != nil {
		return err
	}
	a := request.Start{Stamp: stamp, Last: map[model.ID]request.LastDone{},
		Book: model.BookDef{Name: name, Units: units, MinuteValue: p.config.MinuteValue}}
	if a.Definitions, err = startSets(f.sets); err != nil {
		return err
	}
	if f.week != "" {
		if a.LitresAWeek, err = parse.Amount(f.week, "L", units); err != nil {
			return usagef("--week: %w", err)
		}
	}
	if f.waste != "" {
		if a.WasteRatio, err = strconv.ParseFloat(strings.TrimSuffix(f.waste, ":1"), 64); err != nil || a.WasteRatio <= 0 {
			return usagef("--waste: %q; give parts of waste for one of product, such as 3", f.waste)
		}
	}
	for _, last := range f.last {
		id, when, err := lastDone(last, a.Definitions, p.today())
		if err != nil {
			return usagef("--last %q: %w", last, err)
		}
		a.Last[id] = request.LastDone{On: when.On, About: when.About}
	}
	b, _, err := p.store().Write(a.Entries)
	if err != nil {
		return err
	}
	return p.written(func() error { return p.imported(b) })
}

// startSets is the definitions of starter sets.
func startSets(names string) ([]model.Entry, error) {
	var all [][]model.Entry
	for name := range strings.SplitSeq(names, ",") {
		name = strings.TrimSpace(name)
		if name == "none" || name == "" {
			continue
		}
		set, err := starter.Set(name)
		if err != nil {
			return nil, usagef("--sets: no set is called %q; give %s, or none", name, strings.Join(starter.Names(), ", "))
		}
		all = append(all, set)
	}
	return starter.Combine(all...), nil
}

// unitsOf is units with those that are named in place of the others.
func unitsOf(named string, u model.Units) (model.Units, error) {
	for word := range strings.SplitSeq(named, ",") {
		switch word = strings.TrimSpace(word); {
		case word == "":
		case slices.Contains([]string{"L", "gal"}, word):
			u.Volume = word
		case slices.Contains([]string{"C", "F"}, word):
			u.Temperature = word
		case slices.Contains([]string{"bar", "psi"}, word):
			u.Pressure = word
		default:
			return u, usagef("--units: %q is none; give L or gal, C or F, bar or psi", word)
		}
	}
	return u, nil
}

// lastDone reads a chore of the sets and a date: "renew-resin 3 weeks ago".
func lastDone(s string, definitions []model.Entry, today model.Date) (model.ID, parse.When, error) {
	id, rest, _ := strings.Cut(strings.TrimSpace(s), " ")
	if !slices.ContainsFunc(definitions, func(e model.Entry) bool { c, ok := e.Body.(model.Chore); return ok && string(c.ID) == id }) {
		return "", parse.When{}, fmt.Errorf("%q is no id of a chore in these sets; begin without it, and wrasse list chores shows them", id)
	}
	when, err := parse.Date(rest, today)
	if err == nil && when.On > today {
		err = fmt.Errorf("%s is after today; give a day that has been", when.On)
	}
	return model.ID(id), when, err
}

func (p *program) demoCommand() *cobra.Command {
	file := ""
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Show the screens on a throw-away demo book",
		Long: `Shows the screens on an invented book that is gone when they are left. With --write it
makes a file of that book instead, for commands to be tried on with --book.`,
		Example: "  wrasse demo\n  wrasse demo --write demo.db\n  wrasse round --book demo.db",
		Args:    wordCount(0, 0, "nothing more"),
		RunE: func(*cobra.Command, []string) error {
			if err := p.clock(); err != nil {
				return err
			}
			if file != "" {
				return p.writeDemo(file)
			}
			if err := p.drawable("the demo needs"); err != nil {
				return err
			}
			return p.Demo(p.config)
		},
	}
	cmd.Flags().StringVar(&file, "write", "", "make a book of it, at a new `FILE`")
	p.screenFlags(cmd)
	return cmd
}

// writeDemo makes a book of the demo as it stands today.
func (p *program) writeDemo(file string) error {
	entries := starter.Demo(p.today())
	for i := range entries {
		entries[i].Seq = model.Seq(i + 1)
	}
	demo, err := ledger.Fold(entries)
	if err != nil {
		return fmt.Errorf("making the demo: %w", err)
	}
	var text bytes.Buffer
	if err := p.Export(&text, demo); err != nil {
		return err
	}
	p.book = file
	b, err := p.Import(file, &text)
	if err != nil {
		return err
	}
	return p.written(func() error { return p.imported(b) })
}

// drawable is the error of a place where no screens can be drawn.
func (p *program) drawable(what string) error {
	switch term := p.Getenv("TERM"); {
	case p.Terminal():
		return nil
	case p.Attached() && term == "dumb":
		return errors.New(what + " a terminal that can place a cursor, and $TERM is dumb; set TERM to what the terminal is, or use: wrasse round --plain")
	case p.Attached():
		return errors.New(what + " to know the terminal, and $TERM is empty; set it to what the terminal is, such as xterm, or use: wrasse round --plain")
	}
	return errors.New(what + " a terminal on standard input and output; elsewhere use a command, such as: wrasse round")
}
