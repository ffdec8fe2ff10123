package app

import (
	"io"
	"os"
	"os/signal"
	"slices"

	tea "github.com/charmbracelet/bubbletea"
)

// suspend is the message that the program is to stop until it is continued.
type suspend struct{}

// asked is what a keeper's ctrl+z asks for: nothing where no shell would take over, as
// nobody could then continue the program.
func asked() tea.Msg {
	if !hasShell() {
		return nil
	}
	return suspend{}
}

// heed makes an ordinary end of the signals that end a program, so that the terminal is
// given back and everything is written, and a suspension of the one that suspends it. The
// function it returns ends that.
func heed(p *tea.Program) (stop func()) {
	got, done := make(chan os.Signal, 8), make(chan struct{})
	signal.Notify(got, append(suspending, ending...)...)
	go func() {
		for {
			select {
			case s := <-got:
				if slices.Contains(suspending, s) {
					p.Send(suspend{})
				} else {
					p.Quit()
				}
			case <-done:
				return
			}
		}
	}()
	return func() {
		signal.Stop(got)
		close(done)
	}
}

// stopped is the program while it is suspended, run by the framework in place of another
// program that is lent the terminal.
type stopped struct{}

func (stopped) Run() error { return stop() }

func (stopped) SetStdin(io.Reader)  {}
func (stopped) SetStdout(io.Writer) {}
func (stopped) SetStderr(io.Writer) {}
