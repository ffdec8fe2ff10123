package command

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/request"
)

// vesselFlags are the flags of vessel, as typed. Those left empty stay as the vessel has them.
type vesselFlags struct {
	holds, place, keep, use, by string
	auto, carried               bool
}

func (p *program) vesselCommand() *cobra.Command {
	var f vesselFlags
	cmd := &cobra.Command{
		Use:   "vessel NAME LITRES",
		Short: "Add what holds water, or change it",
		Long: `Adds a vessel and the litres it holds: a reservoir, a vat, a can. With the name of one that
is there it changes that one. Fresh water is taken to run in as the water made is logged,
unless it is filled by carrying.`,
		Example: `  wrasse vessel Reservoir 100 --keep 5
  wrasse vessel Vat 60 --holds salt --place mixing-corner`,
		Args: wordCount(2, -1, "a name and the litres it holds, such as: wrasse vessel Reservoir 100"),
		RunE: func(_ *cobra.Command, args []string) error {
			stamp, err := p.stamp(f.by)
			if err != nil {
				return err
			}
			n := len(args) - 1
			return p.write(request.Define{Stamp: stamp, Make: func(b *ledger.Book) ([]model.Body, error) {
				v, err := f.vessel(b, strings.Join(args[:n], " "), args[n])
				return []model.Body{v}, err
			}}.Entries)
		},
	}
	cmd.Flags().StringVar(&f.holds, "holds", "", "`WATER` in it: fresh or salt (a new one: fresh)")
	cmd.Flags().StringVar(&f.place, "place", "", "the `PLACE` where it stands (a new one: that of the component of its name, else the first)")
	cmd.Flags().StringVar(&f.keep, "keep", "", "`LITRES` that must stay in it, or a pump runs dry")
	cmd.Flags().StringVar(&f.use, "use", "", "`LITRES` a day that nobody logs: what evaporates and is topped up")
	cmd.Flags().BoolVar(&f.auto, "auto", false, "a float valve keeps it full")
	cmd.Flags().BoolVar(&f.carried, "carried", false, "it is filled by carrying; what the unit makes does not run in")
	cmd.Flags().StringVar(&f.by, "by", "", "who says so")
	return cmd
}

// vessel is the vessel that the flags ask for.
func (f *vesselFlags) vessel(b *ledger.Book, name, capacity string) (model.Vessel, error) {
	units := b.Def().Units
	v, known := named(b, name)
	if !known {
		v = model.Vessel{ID: request.NewID(b, model.KindVessel, name), Name: name, Holds: model.HoldsFresh}
	}
	v.Holds = model.Holds(cmp.Or(f.holds, string(v.Holds)))
	v.Auto = v.Auto || f.auto
	var err error
	if v.Capacity, err = parse.Amount(capacity, "L", units); err != nil {
		return v, usagef("the litres it holds: %w", err)
	}
	if f.keep != "" {
		if v.Keep, err = parse.Amount(f.keep, "L", units); err != nil {
			return v, usagef("--keep: %w", err)
		}
	}
	if f.use != "" {
		use, err := parse.Amount(f.use, "L", units)
		if err != nil {
			return v, usagef("--use: %w", err)
		}
		v.DeclaredUse = &use
	}
	if made, ok := b.CounterByRole(model.RoleWaterMade); ok && !known && v.Holds == model.HoldsFresh {
		v.FedBy = made.ID
	}
	if f.carried {
		v.FedBy = ""
	}
	switch places := b.Places(); {
	case f.place != "":
		v.Place, err = placeNamed(b, f.place)
	case v.Place != "":
	case len(places) == 0:
		err = fmt.Errorf("the book has no place yet; add one in Gear")
	default:
		v.Place = places[0].ID
		for _, c := range b.Components() {
			if string(c.ID) == string(v.ID) || strings.EqualFold(c.Name, name) {
				v.Place = c.Place
			}
		}
	}
	return v, err
}

// named is the vessel of a name or id.
func named(b *ledger.Book, name string) (model.Vessel, bool) {
	all := b.Vessels()
	i := slices.IndexFunc(all, func(v model.Vessel) bool {
		return string(v.ID) == name || strings.EqualFold(v.Name, name)
	})
	if i < 0 {
		return model.Vessel{}, false
	}
	return all[i], true
}

// placeNamed is the place of a name or id.
func placeNamed(b *ledger.Book, name string) (model.ID, error) {
	var ids []string
	for _, p := range b.Places() {
		if string(p.ID) == name || strings.EqualFold(p.Name, name) {
			return p.ID, nil
		}
		ids = append(ids, string(p.ID))
	}
	return "", fmt.Errorf("--place: no place is called %q; the book has %s", name, strings.Join(ids, ", "))
}
