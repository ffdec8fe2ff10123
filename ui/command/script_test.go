package command_test

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/rogpeppe/go-internal/testscript"
)

// program is the program itself, compiled once for all tests of the package.
var program string

func TestMain(m *testing.M) { os.Exit(withProgram(m.Run)) }

func withProgram(run func() int) int {
	dir, err := os.MkdirTemp("", "wrasse-command")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(dir)
	program = filepath.Join(dir, "wrasse")
	build := exec.Command("go", "build", "-o", program, ".")
	build.Dir = "../.."
	if out, err := build.CombinedOutput(); err != nil {
		fmt.Fprintf(os.Stderr, "building the program: %v\n%s", err, out)
		return 1
	}
	return run()
}

// The scripts run the program as a shell would: what they see is what a person sees,
// exit codes and pipes included.
func TestScripts(t *testing.T) {
	bin := filepath.Dir(program)
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("PATH", bin+string(os.PathListSeparator)+env.Getenv("PATH"))
			env.Setenv("XDG_DATA_HOME", env.WorkDir+"/data")
			env.Setenv("XDG_CONFIG_HOME", env.WorkDir+"/config")
			env.Setenv("XDG_STATE_HOME", env.WorkDir+"/state")
			env.Setenv("TZ", "UTC")
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits,
			"plain": plain,
			"lines": lines,
			"hole":  hole,
			"full":  full,
			"gone":  gone,
		},
	})
}

// exits CODE COMMAND... runs a command and holds it to its exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code command...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var failed *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &failed) {
		got = failed.ExitCode()
	} else if err != nil {
		ts.Fatalf("running %s: %v", args[1], err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// plain holds standard output and standard error of the last command to characters that
// no terminal acts on, and that can all be seen. `plain file` also lets through what the
// rules of a file format want, carriage returns and tabs, and text as it was written.
func plain(ts *testscript.TestScript, _ bool, args []string) {
	allowed, file := "\n", len(args) == 1 && args[0] == "file"
	if file {
		allowed = "\r\n\t"
	}
	for _, stream := range []string{"stdout", "stderr"} {
		for i, r := range ts.ReadFile(stream) {
			if unicode.IsControl(r) && !strings.ContainsRune(allowed, r) || !file && unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) {
				ts.Fatalf("%s holds %U at byte %d", stream, r, i)
			}
		}
	}
}

// lines STREAM N holds a stream of the last command to a number of lines.
func lines(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: lines stream number")
	}
	if got := strconv.Itoa(strings.Count(ts.ReadFile(args[0]), "\n")); got != args[1] {
		ts.Fatalf("%s has %s lines, want %s", args[0], got, args[1])
	}
}

// hole FILE overwrites the pages behind the headers of a book's file.
func hole(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: hole file")
	}
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_RDWR, 0)
	ts.Check(err)
	defer f.Close()
	info, err := f.Stat()
	ts.Check(err)
	headers := int64(2 * os.Getpagesize())
	_, err = f.WriteAt(make([]byte, info.Size()-headers), headers)
	ts.Check(err)
}

// full COMMAND... runs a command whose output has no room, and holds it to having done its
// work: exit code 0, and one line that says what could not be printed.
func full(ts *testscript.TestScript, neg bool, args []string) {
	unheard(ts, neg, `exec "$@" >/dev/full`, args)
}

// gone COMMAND... is full of a pipe that nobody reads.
func gone(ts *testscript.TestScript, neg bool, args []string) {
	unheard(ts, neg, `mkfifo unread && exec 3<>unread 4>unread 3<&- && rm unread && exec "$@" >&4`, args)
}

func unheard(ts *testscript.TestScript, neg bool, how string, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: full command...")
	}
	ts.Check(ts.Exec("sh", append([]string{"-c", how, "sh"}, args...)...))
	if said := ts.ReadFile("stderr"); strings.Count(said, "\n") != 1 || !strings.Contains(said, "written, but could not be printed: ") {
		ts.Fatalf("%s: %s", strings.Join(args, " "), said)
	}
}
