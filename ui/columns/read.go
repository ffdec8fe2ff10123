package columns

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/parse"
)

// Asked is how a table is to be read.
type Asked struct {
	Today  model.Date
	Order  Order
	Usual  Order // the order of dates that do not make it plain; None has that asked about
	Future bool  // dates after today are meant

	Decimal Decimal
	Between rune // the cells of a row; where it is a semicolon, decimals may stand behind a comma
}

// Plan is what a table would add to a book.
type Plan struct {
	Items  []Item   // in order of date; those of one date as the table has them
	Known  int      // values that are in the book already
	Others []string // rows of kinds that hold neither a value nor a tick, counted by kind: "3 stock"

	today model.Date
}

// Item is one value or one tick of a table. What is a model.Tick, model.Usage or
// model.Reading, as the book keeps it.
type Item struct {
	Line int
	On   model.Date
	By   string
	What model.Body

	seq    model.Seq // the entry it says it is, 0 when it says none
	within float64   // how far from its value the one that was meant may lie
	wrong  error     // why it may be in the book, but not be added
}

// Read makes a plan of the rows of a table. The error is all that is wrong with it, a
// line of the table each, as errors.Join has them.
func Read(b *ledger.Book, rows []Row, asked Asked) (Plan, error) {
	if len(rows) == 0 {
		return Plan{}, errors.New("the table is empty; give lines of date, name and value")
	}
	c, headed, err := readColumns(b, rows[0], asked.Today)
	if err != nil {
		return Plan{}, err
	}
	if headed {
		rows = rows[1:]
	}
	r := reader{book: b, columns: c, asked: asked, others: map[string]int{}, names: map[string]named{}}
	r.commas = r.withCommas(rows)
	dates, err := r.dates(rows)
	if err != nil {
		return Plan{}, err
	}
	var items []Item
	var wrong []error
	for i, row := range rows {
		of, err := r.items(row, dates[i])
		if err != nil {
			wrong = append(wrong, lineError(row.Line, err))
		}
		items = append(items, of...)
	}
	added := fresh(b, items)
	for _, item := range added {
		if item.wrong != nil {
			wrong = append(wrong, lineError(item.Line, item.wrong))
		}
	}
	if len(wrong) > 0 {
		return Plan{}, errors.Join(wrong...)
	}
	slices.SortStableFunc(added, func(a, b Item) int { return int(a.On) - int(b.On) })
	return Plan{Items: added, Known: len(items) - len(added), Others: r.left(), today: asked.Today}, nil
}

type reader struct {
	book    *ledger.Book
	columns columns
	asked   Asked
	others  map[string]int // rows of kinds that are not read, by kind
	names   map[string]named
	commas  bool // decimals stand behind a comma, or may do so
}

// named is what a name was found to be, or why not.
type named struct {
	kind model.Kind
	id   model.ID
	err  error
}

func (r *reader) dates(rows []Row) ([]cellDate, error) {
	out := make([]cellDate, len(rows))
	var wrong []error
	for i, row := range rows {
		var err error
		if out[i], err = dateCell(row.Line, row.cell(r.columns.date), r.asked.Today); err != nil {
			wrong = append(wrong, lineError(row.Line, err))
		}
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	return out, settle(out, r.asked.Order, r.asked.Usual)
}

// items are what one row says: one thing, or one for each column that is filled in.
func (r *reader) items(row Row, date cellDate) ([]Item, error) {
	about := date.about || yes(row.cell(r.columns.about))
	item := Item{Line: row.Line, On: date.on, By: row.cell(r.columns.by)}
	if seq, err := strconv.ParseUint(row.cell(r.columns.seq), 10, 64); err == nil {
		item.seq = model.Seq(seq)
	}
	if date.on > r.asked.Today && !r.asked.Future {
		item.wrong = fmt.Errorf("%s is after today, %s; correct it, or add --future", date.on, r.asked.Today)
	}
	if r.columns.things == nil {
		kind, id, skip, err := r.subject(row)
		if err != nil || skip {
			return nil, err
		}
		if err := r.fill(&item, kind, id, row, row.cell(r.columns.value), row.cell(r.columns.unit), about); err != nil {
			return nil, err
		}
		return []Item{item}, nil
	}
	var out []Item
	for _, t := range r.columns.things {
		value := row.cell(t.column)
		if value == "" {
			continue
		}
		one := item
		if err := r.fill(&one, t.kind, t.id, row, value, t.unit, about); err != nil {
			return nil, fmt.Errorf("%s: %w", t.head, err)
		}
		out = append(out, one)
	}
	return out, nil
}

// subject is what a row is about. Rows of kinds that hold no value and no tick are
// skipped and counted.
func (r *reader) subject(row Row) (kind model.Kind, id model.ID, skip bool, err error) {
	name := cmp.Or(row.cell(r.columns.id), row.cell(r.columns.name))
	switch k := row.cell(r.columns.kind); k {
	case "":
	case string(model.KindTick):
		name = "chore:" + name
	case string(model.KindReading):
		name = "gauge:" + name
	case string(model.KindUsage):
		name = "counter:" + name
	default:
		if slices.Contains(model.Kinds(), model.Kind(k)) {
			r.others[k]++
			return "", "", true, nil
		}
		return "", "", false, fmt.Errorf("kind %q is not known; give tick, reading or usage, or leave it out", k)
	}
	n, seen := r.names[name]
	if !seen {
		n.kind, n.id, n.err = parse.Loggable(r.book, name)
		r.names[name] = n
	}
	return n.kind, n.id, false, n.err
}

// fill fills in what a value or a tick is as the book keeps it. A value that can't be is kept beside the reason.
func (r *reader) fill(item *Item, kind model.Kind, id model.ID, row Row, value, unit string, about bool) (err error) {
	u := r.book.Def().Units
	if about && kind != model.KindChore {
		return errors.New("only what is ticked off may have a guessed date; give the day of a value")
	}
	if kind != model.KindChore {
		if value, err = r.plain(value); err != nil {
			return err
		}
	}
	var v float64
	switch kind {
	case model.KindGauge:
		g, _ := r.book.Gauge(id)
		v, item.within, err = parse.ValueWithin(withUnit(value, unit, g.Unit, u), g, u)
		item.What = model.Reading{Gauge: id, Value: v}
	case model.KindCounter:
		c, _ := r.book.Counter(id)
		v, item.within, err = parse.UsageWithin(withUnit(value, unit, c.Unit, u), c, u)
		if c.Style == model.StyleMeter {
			item.What = model.Usage{Counter: id, Meter: &v}
		} else {
			item.What = model.Usage{Counter: id, Amount: &v}
		}
	default:
		item.What, err = r.tick(item, id, row, value, about)
	}
	if impossible := new(parse.ImpossibleError); errors.As(err, &impossible) && item.wrong == nil {
		item.wrong, err = err, nil
	}
	return err
}

func (r *reader) tick(item *Item, id model.ID, row Row, value string, about bool) (model.Body, error) {
	c, _ := r.book.Chore(id)
	if yes(value) {
		value = ""
	}
	found, err := parse.Found(value, c.Work)
	if err != nil {
		return nil, err
	}
	t := model.Tick{Chore: id, Found: found, About: about, Note: row.cell(r.columns.note)}
	if text := row.cell(r.columns.minutes); text != "" {
		n, err := parse.WholeMinutes(text)
		if err != nil {
			return nil, fmt.Errorf("minutes %w", err)
		}
		t.Minutes = &n
	}
	offset, err := r.plain(row.cell(r.columns.offset))
	if err == nil {
		t.Offset, err = parse.Offset(r.book, offset, c, found)
	}
	if err != nil && item.wrong == nil { // the check may be in the book, of an instrument that no gauge names any more
		t.Offset, item.wrong = nil, fmt.Errorf("offset: %w", err)
	}
	return t, nil
}

// withUnit puts a unit from its own column behind a value that has none. One that is
// the unit shown anyway is left out, so that units the program does not know pass.
func withUnit(value, unit, stored string, u model.Units) string {
	shown := parse.Unit(stored, u)
	if unit == "" || strings.EqualFold(unit, shown) || strings.EqualFold(unit, parse.UnitName(shown)) ||
		strings.ContainsFunc(value, func(r rune) bool { return !strings.ContainsRune("0123456789.,+-− ", r) }) {
		return value
	}
	return value + " " + unit
}

// yes tells whether a cell says no more than that it was done.
func yes(cell string) bool {
	switch strings.ToLower(cell) {
	case "x", "y", "yes", "done", "ok", "true", "✓", "✔":
		return true
	}
	return false
}

// left says how many rows of which kinds were not read.
func (r *reader) left() []string {
	var out []string
	for _, k := range model.Kinds() {
		if n := r.others[string(k)]; n > 0 {
			out = append(out, fmt.Sprintf("%d %s", n, k))
		}
	}
	return out
}
