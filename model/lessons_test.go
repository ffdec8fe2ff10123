package model

import (
	"slices"
	"testing"
)

// TestLessonsKeepAll adds lessons over several chunks: all come back, the counts and the digest are of all of them, and
// the newest failures are at hand. What was given out before stays as it was.
func TestLessonsKeepAll(t *testing.T) {
	var l Lessons
	var want, failed []Lesson
	for i := range 3*chunkLen + 5 {
		before, x := l, Lesson{LessonKind(i % 5), Date(1 + i), float64(i) + 0.1}
		if x.Kind == LessonNone {
			x = Lesson{}
		}
		digest, n := before.Digest(), before.Len()
		before.tail = slices.Clip(before.tail)
		l = before
		l.Add(x)
		want = append(want, x)
		if x.Kind == LessonFailed || x.Kind == LessonFailedAt {
			failed = append(failed, x)
		}
		if l.Digest() == digest || before.Digest() != digest || before.Len() != n {
			t.Fatalf("lesson %d: the digest of before is %v, of after %v", i, before.Digest(), l.Digest())
		}
	}
	if got := l.All(); !slices.Equal(got, want) || l.Len() != len(want) {
		t.Errorf("%d lessons come back as %v", len(want), got)
	}
	if got := l.Failures(); !slices.Equal(got, failed[len(failed)-16:]) {
		t.Errorf("failures %v", got)
	}
	if got := l.Count(LessonHeavy); got != 39 {
		t.Errorf("%d heavy, want 39", got)
	}
}
