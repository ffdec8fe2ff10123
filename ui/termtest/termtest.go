// Package termtest runs a program on a real pseudo-terminal with a terminal
// emulator behind it, so that a test sees what a person would. Only tests may
// import it: it brings an emulator and the testing package with it.
//
// Start a program, type with Send, wait for texts with WaitFor, read Lines. Every
// wait is bounded by Patience and is for something to be seen, never for time to
// pass; the program is ended when the test is.
package termtest

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
)

// Patience is the longest a wait lasts. Machines are noisy: it is only ever
// reached by a test that fails.
const Patience = 60 * time.Second

// glance is the pause between two looks at the screen.
const glance = 3 * time.Millisecond

// Options say what to run, and on what.
type Options struct {
	Bin  string   // the program; see Build
	Args []string // without the program's name
	// Env is added to a small fixed environment: PATH, HOME, TERM, LC_ALL and no other,
	// so that the tester's own settings cannot matter.
	Env  []string
	Dir  string
	W, H int  // cells; zero means 80 x 24
	Mute bool // a terminal that never answers a question
}

// Terminal is a program running on a terminal.
type Terminal struct {
	t      testing.TB
	tty    *os.File // our end of the terminal
	cmd    *exec.Cmd
	screen *vt.SafeEmulator
	ended  chan struct{} // closed once the program has ended and all is read
	answer sync.WaitGroup

	mu  sync.Mutex
	raw bytes.Buffer // everything the program has written
}

// builds holds what Build has compiled in this process, by folder.
var builds struct {
	sync.Mutex
	dir   string // where Main wants them; "" without Main
	paths map[string]string
}

// Main runs the tests of a package whose tests build the same program: Build then compiles
// each folder once, and Main removes what it made. Call it from TestMain.
func Main(m *testing.M) {
	dir, err := os.MkdirTemp("", "wrasse-built")
	if err != nil {
		panic(err)
	}
	builds.dir, builds.paths = dir, map[string]string{}
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// Build compiles the main package in dir into a temporary file and returns its path.
// Under the race detector the test is skipped: the program would run without it.
func Build(t testing.TB, dir string) string {
	t.Helper()
	if raced {
		t.Skip("the program it starts is built without the race detector")
	}
	builds.Lock()
	defer builds.Unlock()
	if path, ok := builds.paths[dir]; ok {
		return path
	}
	bin := filepath.Join(builds.dir, strconv.Itoa(len(builds.paths)))
	if builds.paths == nil {
		bin = filepath.Join(t.TempDir(), "program")
	}
	cmd := exec.Command("go", "build", "-o", bin, ".")
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("building %s: %v\n%s", dir, err, out)
	}
	if builds.paths != nil {
		builds.paths[dir] = bin
	}
	return bin
}

// Start runs a program. The test is skipped where there are no Unix terminals.
func Start(t testing.TB, o Options) *Terminal {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("needs a Unix pseudo-terminal")
	}
	if o.W == 0 || o.H == 0 {
		o.W, o.H = 80, 24
	}
	s := &Terminal{
		t: t, cmd: exec.Command(o.Bin, o.Args...),
		screen: vt.NewSafeEmulator(o.W, o.H), ended: make(chan struct{}),
	}
	s.cmd.Dir = o.Dir
	s.cmd.Env = append([]string{"PATH=" + os.Getenv("PATH"), "HOME=" + t.TempDir(), "TERM=xterm-256color", "LC_ALL=C.UTF-8"}, o.Env...)
	tty, err := pty.StartWithSize(s.cmd, size(o.W, o.H))
	if err != nil {
		t.Fatalf("starting %s on a terminal: %v", o.Bin, err)
	}
	s.tty = tty
	s.answer.Go(func() { s.answers(o.Mute) })
	go s.read()
	t.Cleanup(s.close)
	return s
}

// size is a window's size as the kernel wants it.
func size(w, h int) *pty.Winsize { return &pty.Winsize{Rows: uint16(h), Cols: uint16(w)} }

// read feeds the emulator until the program has ended.
func (s *Terminal) read() {
	defer close(s.ended)
	buf := make([]byte, 64<<10)
	for {
		n, err := s.tty.Read(buf)
		if n > 0 {
			s.mu.Lock()
			s.raw.Write(buf[:n])
			s.mu.Unlock()
			s.screen.Write(buf[:n])
		}
		if err != nil { // EIO: nobody holds the other end any more
			break
		}
	}
	_ = s.cmd.Wait() // what matters of it is in the process state
}

// answers sends back what the emulator answers to questions, or, muted, throws
// it away: it must be read in any case, or the emulator would block.
func (s *Terminal) answers(mute bool) {
	var to io.Writer = s.tty
	if mute {
		to = io.Discard
	}
	_, _ = io.Copy(to, s.screen)
}

// close ends the program, if it still runs, and gives everything back.
func (s *Terminal) close() {
	select {
	case <-s.ended:
	default:
		_ = s.cmd.Process.Kill()
		<-s.ended
	}
	_ = s.screen.InputPipe().(io.Closer).Close()
	s.answer.Wait()
	_ = s.tty.Close()
}

// named are the keys written as <name> in Send, as an xterm sends them.
var named = strings.NewReplacer(
	"<enter>", "\r", "<esc>", "\x1b", "<tab>", "\t", "<shift+tab>", "\x1b[Z", "<backspace>", "\x7f",
	"<up>", "\x1b[A", "<down>", "\x1b[B", "<right>", "\x1b[C", "<left>", "\x1b[D",
	"<home>", "\x1b[H", "<end>", "\x1b[F", "<pgup>", "\x1b[5~", "<pgdown>", "\x1b[6~",
	"<delete>", "\x1b[3~", "<f1>", "\x1bOP", "<ctrl+c>", "\x03", "<space>", " ",
)

// Send types keys, all in one write. <enter>, <esc>, <up>, <ctrl+c> and the like
// are named keys. A key after <esc> in the same write would be taken for alt:
// wait for what esc does before sending on.
func (s *Terminal) Send(keys string) {
	s.t.Helper()
	if _, err := io.WriteString(s.tty, named.Replace(keys)); err != nil {
		s.t.Fatalf("typing %q: %v", keys, err)
	}
}

// Paste sends text as a bracketed paste.
func (s *Terminal) Paste(text string) {
	s.t.Helper()
	if _, err := io.WriteString(s.tty, ansi.BracketedPasteStart+text+ansi.BracketedPasteEnd); err != nil {
		s.t.Fatalf("pasting %q: %v", text, err)
	}
}

// Resize changes the window's size and tells the program.
func (s *Terminal) Resize(w, h int) {
	s.t.Helper()
	s.screen.Resize(w, h)
	if err := pty.Setsize(s.tty, size(w, h)); err != nil {
		s.t.Fatalf("resizing to %d x %d: %v", w, h, err)
	}
}

// Signal sends the program a signal.
func (s *Terminal) Signal(sig os.Signal) {
	s.t.Helper()
	if err := s.cmd.Process.Signal(sig); err != nil {
		s.t.Fatalf("sending %v: %v", sig, err)
	}
}

// Pid is the program's process.
func (s *Terminal) Pid() int { return s.cmd.Process.Pid }

// HangUp takes the terminal away, as when its window is closed.
func (s *Terminal) HangUp() {
	s.t.Helper()
	if err := s.tty.Close(); err != nil {
		s.t.Fatalf("hanging up: %v", err)
	}
}

// Lines are the screen's lines as plain text, without the blanks at their ends.
func (s *Terminal) Lines() []string {
	lines := strings.Split(ansi.Strip(s.screen.Render()), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " \r")
	}
	for len(lines) < s.screen.Height() {
		lines = append(lines, "")
	}
	return lines
}

// Screen is Lines as one text.
func (s *Terminal) Screen() string { return strings.Join(s.Lines(), "\n") }

// Cursor is where the terminal's cursor stands, counted from 0, and whether it is shown.
func (s *Terminal) Cursor() (x, y int, shown bool) {
	at := s.screen.CursorPosition()
	return at.X, at.Y, !s.screen.CursorHidden()
}

// AltScreen reports whether the program has the whole screen to itself.
func (s *Terminal) AltScreen() bool { return s.screen.IsAltScreen() }

// Raw is everything the program has written so far, sequences included.
func (s *Terminal) Raw() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.raw.String()
}

// WaitFor waits until every text is on the screen at once.
func (s *Terminal) WaitFor(texts ...string) {
	s.t.Helper()
	s.Until("the screen shows "+strings.Join(texts, ", "), func(screen string) bool {
		for _, want := range texts {
			if !strings.Contains(screen, want) {
				return false
			}
		}
		return true
	})
}

// WaitGone waits until text is not on the screen.
func (s *Terminal) WaitGone(text string) {
	s.t.Helper()
	s.Until("the screen no longer shows "+text, func(screen string) bool { return !strings.Contains(screen, text) })
}

// Until waits for a condition of the screen's text; what says which, for the
// failure.
func (s *Terminal) Until(what string, ok func(screen string) bool) {
	s.t.Helper()
	for end := time.Now().Add(Patience); !ok(s.Screen()); time.Sleep(glance) {
		if time.Now().After(end) {
			s.t.Fatalf("waited %v until %s; the screen is\n%s", Patience, what, s.Screen())
		}
	}
}

// Wait waits until the program has ended, and returns its exit code; -1 means
// that a signal ended it.
func (s *Terminal) Wait() int {
	s.t.Helper()
	select {
	case <-s.ended:
		return s.cmd.ProcessState.ExitCode()
	case <-time.After(Patience):
		s.t.Fatalf("the program has not ended after %v; the screen is\n%s", Patience, s.Screen())
		return -1
	}
}
