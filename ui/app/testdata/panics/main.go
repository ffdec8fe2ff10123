// Command panics runs the screens with a fault built in, for the test that a terminal
// is given back all the same. Its argument says where: in "update", in the event loop,
// or in a "command", beside it. Ticking a chore sets it off.
package main

import (
	"fmt"
	"os"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/ui/app"
	"brine/wrasse/ui/desk"
)

// faulty is the demo with the fault in it.
type faulty struct {
	*desk.Memory
	where string
	armed *bool
}

func (f faulty) Write(build func(*model.Book) ([]model.Entry, error)) (*model.Book, model.Seq, error) {
	if f.where == "command" {
		panic("a fault in a command")
	}
	*f.armed = true
	return f.Memory.Write(build)
}

func main() {
	armed := false
	on := model.NewDate(2026, time.November, 25)
	now := func() time.Time {
		if armed {
			panic("a fault in the event loop")
		}
		return time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC)
	}
	store := faulty{app.Demo(on), os.Args[1], &armed}
	err := app.New(store, app.Options{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Now: now}).Run()
	if err != nil {
		fmt.Fprintln(os.Stderr, "ended by:", err)
		os.Exit(1)
	}
}
