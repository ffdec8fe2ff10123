package water

import (
	"testing"

	"brine/wrasse/ui/stage"
)

func TestLook(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 50}, {60, 16}} {
		s := stage.Open(t, stage.Demo(t), New, size[0], size[1])
		t.Log("\n" + s.Screen())
	}
}
