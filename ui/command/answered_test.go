package command_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/longlog"
	"brine/wrasse/ui/command"
	"brine/wrasse/ui/stage"
)

// counted is a store that counts how often it is read, and has whatever stamp it is given.
type counted struct {
	whole
	stamp string
	loads int
	fails error
}

func (c *counted) Stamp() string { return c.stamp }

func (c *counted) Load() (*model.Book, error) {
	c.loads++
	return c.book, c.fails
}

// answers remembers the latest answer to each question.
type answers map[string][2]string

func (a answers) Get(question, of string) ([]byte, bool) {
	known, ok := a[question]
	return []byte(known[1]), ok && known[0] == of
}

func (a answers) Put(question, of string, answer []byte) { a[question] = [2]string{of, string(answer)} }

func (answers) Path() string { return "" }

// A round is worked out again when anything changed that it was made of, and not before.
func TestRoundIsRemembered(t *testing.T) {
	store := &counted{whole: whole{stage.Book(t, slices.Collect(longlog.Household(3, 600, model.DateOf(at))))}, stamp: "a"}
	known, build, columns, now := answers{}, "one", "", at
	ask := func(args ...string) string {
		t.Helper()
		var stdout, stderr bytes.Buffer
		code := command.Run(command.Env{
			Stdin: strings.NewReader(""), Stdout: &stdout, Stderr: &stderr,
			Getenv:  func(name string) string { return map[string]string{"COLUMNS": columns}[name] },
			Now:     func() time.Time { return now },
			Open:    func(string) command.Store { return store },
			Build:   func() string { return build },
			Answers: known,
		}, append([]string{"round", "--no-config"}, args...))
		return fmt.Sprintf("%s%sexit code %d", &stdout, &stderr, code)
	}
	for _, c := range []struct {
		what   string
		change func()
		args   []string
		read   bool
	}{
		{what: "the first time", read: true},
		{what: "again"},
		{what: "as JSON", args: []string{"--json"}, read: true},
		{what: "as JSON again", args: []string{"--json"}},
		{what: "all of it", args: []string{"--all"}, read: true},
		{what: "plainly", args: []string{"--plain"}, read: true},
		{what: "as at first"},
		{what: "of a file that was written", change: func() { store.stamp = "b" }, read: true},
		{what: "of it again"},
		{what: "by another program", change: func() { build = "two" }, read: true},
		{what: "in another width", change: func() { columns = "60" }, read: true},
		{what: "in that width again"},
		{what: "of another book", args: []string{"--book", "other.db"}, read: true},
		{what: "of the first again"},
		{what: "on the next day", change: func() { now = now.AddDate(0, 0, 1) }, read: true},
		{what: "of a date that is said", args: []string{"--on", "2d"}, read: true},
		{what: "of it again", args: []string{"--on", "2d"}},
		{what: "of another one", args: []string{"--on", "3d"}, read: true},
		{what: "of today again"},
		{what: "with minutes", args: []string{"--minutes", "20"}, read: true},
		{what: "of a file that can't be told from others", change: func() { store.stamp = "" }, read: true},
		{what: "of it again", read: true},
		{what: "of a file that can't be read", change: func() { store.stamp, store.fails = "c", errors.New("unreadable") }, read: true},
		{what: "of it again", read: true},
		{what: "once it can be read", change: func() { store.fails = nil }, read: true},
		{what: "of it again"},
	} {
		if c.change != nil {
			c.change()
		}
		before := store.loads
		got := ask(c.args...)
		if read := store.loads > before; read != c.read {
			t.Errorf("%s: book read %t, want %t", c.what, read, c.read)
		}
		keep := known
		known = answers{}
		if want := ask(c.args...); got != want {
			t.Errorf("%s:\n%s\ninstead of\n%s", c.what, got, want)
		}
		known = keep
	}
}

// What the program remembers in its folder is never seen in what it says, whatever is done to the book.
func TestRememberedRoundsAreRight(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "reef.db")
	if err := os.WriteFile(filepath.Join(dir, "no-folder"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(cache string, args ...string) string {
		t.Helper()
		cmd := exec.Command(program, append(args, "--no-config", "--book", book)...)
		cmd.Env = []string{"HOME=" + dir, "TZ=UTC", "XDG_CACHE_HOME=" + filepath.Join(dir, cache)}
		out, err := cmd.CombinedOutput()
		var exit *exec.ExitError
		if err != nil && !errors.As(err, &exit) {
			t.Fatal(err)
		}
		return fmt.Sprintf("%s%v", out, err)
	}
	do := func(args ...string) {
		t.Helper()
		if got := run("no-folder", args...); !strings.HasSuffix(got, "<nil>") {
			t.Fatalf("wrasse %s: %s", strings.Join(args, " "), got)
		}
	}
	copied := func(from, to string) {
		t.Helper()
		data, err := os.ReadFile(from)
		if err == nil {
			err = os.WriteFile(to, data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	asked := 0
	agree := func() {
		t.Helper()
		for _, args := range [][]string{{"round"}, {"round", "--json"}, {"round", "--all", "--plain"}} {
			want := run("no-folder", args...)
			for range 2 {
				if got := run("cache", args...); got != want {
					t.Fatalf("%s, asked %d times:\n%s\ninstead of\n%s", strings.Join(args, " "), asked, got, want)
				}
			}
		}
		asked++
	}
	agree() // there is no book
	household := stage.Book(t, slices.Collect(longlog.Household(5, 900, model.DateOf(time.Now()))))
	log := filepath.Join(dir, "reef.jsonl")
	lines := bytes.NewBufferString(`{"kind":"wrasse-book","version":1}` + "\n")
	if err := errors.Join(dump(lines, household), os.WriteFile(log, lines.Bytes(), 0o600)); err != nil {
		t.Fatal(err)
	}
	do("import", log)
	agree()
	saved := filepath.Join(dir, "saved.db")
	copied(book, saved)
	chores := household.Chores()
	for i, chore := range chores[:4] {
		do("tick", string(chore.ID), "--note", fmt.Sprint("round ", i))
		agree()
	}
	copied(saved, book) // over what was written, in the same file
	agree()
	for i, chore := range chores[4:8] { // as many transactions, other ticks
		do("tick", string(chore.ID), "--note", fmt.Sprint("round ", i))
		agree()
	}
	do("restore", saved)
	agree()
	if err := os.Truncate(book, 8192); err != nil {
		t.Fatal(err)
	}
	agree() // that it can't be read, each time
}
