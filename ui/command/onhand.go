package command

import (
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

// vesselOut is the water in a vessel, in litres and litres a day.
type vesselOut struct {
	Vessel    model.ID    `json:"vessel" says:"the vessel"`
	Holds     model.Holds `json:"holds" says:"fresh or salt"`
	Level     *float64    `json:"level" says:"L in it, as reckoned; null until it is counted"`
	Counted   *float64    `json:"counted" says:"L at the latest count"`
	AsOf      *model.Date `json:"as_of" says:"the day of that"`
	UsePerDay *float64    `json:"use_per_day" says:"L a day that nobody logs; null until it is known"`
	Short     *model.Date `json:"short" says:"the first day on which less than it must keep would be left"`
	Missing   *float64    `json:"missing" says:"L to be made for the week from then on"`
	Hours     *float64    `json:"hours" says:"of the unit for that"`
	Flow      *float64    `json:"flow" says:"L/h of the unit"`
	StartBy   *model.Date `json:"start_by" says:"the day to start it by; on itself where that is past, and ready then says when the water is there"`
	Ready     *model.Date `json:"ready" says:"the day it is there if the unit is started on on; null where it is there in time"`
	Over      *float64    `json:"over" says:"L of what is missing that do not fit"`
	Mixes     []mixByOut  `json:"mixes" says:"batches or fillings to come"`
}

type mixByOut struct {
	By     model.Date `json:"by" says:"the day it is wanted"`
	Litres float64    `json:"litres" says:"L to mix or to fill"`
}

func vesselsJSON(r *schedule.Round) []vesselOut {
	out := []vesselOut{}
	for _, o := range r.OnHand() {
		line := vesselOut{Vessel: o.Vessel.ID, Holds: o.Vessel.Holds, Short: orNull(o.Short), StartBy: orNull(o.StartBy), Ready: orNull(o.Ready), Mixes: []mixByOut{}}
		if o.Counted != nil {
			line.Counted, line.AsOf = &o.Counted.What.Litres, &o.Counted.On
			if !o.Vessel.Auto {
				line.Level = &o.Level
			}
		}
		if o.HasUse && (o.Counted != nil || o.Vessel.Auto) {
			line.UsePerDay = &o.Use
		}
		if o.Flow.Known() {
			line.Flow = &o.Flow.LH
		}
		if o.Hours > 0 {
			line.Hours = &o.Hours
		}
		if o.Fed() && !o.Short.IsZero() {
			line.Missing, line.Over = &o.Missing, &o.Over
		}
		for _, m := range o.Mixes {
			line.Mixes = append(line.Mixes, mixByOut{m.By, m.Litres})
		}
		out = append(out, line)
	}
	return out
}

// onHandText prints the water in each vessel.
func onHandText(out *page, b *ledger.Book, r *schedule.Round) {
	all := r.OnHand()
	if len(all) == 0 {
		return
	}
	out.head("on hand")
	for i := range all {
		for n, line := range phrase.Card(b, &all[i], r.On) {
			out.line("%s%s", []string{"  ", "    "}[min(n, 1)], line)
		}
	}
}

func (p *program) levelCommand() *cobra.Command {
	var by string
	var about bool
	cmd := &cobra.Command{
		Use:     "level VESSEL LITRES",
		Short:   "Count the water in a vessel",
		Example: "  wrasse level reservoir 60",
		Args:    wordCount(2, -1, "a vessel and the litres in it"),
		RunE: func(_ *cobra.Command, args []string) error {
			return p.onVessel(args, by, func(s request.Stamp, b *ledger.Book, v model.Vessel, litres float64) (builder, error) {
				return request.Log{Stamp: s, What: model.Level{Vessel: v.ID, Litres: litres, About: about}}.Entries, p.sure(phrase.OddLevel(b, v, litres))
			})
		},
	}
	cmd.Flags().BoolVar(&about, "about", false, "it is a guess, and teaches nothing")
	cmd.Flags().StringVar(&by, "by", "", "who counted")
	return cmd
}

func (p *program) drawCommand() *cobra.Command {
	var by, purpose, into string
	cmd := &cobra.Command{
		Use:     "draw VESSEL LITRES --for PURPOSE",
		Short:   "Log water taken out of a vessel",
		Example: "  wrasse draw reservoir 5 --for top-up",
		Args:    wordCount(2, -1, "a vessel and the litres taken"),
		RunE: func(_ *cobra.Command, args []string) error {
			if !slices.Contains(model.Purposes, model.Purpose(purpose)) {
				return usagef("--for: %q is no purpose; give one of %s", purpose, purposes())
			}
			return p.onVessel(args, by, func(s request.Stamp, b *ledger.Book, v model.Vessel, litres float64) (builder, error) {
				d := model.Draw{Vessel: v.ID, Litres: litres, For: model.Purpose(purpose)}
				if into != "" {
					other, err := parse.Vessel(b, into)
					if err != nil {
						return nil, err
					}
					d.Into = other.ID
				}
				return request.Draw{Stamp: s, Draw: d}.Entries, p.sure(phrase.OddDraw(b, v, litres, s.On))
			})
		},
	}
	cmd.Flags().StringVar(&purpose, "for", string(model.ForTopUp), "what for: "+purposes())
	cmd.Flags().StringVar(&into, "into", "", "the `VESSEL` it was carried to")
	cmd.Flags().StringVar(&by, "by", "", "who took it")
	return cmd
}

func purposes() string { return model.Joined(model.Purposes...) }

func (p *program) needCommand() *cobra.Command {
	var vessel, chore, note string
	cmd := &cobra.Command{
		Use:     "need LITRES BY",
		Short:   "Say that water is wanted by a date, and print what that asks for",
		Example: "  wrasse need 120 sat",
		Long: `Say that water is wanted from a vessel by a date, and print what that asks for: what to
make or mix, when to start the unit, the salt, and what is to be carried. A need ends
when as much was taken out of the vessel, or its date has passed.`,
		Args: wordCount(2, -1, "litres and a date, such as: wrasse need 120 sat"),
		RunE: func(_ *cobra.Command, args []string) error {
			b, err := p.load()
			if err != nil {
				return err
			}
			stamp, err := p.stamp("")
			if err != nil {
				return err
			}
			n := model.Need{Note: note}
			if n.Litres, err = parse.Amount(args[0], "L", b.Def().Units); err != nil {
				return usageError{err}
			}
			if n.By, err = parse.By(strings.Join(args[1:], " "), stamp.On); err != nil {
				return usageError{err}
			}
			v, err := wantedFrom(b, vessel, stamp.On)
			if err != nil {
				return err
			}
			n.Vessel = v.ID
			if chore != "" {
				c, err := parse.Chore(b, chore)
				if err != nil {
					return err
				}
				n.Chore = c.ID
			}
			written, seq, err := p.store().Write(request.Log{Stamp: stamp, What: n}.Entries)
			if err != nil {
				return err
			}
			return p.written(func() error {
				if err := p.wrote(written, seq); err != nil || p.json {
					return err
				}
				out := new(page)
				for _, s := range phrase.Answer(written, schedule.Make(written, stamp.On), v.ID) {
					out.line("  %s", s)
				}
				return out.print(p.Stdout)
			})
		},
	}
	cmd.Flags().StringVar(&vessel, "vessel", "", "the `VESSEL` it is wanted from (else the one with salt water)")
	cmd.Flags().StringVar(&chore, "chore", "", "the `CHORE` for which the need stands")
	cmd.Flags().StringVar(&note, "note", "", "a remark")
	return cmd
}

// wantedFrom is the vessel that water is wanted from: as named, else the only one with salt water, else the only one.
func wantedFrom(b *ledger.Book, name string, on model.Date) (model.Vessel, error) {
	if name != "" {
		return parse.Vessel(b, name)
	}
	for _, holds := range []model.Holds{model.HoldsSalt, model.HoldsFresh} {
		if v, ok := b.Vessel(request.OnlyVessel(b, holds, on)); ok {
			return v, nil
		}
	}
	if len(b.Vessels()) == 0 {
		return model.Vessel{}, fmt.Errorf("the book has no vessel yet; add one with: wrasse vessel NAME LITRES")
	}
	return model.Vessel{}, fmt.Errorf("there are several vessels; name one with --vessel: %s", parse.VesselIDs(b))
}

// onVessel writes an act on the vessel and the litres that words name.
func (p *program) onVessel(args []string, by string, of func(request.Stamp, *ledger.Book, model.Vessel, float64) (builder, error)) error {
	return p.act(by, func(s request.Stamp, b *ledger.Book) (builder, error) {
		n := len(args) - 1
		v, err := parse.Vessel(b, strings.Join(args[:n], " "))
		if err != nil {
			return nil, err
		}
		litres, err := parse.Amount(args[n], "L", b.Def().Units)
		if err != nil {
			return nil, usageError{err}
		}
		return of(s, b, v, litres)
	})
}
