package schedule

import (
	"bytes"
	"encoding/hex"
	"maps"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brine/wrasse/model"
	"brine/wrasse/schedule/life"
)

// TestLearntIsUsedAgain makes a round with what another Maker learnt: nothing is fitted anew, and the round is the same.
func TestLearntIsUsedAgain(t *testing.T) {
	b, on := mixedBook(t, 40), date(t, "2023-05-01")
	first, lessons := listener()
	want := first.Make(b, on)
	learnt := first.Learnt()
	if len(lessons()) != 40 || len(learnt) <= 40 {
		t.Fatalf("%d lives fitted, want 40; %d fits told, want the lines too", len(lessons()), len(learnt))
	}
	if again := first.Learnt(); len(again) != 0 {
		t.Errorf("told twice: %v", slices.Collect(maps.Keys(again)))
	}
	kept := clone(learnt)
	second := NewMakerWith(learnt)
	second.memo.tell = func(l lesson) { t.Errorf("%s fitted anew", l.chore) }
	sameRound(t, second.Make(b, on), want)
	if anew := second.Learnt(); len(anew) != 0 {
		t.Errorf("made anew: %v", slices.Collect(maps.Keys(anew)))
	}
	if !maps.EqualFunc(kept, learnt, bytes.Equal) {
		t.Error("what was given was written to")
	}
}

func clone(m map[string][]byte) map[string][]byte {
	out := make(map[string][]byte, len(m))
	for k, v := range m {
		out[k] = slices.Clone(v)
	}
	return out
}

// TestLearntIsNeverWrong spoils what was learnt in every way a file may: of another book, under another key, of another
// length or format, or changed in what it was made from.
func TestLearntIsNeverWrong(t *testing.T) {
	b, on := mixedBook(t, 24), date(t, "2023-05-01")
	m := NewMaker()
	want := m.Make(b, on)
	learnt := m.Learnt()
	keys := slices.Sorted(maps.Keys(learnt))
	other := NewMaker()
	other.Make(mixedBook(t, 25), on)
	foreign := other.Learnt()
	for _, spoil := range []struct {
		name string
		of   func(i int, key string) []byte
	}{
		{"foreign", func(_ int, key string) []byte { return foreign[key] }},
		{"under another key", func(i int, _ string) []byte { return learnt[keys[(i+1)%len(keys)]] }},
		{"nothing", func(int, string) []byte { return nil }},
		{"too short", func(_ int, key string) []byte { return learnt[key][:len(learnt[key])-1] }},
		{"too long", func(_ int, key string) []byte { return append(slices.Clip(learnt[key]), 0) }},
		{"of another format", func(_ int, key string) []byte { return flip(learnt[key], 0) }},
		{"made from other numbers", func(i int, key string) []byte { return flip(learnt[key], 1+i%digestSize) }},
	} {
		t.Run(spoil.name, func(t *testing.T) {
			bad := map[string][]byte{}
			for i, key := range keys {
				bad[key] = spoil.of(i, key)
			}
			m := NewMakerWith(bad)
			sameRound(t, m.Make(b, on), want)
			if anew := m.Learnt(); !maps.EqualFunc(anew, learnt, bytes.Equal) {
				t.Errorf("%d fits made anew, want all %d", len(anew), len(learnt))
			}
		})
	}
}

func flip(b []byte, at int) []byte {
	out := slices.Clone(b)
	out[at] ^= 1
	return out
}

// TestAFitIsKeptInFull holds what is kept of a life to the fit itself, to the last bit.
func TestAFitIsKeptInFull(t *testing.T) {
	var lessons model.Lessons
	for i, k := range []model.LessonKind{model.LessonGood, model.LessonFailed, model.LessonHeavy, model.LessonFailedAt} {
		lessons.Add(model.Lesson{Kind: k, On: model.Date(i), Age: float64(90 - 5*i)})
	}
	of := taught{life.Around(100), 60, &lessons}
	m := newMemo(nil)
	fitted := m.fit("job", of)
	kept := newMemo(m.learnt()).fit("job", of)
	fitted.Evaluations = 0 // says what finding it took, and is not kept
	if kept != fitted || kept.Observations != 4 {
		t.Errorf("kept %+v, fitted %+v", kept, fitted)
	}
	dates := []model.Level{{Mark: model.Mark{On: 10}, Value: 1}, {Mark: model.Mark{On: 20}, Value: 1.5}, {Mark: model.Mark{On: 25}, Value: 1.4}}
	line := m.line("job", 1, dates)
	if kept := newMemo(m.learnt()).line("job", 1, dates); kept != line || kept != fitLine(dates) {
		t.Errorf("kept %+v, fitted %+v", kept, line)
	}
}

// TestDigestStaysAsItIs keeps the digest from changing unnoticed: files hold it.
func TestDigestStaysAsItIs(t *testing.T) {
	var none, some digest
	for _, v := range []float64{6, 100, 0.5, math.Copysign(0, -1), math.MaxFloat64} {
		some.number(v)
	}
	for _, c := range []struct {
		of   digest
		want string
	}{{none, "00000000000000000000000000000000"}, {some, "bd312c12f0732de6dbfee48948ab75cc"}} {
		sum := c.of.sum()
		if got := hex.EncodeToString(sum[:]); got != c.want {
			t.Errorf("got %s, want %s", got, c.want)
		}
	}
}

// TestDigestsDiffer changes one number of a sequence, or its length, or the order of two.
func TestDigestsDiffer(t *testing.T) {
	of := func(numbers []float64) [digestSize]byte {
		var d digest
		for _, v := range numbers {
			d.number(v)
		}
		return d.sum()
	}
	rapid.Check(t, func(t *rapid.T) {
		numbers := rapid.SliceOfN(rapid.Float64(), 1, 50).Draw(t, "numbers")
		whole := of(numbers)
		at := rapid.IntRange(0, len(numbers)-1).Draw(t, "at")
		for what, other := range map[string][]float64{
			"one more":    append(slices.Clone(numbers), 0),
			"one less":    numbers[:len(numbers)-1],
			"a last bit":  changed(numbers, at, func(v float64) float64 { return math.Float64frombits(math.Float64bits(v) ^ 1) }),
			"a sign":      changed(numbers, at, func(v float64) float64 { return math.Float64frombits(math.Float64bits(v) ^ 1<<63) }),
			"the reverse": reversed(numbers),
		} {
			if what == "the reverse" && slices.Equal(other, numbers) {
				continue
			}
			if got := of(other); [8]byte(got[:8]) == [8]byte(whole[:8]) || [8]byte(got[8:]) == [8]byte(whole[8:]) {
				t.Errorf("%s at %d of %v: half of the digest is the same", what, at, numbers)
			}
		}
	})
}

func changed(numbers []float64, at int, to func(float64) float64) []float64 {
	out := slices.Clone(numbers)
	out[at] = to(out[at])
	return out
}

func reversed(numbers []float64) []float64 {
	out := slices.Clone(numbers)
	slices.Reverse(out)
	return out
}
