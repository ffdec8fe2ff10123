package desk

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/ui"
	"brine/wrasse/ui/act"
	"brine/wrasse/ui/keys"

	tea "github.com/charmbracelet/bubbletea"
)

// counting is a store that notes which grades were read, and can fail at it.
type counting struct {
	*Memory
	reads []string
	fail  error
}

func (c *counting) Wide() (*model.Book, error) { return c.further("wide") }

func (c *counting) Full() (*model.Book, error) { return c.further("full") }

func (c *counting) further(grade string) (*model.Book, error) {
	c.reads = append(c.reads, grade)
	if c.fail != nil {
		return nil, c.fail
	}
	return c.Load()
}

// reader is a view that needs a grade, and counts what it was told.
type reader struct {
	needs         Grade
	fresh, forgot int
}

func (r *reader) Needs() Grade            { return r.needs }
func (r *reader) Scope() keys.Scope       { return keys.Reading }
func (r *reader) TextEntry() bool         { return false }
func (r *reader) Act(keys.Action) tea.Cmd { return nil }
func (r *reader) Render(int, int) string  { return "" }

func (r *reader) Msg(msg tea.Msg) tea.Cmd {
	switch msg.(type) {
	case Fresh:
		r.fresh++
	case Forget:
		r.forgot++
	}
	return nil
}

// graded is a desk with one reader, played by hand: what commands bring is given to the
// desk, and after it the desk sees the reader.
type graded struct {
	*Desk
	t      *testing.T
	store  *counting
	reader *reader
}

// newGraded has read the book of so many readings, and nothing further.
func newGraded(t *testing.T, readings int) *graded {
	t.Helper()
	on := model.NewDate(2026, 11, 1)
	log := []model.Entry{
		model.NewEntry(on, model.BookDef{Name: "graded", Units: model.Units{Volume: "L", Temperature: "C", Pressure: "bar"}}),
		model.NewEntry(on, model.Gauge{ID: "tds", Name: "TDS", Unit: "ppm"}),
	}
	for range readings {
		log = append(log, reading(1))
	}
	for i := range log {
		log[i].Seq = model.Seq(i + 1)
	}
	book, err := model.Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	store := &counting{Memory: NewMemory(func() (*model.Book, error) { return book, nil })}
	g := &graded{Desk: New(store), t: t, store: store, reader: &reader{}}
	g.Root = ui.NewRoot(ui.Config{
		Clock: func() time.Time { return time.Date(2026, 11, 25, 7, 30, 0, 0, time.UTC) },
		Views: func(*ui.Root) []ui.View { return []ui.View{{Name: "View", Screen: g.reader}} },
	})
	g.run(g.Load())
	return g
}

func reading(v float64) model.Entry {
	return model.NewEntry(model.NewDate(2026, 11, 1), model.Reading{Gauge: "tds", Value: v})
}

// run runs a command to the end of what it leads to.
func (g *graded) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			g.run(c)
		}
	default:
		g.run(g.Msg(msg))
		g.run(g.InSight([]ui.Screen{g.reader}))
	}
}

// show has a screen that needs a grade come into sight.
func (g *graded) show(needs Grade) {
	g.reader.needs = needs
	g.run(g.InSight([]ui.Screen{g.reader}))
}

// write writes an act as this window does.
func (g *graded) write(v float64) {
	g.t.Helper()
	job := g.Job("reading", act.Read{Stamp: g.Stamp(), Readings: []model.Reading{{Gauge: "tds", Value: v}}}, nil)
	g.run(job.Done(ui.Guard(job.Op, job.Run)))
	g.run(g.InSight([]ui.Screen{g.reader}))
}

// others writes as another process does; the desk learns of it by reading.
func (g *graded) others() {
	g.t.Helper()
	_, _, err := g.store.Write(func(*model.Book) ([]model.Entry, error) { return []model.Entry{reading(5)}, nil })
	if err != nil {
		g.t.Fatal(err)
	}
	g.run(g.Load())
}

// readings tells how often which grades were read from the store.
func (g *graded) readings(want ...string) {
	g.t.Helper()
	if !slices.Equal(g.store.reads, want) {
		g.t.Errorf("read %v, want %v", g.store.reads, want)
	}
}

func TestAFurtherBookIsReadWhenAScreenNeedsIt(t *testing.T) {
	g := newGraded(t, 3)
	g.show(Brief)
	if g.Wide() != nil {
		t.Error("there is a book nobody needs")
	}
	g.readings()

	before := g.reader.fresh
	g.show(Wide)
	if g.Wide() == nil {
		t.Error("it is not read")
	}
	if g.reader.fresh != before+1 {
		t.Error("the screen was not told")
	}
	g.show(Wide)
	g.readings("wide")
}

// While a book is read, and while it is read anew, there is no second command at it.
func TestOneCommandReadsFurther(t *testing.T) {
	g := newGraded(t, 3)
	g.reader.needs = Wide
	cmd := g.InSight([]ui.Screen{g.reader})
	if again := g.InSight([]ui.Screen{g.reader}); cmd == nil || again != nil {
		t.Fatal("it is not read, or read twice at a time")
	}
	if got := strings.Join(g.Reading(40), "\n"); got != "\n  reading the log ..." {
		t.Errorf("%q", got)
	}
	g.run(cmd)
	g.readings("wide")
}

func TestAnActOfThisWindowIsAddedToWhatIsHeld(t *testing.T) {
	g := newGraded(t, 3)
	g.show(Wide)
	g.write(2)
	g.write(3)
	if g.Wide().Last() != g.Book.Last() || len(g.Wide().Readings("tds")) != 5 {
		t.Errorf("the wide book ends at %d, the desk's at %d", g.Wide().Last(), g.Book.Last())
	}
	g.readings("wide")
	// And what was written while nothing was in sight that needs it, when it is again.
	g.show(Brief)
	g.write(4)
	g.show(Wide)
	if n := len(g.Wide().Readings("tds")); n != 6 {
		t.Errorf("%d readings", n)
	}
	g.readings("wide")
}

// The book held stands until there is a newer one, also when acts come faster than it is
// renewed.
func TestActsFasterThanTheBookIsRenewed(t *testing.T) {
	g := newGraded(t, 3)
	g.show(Wide)
	held := g.Wide()
	var renew tea.Cmd
	for _, v := range []float64{2, 3, 4} {
		job := g.Job("reading", act.Read{Stamp: g.Stamp(), Readings: []model.Reading{{Gauge: "tds", Value: v}}}, nil)
		if err := job.Run(); err != nil {
			t.Fatal(err)
		}
		job.Done(nil)
		if cmd := g.InSight([]ui.Screen{g.reader}); cmd != nil {
			renew = tea.Batch(renew, cmd)
		}
		if g.Wide() != held {
			t.Error("the book held went before there was another")
		}
	}
	g.run(renew)
	if g.Wide().Last() != g.Book.Last() {
		t.Errorf("it ends at %d, the desk's at %d", g.Wide().Last(), g.Book.Last())
	}
	g.readings("wide")
}

func TestWhatOthersWriteIsReadAnew(t *testing.T) {
	g := newGraded(t, 3)
	g.show(Wide)
	g.others()
	if n := len(g.Wide().Readings("tds")); n != 4 {
		t.Errorf("%d readings", n)
	}
	g.readings("wide", "wide")
	g.write(2)
	g.others()
	g.write(3)
	if n := len(g.Wide().Readings("tds")); n != 7 {
		t.Errorf("%d readings", n)
	}
	g.readings("wide", "wide", "wide")
}

func TestALongBookIsLetGoOf(t *testing.T) {
	for _, c := range []struct {
		readings int
		gone     bool
	}{{10, false}, {lasting, true}} {
		g := newGraded(t, c.readings)
		g.show(Wide)
		g.show(Brief)
		if gone := g.Wide() == nil; gone != c.gone || (g.reader.forgot == 1) != c.gone {
			t.Errorf("%d readings: gone %v, told %d times", c.readings, gone, g.reader.forgot)
		}
		g.show(Wide)
		if g.Wide() == nil {
			t.Errorf("%d readings: it is not read again", c.readings)
		}
	}
}

// A book that can't be read is not tried over and over: once when the screen is shown,
// and again when the book has changed.
func TestAFurtherBookThatCantBeRead(t *testing.T) {
	g := newGraded(t, 3)
	g.store.fail = errors.New("page 7 is damaged")
	g.show(Wide)
	g.show(Wide)
	g.readings("wide")
	if got := g.Pending(); !strings.Contains(got, "can't be read") || !strings.Contains(got, "page 7 is damaged") {
		t.Errorf("%q", got)
	}
	g.show(Brief)
	g.show(Wide)
	g.readings("wide", "wide")
	g.store.fail = nil
	g.others()
	if g.Wide() == nil {
		t.Error("it is not tried again on another book")
	}
}

func TestAnEmptyBookIsWide(t *testing.T) {
	d := newTimed()
	run(d.Load())
	d.Msg(d.Load()())
	if d.Wide() != d.Book || d.InSight([]ui.Screen{&reader{needs: Wide}}) != nil {
		t.Error("there is something to read in an empty book")
	}
}

// A command may ask for another grade at any time: it gets the book held only while that
// will do and is not older than the desk's.
func TestReadingFurtherInACommand(t *testing.T) {
	g := newGraded(t, 3)
	for range 2 {
		if b, err := g.Further()(Wide); err != nil || b.Last() != g.Book.Last() {
			t.Errorf("%v, %v", b, err)
		}
	}
	g.readings("wide", "wide")
	g.show(Wide)
	if b, _ := g.Further()(Wide); b != g.Wide() {
		t.Error("the book held is not used")
	}
	g.readings("wide", "wide", "wide")
	if _, err := g.Further()(Full); err != nil {
		t.Error(err)
	}
	g.show(Brief)
	g.write(2)
	if b, err := g.Further()(Wide); err != nil || b.Last() != g.Book.Last() {
		t.Errorf("%v, %v", b, err)
	}
	g.readings("wide", "wide", "wide", "full", "wide")
}

func TestWhatARefusalLacks(t *testing.T) {
	for want, err := range map[Grade]error{Brief: errors.New("no such chore"), Wide: fmt.Errorf("line 3: %w", model.ErrPast), Full: fmt.Errorf("line 3: %w", model.ErrRebuild)} {
		if got := Lacks(err); got != want {
			t.Errorf("%v: %v, want %v", err, got, want)
		}
	}
	if Lacks(nil) != Brief {
		t.Error("nothing refused, something lacks")
	}
}
