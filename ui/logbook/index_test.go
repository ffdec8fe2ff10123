package logbook

import (
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/ui/uitest"

	"pgregory.net/rapid"
)

// Keys that come in and go leave an order as a plain sorted list of them would be.
func TestOrderIsASortedSet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var o order
		plain := map[key]bool{}
		for range rapid.IntRange(1, 6).Draw(t, "changes") {
			keys := rapid.SliceOfN(rapid.Uint64Range(0, 9000), 0, 3000)
			draw := func(label string) (out []key) {
				for _, k := range keys.Draw(t, label) {
					out = append(out, key(k))
				}
				return out
			}
			add, remove := draw("in"), draw("out")
			before := o.slice(0, o.n)
			next := o.with(add, remove)
			if !slices.Equal(o.slice(0, o.n), before) {
				t.Fatal("the order it was made of has changed")
			}
			o = next
			for _, k := range remove {
				delete(plain, k)
			}
			for _, k := range add {
				plain[k] = true
			}
		}
		var want []key
		for k := range plain {
			want = append(want, k)
		}
		slices.Sort(want)
		if got := o.slice(0, o.n); !slices.Equal(got, want) {
			t.Fatalf("%v, want %v", got, want)
		}
		for _, b := range o.blocks {
			if len(b) == 0 || len(b) > blockLen {
				t.Fatalf("a block of %d keys", len(b))
			}
		}
		for i, k := range want {
			if o.at(i) != k || o.rank(k) != i || o.rank(k+1) != i+1 || !o.has(k) {
				t.Fatalf("key %d is not found at %d", k, i)
			}
		}
		from, below := key(rapid.IntRange(0, 9000).Draw(t, "from")), key(rapid.IntRange(0, 9000).Draw(t, "below"))
		i, end := o.rank(from), max(o.rank(below), o.rank(from))
		if got := o.span(from, below); !slices.Equal(got, want[i:end]) {
			t.Fatalf("from %d to below %d: %v", from, below, got)
		}
	})
}

// However the log is read and written meanwhile, what is known of it is what a full book
// has of these entries, and in the end it is all of them; so is what a filter finds.
func TestIndexIsTheFullBooks(t *testing.T) {
	outer := t
	rapid.Check(t, func(t *rapid.T) {
		s := uitest.Kept(outer, uitest.Book(outer, start()))
		stride := model.Seq(rapid.IntRange(1, 9).Draw(t, "stride"))
		q := parseQuery(rapid.SampledFrom([]string{"ada", "lime", "amend", "struck", "clean", "2026-11 note", "20d", "..2026-11-10"}).Draw(t, "filter"), uitest.Today)
		anew := func() (*index, search) {
			return newIndex(load(t, s), stride), newSearch(q, 1)
		}
		write := func() {
			_, _, _ = s.Write(func(b *model.Book) ([]model.Entry, error) { return drawn(t, b), nil })
		}
		for range rapid.IntRange(0, 30).Draw(t, "before") {
			write()
		}
		x, search := anew()
		var looking func() []key
		look := func() {
			if looking != nil {
				search.take(part{found: looking()})
				looking = nil
			} else if search.behind(x) {
				of, rows := x, search.next(x)
				looking = func() []key {
					found, err := q.look(of, rows)
					if err != nil {
						t.Fatal(err)
					}
					return found
				}
			}
		}
		step := func() {
			if x.book != load(t, s) {
				if x = x.on(load(t, s)); x == nil {
					t.Fatal("it is taken for another book")
				}
			}
			if x.complete() {
				return
			}
			st, err := x.next()
			switch {
			case errors.Is(err, errAnew):
				x, search = anew()
				looking = nil
				return
			case err != nil:
				t.Fatal(err)
			}
			if st.redefined && st.made.top > x.top {
				search, looking = newSearch(q, 1), nil
			}
			x = st.made
			search.follow(st)
		}
		for range rapid.IntRange(1, 40).Draw(t, "doings") {
			switch rapid.IntRange(0, 5).Draw(t, "doing") {
			case 0, 1:
				write()
			case 2, 3:
				step()
			default:
				look()
			}
			compare(t, s, x)
		}
		for !x.complete() || x.book != load(t, s) || search.behind(x) {
			step()
			look()
		}
		compare(t, s, x)
		if got, want := shown(search.found), newReference(s.Full()).found(q); !slices.Equal(got, want) {
			t.Fatalf("%q finds %v, want %v", q.words, got, want)
		}
	})
}

func load(t *rapid.T, s *uitest.Store) *model.Book {
	b, err := s.Load()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// compare compares what an index knows with a full book of the same entries.
func compare(t *rapid.T, s *uitest.Store, x *index) {
	whole := s.Full()
	log, err := whole.Entries(1, x.top)
	if err != nil {
		t.Fatal(err)
	}
	entries := make([]model.Entry, len(log))
	for i, e := range log {
		entries[i] = *e
	}
	book, err := model.Fold(entries)
	if err != nil {
		return // it stopped within an act
	}
	ref := newReference(book)
	want := slices.DeleteFunc(slices.Clone(ref.seqs), func(seq model.Seq) bool { return !x.shows(seq) })
	if got := shown(x.rows); !slices.Equal(got, want) {
		t.Fatalf("from %d to %d: %v, want %v", x.floor, x.top, got, want)
	}
	struck := 0
	for _, seq := range ref.seqs {
		if seq >= x.floor && book.Struck(seq) {
			struck++
		}
	}
	if x.struck.n != struck {
		t.Fatalf("%d struck, want %d", x.struck.n, struck)
	}
	if x.top != whole.Last() || x.book.Last() != whole.Last() || x.rows.n == 0 {
		return
	}
	from := rapid.IntRange(0, x.rows.n-1).Draw(t, "prepared from")
	rows := x.rows.slice(from, min(from+20, x.rows.n))
	besides := model.Seq(rapid.IntRange(0, int(x.top)).Draw(t, "besides"))
	lines, err := x.prepare(slices.Clone(rows), []model.Seq{besides})
	if err != nil {
		t.Fatal(err)
	}
	seqs := seqsOf(rows)
	if x.shows(besides) {
		seqs = append(seqs, besides)
	}
	for _, seq := range seqs {
		e := must(book.Written(seq))
		if !x.whole() && e.Act != 0 && e.Act < x.floor {
			continue // how many of its act stand is known later
		}
		got, want := lines.of[seq].text(), ref.line(seq)
		if unmetered := strings.Replace(want, metered.FindString(want), "", 1); got != want && (x.whole() || got != unmetered) {
			t.Fatalf("entry %d:\n%s\nwant:\n%s", seq, got, want)
		}
	}
}

var metered = regexp.MustCompile("since the reading before.*\n")
