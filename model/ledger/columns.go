package ledger

import (
	"brine/wrasse/model"
)

// listKind is how the events of a kind are kept: what the fold and the snapshot do with its lists.
type listKind struct {
	kind   model.Kind
	own    func(b *Book)                                           // makes the map of the lists the book's own, so that lists can be put into it
	add    func(b *Book, id model.ID, e *model.Entry, shared bool) // nil for ticks, of which more is kept than the entry says
	remove func(b *Book, id model.ID, at model.Mark) bool
	pack   func(b *Book, p *packer)
	unpack func(b *Book, u *unpacker)
}

// listOrder is the lists of a book in the order in which a snapshot has them, each with its columns. A column that is
// added or changed is another snapshotVersion.
var listOrder = []listKind{
	listsOf(model.KindTick, func(b *Book) *events[TickRecord] { return &b.ticks }, func(t *TickRecord) *Happening { return &t.Happening }, func(t *TickRecord, id model.ID) { t.Chore = id },
		words(func(t *TickRecord) *model.Found { return &t.Found }),
		yes(func(t *TickRecord) *bool { return &t.About }),
		yes(func(t *TickRecord) *bool { return &t.Assumed }),
		options(integer, func(t *TickRecord) **int { return &t.Minutes }),
		numbers(func(t *TickRecord) *model.Date { return &t.Planned }),
		numbers(func(t *TickRecord) *int { return &t.Reach }),
		options(figure, func(t *TickRecord) **float64 { return &t.Litres }),
		options(figure, func(t *TickRecord) **float64 { return &t.Offset }),
		usesColumn(func(t *TickRecord) *[]model.SpareUse { return &t.Uses }),
		texts(func(t *TickRecord) *string { return &t.Note })),
	inLists(func(b *Book) *events[Logged[model.Usage]] { return &b.usages }, func(u *Logged[model.Usage], id model.ID) { u.What.Counter = id },
		options(figure, func(u *Logged[model.Usage]) **float64 { return &u.What.Amount }),
		options(figure, func(u *Logged[model.Usage]) **float64 { return &u.What.Meter })),
	inLists(func(b *Book) *events[Logged[model.MeterReset]] { return &b.resets }, func(r *Logged[model.MeterReset], id model.ID) { r.What.Counter = id }),
	inLists(func(b *Book) *events[Logged[model.Reading]] { return &b.readings }, func(r *Logged[model.Reading], id model.ID) { r.What.Gauge = id },
		values(figure, func(r *Logged[model.Reading]) *float64 { return &r.What.Value }),
		options(figure, func(r *Logged[model.Reading]) **float64 { return &r.What.MinutesRunning })),
	inLists(func(b *Book) *events[Logged[model.Stock]] { return &b.stocks }, func(s *Logged[model.Stock], id model.ID) { s.What.Spare = id },
		values(figure, func(s *Logged[model.Stock]) *float64 { return &s.What.Change }),
		options(figure, func(s *Logged[model.Stock]) **float64 { return &s.What.Price })),
	inLists(func(b *Book) *events[Logged[model.Flag]] { return &b.flags }, func(f *Logged[model.Flag], id model.ID) { f.What.Component = id },
		words(func(f *Logged[model.Flag]) *model.FlagState { return &f.What.State }),
		words(func(f *Logged[model.Flag]) *model.Cause { return &f.What.Cause }),
		numbers(func(f *Logged[model.Flag]) *int { return &f.What.Reach }),
		options(integer, func(f *Logged[model.Flag]) **int { return &f.What.AccessMinutes }),
		texts(func(f *Logged[model.Flag]) *string { return &f.What.Note })),
	inLists(func(b *Book) *events[Logged[model.PutOff]] { return &b.putOffs }, func(d *Logged[model.PutOff], id model.ID) { d.What.Chore = id },
		numbers(func(d *Logged[model.PutOff]) *model.Date { return &d.What.Until }),
		texts(func(d *Logged[model.PutOff]) *string { return &d.What.Reason })),
	inLists(func(b *Book) *events[Logged[model.Fault]] { return &b.faults }, func(f *Logged[model.Fault], id model.ID) { f.What.Component = id },
		texts(func(f *Logged[model.Fault]) *string { return &f.What.Note })),
	inLists(func(b *Book) *events[Logged[model.Repair]] { return &b.repairs }, nil,
		numbers(func(r *Logged[model.Repair]) *model.Seq { return &r.What.Fault }),
		usesColumn(func(r *Logged[model.Repair]) *[]model.SpareUse { return &r.What.Uses }),
		texts(func(r *Logged[model.Repair]) *string { return &r.What.Note })),
	inLists(func(b *Book) *events[Logged[model.Normal]] { return &b.normals }, func(n *Logged[model.Normal], id model.ID) { n.What.Component = id }),
	inLists(func(b *Book) *events[Logged[model.Level]] { return &b.levels }, func(l *Logged[model.Level], id model.ID) { l.What.Vessel = id },
		values(figure, func(l *Logged[model.Level]) *float64 { return &l.What.Litres }),
		yes(func(l *Logged[model.Level]) *bool { return &l.What.About })),
	inLists(func(b *Book) *events[Logged[model.Draw]] { return &b.draws }, func(d *Logged[model.Draw], id model.ID) { d.What.Vessel = id },
		values(figure, func(d *Logged[model.Draw]) *float64 { return &d.What.Litres }),
		words(func(d *Logged[model.Draw]) *model.Purpose { return &d.What.For }),
		words(func(d *Logged[model.Draw]) *model.ID { return &d.What.Into })),
	inLists(func(b *Book) *events[Logged[model.Need]] { return &b.needs }, func(n *Logged[model.Need], id model.ID) { n.What.Vessel = id },
		values(figure, func(n *Logged[model.Need]) *float64 { return &n.What.Litres }),
		numbers(func(n *Logged[model.Need]) *model.Date { return &n.What.By }),
		words(func(n *Logged[model.Need]) *model.ID { return &n.What.Chore }),
		texts(func(n *Logged[model.Need]) *string { return &n.What.Note })),
	inLists(func(b *Book) *events[Logged[model.Away]] { return &b.aways }, nil,
		numbers(func(a *Logged[model.Away]) *model.Date { return &a.What.Until })),
	inLists(func(b *Book) *events[Logged[model.Batch]] { return &b.batches }, nil,
		values(figure, func(b *Logged[model.Batch]) *float64 { return &b.What.VolumeL }),
		values(figure, func(b *Logged[model.Batch]) *float64 { return &b.What.SaltG }),
		options(figure, func(b *Logged[model.Batch]) **float64 { return &b.What.Salinity }),
		options(figure, func(b *Logged[model.Batch]) **float64 { return &b.What.TemperatureC }),
		words(func(b *Logged[model.Batch]) *model.ID { return &b.What.From }),
		words(func(b *Logged[model.Batch]) *model.ID { return &b.What.Into })),
	inLists(func(b *Book) *events[Logged[model.Note]] { return &b.notes }, nil,
		words(func(n *Logged[model.Note]) *string { return &n.What.OnWhat }),
		texts(func(n *Logged[model.Note]) *string { return &n.What.Text })),
	inLists(func(b *Book) *events[Logged[model.Amend]] { return &b.amends }, nil,
		numbers(func(a *Logged[model.Amend]) *model.Seq { return &a.What.Entry }),
		yes(func(a *Logged[model.Amend]) *bool { return &a.What.Strike }),
		texts(func(a *Logged[model.Amend]) *model.Fields { return &a.What.With })),
}

// lists finds how a kind is kept.
var lists = func() map[model.Kind]listKind {
	out := make(map[model.Kind]listKind, len(listOrder))
	for _, k := range listOrder {
		out[k.kind] = k
	}
	return out
}()

// usesColumn is what events took off the shelf: mostly the same as the event before, so that it stands as one of few texts.
func usesColumn[E any](of func(*E) *[]model.SpareUse) column[E] {
	return dictionary(
		func(e *E) string {
			if len(*of(e)) == 0 {
				return "" // an empty list and none are the same
			}
			var p packer
			for _, use := range *of(e) {
				p.text(string(use.Spare))
				figure.pack(&p, use.Quantity)
			}
			return string(p.buf)
		},
		func(packed string) ([]model.SpareUse, string) {
			u := unpacker{data: packed}
			var uses []model.SpareUse
			for u.at < len(packed) {
				uses = append(uses, model.SpareUse{Spare: model.ID(u.text()), Quantity: figure.unpack(&u)})
			}
			return uses, u.wrong
		},
		func(e *E, uses []model.SpareUse) { *of(e) = uses })
}
