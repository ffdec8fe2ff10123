package command

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"brine/wrasse/model"
	"brine/wrasse/model/water"
	"brine/wrasse/ui/typed"
)

type salinityOut struct {
	Practical    float64 `json:"practical"`
	GPerKg       float64 `json:"g_per_kg"`
	Density      float64 `json:"density_kg_m3"`
	Conductivity float64 `json:"conductivity_ms_cm"`
	SG           sgOut   `json:"sg"`
	TemperatureC float64 `json:"temperature_c"` // of density and conductivity
	ReadAs       string  `json:"read_as"`
}

type sgOut struct {
	At20  float64 `json:"20/20"`
	At25  float64 `json:"25/25"`
	At60F float64 `json:"60F/60F"`
}

// sampleFlags say what a salinity is read from and with.
type sampleFlags struct{ temp, reference string }

func (f *sampleFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.temp, "temp", "25C", "the water's `TEMPERATURE`: 25, 77F")
	cmd.Flags().StringVar(&f.reference, "reference", water.At25.Name, "the `T1/T2` a specific gravity is stated at: 25/25, 20/20, 60F/60F")
}

// sample reads them; a temperature without a unit is in the book's, degC where there is
// no book.
func (f *sampleFlags) sample(u model.Units) (typed.Sample, error) {
	c, err := typed.Value(f.temp, model.Gauge{Unit: "C"}, u)
	if err != nil {
		return typed.Sample{}, usagef("--temp: %w", err)
	}
	r, err := water.ParseReference(f.reference)
	if err != nil {
		return typed.Sample{}, usagef("--reference: %w", err)
	}
	return typed.Sample{WaterC: c, Reference: r}, nil
}

func (p *program) salinityCommand() *cobra.Command {
	var flags sampleFlags
	cmd := &cobra.Command{
		Use:   "salinity VALUE[UNIT]",
		Short: "Print one salinity reading on every scale",
		Long: `Print one salinity reading on every scale. VALUE is practical without a unit (35),
a specific gravity at --reference (1.0264sg), the stem of a glass float as it stands
in water of --temp (1.0245float), conductivity of water of --temp (53.1mS/cm; a meter
that compensates shows it for 25), or salt by mass (35.17g/kg). --temp is also the temperature at which density and
conductivity are printed. A specific gravity means nothing without its reference:
1.0264 is 35.0 at 25/25, 34.4 at 60F/60F.`,
		Args: wordCount(1, 2, "one reading"),
		RunE: func(_ *cobra.Command, args []string) error {
			at, err := flags.sample(model.Units{})
			if err != nil {
				return err
			}
			read, err := typed.Salinity(strings.Join(args, " "), at)
			if err != nil {
				return usageError{err}
			}
			out, err := everyScale(read, at.WaterC)
			if err != nil {
				return err
			}
			if p.json {
				return p.printJSON(out)
			}
			return salinityText(out).print(p.Stdout)
		},
	}
	flags.add(cmd)
	return cmd
}

// everyScale is a reading on all scales; density and conductivity at a temperature.
func everyScale(read typed.Scaled, waterC float64) (out salinityOut, err error) {
	out = salinityOut{Practical: read.Practical, TemperatureC: waterC, ReadAs: read.Scale}
	if out.GPerKg, err = water.ReferenceSalinity(read.Practical); err != nil {
		return out, err
	}
	if out.Density, err = water.Density(read.Practical, waterC); err != nil {
		return out, err
	}
	if out.Conductivity, err = water.Conductivity(read.Practical, waterC); err != nil {
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

func salinityText(s salinityOut) *page {
	out := new(page)
	out.line("read as %s", s.ReadAs)
	at := typed.Quantity(s.TemperatureC, "C", model.Units{})
	out.table([][]string{
		{"practical salinity", typed.Number(math.Round(s.Practical*1000) / 1000), "no unit; ppt and psu mean this"},
		{"salt by mass", fmt.Sprintf("%.2f", s.GPerKg), "g/kg"},
		{"specific gravity", fmt.Sprintf("%.4f", s.SG.At25), "at 25/25"},
		{"", fmt.Sprintf("%.4f", s.SG.At20), "at 20/20"},
		{"", fmt.Sprintf("%.4f", s.SG.At60F), "at 60F/60F"},
		{"density", fmt.Sprintf("%.2f", s.Density), "kg/m3 at " + at},
		{"conductivity", fmt.Sprintf("%.2f", s.Conductivity), "mS/cm at " + at},
	}, 1)
	return out
}
