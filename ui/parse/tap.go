package parse

import (
	"fmt"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
)

const mostRatio = 20

// WasteRatio reads the parts of waste for one of product: "3:1" and "3" are the same.
func WasteRatio(s string) (float64, error) {
	n, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(s), ":1"), 64)
	if err != nil || !(n > 0 && n <= mostRatio) {
		return 0, fmt.Errorf("%q: give parts of waste for one of product, such as 3, at most %d", s, mostRatio)
	}
	return n, nil
}

// TapFigures are the figures of the tap that may be known at the start, by the role of the gauge that reads each.
var TapFigures = map[string]TapFigure{
	model.RoleTDSTap:          {1, 2000, "ppm, such as 250"},
	station.RoleTapAlkalinity: {1, 500, "mg/L as CaCO3, such as 150"},
	station.RoleTapPH:         {6, 9, "a pH of 6 to 9, such as 7.5"},
}

// TapFigure is what a figure of the tap may be.
type TapFigure struct {
	least, most float64
	want        string
}

// Read reads the figure.
func (f TapFigure) Read(s string) (float64, error) {
	n, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(s), ",", ".", 1), 64)
	if err != nil || !(n >= f.least && n <= f.most) {
		return 0, fmt.Errorf("%q: give %s", s, f.want)
	}
	return n, nil
}
