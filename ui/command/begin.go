package command

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/model/station"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
)

// startingBook is the flags of begin, as typed.
type startingBook struct {
	sets, units, week, waste, tds, alkalinity, ph, by string
	extras, chloramine                                string
	last, since                                       []string
}

func (p *program) beginCommand() *cobra.Command {
	var f startingBook
	cmd := &cobra.Command{
		Use:   "begin NAME",
		Short: "Begin a book without the screens",
		Long: `Begins a new book with a name and with sets of ready-made chores, as the screens do: ` + strings.Join(starter.Names(), ", ") + `.
Units are the configuration's unless --units says others. --since says since when a
set is in use; never is not yet. --last says when a chore was last done. The others begin with
their set or, where that is long ago or not known, half their life ago: a guess, and no work
done. What endangers animals or people is due at once.`,
		Example: `  wrasse begin "Home reef" --book reef.db
  wrasse begin Loft --units gal,F,psi --since "ro-di sep 2025"`,
		Args: wordCount(1, -1, "the name of the book"),
		RunE: func(_ *cobra.Command, args []string) error { return p.begin(strings.Join(args, " "), f) },
	}
	cmd.Flags().StringVar(&f.sets, "sets", strings.Join(starter.Names(), ","), "which `SETS`, with commas between; none for none")
	cmd.Flags().StringVar(&f.units, "units", "", "`UNITS` to type and show: L or gal, C or F, bar or psi, with commas between")
	cmd.Flags().StringVar(&f.week, "week", "", "the `AMOUNT` of water made in a week, about")
	cmd.Flags().StringVar(&f.waste, "waste", "", "`PARTS` of waste for one of product, as measured")
	cmd.Flags().StringVar(&f.tds, "tds", "", "the `PPM` at the tap")
	cmd.Flags().StringVar(&f.alkalinity, "alkalinity", "", "the `MG/L` of it as CaCO3 at the tap")
	cmd.Flags().StringVar(&f.ph, "ph", "", "the `PH` of the tap")
	cmd.Flags().StringVar(&f.extras, "extras", "", "`EXTRAS` besides, with commas between; a wrong one lists them")
	cmd.Flags().StringVar(&f.chloramine, "chloramine", "", "`yes or no`, whether the tap holds it; not said counts as yes")
	cmd.Flags().StringArrayVar(&f.since, "since", nil, "a `SET and a date` since when it is in use, or never; may be there often")
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
	since, err := inUseSince(f.since, p.today())
	if err != nil {
		return err
	}
	if a.Definitions, err = startSets(f.sets, since); err != nil {
		return err
	}
	if a.Tap, err = f.tap(); err != nil {
		return err
	}
	picked, err := pickExtras(f.extras)
	if err != nil {
		return err
	}
	a.Definitions = starter.Combine(a.Definitions, picked)
	switch f.chloramine {
	case "", "yes", "no":
		a.Chloramine = f.chloramine != "no"
	default:
		return usagef("--chloramine: %q; give yes or no", f.chloramine)
	}
	if f.week != "" {
		if a.LitresAWeek, err = parse.Amount(f.week, "L", units); err != nil {
			return usagef("--week: %w", err)
		}
	}
	if f.waste != "" {
		if a.WasteRatio, err = parse.WasteRatio(f.waste); err != nil {
			return usagef("--waste: %w", err)
		}
	}
	for _, last := range f.last {
		id, when, err := lastDone(last, a.Definitions, p.today())
		if err != nil {
			return usagef("--last %q: %w", last, err)
		}
		a.Last[id] = request.LastDone{On: when.On, About: when.About, Never: when.On.IsZero()}
	}
	b, _, err := p.store().Write(a.Entries)
	if err != nil {
		return err
	}
	return p.written(func() error { return p.imported(b) })
}

// tap is what is known of the tap, by the role of the gauge that reads it.
func (f startingBook) tap() (map[string]float64, error) {
	out := map[string]float64{}
	for flag, of := range map[string]struct{ typed, role string }{
		"--tds": {f.tds, model.RoleTDSTap}, "--alkalinity": {f.alkalinity, station.RoleTapAlkalinity}, "--ph": {f.ph, station.RoleTapPH},
	} {
		if of.typed == "" {
			continue
		}
		v, err := parse.TapFigures[of.role].Read(of.typed)
		if err != nil {
			return nil, usagef("%s: %w", flag, err)
		}
		out[of.role] = v
	}
	return out, nil
}

// pickExtras is the definitions of extras by their ids.
func pickExtras(ids string) ([]model.Entry, error) {
	if ids == "" {
		return nil, nil
	}
	var all []string
	for _, x := range starter.Extras() {
		all = append(all, x.ID)
	}
	picked := strings.Split(ids, ",")
	for i := range picked {
		if picked[i] = strings.TrimSpace(picked[i]); !slices.Contains(all, picked[i]) {
			return nil, usagef("--extras: %q is no extra; give some of %s", picked[i], strings.Join(all, ", "))
		}
	}
	return starter.Pick(picked...)
}

// inUseSince reads sets and dates: "ro-di sep 2025", "mixing never".
func inUseSince(typed []string, today model.Date) (map[string]parse.When, error) {
	out := map[string]parse.When{}
	for _, s := range typed {
		set, rest, _ := strings.Cut(strings.TrimSpace(s), " ")
		if !slices.Contains(starter.Names(), set) {
			return nil, usagef("--since %q: give a set and a date, such as %q", s, starter.Names()[0]+" sep 2025")
		}
		if parse.Never(rest) {
			out[set] = parse.When{On: model.NotInUse}
			continue
		}
		when, err := parse.Date(rest, today)
		switch {
		case err != nil:
			return nil, usagef("--since %q: %w", s, err)
		case when.On > today:
			return nil, usagef("--since %q: %s is after today; give a day that was, or never", s, when.On)
		}
		out[set] = when
	}
	return out, nil
}

// startSets is the definitions of starter sets, each in use since its date.
func startSets(names string, since map[string]parse.When) ([]model.Entry, error) {
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
		all = append(all, request.InUse(set, since[name]))
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
	if parse.Never(rest) {
		return model.ID(id), parse.When{}, nil
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
	demo, err := new(ledger.Book).Append(starter.Demo(p.today())...)
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
