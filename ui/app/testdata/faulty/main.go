// Command faulty runs the screens on the demo with a fault built in, for the tests that a
// window bears it. Its first argument says which:
//
//	update    ticking a chore panics in the event loop
//	command   ticking a chore panics beside it
//	slow      an act takes half a second to be written
//	hang      an act is never written, as on a disk that is gone
//	asleep    the clock leaps ten hours once the file named second is there, and no timer
//	          knows, as on a laptop that was shut
//
// At the end it says how many acts were written, and if slow also in the file named second.
package main

import (
	"errors"
	"fmt"
	"os"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
	"brine/wrasse/ui/app"
	"brine/wrasse/ui/session"
)

var fault = os.Args[1]

// faulty is the demo with the fault in it.
type faulty struct {
	*session.Memory
	armed, written *int
}

func (f faulty) Write(build func(*ledger.Book) ([]model.Entry, error)) (*ledger.Book, model.Seq, error) {
	switch fault {
	case "command":
		panic("a fault in a command")
	case "update":
		*f.armed = 1
	case "slow":
		time.Sleep(500 * time.Millisecond)
	case "hang":
		select {}
	}
	*f.written++
	return f.Memory.Write(build)
}

func main() {
	armed, written := 0, 0
	on, begun := model.NewDate(2026, time.November, 25), time.Now()
	now := func() time.Time {
		if armed > 0 {
			panic("a fault in the event loop")
		}
		morning := time.Date(2026, time.November, 25, 7, 30, 0, 0, time.UTC)
		if fault != "asleep" {
			return morning
		}
		evening := morning.Add(14*time.Hour + 30*time.Minute)
		if _, err := os.Stat(os.Args[2]); err == nil {
			evening = evening.Add(10 * time.Hour)
		}
		return evening.Add(time.Since(begun))
	}
	store := faulty{app.Demo(on), &armed, &written}
	err := app.New(store, app.Options{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Now: now}).Run()
	said := fmt.Sprintln("acts written:", written)
	fmt.Print(said)
	if fault == "slow" && len(os.Args) > 2 {
		err = errors.Join(err, os.WriteFile(os.Args[2], []byte(said), 0o600))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "ended by:", err)
		os.Exit(1)
	}
}
