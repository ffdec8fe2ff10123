package app

import (
	"os"

	"brine/wrasse/ui"

	"github.com/charmbracelet/x/ansi"
)

// pointing is the terminal as it is drawn on in plain words: after every frame its cursor
// is shown where a screen reader, which follows the cursor, should read. The framework
// hides the cursor and leaves it in the last line. A frame of its begins at the top left
// corner, wherever the cursor is, so nothing has to be put back; what it writes beside
// frames goes by WriteString, and past pointing.
type pointing struct {
	*os.File
	at func() ui.Spot
}

// Write writes a frame.
func (p *pointing) Write(frame []byte) (int, error) {
	at := p.at()
	_, err := p.File.Write(append(append([]byte(nil), frame...), ansi.CursorPosition(at.X+1, at.Y+1)+ansi.ShowCursor...))
	if err != nil {
		return 0, err
	}
	return len(frame), nil
}
