package round

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/text"
	"brine/wrasse/ui/words"
)

// shown is the list laid out: its rows, and the widest of what stands in its columns. A
// list of two thousand chores is laid out when something has changed, not at every key
// and again at every frame.
type shown struct {
	of                 source
	rows               []row
	thing, verb, place int // cells
}

// source is all that the rows depend on.
type source struct {
	book    *model.Book
	round   *schedule.Round
	query   string
	byPlace bool
	open    int // a bit for each of the sections
}

// source is that of the list as it is to be shown now.
func (s *Screen) source() source {
	of := source{book: s.desk.Book, round: s.desk.Round, query: s.Query(), byPlace: s.byPlace}
	for i, sec := range sections {
		if s.open[sec.state] {
			of.open |= 1 << i
		}
	}
	return of
}

// lay lays the list out, unless it lies as it should.
func (s *Screen) lay() shown {
	of := s.source()
	if s.shown.of == of {
		return s.shown
	}
	l := shown{of: of, rows: s.made()}
	for _, r := range l.rows {
		if r.s != nil {
			l.thing = max(l.thing, text.Width(text.Clean(r.s.Component.Name)))
			l.verb = max(l.verb, text.Width(text.Clean(verb(r.s))))
			l.place = max(l.place, text.Width(text.Clean(r.s.Place.Name)))
		}
	}
	return l
}

// columns are the column widths for a list w cells wide.
func (l shown) columns(w int) columns { return layColumns(w, l.thing, l.verb, l.place) }

// rows are the lines of the list. They and what the round has to say are kept for the
// frames to come; Render, which changes nothing, calls lay.
func (s *Screen) rows() []row {
	if !s.extract.from(s.desk.Round, s.desk.Book) {
		s.extract = extractOf(s.desk.Round, s.desk.Book)
	}
	if s.Query() != "" && s.extract.texts == nil {
		s.extract.texts = s.texts()
	}
	s.shown = s.lay()
	return s.shown.rows
}

// extract is what the frames of a round have in common.
type extract struct {
	book   *model.Book
	round  *schedule.Round
	while  []schedule.Suggestion // what could be done while one does what is due
	silent []string              // the counters that nobody has logged for long
	now    schedule.Cost         // of what is late or due
	texts  []string              // of each standing what the filter looks at; nil until there is one
}

// from tells whether it was made of these.
func (x *extract) from(r *schedule.Round, b *model.Book) bool { return x.round == r && x.book == b }

func extractOf(r *schedule.Round, b *model.Book) extract {
	today := r.Today()
	return extract{book: b, round: r, while: r.WhileThere(today), silent: words.Silent(b, r.On), now: r.Cost(today...)}
}

// facts is the extract of the desk's round, which has been kept if a key or a message
// came before.
func (s *Screen) facts() extract {
	if s.extract.from(s.desk.Round, s.desk.Book) {
		return s.extract
	}
	return extractOf(s.desk.Round, s.desk.Book)
}

// texts are what the filter looks at, of each standing.
func (s *Screen) texts() []string {
	out := make([]string, len(s.desk.Round.Standings))
	for i := range out {
		out[i] = s.textOf(&s.desk.Round.Standings[i])
	}
	return out
}

func (s *Screen) textOf(st *schedule.Standing) string {
	return strings.Join([]string{st.Component.Name, st.Chore.Name, st.Place.Name, string(st.Chore.Work),
		words.When(st, s.desk.Round.On), flagged(s.desk.Book, st.Component.ID)}, " ")
}
