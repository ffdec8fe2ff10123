package command_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"brine/wrasse/model"
)

// asked is what a command says on both streams, and its exit code.
func asked(t *testing.T, path string, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	cmd := exec.Command(program, append([]string{"--book", path, "--no-config"}, args...)...)
	cmd.Env = []string{"TZ=UTC", "HOME=" + t.TempDir()}
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	var failed *exec.ExitError
	if err := cmd.Run(); err != nil && !errors.As(err, &failed) {
		t.Fatal(err)
	}
	return out.String(), said.String(), cmd.ProcessState.ExitCode()
}

// zero overwrites each page of a file that holds a text.
func zero(t *testing.T, path, text string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	size, zeroed := os.Getpagesize(), 0
	for at := 2 * size; at+size <= len(data); at += size {
		if page := data[at : at+size]; bytes.Contains(page, []byte(text)) {
			clear(page)
			zeroed++
		}
	}
	if zeroed == 0 {
		t.Fatalf("no page of %s holds %s", path, text)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// Where the first entries can't be read, a command answers as ever or refuses in one line with
// the way out; a completion offers nothing.
func TestLostFirstEntries(t *testing.T) { lost(t, 1) }

func TestLostEntries(t *testing.T) { lost(t, 2000) }

// lost holds commands to what they say of a book without the page that holds an entry.
func lost(t *testing.T, seq model.Seq) {
	path, _ := demoBook(t)
	on := "--on=" + demoDay.String()
	commands := [][]string{
		{"round", on}, {"round", "--json", on}, {"water", on}, {"shelf", on}, {"rethink", on}, {"year", on}, {"sheet", on},
		{"export", "ics", on}, {"export", "ics", "--todo", on}, {"export", "csv"}, {"export", "jsonl"}, {"__complete", "tick", ""},
	}
	type answer struct {
		text string
		code int
	}
	var whole []answer
	for _, c := range commands {
		text, _, code := asked(t, path, c...)
		whole = append(whole, answer{text, code})
	}
	zero(t, path, fmt.Sprintf(`"seq":%d,`, seq))
	refused := 0
	for i, c := range commands {
		text, said, code := asked(t, path, c...)
		switch {
		case code == whole[i].code && (text == whole[i].text || c[1] == "ics" && seq > 1): // which has the time in it
		case code == 1 && strings.Count(said, "\n") == 1 && strings.Contains(said, "is damaged") && strings.Contains(said, "export jsonl --salvage"):
			refused++
		case c[0] == "__complete" && code == 0 && text == ":4\n":
		default:
			t.Errorf("%q: exit code %d\n%.500s%.500s", c, code, text, said)
		}
	}
	if refused < 2 {
		t.Errorf("only %d commands need the first entries", refused)
	}
}
