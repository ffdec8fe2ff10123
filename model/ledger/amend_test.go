package ledger

import (
	"strings"
	"testing"

	"brine/wrasse/model"
)

const (
	noteSeq  = model.Seq(13) // the entry after those of start
	firstDay = "2024-01-05"
)

// amended is the start book with one more entry and amends of it.
func amended(t *testing.T, first model.Body, amends ...model.Amend) (*Book, error) {
	t.Helper()
	log := append(start(), model.NewEntry(date(t, firstDay), first))
	for _, a := range amends {
		log = append(log, model.NewEntry(0, a))
	}
	return Fold(inOrder(log))
}

func strike(seq model.Seq) model.Amend { return model.Amend{Entry: seq, Strike: true} }

func with(seq model.Seq, fields string) model.Amend {
	return model.Amend{Entry: seq, With: model.Fields(fields)}
}

// Of several amends of one entry that stand, a strike wins; otherwise they apply in
// order of writing. Amending an amend changes what it does.
func TestAmends(t *testing.T) {
	for _, c := range []struct {
		name   string
		amends []model.Amend // seqs 14, 15 and so on
		want   string        // text and date of the note, "" when struck
	}{
		{"none", nil, "a 2024-01-05"},
		{"text", []model.Amend{with(13, `{"text":"b"}`)}, "b 2024-01-05"},
		{"date", []model.Amend{with(13, `{"on":"2024-02-01"}`)}, "a 2024-02-01"},
		{"two fields in two amends", []model.Amend{with(13, `{"text":"b"}`), with(13, `{"on":"2024-02-01"}`)}, "b 2024-02-01"},
		{"the later one wins", []model.Amend{with(13, `{"text":"b"}`), with(13, `{"text":"c"}`)}, "c 2024-01-05"},
		{"struck", []model.Amend{strike(13)}, ""},
		{"struck twice", []model.Amend{strike(13), strike(13)}, ""},
		{"a strike wins over a later with", []model.Amend{strike(13), with(13, `{"text":"b"}`)}, ""},
		{"undone", []model.Amend{strike(13), strike(14)}, "a 2024-01-05"},
		{"undone and redone", []model.Amend{strike(13), strike(14), strike(15)}, ""},
		{"one of two strikes undone", []model.Amend{strike(13), strike(13), strike(14)}, ""},
		{"the later amend taken back", []model.Amend{with(13, `{"text":"b"}`), with(13, `{"text":"c"}`), strike(15)}, "b 2024-01-05"},
		{"an amend amended", []model.Amend{with(13, `{"text":"b"}`), with(14, `{"with":{"text":"c"}}`)}, "c 2024-01-05"},
		{"an amend turned into a strike", []model.Amend{with(13, `{"text":"b"}`), with(14, `{"with":null,"strike":true}`)}, ""},
		{"a strike turned on another entry", []model.Amend{strike(13), with(14, `{"entry":12}`)}, "a 2024-01-05"},
		{"the amend of an amend taken back", []model.Amend{with(13, `{"text":"b"}`), with(14, `{"with":{"text":"c"}}`), strike(15)}, "b 2024-01-05"},
		{"an optional field removed", []model.Amend{with(13, `{"on_what":null}`)}, "a 2024-01-05"},
	} {
		t.Run(c.name, func(t *testing.T) {
			book, err := amended(t, model.Note{Text: "a", OnWhat: "pump"}, c.amends...)
			if err != nil {
				t.Fatal(err)
			}
			got := ""
			for _, n := range book.Notes() {
				got = n.What.Text + " " + n.On.String()
			}
			if got != c.want {
				t.Errorf("reads %q, want %q", got, c.want)
			}
			if e := must(book.Written(noteSeq)); e.On.String() != firstDay || e.Body.(model.Note).Text != "a" {
				t.Error("the entry itself was changed")
			}
			if read := book.Reads(noteSeq); (read == nil) != (c.want == "") || book.Struck(noteSeq) != (c.want == "") {
				t.Errorf("Reads %v, Struck %v", read, book.Struck(noteSeq))
			}
		})
	}
}

func TestRefusedAmends(t *testing.T) {
	for _, c := range []struct {
		name   string
		amends []model.Amend
		want   string
	}{
		{"of itself", []model.Amend{strike(14)}, "entry 14: entry:"},
		{"of a later entry", []model.Amend{strike(15), strike(13)}, "entry 14: entry:"},
		{"the kind", []model.Amend{with(13, `{"kind":"tick"}`)}, "kind"},
		{"the seq", []model.Amend{with(13, `{"seq":3}`)}, "seq"},
		{"at", []model.Amend{with(13, `{"at":"2026-01-01T00:00:00Z"}`)}, "at"},
		{"the act", []model.Amend{with(13, `{"act":3}`)}, "act"},
		{"a field of another kind", []model.Amend{with(13, `{"amount":3}`)}, "entry 13: as amended: amount"},
		{"a required field removed", []model.Amend{with(13, `{"text":null}`)}, "entry 13: as amended: text is missing"},
		{"a bad value", []model.Amend{with(13, `{"on":"2024-02-30"}`)}, "2024-02-30"},
		{"a reference left dangling by a strike", []model.Amend{strike(4)}, "pump"},
		{"a reference made dangling", []model.Amend{with(13, `{"on_what":"nothing"}`)}, "on_what"},
		{"an amend moved onto itself", []model.Amend{with(13, `{"text":"b"}`), with(14, `{"entry":14}`)}, "entry 14"},
		{"nothing", []model.Amend{with(13, `{}`)}, "at least one field"},
	} {
		t.Run(c.name, func(t *testing.T) {
			book, err := amended(t, model.Note{Text: "a", OnWhat: "pump"}, c.amends...)
			if err == nil {
				t.Fatal("accepted")
			}
			if book != nil || !strings.Contains(err.Error(), c.want) || strings.ContainsRune(err.Error(), '\n') {
				t.Errorf("got %q, want one line with %q", err, c.want)
			}
		})
	}
}

// A meter that falls once a reset is struck, or once a value is moved, is refused.
func TestAmendsAreValidatedAsTheyRead(t *testing.T) {
	meter := func(on string, v float64) model.Entry {
		return model.NewEntry(date(t, on), model.Usage{Counter: "hours", Meter: &v})
	}
	book := bookOf(append(start(), meter("2024-01-05", 100), model.NewEntry(date(t, "2024-01-06"), model.MeterReset{Counter: "hours"}), meter("2024-01-07", 5))...)
	for name, a := range map[string]model.Amend{
		"the reset struck":         strike(14),
		"the low value moved":      with(15, `{"on":"2024-01-05"}`),
		"the high value moved":     with(13, `{"on":"2024-01-06","meter":1}`),
		"the reset moved to later": with(14, `{"on":"2024-01-08"}`),
	} {
		e := model.NewEntry(0, a)
		e.Seq = 16
		next, err := book.Extend([]model.Entry{e})
		if name == "the high value moved" { // on the day of the reset but written before it: still in order
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if err == nil || next != nil || !strings.Contains(err.Error(), "meter") {
			t.Errorf("%s: got %v", name, err)
		}
	}
}
