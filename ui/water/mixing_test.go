package water

import (
	"math"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/station"
	"brine/wrasse/ui/uitest"
)

// lastBatch is the latest batch of the book.
func lastBatch(s *uitest.Window) model.Batch {
	all := s.Session.Book.Batches()
	return all[len(all)-1].What
}

// A batch is mixed with the low dose, measured, corrected from its own strength, and
// measured again: one batch, one count, one change of stock, all of it amended.
func TestFollowABatch(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), New, 80, 30)
	book := s.Session.Book
	salt, _ := book.SpareByRole(model.RoleSalt)
	before, batches, used := book.OnHand(salt.ID, uitest.Today), len(book.Batches()), len(book.Usages("batches"))

	s.Keys("mn")
	s.Sees("Mix a batch", "Salt into water", "unplugged", "weigh out", "by the last 8 batches", "35 g a litre", "1.0264 SG at 25/25")
	s.Clear()
	s.Keys("120<enter>")
	s.Misses("Mix a batch: water")
	got := lastBatch(s)
	if got.VolumeL != 120 || got.Salinity != nil || got.SaltG < 4500 || got.SaltG > 4750 {
		t.Fatalf("logged %+v", got)
	}
	if n := len(s.Session.Book.Usages("batches")); n != used+1 {
		t.Errorf("the counter of batches has %d entries, want %d", n, used+1)
	}

	s.Keys("m")
	s.Sees("is not measured yet", "measure it", "mix a new one")
	s.Keys("m")
	s.Sees("Measure the batch", "instrument last checked")
	s.Keys("<tab>34.1")
	s.Sees("that is 34.1 = 1.0257 SG at 25/25", "34.1 practical is 0.9 under 35.0: add", "of the same salt")
	s.Keys("<enter>")
	s.Sees("grains that have not dissolved")
	s.Keys("y<enter>")
	s.Sees("34.1 practical is 0.9 under 35.0", "of salt added", "leave it as it is")
	first := got.SaltG
	if now := lastBatch(s); now.Salinity == nil || *now.Salinity != 34.1 {
		t.Fatalf("measured as %+v", now)
	}
	s.Keys("a")
	got = lastBatch(s)
	// By its own strength the salt in it scales with S/(1 - S/f): near enough 35/34.1
	// and a hundredth more.
	want := first * (35.0 / 34.1)
	if got.Salinity != nil || math.Abs(got.SaltG-want) > 0.01*want {
		t.Fatalf("corrected to %+v, want about %.0f g and no salinity", got, want)
	}
	if n := len(s.Session.Book.Batches()); n != batches+1 {
		t.Errorf("%d batches, want %d: a correction is none", n, batches+1)
	}
	if onHand := s.Session.Book.OnHand(salt.ID, uitest.Today); math.Abs(before-onHand-got.SaltG/1000) > 1e-9 {
		t.Errorf("the shelf went down by %.4f kg for %.0f g of salt", before-onHand, got.SaltG)
	}

	s.Keys("mm<tab>35<enter>y<enter>")
	if now := lastBatch(s); now.Salinity == nil || *now.Salinity != 35 {
		t.Fatalf("measured again as %+v", now)
	}
	s.Misses("of salt added")
	s.Keys("zz") // the second measurement, then the correction
	if now := lastBatch(s); now.SaltG != first || now.Salinity == nil || *now.Salinity != 34.1 {
		t.Errorf("taken back to %+v, want %.0f g at 34.1", now, first)
	}
	if onHand := s.Session.Book.OnHand(salt.ID, uitest.Today); math.Abs(before-onHand-first/1000) > 1e-9 {
		t.Errorf("taking the correction back left the shelf at %.4f kg", onHand)
	}
}

// A batch that is too strong gets fresh water, also another amount than proposed.
func TestTooStrong(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), New, 100, 30)
	s.Keys("mn")
	s.Clear()
	s.Keys("100 L<tab><tab>")
	s.Clear()
	s.Keys("1.0264sg<enter>")
	s.Keys("mmy<tab>1.0279sg<enter>") // 1.0279 at 25/25 is 37.0
	s.Sees("over 35.0", "of fresh water added", "another amount")
	s.Keys("o")
	s.Sees("fresh water", "take out", "then add")
	s.Keys("4.5<enter>")
	if got := lastBatch(s); got.VolumeL != 104.5 || got.Salinity != nil {
		t.Errorf("corrected to %+v, want 104.5 L and no salinity", got)
	}
}

// A batch that is too strong in a full vat is swapped for fresh water; the shelf keeps
// what was poured away as used.
func TestSwap(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), New, 100, 30)
	s.Keys("mn")
	s.Clear()
	s.Keys("100 L<enter>")
	before := lastBatch(s)
	salt, _ := s.Session.Book.SpareByRole(model.RoleSalt)
	shelf := s.Session.Book.OnHand(salt.ID, uitest.Today)
	s.Keys("mmy<tab>37<enter>")
	s.Sees("over 35.0", "of it swapped for fresh water")
	s.Keys("s")
	got := lastBatch(s)
	// 1 - 35/37 of the vat is 5.4 %; by mass, and with the swap worked out from densities,
	// 5.5 % of the salt goes and the water gains about as much as the salt took room.
	if lost := 1 - got.SaltG/before.SaltG; math.Abs(lost-0.0554) > 0.0005 || got.Salinity != nil {
		t.Errorf("%.2f %% of the salt went, to %+v", 100*lost, got)
	}
	if got.VolumeL < before.VolumeL || got.VolumeL > before.VolumeL+0.5 {
		t.Errorf("%.3f L of fresh water, was %.3f", got.VolumeL, before.VolumeL)
	}
	if now := s.Session.Book.OnHand(salt.ID, uitest.Today); now != shelf {
		t.Errorf("the shelf went from %g to %g", shelf, now)
	}
	s.Keys("mmy<tab>35<enter>")
	if own, ok := station.BatchStrength(lastBatch(s)); !ok || math.Abs(own-strengthAt(t, before, 37)) > 0.002 {
		t.Errorf("its salt is %.4f strong after the swap, was %.4f", own, strengthAt(t, before, 37))
	}
	s.Keys("zz")
	if now := lastBatch(s); now.SaltG != before.SaltG || now.VolumeL != before.VolumeL {
		t.Errorf("taken back to %+v, want %+v", now, before)
	}
}

func TestSwapOfAllIsRefused(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), New, 100, 30)
	s.Keys("mn")
	s.Clear()
	s.Keys("100 L<enter>mmy<tab>37<enter>o500<tab>s<enter>")
	s.Sees("is all there is of it")
}

// strengthAt is how strong a batch's salt is when it measures a salinity.
func strengthAt(t *testing.T, b model.Batch, practical float64) float64 {
	t.Helper()
	b.Salinity = &practical
	f, ok := station.BatchStrength(b)
	if !ok {
		t.Fatalf("%+v shows no strength", b)
	}
	return f
}

func TestMixFormSaysWhatIsWrong(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), New, 100, 30)
	s.Keys("mn")
	s.Clear()
	s.Keys("lots<tab><tab>")
	s.Sees("a number is missing")
	s.Clear()
	s.Keys("1.026<enter>")
	s.Sees("looks like a specific gravity")
	s.Keys("<esc>")
	s.Sees("leave without saving?")
	s.Keys("y")
	s.Misses("Mix a batch: water")
}

// A mass far from what the batch takes is asked about once and then taken.
func TestOddSaltIsAskedAbout(t *testing.T) {
	s := uitest.Open(t, uitest.Demo(t), New, 100, 30)
	n := len(s.Session.Book.Batches())
	s.Keys("mn<tab><tab><tab><tab>16 kg<enter>")
	s.Sees("is far from the", "enter again")
	if len(s.Session.Book.Batches()) != n {
		t.Fatal("logged without asking")
	}
	s.Keys("<enter>")
	if got := lastBatch(s); got.SaltG != 16000 {
		t.Errorf("logged %+v", got)
	}
}
