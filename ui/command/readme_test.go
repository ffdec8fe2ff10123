package command_test

import (
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/model"
	"brine/wrasse/model/starter"
	"brine/wrasse/ui/termtest"
)

// manual is the README as far as commands stand in it.
type manual struct {
	lines  []string // of the indented blocks, in order
	fences []fence
	inline []string // commands within sentences and tables, with their placeholders
}

// fence is a fenced block: what stands behind its fence, and its lines.
type fence struct {
	kind  string
	lines []string
}

func (m manual) of(kind string) []fence {
	return slices.DeleteFunc(slices.Clone(m.fences), func(f fence) bool { return f.kind != kind })
}

var spans = regexp.MustCompile("`(wrasse(?: [^`]*)?)`")

func readManual(t *testing.T) manual {
	t.Helper()
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var m manual
	open := false
	for line := range strings.SplitSeq(string(data), "\n") {
		kind, fenced := strings.CutPrefix(line, "```")
		switch {
		case fenced && open:
			open = false
		case fenced:
			open = true
			m.fences = append(m.fences, fence{kind: kind})
		case open:
			last := &m.fences[len(m.fences)-1]
			last.lines = append(last.lines, line)
		case strings.HasPrefix(line, "    "):
			m.lines = append(m.lines, strings.TrimSpace(line))
		default:
			for _, span := range spans.FindAllStringSubmatch(line, -1) {
				m.inline = append(m.inline, span[1])
			}
		}
	}
	return m
}

// household is a home folder with the demo as its book and the program where
// `go install` puts it.
type household struct {
	t    *testing.T
	home string
	env  []string
}

func newHousehold(t *testing.T) household {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the README's lines are for a POSIX shell")
	}
	h := household{t: t, home: t.TempDir()}
	bin := filepath.Join(h.home, "go", "bin")
	mail := "#!/bin/sh\nexec cat >\"$HOME/mail\"\n"
	for _, err := range []error{
		os.MkdirAll(bin, 0o755),
		os.Symlink(program, filepath.Join(bin, "wrasse")),
		os.WriteFile(filepath.Join(bin, "mail"), []byte(mail), 0o755),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	h.env = []string{
		"HOME=" + h.home, "TZ=UTC", "PATH=" + bin + string(os.PathListSeparator) + os.Getenv("PATH"),
		"XDG_DATA_HOME=" + filepath.Join(h.home, "data"), "XDG_CONFIG_HOME=" + filepath.Join(h.home, "config"),
	}
	h.write("demo.jsonl", h.demo())
	h.run("wrasse import demo.jsonl")
	return h
}

// demo is the demo as it stands today, in the book format.
func (h household) demo() string {
	var b strings.Builder
	b.WriteString(`{"kind":"wrasse-book","version":1}` + "\n")
	for i, e := range starter.Demo(today(h.t)) {
		e.Seq = model.Seq(i + 1)
		data, err := model.EncodeEntry(e)
		if err != nil {
			h.t.Fatal(err)
		}
		b.Write(append(data, '\n'))
	}
	return b.String()
}

// today is the day of the shell in which the lines run.
func today(t *testing.T) model.Date {
	t.Helper()
	cmd := exec.Command("date", "+%Y-%m-%d")
	cmd.Env = append(os.Environ(), "TZ=UTC")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	d, err := model.ParseDate(strings.TrimSpace(string(out)))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func (h household) write(name, text string) {
	h.t.Helper()
	if err := os.WriteFile(filepath.Join(h.home, name), []byte(text), 0o600); err != nil {
		h.t.Fatal(err)
	}
}

// run runs a line as a shell would, and holds it to the exit codes of success: those of
// a round that found something late are among them.
func (h household) run(line string) string {
	h.t.Helper()
	cmd := exec.Command("sh", "-c", line)
	cmd.Dir, cmd.Env = h.home, h.env
	out, err := cmd.CombinedOutput()
	var failed *exec.ExitError
	late := errors.As(err, &failed) && failed.ExitCode() >= 10 && strings.HasPrefix(line, "wrasse round")
	if err != nil && !late {
		h.t.Errorf("the README's line %q: %v\n%s", line, err, out)
	}
	return string(out)
}

// screens runs a line that shows the screens, and leaves them.
func (h household) screens(args ...string) {
	h.t.Helper()
	term := termtest.Start(h.t, termtest.Options{Bin: program, Args: args, Dir: h.home, Env: h.env})
	term.WaitFor("Library reef")
	term.Send("q")
	if code := term.Wait(); code != 0 {
		h.t.Errorf("wrasse %v: exit code %d", args, code)
	}
}

// Each line in an indented block of the README runs, in order, on one book.
func TestReadmeCommands(t *testing.T) {
	m, h := readManual(t), newHousehold(t)
	tables := m.of("csv")
	if len(tables) != 1 {
		t.Fatalf("%d tables in the README, want one", len(tables))
	}
	h.write("readings.csv", strings.Join(tables[0].lines, "\n")+"\n")
	ran := map[string]bool{}
	for _, line := range m.lines {
		words := strings.Fields(line)
		command, isRun := strings.CutPrefix(line, "go run .")
		switch {
		case line == "go test ./..." || strings.Contains(line, "go install .") || strings.Contains(line, "ADDRESS"):
			continue // this very test, what TestMain built, and what is fetched
		case isRun:
			h.screens(strings.Fields(command)...)
		case len(words) == 1 && words[0] == "wrasse":
			h.screens()
		case strings.HasPrefix(line, "0 7 * * * "):
			h.run(strings.Join(words[5:], " "))
		case strings.Contains(line, "wrasse "):
			h.run(line)
		default:
			t.Errorf("the README's line %q is no command of this program", line)
		}
		if at := slices.Index(words, "wrasse"); at >= 0 && at+1 < len(words) {
			ran[words[at+1]] = true
		}
	}
	for _, needed := range []string{"round", "tick", "use", "read", "import", "export", "sheet", "config", "completion", "man"} {
		if !ran[needed] {
			t.Errorf("the README runs no wrasse %s", needed)
		}
	}
	if out := h.run("wrasse round --json"); !json.Valid([]byte(out)) {
		t.Errorf("the book they leave has no round: %s", out)
	}
}

// What the README has a service manager start runs as it stands there.
func TestReadmeUnits(t *testing.T) {
	m, h := readManual(t), newHousehold(t)
	started := 0
	for _, unit := range m.of("ini") {
		text := strings.Join(unit.lines, "\n")
		for _, line := range unit.lines {
			line, ok := strings.CutPrefix(line, "ExecStart=")
			if !ok {
				continue
			}
			started++
			line = strings.NewReplacer("%h", h.home, "%u", "keeper").Replace(line)
			// Exit codes other than 0 must be declared, or stay behind the pipe.
			if strings.Contains(text, "SuccessExitStatus=10 11") {
				line += " || [ $? -ge 10 ]"
			}
			h.run(line)
		}
	}
	if started != 2 {
		t.Errorf("%d lines of the README are started, want 2", started)
	}
	mail, err := os.ReadFile(filepath.Join(h.home, "mail"))
	if err != nil || !strings.Contains(string(mail), "Library reef") {
		t.Errorf("the mail says %q (%v)", mail, err)
	}
}

// Commands and flags that stand in sentences and tables exist.
func TestReadmeNamesWhatThereIs(t *testing.T) {
	m, h := readManual(t), newHousehold(t)
	root := h.run("wrasse --help")
	helps := map[string]string{}
	flags := regexp.MustCompile(`--[a-z][a-z-]*`)
	for _, span := range m.inline {
		words := strings.Fields(span)[1:]
		name := ""
		if len(words) > 0 && words[0] != "COMMAND" && !strings.HasPrefix(words[0], "-") {
			name = words[0]
			if !regexp.MustCompile(`(?m)^  ` + regexp.QuoteMeta(name) + ` `).MatchString(root) {
				t.Errorf("the README names %q, and there is no such command", span)
				continue
			}
		}
		if _, ok := helps[name]; !ok {
			helps[name] = h.run("wrasse " + name + " --help")
		}
		for _, flag := range flags.FindAllString(span, -1) {
			if !regexp.MustCompile(flag + `\b`).MatchString(helps[name]) {
				t.Errorf("the README names %q, and there is no %s", span, flag)
			}
		}
	}
	for _, c := range commandNames(root) {
		names := func(span string) bool { return span == "wrasse "+c || strings.HasPrefix(span, "wrasse "+c+" ") }
		if !slices.ContainsFunc(m.inline, names) {
			t.Errorf("the README does not name wrasse %s", c)
		}
	}
}
