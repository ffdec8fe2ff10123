package command

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
	"brine/wrasse/model/water"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
)

type salinityOut struct {
	Practical     float64  `json:"practical" says:"PSS-78"`
	GPerKg        float64  `json:"g_per_kg" says:"reference salinity"`
	Density       float64  `json:"density_kg_m3" says:"at temperature_c"`
	Conductivity  float64  `json:"conductivity_ms_cm" says:"at temperature_c"`
	SG            sgOut    `json:"sg" says:"specific gravity"`
	Brine         float64  `json:"refractometer_brine" says:"what a refractometer with a brine scale shows"`
	TemperatureC  float64  `json:"temperature_c" says:"of density and conductivity"`
	ReadAs        string   `json:"read_as" says:"the scale it was taken for"`
	IfCompensated *float64 `json:"if_compensated" says:"practical, of a conductivity not at 25 C whose meter compensates"`
	Notes         []string `json:"notes" says:"to be known"`
}

type sgOut struct {
	At20  float64 `json:"20/20" says:"at 20/20 C"`
	At25  float64 `json:"25/25" says:"at 25/25 C"`
	At60F float64 `json:"60F/60F" says:"at 60/60 F"`
}

// sampleFlags say what a salinity is read from and with.
type sampleFlags struct{ temp, reference, meter string }

func (f *sampleFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.temp, "temp", "25C", "the water's `TEMPERATURE`, in the book's unit: 25, 77F")
	cmd.Flags().StringVar(&f.reference, "reference", "", "the `T1/T2` a specific gravity is stated at: 25/25, 20/20, 60F/60F (else the scale of the salinity gauge, else 25/25)")
	cmd.Flags().StringVar(&f.meter, "meter", "", "of a conductivity: `compensating` (shows the value for 25 °C) or raw")
}

// sample reads them; a temperature without a unit is in the book's, degC where there is
// no book, and a specific gravity on the scale of the book's own instrument.
func (f *sampleFlags) sample(b *ledger.Book) (parse.Sample, error) {
	u := b.Def().Units
	c, err := parse.Value(f.temp, model.Gauge{Unit: "C"}, u)
	if err != nil {
		return parse.Sample{}, usagef("--temp: %w", err)
	}
	scale, _, _ := station.SaltScale(b)
	out := parse.Sample{WaterC: c, Reference: scale.Reference, Meter: parse.Meter(f.meter), Units: u}
	if f.reference != "" {
		if out.Reference, err = water.ParseReference(f.reference); err != nil {
			return parse.Sample{}, usagef("--reference: %w", err)
		}
	}
	switch out.Meter {
	case parse.MeterNotSaid, parse.MeterCompensating, parse.MeterRaw:
		return out, nil
	}
	return out, usagef("--meter: %q is not one; give compensating, as nearly all meters are, or raw", f.meter)
}

func (p *program) salinityCommand() *cobra.Command {
	var flags sampleFlags
	cmd := &cobra.Command{
		Use:     "salinity VALUE[UNIT]",
		Short:   "Print one salinity reading on every scale",
		Example: "  wrasse salinity 1.0264sg\n  wrasse salinity 53.1mS/cm --temp 20",
		Long: `Print one salinity reading on every scale. VALUE is practical without a unit (35),
a specific gravity at --reference (1.0264sg), off a glass float in water of --temp
(1.0245float), a conductivity (53.1mS/cm), grams of salt in a kilogram (35.17g/kg), or
off a refractometer with a brine scale (36.5brine). Conductivity meters that compensate
for temperature show the value for 25 °C: of water that isn't, both are printed until
--meter says which.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("salinity takes one reading, such as: wrasse salinity 1.0264sg --temp 25")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			b, err := p.store().Load()
			if err != nil { // a reading has its scales whatever became of the book
				b = new(ledger.Book)
			}
			at, err := flags.sample(b)
			if err != nil {
				return err
			}
			out, err := salinityScales(strings.Join(args, " "), at)
			if err != nil {
				return err
			}
			return p.print(salinityText(b, out), out)
		},
	}
	flags.add(cmd)
	return cmd
}

// salinityScales is a reading on every scale. Of a conductivity whose meter was not said it is that of the water as it is,
// with the other beside it.
func salinityScales(value string, at parse.Sample) (salinityOut, error) {
	other := (*float64)(nil)
	if at.Meter == parse.MeterNotSaid {
		at.Meter = parse.MeterCompensating
		if shown, err := parse.Salinity(value, at); err == nil && strings.HasPrefix(shown.Scale, "conductivity as") {
			other = &shown.Practical
		}
		at.Meter = parse.MeterRaw
	}
	read, err := parse.Salinity(value, at)
	if err != nil {
		return salinityOut{}, usagef("%w", err)
	}
	out, err := onEveryScale(read, at.WaterC)
	out.IfCompensated = other
	if other != nil {
		out.Notes = append(out.Notes, fmt.Sprintf("%.1f if the meter does not compensate; %.1f if it does, as nearly all do: --meter says which", read.Practical, *other))
	}
	out.Notes = append(out.Notes, phrase.Refractometer()...)
	return out, err
}

func onEveryScale(read parse.Scaled, waterC float64) (salinityOut, error) {
	out := salinityOut{Practical: read.Practical, TemperatureC: waterC, ReadAs: read.Scale}
	var err error
	if out.GPerKg, err = water.ReferenceSalinity(read.Practical); err != nil {
		return out, err
	}
	if out.Density, err = water.Density(read.Practical, waterC); err != nil {
		return out, err
	}
	if out.Conductivity, err = water.Conductivity(read.Practical, waterC); err != nil {
		return out, err
	}
	if out.Brine, err = water.BrineReading(read.Practical); err != nil {
		return out, err
	}
	out.SG, err = gravities(read.Practical)
	return out, err
}

func gravities(practical float64) (out sgOut, err error) {
	for _, s := range []struct {
		to *float64
		at water.Reference
	}{{&out.At20, water.At20}, {&out.At25, water.At25}, {&out.At60F, water.At60F}} {
		if *s.to, err = water.SpecificGravity(practical, s.at); err != nil {
			return out, err
		}
	}
	return out, nil
}

func salinityText(b *ledger.Book, s salinityOut) *page {
	out := new(page)
	out.line("read as %s", s.ReadAs)
	at := parse.Quantity(s.TemperatureC, "C", b.Def().Units)
	out.table([][]string{
		{"practical salinity", parse.Number(math.Round(s.Practical*1000) / 1000), "no unit; ppt and psu mean this"},
		{"salt by mass", fmt.Sprintf("%.2f", s.GPerKg), "g/kg"},
		{"specific gravity", fmt.Sprintf("%.4f", s.SG.At25), "at 25/25"},
		{"", fmt.Sprintf("%.4f", s.SG.At20), "at 20/20, as most refractometers have it"},
		{"", fmt.Sprintf("%.4f", s.SG.At60F), "at 60F/60F"},
		{"brine refractometer", fmt.Sprintf("%.1f", s.Brine), "its scale is table salt's, and shows sea water high"},
		{"density", fmt.Sprintf("%.2f", s.Density), "kg/m3 at " + at},
		{"conductivity", fmt.Sprintf("%.2f", s.Conductivity), "mS/cm at " + at},
	}, 1)
	out.each(s.Notes)
	return out
}
