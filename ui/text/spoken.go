package text

import (
	"regexp"
	"strings"
	"sync"
)

// units are the short words behind figures as they are said of one and of several.
var units = map[string][2]string{
	"min": {"minute", "minutes"}, "h": {"hour", "hours"}, "d": {"day", "days"},
	"L": {"litre", "litres"}, "mL": {"millilitre", "millilitres"}, "gal": {"gallon", "gallons"},
	"L/h": {"litre an hour", "litres an hour"}, "gal/d": {"gallon a day", "gallons a day"}, "gpd": {"gallon a day", "gallons a day"},
	"L/min": {"litre a minute", "litres a minute"}, "mL/min": {"millilitre a minute", "millilitres a minute"},
	"g": {"gram", "grams"}, "kg": {"kilogram", "kilograms"}, "mg": {"milligram", "milligrams"}, "lb": {"pound", "pounds"}, "oz": {"ounce", "ounces"},
	"g/kg": {"gram in a kilogram", "grams in a kilogram"}, "mg/L": {"milligram a litre", "milligrams a litre"},
	"g/L": {"gram a litre", "grams a litre"}, "kg/m3": {"kilogram a cubic metre", "kilograms a cubic metre"},
	"mmol/L": {"millimole a litre", "millimoles a litre"}, "meq": {"milliequivalent", "milliequivalents"}, "meq/L": {"milliequivalent a litre", "milliequivalents a litre"},
	"ppm": {"part per million", "parts per million"}, "%": {"percent", "percent"},
	"°C": {"degree Celsius", "degrees Celsius"}, "°F": {"degree Fahrenheit", "degrees Fahrenheit"},
	"bar": {"bar", "bar"}, "psi": {"pound per square inch", "pounds per square inch"},
	"mS/cm": {"millisiemens a centimetre", "millisiemens a centimetre"}, "uS/cm": {"microsiemens a centimetre", "microsiemens a centimetre"},
	"SG": {"specific gravity", "specific gravity"}, "pc": {"piece", "pieces"}, "dKH": {"degree of carbonate hardness", "degrees of carbonate hardness"},
}

// What is said otherwise than it is written: figures with their units, hours with minutes,
// work with waiting, days late.
var spoken = sync.OnceValue(func() [4]*regexp.Regexp {
	return [4]*regexp.Regexp{
		regexp.MustCompile(`\b(\d+) h 0?(\d+)\b`),
		regexp.MustCompile(`\b(\d+)\+(\d+) min\b`),
		regexp.MustCompile(`\b(due|limit) \+(\d+) d\b`),
		regexp.MustCompile(`(\d) ?([a-zA-Zµ°%][a-zA-Z0-9/]*)`),
	}
})

// Spoken is a line with its units as words, for those who hear it: "3 days ago" for "3 d ago",
// "2 hours 54 minutes" for "2 h 54".
func Spoken(line string) string {
	of := spoken()
	line = of[0].ReplaceAllString(line, "$1 h $2 min")
	line = of[1].ReplaceAllString(line, "$1 min and $2 waiting")
	line = of[2].ReplaceAllString(line, "$1 $2 d ago")
	var out strings.Builder
	from := 0
	for _, at := range of[3].FindAllStringSubmatchIndex(line, -1) {
		number, end := at[3], at[5]
		words, ok := units[strings.Replace(line[at[4]:end], "µ", "u", 1)]
		if !ok {
			continue
		}
		word := words[1]
		if alone(line[:number]) {
			word = words[0]
		}
		out.WriteString(line[from:number] + " " + word)
		from = end
	}
	out.WriteString(line[from:])
	return out.String()
}

// Unit is a unit in words, as said of several; "" for what is none.
func Unit(short string) string { return units[strings.Replace(short, "µ", "u", 1)][1] }

// alone tells whether the figure at the end of a line is 1.
func alone(line string) bool {
	rest, one := strings.CutSuffix(line, "1")
	return one && (rest == "" || !strings.ContainsAny(rest[len(rest)-1:], "0123456789.,"))
}
