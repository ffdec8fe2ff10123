package app

import (
	"regexp"
	"strings"
	"testing"

	"brine/wrasse/model"
)

// plainly runs the program on the demo book in plain words.
func plainly(t *testing.T, w, h int) *window {
	t.Helper()
	return openWith(t, Demo(model.NewDate(2026, 11, 25)), w, h, Options{Plain: true})
}

// drawn is what only the eye can read: box drawing, braille, bars, rules, dots between
// words, and gaps that make columns.
// Nor are units cut short.
var drawn = regexp.MustCompile("[\u2500-\u259f\u2800-\u28ff~|·]|---|\\S   +\\S|\\b[0-9]+ (d|h|min|pc|L/h|°C|%|L)\\b")

// ways are the places a keeper goes to, by the keys that lead there from the round.
var ways = map[string][]string{
	"the round": nil, "all that is ahead": {"end", "right"}, "by place": {"g"}, "a filter": {"/", "pump"},
	"a chore": {"enter"}, "marked as one job": {" ", " ", "enter"}, "the time box": {"t"}, "the year ahead": {"y"}, "the year behind": {"y", "left"},
	"the keys": {"?"}, "a tick": {"d"}, "a tick in full": {"D"}, "a flag": {"f"}, "a fault": {"b"}, "litres": {"u"}, "readings": {"r"}, "putting off": {"p"}, "away": {"a"}, "reach": {"G"},
	"water": {"2"}, "water over a year": {"2", "s", "s"}, "the readings in full": {"2", "w"}, "a batch": {"2", "m"},
	"gear": {"3"}, "gear unfolded": {"3", "down", "right"}, "a component": {"3", "down", "enter"}, "a definition": {"3", "down", "right", "down", "enter"}, "more gear": {"3", "a"},
	"shelf": {"4"}, "a spare": {"4", "enter"}, "a spare edited": {"4", "e"},
	"what was seen": {"2", "o"}, "a correction": {"2", "m", "t"}, "a part edited": {"3", "down", "e"}, "a new vessel": {"3", "a", "v"}, "a state": {"5", "s"},
	"a search of the keys": {"?", "/"}, "several ticks": {" ", " ", "d"}, "a step edited": {"3", "down", "right", "down", "enter", "down", "e"},
	"rethink": {"5"}, "a placing": {"5", "enter"}, "a rebuilt placing": {"5", "end", "enter"}, "an idea": {"5", "e"},
	"log": {"6"}, "an entry": {"6", "enter"}, "an entry amended": {"6", "e"}, "an entry struck": {"6", "x"},
}

func TestPlainIsWordsOnly(t *testing.T) {
	for name, keys := range ways {
		t.Run(name, func(t *testing.T) {
			p := plainly(t, 80, 24)
			p.keys(keys...)
			p.exact()
			marks := 0
			for line := range strings.SplitSeq(p.Screen(), "\n") {
				if bad := drawn.FindString(line); bad != "" {
					t.Errorf("%q is drawn, not said: %q", bad, line)
				}
				if strings.HasPrefix(line, ">") {
					marks++
				}
				if i := strings.Index(line, "> "); i > 0 && strings.TrimSpace(line[:i]) == "" {
					t.Errorf("the mark does not stand in the first column: %q", line)
				}
			}
			if marks > 2 { // the list's and the question's over it
				t.Errorf("%d marks:\n%s", marks, p.Screen())
			}
		})
	}
}

// A move changes the lines of the two rows it is about and no other, and says nothing.
func TestPlainMoveChangesTwoRows(t *testing.T) {
	for _, view := range []string{"1", "3", "4", "5", "6"} {
		p := plainly(t, 120, 40)
		p.keys(view)
		before := strings.Split(p.Screen(), "\n")
		p.keys("down")
		changed := 0
		for i, line := range strings.Split(p.Screen(), "\n") {
			if line != before[i] {
				changed++
			}
		}
		if changed != 2 {
			t.Errorf("view %s: a move changes %d lines:\n%s", view, changed, p.Screen())
		}
	}
}

func TestPlainAnnouncesOnOneLine(t *testing.T) {
	p := plainly(t, 120, 40)
	p.Sees("> DI resin, renew resin: 3 days past limit, reach 3, 15 minutes and 25 waiting, ")
	p.keys("d", "f")
	p.Sees("ticked DI resin: renew resin, found spent; now 1 broken, 2 late, 1 today, z takes it back")
	p.keys("z")
	p.Sees("took back: ticked DI resin: renew resin, found spent; now 1 broken, 1 past limit, 2 late, 1 today, Z does it again")
	p.keys(" ")
	p.Sees("marked: Carbon block")
	p.keys("2", "s", "s")
	p.Sees("charts over all there is")
	for range 100 {
		if strings.Contains(p.Screen(), "Resin renewed ") {
			break
		}
		p.keys("down")
	}
	p.Sees("TDS, ppm, resin: 0 0 1 2 3 in 5 values, rising", "TDS, ppm: change at 1", "Resin renewed ")
}

func TestPlainCountdownIsStill(t *testing.T) {
	p := plainly(t, 120, 40)
	p.keys("j", "j", "enter", "down", "down", "down", "s")
	p.Sees("until 08:15")
	before := p.Screen()
	p.Pass(1e9)
	if p.Screen() != before {
		t.Errorf("a second changes the screen:\n%s", p.Screen())
	}
}
