package command

import (
	"path/filepath"

	"github.com/adrg/xdg"
)

// path is where the book is: --book, else $WRASSE_BOOK, else the data folder.
func (p *program) path() string {
	if p.book != "" {
		return p.book
	}
	if path := p.Getenv("WRASSE_BOOK"); path != "" {
		return path
	}
	return p.defaultBook()
}

// defaultBook is the book in the data folder of the desktop's base directories; a
// relative $XDG_DATA_HOME is ignored, as their specification says.
func (p *program) defaultBook() string {
	data := p.Getenv("XDG_DATA_HOME")
	if !filepath.IsAbs(data) {
		data = xdg.DataHome
	}
	return filepath.Join(data, "wrasse", "book.db")
}
