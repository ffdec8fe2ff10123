package command

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/request"
)

func (p *program) flagCommand() *cobra.Command {
	var cause, note, by string
	cmd := &cobra.Command{
		Use:     "flag COMPONENT",
		Short:   "Put a component that is hard to get at on the rethink list",
		Example: "  wrasse flag mixing-pump --cause out-of-sight --note \"behind the crates\"",
		Args:    wordCount(1, -1, "a component"),
		RunE: func(_ *cobra.Command, args []string) error {
			if !slices.Contains(model.Causes, model.Cause(cause)) {
				return usagef("--cause %q is not a cause; give one of %s", cause, causes())
			}
			return p.onComponent(args, by, func(s request.Stamp, c model.ID) builder {
				return request.Flag{Stamp: s, Flag: model.Flag{Component: c, Cause: model.Cause(cause), Note: note}}.Entries
			})
		},
	}
	cmd.Flags().StringVar(&cause, "cause", string(model.Causes[0]), "why: "+causes())
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	cmd.Flags().StringVar(&by, "by", "", "who says so")
	return cmd
}

func causes() string { return model.Joined(model.Causes...) }

func (p *program) faultCommand() *cobra.Command {
	var note, by string
	cmd := &cobra.Command{
		Use:     "fault COMPONENT",
		Short:   "Report a component broken now, until it is repaired or one of its chores is ticked",
		Example: "  wrasse fault lights --note \"left fan rattles\"",
		Args:    wordCount(1, -1, "a component"),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.onComponent(args, by, func(s request.Stamp, c model.ID) builder {
				return request.Log{Stamp: s, What: model.Fault{Component: c, Note: note}}.Entries
			})
		},
	}
	cmd.Flags().StringVar(&note, "note", "", "what is wrong")
	cmd.Flags().StringVar(&by, "by", "", "who says so")
	return cmd
}

func (p *program) repairCommand() *cobra.Command {
	var note, use, by string
	cmd := &cobra.Command{
		Use:     "repair COMPONENT",
		Short:   "End the fault of a component: wrasse repair lights --note 'new fan' --use '1 fan'",
		Example: "  wrasse repair lights --note \"new fan\"",
		Args:    wordCount(1, -1, "a component"),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.act(by, func(s request.Stamp, b *ledger.Book) (builder, error) {
				c, err := parse.Component(b, strings.Join(args, " "))
				if err != nil {
					return nil, err
				}
				uses, err := parse.Uses(b, use)
				if err != nil {
					return nil, fmt.Errorf("--use %w", err)
				}
				return func(b *ledger.Book) ([]model.Entry, error) {
					return request.RepairAll(b, s, c, model.Repair{Note: note, Uses: uses})
				}, nil
			})
		},
	}
	cmd.Flags().StringVar(&note, "note", "", "what was done")
	cmd.Flags().StringVar(&use, "use", "", "what it took off the shelf, such as \"1 fan; 0.6 L resin\"")
	cmd.Flags().StringVar(&by, "by", "", "who did it")
	return cmd
}

// onComponent writes an act on the component that words name.
func (p *program) onComponent(words []string, by string, of func(request.Stamp, model.ID) builder) error {
	return p.act(by, func(s request.Stamp, b *ledger.Book) (builder, error) {
		c, err := parse.Component(b, strings.Join(words, " "))
		if err != nil {
			return nil, err
		}
		return of(s, c.ID), nil
	})
}

func (p *program) awayCommand() *cobra.Command {
	var from, contact, by string
	cmd := &cobra.Command{
		Use:     "away UNTIL",
		Short:   "Say that nobody is there until a date, the first day back, and list what to do before",
		Example: "  wrasse away 2026-12-27\n  wrasse away 2w",
		Args:    wordCount(1, -1, "the first day back"),
		RunE: func(cmd *cobra.Command, args []string) error {
			stamp, err := p.stamp(by)
			if err != nil {
				return err
			}
			if from != "" { // an absence is known before it begins
				if stamp.On, err = parse.Until(from, stamp.On.AddDays(-1)); err != nil {
					return usagef("--from %w", err)
				}
			}
			until, err := parse.Until(strings.Join(args, " "), stamp.On)
			if err != nil {
				return usageError{err}
			}
			if _, err := p.load(); err != nil {
				return err
			}
			away := request.Away{Stamp: stamp, Away: model.Away{Until: until}}
			if cmd.Flags().Changed("contact") { // given empty, it takes the one in the book away
				away.Contact = &contact
			}
			if err := p.write(away.Entries); err != nil {
				return err
			}
			return p.beforeYouGo(schedule.Absence{From: stamp.On, Until: until, By: by})
		},
	}
	cmd.Flags().StringVar(&from, "from", "", "the day of leaving, today or to come; else today")
	cmd.Flags().StringVar(&contact, "contact", "", "whom a sitter calls; kept in the book")
	cmd.Flags().StringVar(&by, "by", "", "who is away")
	return cmd
}

// beforeYouGo lists what falls due before a return and is not for a sitter.
func (p *program) beforeYouGo(a schedule.Absence) error {
	if p.json {
		return nil
	}
	b, r, err := p.ahead()
	if err != nil {
		return err
	}
	out := roundText{page: new(page), book: b, on: r.On, plain: p.config.Plain}
	out.line("%s", phrase.Leaving(r, a))
	out.chores(r.BeforeYouGo(a), placeCell+1)
	return out.print(p.Stdout)
}

func (p *program) putOffCommand() *cobra.Command {
	var reason, by string
	cmd := &cobra.Command{
		Use:   "put-off CHORE UNTIL",
		Short: "Put a chore off until a date; its dates stay as they are",
		Long: `Moves a chore out of the way until a date: 2026-12-05, tomorrow, 5d, 2w, friday. Its due
date and limit stay as they are, and so does what the round says of them.`,
		Example: `  wrasse put-off clean-impeller 2w --reason "the new one is on its way"`,
		Args:    wordCount(2, -1, "a chore and a date"),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.putOff(args[0], strings.Join(args[1:], " "), reason, by)
		},
	}
	cmd.Flags().StringVar(&reason, "reason", "", "why")
	cmd.Flags().StringVar(&by, "by", "", "who says so")
	return cmd
}

func (p *program) putOff(chore, until, reason, by string) error {
	return p.act(by, func(s request.Stamp, b *ledger.Book) (builder, error) {
		day, err := parse.Until(until, s.On)
		if err != nil {
			return nil, usageError{err}
		}
		c, err := parse.Chore(b, chore)
		if err != nil {
			return nil, err
		}
		return request.PutOff{Stamp: s, Chores: []model.ID{c.ID}, Until: day, Reason: reason}.Entries, nil
	})
}

// counting is the flags of count.
type counting struct{ by, part, source, expires string }

func (p *program) countCommand() *cobra.Command {
	var c counting
	cmd := &cobra.Command{
		Use:   "count SPARE AMOUNT[unit]",
		Short: "Say how much of a spare is on the shelf: wrasse count mixed-bed-resin 2",
		Long: `Says how much of a spare there is, counted just now, in its unit unless another stands
behind the amount. What a tick takes is taken off it from here on. The last day on the
label of a standard or a test goes with --expires: 2027-03 is the end of that month.`,
		Example: "  wrasse list spares\n  wrasse count mixed-bed-resin 2\n  wrasse count tds-standard 3 --expires 2027-03",
		Args:    wordCount(2, -1, "a spare and an amount"),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.count(args[0], strings.Join(args[1:], " "), c)
		},
	}
	cmd.Flags().StringVar(&c.by, "by", "", "who counted")
	cmd.Flags().StringVar(&c.part, "part", "", "its `NUMBER` at the maker or dealer")
	cmd.Flags().StringVar(&c.source, "source", "", "where it is bought")
	cmd.Flags().StringVar(&c.expires, "expires", "", "the last `DAY` on its label, or never")
	return cmd
}

func (p *program) count(spare, amount string, c counting) error {
	return p.act(c.by, func(stamp request.Stamp, b *ledger.Book) (builder, error) {
		s, err := parse.Spare(b, spare)
		if err != nil {
			return nil, err
		}
		n, err := parse.Amount(amount, s.Unit, b.Def().Units)
		if err != nil {
			return nil, fmt.Errorf("amount of %s: %w", s.ID, err)
		}
		labelled := s
		labelled.Part, labelled.Source = cmp.Or(c.part, s.Part), cmp.Or(c.source, s.Source)
		if c.expires != "" {
			if labelled.Expires, err = parse.Expiry(c.expires, p.today()); err != nil {
				return nil, usagef("--expires: %w", err)
			}
		}
		if b.Counted(s.ID, stamp.On) && b.OnHand(s.ID, stamp.On) == n && labelled.Part == s.Part && labelled.Source == s.Source && labelled.Expires == s.Expires {
			return nil, fmt.Errorf("%s: the book has %s already; nothing was written", s.ID, parse.Quantity(n, s.Unit, b.Def().Units))
		}
		return request.PutSpare{Stamp: stamp, Spare: labelled, OnHand: &n}.Entries, nil
	})
}
