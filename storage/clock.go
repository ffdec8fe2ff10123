package storage

import (
	"fmt"
	"time"

	"brine/wrasse/model/ledger"
)

// slack is how far a clock may be behind without a word: clocks are set right by minutes, and
// by an hour where one system of a machine keeps summer time and the other doesn't.
const slack = time.Hour + time.Minute

// Behind says, once, that the clock lies before the last entry of a book, as that of a machine
// whose battery is empty does; what is written by it gets a date of long ago. It is one line,
// and "" when there is nothing to say or it was said before. It must be asked outside the
// operations of this Book.
func (b *Book) Behind(book *ledger.Book) string {
	last, err := book.Written(book.Last())
	if err != nil || last == nil {
		return ""
	}
	at, err := time.Parse(time.RFC3339, last.At)
	now := b.now()
	if err != nil || !now.Add(slack).Before(at) {
		return ""
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.late {
		return ""
	}
	b.late = true
	const minute = "2006-01-02 15:04"
	return fmt.Sprintf("the clock says %s, but the last entry was written on %s; set the clock, or what is logged now gets a wrong date",
		now.Format(minute), at.In(now.Location()).Format(minute))
}
