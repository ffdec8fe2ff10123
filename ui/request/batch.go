package request

import (
	"errors"
	"slices"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/model/station"
)

// Measure writes what a mixed batch was measured at, into the batch itself.
type Measure struct {
	Stamp
	Batch        model.Seq
	Salinity     float64 // practical
	TemperatureC *float64
}

// Entries is one amend of the batch.
func (r Measure) Entries(b *ledger.Book) ([]model.Entry, error) {
	if _, err := batchOf(b, r.Batch); err != nil {
		return nil, err
	}
	fields := map[string]any{"salinity": r.Salinity}
	if r.TemperatureC != nil {
		fields["temperature_c"] = *r.TemperatureC
	}
	return r.amends(b, amendment{r.Batch, fields})
}

// Correct writes what was added to a mixed batch, or how much of it was replaced by fresh
// water: the batch then reads as what is left in the vat. What it was measured at before is no
// longer true of it, so the batch is unmeasured again until it has mixed.
type Correct struct {
	Stamp
	Batch  model.Seq
	SaltG  float64 // of the same dry mix
	FreshL float64
	SwapL  float64 // of the batch, replaced by as much fresh water
}

// Entries amends the batch and, where salt was added, the change of stock that was
// written with it. Salt that was poured away stays used.
func (r Correct) Entries(b *ledger.Book) ([]model.Entry, error) {
	batch, err := batchOf(b, r.Batch)
	if err != nil {
		return nil, err
	}
	if r.SwapL > 0 {
		after, err := station.AfterSwap(batch.What, r.SwapL)
		if err != nil {
			return nil, err
		}
		return r.amends(b, amendment{r.Batch, map[string]any{"salinity": nil, "salt_g": after.SaltG, "volume_l": after.VolumeL}})
	}
	if r.SaltG <= 0 && r.FreshL <= 0 {
		return nil, errors.New("nothing was added; give the salt or the fresh water that was")
	}
	fields := map[string]any{"salinity": nil}
	if r.SaltG > 0 {
		fields["salt_g"] = batch.What.SaltG + r.SaltG
	}
	if r.FreshL > 0 {
		fields["volume_l"] = batch.What.VolumeL + r.FreshL
	}
	if batch.What.Salinity == nil {
		delete(fields, "salinity")
	}
	changes := []amendment{{r.Batch, fields}}
	mixed, err := b.Act(r.Batch)
	if err != nil {
		return nil, err
	}
	if seq, change, ok := saltOf(b, mixed, r.SaltG); ok {
		changes = append(changes, amendment{seq, map[string]any{"change": change}})
	}
	return r.amends(b, changes...)
}

// amendment is the fields to replace in an entry.
type amendment struct {
	entry  model.Seq
	fields map[string]any
}

func (s Stamp) amends(b *ledger.Book, list ...amendment) ([]model.Entry, error) {
	var bodies []model.Body
	for _, a := range list {
		with, err := model.With(a.fields)
		if err != nil {
			return nil, err
		}
		bodies = append(bodies, model.Amend{Entry: a.entry, With: with})
	}
	return s.entries(bodies...), nil
}

// batchOf is a batch that can still be told from the salt of others.
func batchOf(b *ledger.Book, seq model.Seq) (ledger.Logged[model.Batch], error) {
	all := b.Batches()
	i := slices.IndexFunc(all, func(l ledger.Logged[model.Batch]) bool { return l.Seq == seq })
	if i < 0 {
		return ledger.Logged[model.Batch]{}, errors.New("that batch is not in the book any more; m mixes another")
	}
	return all[i], nil
}

// saltOf is the stock entry of a batch's act and what its change becomes when more
// salt was used; ok is false where the batch took none off the shelf.
func saltOf(b *ledger.Book, mixed []*model.Entry, moreG float64) (seq model.Seq, change float64, ok bool) {
	salt, more, ok := onTheShelf(b, moreG)
	if !ok {
		return 0, 0, false
	}
	for _, e := range mixed {
		for _, s := range b.StockChanges(salt) {
			if s.Seq == e.Seq {
				return s.Seq, s.What.Change - more, true
			}
		}
	}
	return 0, 0, false
}
