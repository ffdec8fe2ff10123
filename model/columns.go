package model

// listKind is how the events of a kind are kept: what the fold and the snapshot do with its lists.
type listKind struct {
	kind   Kind
	own    func(b *Book) // makes the map of the lists the book's own, so that lists can be put into it
	remove func(b *Book, id ID, at Mark) bool
	pack   func(b *Book, p *packer)
	unpack func(b *Book, u *unpacker)
}

// listOrder is the lists of a book in the order in which a snapshot has them, each with its columns. A column that is
// added or changed is another snapshotVersion.
var listOrder = []listKind{
	listsOf(KindTick, func(b *Book) *events[TickRecord] { return &b.ticks }, (*TickRecord).header, func(t *TickRecord, id ID) { t.Chore = id },
		words(func(t *TickRecord) *Found { return &t.Found }),
		yes(func(t *TickRecord) *bool { return &t.About }),
		options(integer, func(t *TickRecord) **int { return &t.Minutes }),
		numbers(func(t *TickRecord) *Date { return &t.Planned }),
		numbers(func(t *TickRecord) *int { return &t.Reach }),
		options(figure, func(t *TickRecord) **float64 { return &t.Litres }),
		usesColumn(func(t *TickRecord) *[]SpareUse { return &t.Uses }),
		texts(func(t *TickRecord) *string { return &t.Note })),
	inLists(func(b *Book) *events[Logged[Usage]] { return &b.usages }, func(u *Logged[Usage], id ID) { u.What.Counter = id },
		options(figure, func(u *Logged[Usage]) **float64 { return &u.What.Amount }),
		options(figure, func(u *Logged[Usage]) **float64 { return &u.What.Meter })),
	inLists(func(b *Book) *events[Logged[MeterReset]] { return &b.resets }, func(r *Logged[MeterReset], id ID) { r.What.Counter = id }),
	inLists(func(b *Book) *events[Logged[Reading]] { return &b.readings }, func(r *Logged[Reading], id ID) { r.What.Gauge = id },
		values(figure, func(r *Logged[Reading]) *float64 { return &r.What.Value }),
		options(figure, func(r *Logged[Reading]) **float64 { return &r.What.MinutesRunning })),
	inLists(func(b *Book) *events[Logged[Stock]] { return &b.stocks }, func(s *Logged[Stock], id ID) { s.What.Spare = id },
		values(figure, func(s *Logged[Stock]) *float64 { return &s.What.Change }),
		options(figure, func(s *Logged[Stock]) **float64 { return &s.What.Price })),
	inLists(func(b *Book) *events[Logged[Flag]] { return &b.flags }, func(f *Logged[Flag], id ID) { f.What.Component = id },
		words(func(f *Logged[Flag]) *FlagState { return &f.What.State }),
		words(func(f *Logged[Flag]) *Cause { return &f.What.Cause }),
		numbers(func(f *Logged[Flag]) *int { return &f.What.Reach }),
		options(integer, func(f *Logged[Flag]) **int { return &f.What.AccessMinutes }),
		texts(func(f *Logged[Flag]) *string { return &f.What.Note })),
	inLists(func(b *Book) *events[Logged[PutOff]] { return &b.putOffs }, func(d *Logged[PutOff], id ID) { d.What.Chore = id },
		numbers(func(d *Logged[PutOff]) *Date { return &d.What.Until }),
		texts(func(d *Logged[PutOff]) *string { return &d.What.Reason })),
	inLists(func(b *Book) *events[Logged[Fault]] { return &b.faults }, func(f *Logged[Fault], id ID) { f.What.Component = id },
		texts(func(f *Logged[Fault]) *string { return &f.What.Note })),
	inLists(func(b *Book) *events[Logged[Repair]] { return &b.repairs }, nil,
		numbers(func(r *Logged[Repair]) *Seq { return &r.What.Fault }),
		usesColumn(func(r *Logged[Repair]) *[]SpareUse { return &r.What.Uses }),
		texts(func(r *Logged[Repair]) *string { return &r.What.Note })),
	inLists(func(b *Book) *events[Logged[Normal]] { return &b.normals }, func(n *Logged[Normal], id ID) { n.What.Component = id }),
	inLists(func(b *Book) *events[Logged[Level]] { return &b.levels }, func(l *Logged[Level], id ID) { l.What.Vessel = id },
		values(figure, func(l *Logged[Level]) *float64 { return &l.What.Litres }),
		yes(func(l *Logged[Level]) *bool { return &l.What.About })),
	inLists(func(b *Book) *events[Logged[Draw]] { return &b.draws }, func(d *Logged[Draw], id ID) { d.What.Vessel = id },
		values(figure, func(d *Logged[Draw]) *float64 { return &d.What.Litres }),
		words(func(d *Logged[Draw]) *Purpose { return &d.What.For }),
		words(func(d *Logged[Draw]) *ID { return &d.What.Into })),
	inLists(func(b *Book) *events[Logged[Need]] { return &b.needs }, func(n *Logged[Need], id ID) { n.What.Vessel = id },
		values(figure, func(n *Logged[Need]) *float64 { return &n.What.Litres }),
		numbers(func(n *Logged[Need]) *Date { return &n.What.By }),
		words(func(n *Logged[Need]) *ID { return &n.What.Chore }),
		texts(func(n *Logged[Need]) *string { return &n.What.Note })),
	inLists(func(b *Book) *events[Logged[Away]] { return &b.aways }, nil,
		numbers(func(a *Logged[Away]) *Date { return &a.What.Until })),
	inLists(func(b *Book) *events[Logged[Batch]] { return &b.batches }, nil,
		values(figure, func(b *Logged[Batch]) *float64 { return &b.What.VolumeL }),
		values(figure, func(b *Logged[Batch]) *float64 { return &b.What.SaltG }),
		options(figure, func(b *Logged[Batch]) **float64 { return &b.What.Salinity }),
		options(figure, func(b *Logged[Batch]) **float64 { return &b.What.TemperatureC }),
		words(func(b *Logged[Batch]) *ID { return &b.What.From }),
		words(func(b *Logged[Batch]) *ID { return &b.What.Into })),
	inLists(func(b *Book) *events[Logged[Note]] { return &b.notes }, nil,
		words(func(n *Logged[Note]) *string { return &n.What.OnWhat }),
		texts(func(n *Logged[Note]) *string { return &n.What.Text })),
	inLists(func(b *Book) *events[Logged[Amend]] { return &b.amends }, nil,
		numbers(func(a *Logged[Amend]) *Seq { return &a.What.Entry }),
		yes(func(a *Logged[Amend]) *bool { return &a.What.Strike }),
		texts(func(a *Logged[Amend]) *Fields { return &a.What.With })),
}

// lists finds how a kind is kept.
var lists = func() map[Kind]listKind {
	out := make(map[Kind]listKind, len(listOrder))
	for _, k := range listOrder {
		out[k.kind] = k
	}
	return out
}()

// usesColumn is what events took off the shelf: mostly the same as the event before, so that it stands as one of few texts.
func usesColumn[E any](of func(*E) *[]SpareUse) column[E] {
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
		func(packed string) ([]SpareUse, string) {
			u := unpacker{data: packed}
			var uses []SpareUse
			for u.at < len(packed) {
				uses = append(uses, SpareUse{ID(u.text()), figure.unpack(&u)})
			}
			return uses, u.wrong
		},
		func(e *E, uses []SpareUse) { *of(e) = uses })
}
