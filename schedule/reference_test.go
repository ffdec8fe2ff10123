package schedule

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
	"brine/wrasse/testdata"
)

// TestSilenceAndPrice holds rates, silences, reached dates, chances and planned ages to
// testdata/reference/silence_and_price.csv.
func TestSilenceAndPrice(t *testing.T) {
	for _, row := range testdata.Table(t, "reference/silence_and_price.csv") {
		name, figure, want := row["case"], row["figure"], row["expected"]
		given := map[string]string{}
		for field := range strings.SplitSeq(row["inputs"], ";") {
			key, value, _ := strings.Cut(field, "=")
			given[key] = value
		}
		t.Run(name+"/"+figure, func(t *testing.T) {
			c := reference{t, given}
			got, tolerance := 0.0, 1e-6
			ok := true
			if row["rule"] == "silence" {
				got, ok = c.silence(figure)
			} else {
				got = c.price(figure)
				if figure == "shape" || given["found"] != "" && figure != "median" {
					tolerance = 1e-3
				}
			}
			if ok != (want != "") {
				t.Fatalf("got %v, %v, want %q", got, ok, want)
			}
			if want == "" {
				return
			}
			w := row.Number(t, "expected")
			if strings.HasSuffix(figure, "_day") {
				tolerance = 0
			}
			if !(math.Abs(got-w) <= tolerance*math.Abs(w)) {
				t.Errorf("got %v, want %v", got, w)
			}
		})
	}
}

// reference is a case of the table. Days are counted from a day 0.
type reference struct {
	*testing.T
	given map[string]string
}

// number is a figure of the case; ok is false where it has none.
func (c reference) number(key string) (v float64, ok bool) {
	c.Helper()
	if c.given[key] == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(c.given[key], 64)
	if err != nil {
		c.Fatal(err)
	}
	return v, true
}

var dayZero = model.NewDate(2024, 1, 1)

func (c reference) silence(figure string) (float64, bool) {
	day := func(key string) model.Date {
		n, _ := c.number(key)
		return dayZero.AddDays(int(n))
	}
	d := newDiary(c.T)
	declared := ""
	if c.given["declared"] != "" {
		declared = `,"declared_rate":` + c.given["declared"]
	}
	d.lines(`{"kind":"counter","id":"counted","name":"C","unit":"L","style":"` + c.given["style"] + `"` + declared + `}`)
	on := dayZero
	for entry := range strings.FieldsSeq(c.given["entries"]) {
		at, amount, _ := strings.Cut(entry, ":")
		n, err := strconv.Atoi(at)
		v, err2 := strconv.ParseFloat(amount, 64)
		if err != nil || err2 != nil {
			c.Fatal(err, err2)
		}
		on = dayZero.AddDays(n)
		use := model.Usage{Counter: "counted", Amount: &v}
		if c.given["style"] == "meter" {
			use = model.Usage{Counter: "counted", Meter: &v}
		}
		d.did(on.String(), use)
	}
	if from, to, ok := strings.Cut(c.given["away"], "-"); ok {
		a, _ := strconv.Atoi(from)
		b, _ := strconv.Atoi(to)
		d.did(dayZero.AddDays(a).String(), model.Away{Until: dayZero.AddDays(b + 1)})
	}
	reach, _ := c.number("reach")
	d.chore(clocks(lastsUsed("counted", max(1, reach))))
	d.tick(day("start").String(), "")
	if figure == "age_at_tick" {
		d.tick(day("tick").String(), "clean")
		v := look(d.book(), day("tick"), d.book().Chores())
		starts := v.history["job"].starts
		n := len(starts)
		by := kinds[model.ClockUsage].open(v, lastsUsed("counted", 1), starts[n-1]).(ager)
		return by.closed(starts[n-2], starts[n-1], day("tick"))
	}
	v := look(d.book(), max(on, day("start")), d.book().Chores())
	by := kinds[model.ClockUsage].open(v, lastsUsed("counted", 1), v.history["job"].present()).(*countedClock)
	n := len(by.record.entries)
	switch figure {
	case "usual_gap":
		return by.record.usualBefore(n).days(), n > 0
	case "counted_on_last_gap":
		if n == 0 {
			return 0, false
		}
		return by.record.entries[n-1].added, true
	case "rate":
		return by.perDay(), by.rate.ok
	case "used":
		return by.used(), true
	case "reached_day":
		on := by.reaches(reach)
		return float64(on.Sub(dayZero)), !on.IsZero()
	}
	c.Fatalf("no figure %q", figure)
	return 0, false
}

func (c reference) price(figure string) float64 {
	number := func(key string) float64 { v, _ := c.number(key); return v }
	stated := number("stated")
	pace, known := c.number("rate")
	weights := map[string]float64{"1": 1, "2": 3, "3": 10}
	b := belief{
		stated: stated, rule: model.Rule(c.given["rule"]), pace: rate{pace, known},
		price: Price{
			Minutes: max(1, number("minutes")+number("spares")/number("minute_value")),
			Weight:  weights[c.given["consequence"]], Care: careFactors[model.Care(c.given["care"])],
		},
	}
	b.prior, b.untaught = beliefIn(stated, b.rule)
	var lessons []lesson
	for found := range strings.FieldsSeq(c.given["found"]) {
		word, at, _ := strings.Cut(found, ":")
		age, err := strconv.ParseFloat(at, 64)
		if err != nil {
			c.Fatal(err)
		}
		lessons = append(lessons, lesson{kind: map[string]lessonKind{"clean": goodThen, "heavy": heavyThen, "failed": failedBy}[word], age: age})
	}
	var fit life.Fit
	plan, fit := b.plan(lessons)
	switch figure {
	case "shape":
		return fit.Shape
	case "median":
		return fit.Median
	case "q":
		return plan.Quantile
	case "planned":
		return plan.Age
	}
	c.Fatalf("no figure %q", figure)
	return 0
}
