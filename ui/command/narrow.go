package command

import (
	"io"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"brine/wrasse/ui/text"
)

// narrow is a standard output of so many columns, where $COLUMNS or the terminal says so, or
// one for those who hear it: tables are made to fit where they know how, other lines are folded;
// in plain words a row is a sentence. JSON, CSV and calendars go through as they are.
type narrow struct {
	io.Writer
	columns int // 0: as many as it takes
	plain   bool
}

// spoken is an output in plain words.
func spoken(w io.Writer) io.Writer {
	n, ok := w.(narrow)
	if !ok {
		n.Writer = w
	}
	n.plain = true
	return n
}

// The fewest columns that are heeded, and how far a folded line goes on to the right.
const (
	minColumns = 20
	hanging    = 6
)

// inColumns is stdout with the columns that $COLUMNS gives, else with those of the terminal,
// if there is one.
func inColumns(stdout io.Writer, columns string, terminal int) io.Writer {
	n, err := strconv.Atoi(columns)
	if err != nil || n < minColumns {
		n = terminal
	}
	if n < minColumns {
		return stdout
	}
	return narrow{Writer: stdout, columns: n}
}

// fold breaks a line at spaces where it can. What it breaks off hangs below.
func (n narrow) fold(line string) []string {
	var out []string
	for n.columns > 0 && text.Width(line) > n.columns {
		head := ansi.Truncate(line, n.columns, "")
		if at := strings.LastIndexByte(head, ' '); at > hanging && line[len(head)] != ' ' {
			head = head[:at]
		}
		out = append(out, strings.TrimRight(head, " "))
		line = strings.Repeat(" ", hanging) + strings.TrimLeft(line[len(head):], " ")
	}
	return append(out, line)
}
