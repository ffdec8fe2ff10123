package command_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"

	"brine/wrasse/model"
	"brine/wrasse/model/starter"
)

// demoDay is the day the demo is looked at in the tests of what goes out.
var demoDay = model.NewDate(2026, time.November, 25)

// demoBook makes a file of the demo by the program itself, and returns its path and a
// runner of commands on it.
func demoBook(t *testing.T) (path string, run func(args ...string) string) {
	t.Helper()
	dir := t.TempDir()
	var lines bytes.Buffer
	lines.WriteString(`{"kind":"wrasse-book","version":1}` + "\n")
	for i, e := range starter.Demo(demoDay) {
		e.Seq = model.Seq(i + 1)
		data, err := model.EncodeEntry(e)
		if err != nil {
			t.Fatal(err)
		}
		lines.Write(append(data, '\n'))
	}
	file := filepath.Join(dir, "demo.jsonl")
	if err := os.WriteFile(file, lines.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(dir, "demo.db")
	run = func(args ...string) string {
		t.Helper()
		cmd := exec.Command(program, append([]string{"--book", path}, args...)...)
		cmd.Env = []string{"TZ=UTC", "HOME=" + dir, "XDG_CONFIG_HOME=" + filepath.Join(dir, "config")}
		var stderr bytes.Buffer
		cmd.Stderr = &stderr
		out, err := cmd.Output()
		var failed *exec.ExitError
		if err != nil && !(errors.As(err, &failed) && failed.ExitCode() >= 10) {
			t.Fatalf("wrasse %s: %v: %s", strings.Join(args, " "), err, &stderr)
		}
		return string(out)
	}
	run("import", file)
	return path, run
}

// dues are the due dates of `round --json`, by chore.
func dues(t *testing.T, text string) map[string]string {
	t.Helper()
	var round struct {
		Chores []struct {
			ID  string  `json:"id"`
			Due *string `json:"due"`
		} `json:"chores"`
	}
	if err := json.Unmarshal([]byte(text), &round); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, c := range round.Chores {
		if c.Due != nil {
			out[c.ID] = *c.Due
		}
	}
	return out
}

// appointments are the dates of a calendar by UID, as a parser reads them that shares
// nothing with the program.
func appointments(t *testing.T, text string) map[string]string {
	t.Helper()
	cal, err := ics.ParseCalendar(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, e := range cal.Events() {
		start, err := time.Parse("20060102", e.GetProperty(ics.ComponentPropertyDtStart).Value)
		if err != nil {
			t.Fatal(err)
		}
		end, err := time.Parse("20060102", e.GetProperty(ics.ComponentPropertyDtEnd).Value)
		if err != nil || end.Sub(start) != 24*time.Hour {
			t.Errorf("%s lasts from %s to %s (%v)", e.Id(), start, end, err)
		}
		if _, twice := out[e.Id()]; twice {
			t.Errorf("%s is there twice", e.Id())
		}
		out[e.Id()] = start.Format(time.DateOnly)
	}
	return out
}

// Every chore with a due date is an event on that date, and stays the same event when
// it has been ticked and moved.
func TestCalendarIsTheRound(t *testing.T) {
	_, run := demoBook(t)
	on := demoDay.String()
	before := appointments(t, run("export", "ics", "--on", on))
	want := dues(t, run("round", "--json", "--on", on))
	if len(want) < 25 || len(before) != len(want) {
		t.Fatalf("%d events for %d chores with a date", len(before), len(want))
	}
	uids := map[string]string{}
	for uid, date := range before {
		chore, _, _ := strings.Cut(uid, ".")
		uids[chore] = uid
		if want[chore] != date {
			t.Errorf("%s is on %s, due %s", uid, date, want[chore])
		}
	}

	run("tick", "clean-impeller", "--found", "light", "--on", on, "--future")
	after := appointments(t, run("export", "ics", "--on", on))
	want = dues(t, run("round", "--json", "--on", on))
	for chore, uid := range uids {
		if after[uid] != want[chore] {
			t.Errorf("%s is on %s after a tick, due %s", uid, after[uid], want[chore])
		}
	}
	if moved := uids["clean-impeller"]; len(after) != len(before) || before[moved] == after[moved] {
		t.Errorf("%d events after the tick, %d before; %s moved from %s to %s", len(after), len(before), moved, before[moved], after[moved])
	}
}
