package schedule

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
)

func TestWhichAbsence(t *testing.T) {
	for _, c := range []struct {
		name  string
		aways [][2]string // from, until
		on    string
		want  string
	}{
		{"none", nil, "2025-03-10", ""},
		{"over", [][2]string{{"2025-03-01", "2025-03-10"}}, "2025-03-10", ""},
		{"the last day of it", [][2]string{{"2025-03-01", "2025-03-11"}}, "2025-03-10", "gone 2025-03-01 2025-03-11"},
		{"the day of leaving", [][2]string{{"2025-03-10", "2025-03-17"}}, "2025-03-10", "leaving 2025-03-10 2025-03-17"},
		{"one to come", [][2]string{{"2025-03-15", "2025-03-22"}}, "2025-03-10", "leaving 2025-03-15 2025-03-22"},
		{"the next of two to come", [][2]string{{"2025-04-15", "2025-04-22"}, {"2025-03-15", "2025-03-22"}}, "2025-03-10", "leaving 2025-03-15 2025-03-22"},
		{"one that lasts before one to come", [][2]string{{"2025-03-15", "2025-03-22"}, {"2025-03-08", "2025-03-12"}}, "2025-03-10", "gone 2025-03-08 2025-03-12"},
		{"of two that last the longer", [][2]string{{"2025-03-08", "2025-03-20"}, {"2025-03-07", "2025-03-12"}}, "2025-03-10", "gone 2025-03-08 2025-03-20"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDiary(t)
			for _, a := range c.aways {
				d.did(a[0], model.Away{Until: date(t, a[1])})
			}
			r, got := d.round(c.on), ""
			if a := r.Leaving(); a != nil {
				got = fmt.Sprint("leaving ", a.From, " ", a.Until)
			}
			if a := r.Gone(); a != nil {
				got = fmt.Sprint("gone ", a.From, " ", a.Until)
			}
			if got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// leaving is a book of weekly chores on 10 March, away from 12 to 20 March: "mop" and "feed" for a sitter, the rest not.
func leaving(t testing.TB) *diary {
	d := newDiary(t)
	for i, c := range []struct {
		id     model.ID
		every  string
		sitter bool
		tick   string
	}{
		{"feed", "3d", true, "2025-03-09"},   // 12, 15, 18
		{"mop", "1w", true, "2025-03-01"},    // late since 8: on the first day, 12, and a week later, 19
		{"late", "1w", false, "2025-03-01"},  // 8
		{"soon", "1w", false, "2025-03-10"},  // 17
		{"fresh", "1w", false, "2025-03-11"}, // 18, but done the day before leaving
		{"back", "10d", false, "2025-03-10"}, // 20: they are back
		{"off", "1w", false, "2025-03-01"},   // put off till 19
		{"far", "1w", false, "2025-03-01"},   // put off till 20
	} {
		d.add(model.NewEntry(0, model.Chore{ID: c.id, Component: "part", Name: fmt.Sprint(i), Work: model.WorkTest, Minutes: 5, Consequence: 1, Sitter: c.sitter, Clocks: clocks(every(c.every))}))
		d.did(c.tick, ticked(c.id))
	}
	d.did("2025-03-10", model.PutOff{Chore: "off", Until: date(t, "2025-03-19")})
	d.did("2025-03-10", model.PutOff{Chore: "far", Until: date(t, "2025-03-20")})
	return d.did("2025-03-12", model.Away{Until: date(t, "2025-03-20")})
}

func TestBeforeYouGo(t *testing.T) {
	d := leaving(t)
	for _, on := range []string{"2025-03-11", "2025-03-12"} {
		r := d.round(on)
		var got []string
		for _, s := range r.BeforeYouGo(*r.Leaving()) {
			got = append(got, string(s.Chore.ID))
		}
		if slices.Sort(got); strings.Join(got, " ") != "late off soon" {
			t.Errorf("on %s: %v", on, got)
		}
	}
}

func TestForSitter(t *testing.T) {
	d := leaving(t)
	for on, want := range map[string]string{
		"2025-03-10": "mop 12, feed 12, feed 15, feed 18, mop 19",
		"2025-03-14": "mop 14, feed 14, feed 17", // asked when they are gone: from that day on
	} {
		var got []string
		r := d.round(on)
		for _, v := range r.ForSitter(*r.Absence) {
			got = append(got, string(v.Standing.Chore.ID)+v.On.Format(" 2"))
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("on %s: %v, want %s", on, got, want)
		}
	}
}
