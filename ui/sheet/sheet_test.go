package sheet

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/starter"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
	"brine/wrasse/ui/phrase"
	"brine/wrasse/ui/text"
)

var today = model.NewDate(2026, time.November, 25)

func fold(t testing.TB, entries []model.Entry) *ledger.Book {
	t.Helper()
	b, err := new(ledger.Book).Append(entries...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func demo(t testing.TB) (*schedule.Round, Sheet) {
	t.Helper()
	b := fold(t, starter.Demo(today))
	r := schedule.Make(b, today)
	return r, Make(b, r, DefaultWeeks)
}

// node is a part of a page as a parser sees it that did not write it.
type node struct {
	name  string
	class string
	attrs map[string]string
	text  string
	kids  []*node
}

func parsed(t testing.TB, page string) *node {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	root := &node{}
	stack := []*node{root}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		top := stack[len(stack)-1]
		switch v := token.(type) {
		case xml.StartElement:
			n := &node{name: v.Name.Local, attrs: map[string]string{}}
			for _, a := range v.Attr {
				n.attrs[a.Name.Local] = a.Value
			}
			n.class = n.attrs["class"]
			top.kids = append(top.kids, n)
			stack = append(stack, n)
		case xml.EndElement:
			if top.name != v.Name.Local {
				t.Fatalf("%s is ended by %s", top.name, v.Name.Local)
			}
			stack = stack[:len(stack)-1]
		case xml.CharData:
			for _, n := range stack {
				n.text += string(v)
			}
		}
	}
	if len(stack) != 1 {
		t.Fatalf("%s is not ended", stack[len(stack)-1].name)
	}
	return root
}

// all are the nodes below n of a name, and of a class where one is given.
func (n *node) all(name, class string) []*node {
	var out []*node
	for _, k := range n.kids {
		if k.name == name && (class == "" || k.class == class) {
			out = append(out, k)
		}
		out = append(out, k.all(name, class)...)
	}
	return out
}

// wallOf is the page of the round.
func wallOf(page *node) *node { return page.all("section", "")[0] }

func TestPageNeedsNothingElse(t *testing.T) {
	_, s := demo(t)
	page := s.HTML()
	for _, fetched := range []string{"<script", "<link", "<img", "<iframe", "<object", "src=", "href=", "url(", "@import", "http:", "https:", "//", "onload", "javascript"} {
		if strings.Contains(strings.ToLower(page), fetched) {
			t.Errorf("the page holds %q", fetched)
		}
	}
}

func TestPageShowsTheRound(t *testing.T) {
	r, s := demo(t)
	page := parsed(t, s.HTML())
	wall := wallOf(page)
	if got := wall.all("p", "basis")[0].text; !strings.Contains(got, "As of Wed 25 Nov 2026") || !strings.Contains(got, "Water made") || !strings.Contains(got, "L a week") {
		t.Errorf("basis: %s", got)
	}
	due := map[string]int{} // boxes by chore
	for _, v := range r.Visits() {
		on := v.On
		if d := v.Standing.Deferred; d != nil && v.Standing.State == schedule.StateDeferred {
			on = max(on, d.What.Until)
		}
		if on < today.AddDays(28) {
			due[string(v.Standing.Chore.ID)]++
		}
	}
	rows := wall.all("table", "due")[0].all("tbody", "")[0].all("tr", "")
	if len(rows) != len(due) || len(rows) < 20 {
		t.Fatalf("%d rows for %d chores due", len(rows), len(due))
	}
	letters := map[model.Work]string{model.WorkClean: "c l h f", model.WorkRenew: "c l h f", model.WorkTest: "p f", model.WorkRead: ""}
	late := 0
	for n, row := range rows {
		cells := row.all("td", "")
		if len(cells) != 5+DefaultWeeks || cells[0].text != strconv.Itoa(n+1) {
			t.Fatalf("%d cells: %s", len(cells), row.text)
		}
		id := s.Rows[n].ID
		st := r.Of(model.ID(id))
		if want := phrase.Label(fold(t, starter.Demo(today)), st); cells[2].text != want || cells[3].text != st.Place.Name {
			t.Errorf("%s: %q at %q", id, cells[2].text, cells[3].text)
		}
		boxes := row.all("span", "box")
		if len(boxes) != due[id] {
			t.Errorf("%s: %d boxes for %d days", id, len(boxes), due[id])
		}
		for _, b := range boxes {
			want := letters[st.Chore.Work]
			if id == "renew-carbon" || id == "renew-membrane" { // no eye can tell
				want = ""
			}
			if got := b.all("b", "")[0].text; got != want {
				t.Errorf("%s: letters %q", id, got)
			}
		}
		if row.class == "late" {
			late++
		}
	}
	if late != r.Counts.Late {
		t.Errorf("%d rows are late, the round has %d", late, r.Counts.Late)
	}
	if len(r.Faults) != len(wall.all("p", "broken")) || len(r.Faults) == 0 {
		t.Errorf("%d faults", len(r.Faults))
	}
}

func TestPageHasRoomToWrite(t *testing.T) {
	_, s := demo(t)
	page := parsed(t, s.HTML())
	readings := page.all("table", "readings")[0]
	if heads := readings.all("th", ""); len(heads) != 4 || heads[1].text != "TDS at the tap, ppm" {
		t.Errorf("heads of readings: %d", len(heads))
	}
	if n := len(readings.all("td", "")); n != 4*readingLines {
		t.Errorf("%d cells for readings", n)
	}
	if n := len(page.all("table", "litres")[0].all("td", "")); n != 2*litreLines {
		t.Errorf("%d cells for litres", n)
	}
	cautions := wallOf(page).all("ul", "cautions")[0].all("li", "")
	if len(cautions) < 3 || !strings.HasPrefix(cautions[0].text, "Mains: ") {
		t.Errorf("%d cautions", len(cautions))
	}
}

func TestStepsOfEachJob(t *testing.T) {
	r, s := demo(t)
	jobs := parsed(t, s.HTML()).all("section", "jobs")[0].all("article", "")
	if len(jobs) < 5 {
		t.Fatalf("%d jobs", len(jobs))
	}
	for _, j := range jobs {
		i := slices.IndexFunc(r.Standings, func(st schedule.Standing) bool {
			return strings.HasPrefix(j.text, "\n"+st.Component.Name+": "+st.Chore.Name+" ")
		})
		if i < 0 {
			t.Fatalf("no chore is called so: %s", j.text)
		}
		c := r.Standings[i].Chore
		steps := j.all("ol", "")[0].all("li", "")
		if len(steps) != len(c.Steps) || len(j.all("li", "")) != len(c.Steps)+len(c.Cautions)+1 {
			t.Errorf("%s: %d steps of %d", c.ID, len(steps), len(c.Steps))
		}
		for k, st := range c.Steps {
			want := parse.Wording(st.Text, model.Units{Volume: "L", Temperature: "C", Pressure: "bar"})
			if st.TimerMinutes > 0 {
				want += fmt.Sprintf(" (%d min)", st.TimerMinutes)
			}
			if steps[k].text != want {
				t.Errorf("%s: step %q, want %q", c.ID, steps[k].text, want)
			}
		}
	}
}

// length is a length in mm that the style sets.
func length(t *testing.T, rule string) float64 {
	t.Helper()
	m := regexp.MustCompile(rule).FindStringSubmatch(style)
	if m == nil {
		t.Fatalf("the style has no %s", rule)
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// What is read on a wall and written on with a wet hand: nothing under 8 pt, boxes and lines of 7 mm.
func TestPageIsLargeEnough(t *testing.T) {
	sizes := regexp.MustCompile(`([0-9.]+)pt`).FindAllStringSubmatch(style+sitterStyle+running(""), -1)
	if len(sizes) < 10 {
		t.Fatalf("%d sizes of type", len(sizes))
	}
	for _, size := range sizes {
		if pt, err := strconv.ParseFloat(size[1], 64); err != nil || pt < 8 {
			t.Errorf("type of %s pt (%v)", size[1], err)
		}
	}
	row := length(t, `\.due td \{ height: ([0-9.]+)mm`)
	if box := length(t, `\.box \{[^}]*height: ([0-9.]+)mm`); box < 7 || box > row-0.6 {
		t.Errorf("boxes of %.1f mm in rows of %.1f mm", box, row)
	}
	if line := length(t, `\.written td \{ height: ([0-9.]+)mm`); line < 7 {
		t.Errorf("lines of %.1f mm", line)
	}
}

// Every page but the first has a head, and every one its number.
func TestPagesAreNumbered(t *testing.T) {
	_, s := demo(t)
	for title, page := range map[string]string{s.Book + ": wall sheet, " + s.span(): s.HTML(), s.Book + ": looking after it, ": fortnight(t).HTML()} {
		for _, rule := range []string{`@top-left { font: 8pt sans-serif; white-space: nowrap; content: "` + title, `counter(page) " of " counter(pages)`} {
			if !strings.Contains(page, rule) {
				t.Errorf("%s: no %s", title, rule)
			}
		}
	}
}

// A book of gallons is told pounds.
func TestCautionsInTheUnitsOfTheBook(t *testing.T) {
	lifts := []due{{standing: &schedule.Standing{Chore: model.Chore{Hazards: []model.Hazard{model.HazardLift}}}}}
	for volume, want := range map[string]string{"L": "over a kilogram a litre", "gal": "over 8.5 lb a gallon"} {
		if got := cautions(lifts, model.Units{Volume: volume}); !strings.Contains(got[0], want) {
			t.Errorf("%s: %q", volume, got)
		}
	}
}

// The rule with the head of every page holds a name that would end it.
func TestHeadOfAPageIsNoMarkup(t *testing.T) {
	if got := running(`a"; } </style><b>\: wall sheet`); strings.Contains(got, "<") || !strings.Contains(got, `"a\"; } \3c /style>\3c b>\\: wall sheet`) {
		t.Errorf("%s", got)
	}
}

func TestNamesAreNoMarkup(t *testing.T) {
	b := fold(t, []model.Entry{
		model.NewEntry(today, model.BookDef{Name: `<script>alert("x")</script>`, Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
		model.NewEntry(today, model.Place{ID: "p", Name: "<b>Here & there"}),
		model.NewEntry(today, model.Component{ID: "c", Name: "Pump\u202e", Place: "p", Reach: 1, InService: today.AddDays(-30)}),
		model.NewEntry(today, model.Chore{ID: "x", Component: "c", Name: "</td>clean", Work: model.WorkClean, Minutes: 1, Consequence: 1,
			Clocks: []model.Clock{{Kind: model.ClockCalendar, Every: model.Span{N: 20, Unit: model.SpanDays}, Rule: model.RuleEvery}},
			Steps:  []model.Step{{Text: "<i>rinse"}}, Cautions: []string{"</ul>"}}),
	})
	s := Make(b, schedule.Make(b, today), DefaultWeeks)
	page := parsed(t, s.HTML())
	if h := page.all("h1", "")[0].text; h != `<script>alert("x")</script>` {
		t.Errorf("the book is called %q", h)
	}
	if len(page.all("script", "")) != 0 || len(page.all("tr", "late")) != 1 || !strings.Contains(page.all("tr", "late")[0].text, "Pump: </td>clean") {
		t.Errorf("a name is taken for markup:\n%s", s.HTML())
	}
	if len(s.Readings) != 0 || s.Litres != "" || len(page.all("table", "readings")) != 0 || strings.Contains(s.Text(), "____") {
		t.Error("room for readings of gauges that are not there")
	}
}

func TestEmptyRound(t *testing.T) {
	b := fold(t, []model.Entry{model.NewEntry(today, model.BookDef{Name: "New", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}})})
	for weeks := MinWeeks; weeks <= MaxWeeks; weeks++ {
		s := Make(b, schedule.Make(b, today), weeks)
		page := parsed(t, s.HTML())
		if len(page.all("th", "week")) != weeks || !strings.Contains(page.text, "Nothing is due in these weeks.") || len(page.all("section", "jobs")) != 0 {
			t.Errorf("%d weeks:\n%s", weeks, s.HTML())
		}
		if !strings.Contains(s.Text(), "nothing is due in these weeks") {
			t.Errorf("%d weeks:\n%s", weeks, s.Text())
		}
	}
}

func TestTextIsPlainAndNarrow(t *testing.T) {
	r, s := demo(t)
	out := s.Text()
	for line := range strings.SplitSeq(out, "\n") {
		if text.Width(line) > textWidth || strings.ContainsFunc(line, unicode.IsControl) {
			t.Errorf("line of %d cells: %q", text.Width(line), line)
		}
	}
	for _, want := range []string{"As of Wed 25 Nov 2026", "late, 16 Nov Carbon block: renew cartridge", "(renew-carbon) Cleaners'", "[25 Nov ___  c l h f ]",
		"BROKEN NOW: ", "TDS at the tap, ppm", "! Mains: ", "CARBON BLOCK: RENEW CARTRIDGE (renew-carbon), 15 min + 15 waiting", "  1. Close the feed"} {
		if !strings.Contains(out, want) {
			t.Errorf("the text has no %q:\n%s", want, out)
		}
	}
	boxes := 0
	for _, row := range s.Rows {
		for _, w := range row.Visits {
			boxes += len(w)
		}
	}
	if got := strings.Count(out, "["); got != boxes || boxes < r.Counts.Late {
		t.Errorf("%d boxes, want %d", got, boxes)
	}
}
