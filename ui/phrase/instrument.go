package phrase

import (
	"strings"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/schedule"
	"brine/wrasse/ui/parse"
)

// Offset is how far off an instrument was: "2 ppm too high", "0.5 °C too low".
func Offset(b *ledger.Book, by float64, unit string) string {
	if by < 0 {
		return parse.Difference(-by, unit, b.Def().Units) + " too low"
	}
	return parse.Difference(by, unit, b.Def().Units) + " too high"
}

// OffSince is what is to be known of a reading taken with an instrument that is off: "TDS meter 2 ppm too high since its check
// on 3 Nov"; "" where it is not known to be. The figures stand as they were read.
func OffSince(b *ledger.Book, g model.Gauge, at model.Mark, today model.Date) string {
	off, ok := b.Off(g, at)
	switch {
	case !ok:
		return ""
	case off.By == nil:
		return off.Instrument.Name + " failed its check on " + Day(off.Since.On, today)
	}
	return off.Instrument.Name + " " + Offset(b, *off.By, g.Unit) + " since its check on " + Day(off.Since.On, today)
}

// Failed is what follows of a check that failed and was put right by nothing since: "failed on 3 Nov, 2 ppm too high: put it
// right and check it again; nothing asks for that before 3 May". Empty of any other chore.
func Failed(b *ledger.Book, s *schedule.Standing, today model.Date) string {
	if s.Chore.Work != model.WorkTest || s.LastFound != model.FoundFailed || s.Start > s.LastTick {
		return ""
	}
	out := "failed on " + Day(s.LastTick, today)
	if gauges := b.ReadWith(s.Component.ID); len(gauges) > 0 {
		off, still := b.Off(gauges[0], model.EndOf(today))
		if !still {
			return ""
		}
		if off.By != nil {
			out += ", " + Offset(b, *off.By, gauges[0].Unit)
		}
	}
	out += ": put it right and check it again"
	if s.HasDue && s.Due > today {
		out += "; nothing asks for that before " + Day(s.Due, today)
	}
	return out
}

// OffNow is every instrument that is off, with the gauges read with it: "TDS meter 2 ppm too high since its check on 3 Nov:
// figures since of TDS at the tap, TDS after the membrane are as it showed them".
func OffNow(b *ledger.Book, on model.Date) (out []string) {
	for _, c := range b.Components() {
		gauges := b.ReadWith(c.ID)
		if len(gauges) == 0 || !c.Retired.IsZero() {
			continue
		}
		said := OffSince(b, gauges[0], model.EndOf(on), on)
		if said == "" {
			continue
		}
		var names []string
		for _, g := range gauges {
			if b.ReadSince(g.ID, on) {
				names = append(names, g.Name)
			}
		}
		if len(names) == 0 {
			out = append(out, said+": mend it before it is read again")
			continue
		}
		out = append(out, said+": figures since of "+strings.Join(names, ", ")+" are as it showed them; measure again what was judged by them")
	}
	return out
}
