package longlog

import "brine/wrasse/model"

// amendable is an entry that may yet be amended.
type amendable struct {
	seq  model.Seq
	on   model.Date
	body model.Body
}

const (
	recentKept = 128  // of the latest entries
	bygoneKept = 64   // of all entries
	bygoneStep = 1000 // one in so many entries is kept for long
)

// remember keeps an entry that may be amended.
func (h *household) remember(a amendable) {
	switch b := a.body.(type) {
	case model.Tick, model.Reading, model.Stock, model.Note, model.Batch:
	case model.Usage:
		if b.Counter == pumpHours {
			return // the values of a running meter hold each other
		}
	case model.Amend:
		if !b.Strike {
			return
		}
	default:
		return
	}
	h.recent = append(h.recent, a)
	if len(h.recent) > 2*recentKept {
		h.recent = append(h.recent[:0], h.recent[recentKept:]...)
	}
	switch {
	case len(h.bygone) < bygoneKept:
		h.bygone = append(h.bygone, a)
	case h.rng.IntN(bygoneStep) == 0:
		h.bygone[h.rng.IntN(bygoneKept)] = a
	}
}

// amend strikes an entry or replaces a field of it: mostly a late one, now and then one
// from years ago. A strike that is struck again lets its entry stand.
func (h *household) amend() {
	if len(h.recent) == 0 {
		return
	}
	from := h.recent
	if h.rng.IntN(10) == 0 {
		from = h.bygone
	}
	a := pick(h, from...)
	fields := h.replaced(a)
	if fields == nil || h.rng.IntN(2) == 0 {
		h.write(model.Amend{Entry: a.seq, Strike: true})
		return
	}
	with, err := model.With(fields)
	if err != nil {
		panic(err) // texts, numbers and dates can always be written
	}
	h.write(model.Amend{Entry: a.seq, With: with})
}

// replaced is a field of an entry with another value; nil for what is only struck.
func (h *household) replaced(a amendable) map[string]any {
	if h.rng.IntN(5) == 0 {
		if _, strike := a.body.(model.Amend); !strike {
			return map[string]any{"on": max(h.first, a.on.AddDays(-1-h.rng.IntN(3))).String()}
		}
	}
	switch b := a.body.(type) {
	case model.Tick:
		if word := found(h.gear.chore(b.Chore).Work, h.rng); word != "" {
			return map[string]any{"found": word}
		}
		return map[string]any{"note": "done by lamplight", "planned": nil}
	case model.Usage:
		return map[string]any{"amount": h.around(3, 2, 0.5)}
	case model.Reading:
		return map[string]any{"value": shown(b.Value*1.1, 0.01)}
	case model.Stock:
		return map[string]any{"change": b.Change + 1}
	case model.Note:
		return map[string]any{"text": b.Text + ", as far as I remember"}
	case model.Batch:
		return map[string]any{"salinity": h.around(35, 0.5, 0.1)}
	}
	return nil
}
