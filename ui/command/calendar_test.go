package command_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
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
		cmd.Env = []string{"TZ=UTC", "TERM=xterm", "LC_ALL=C.UTF-8", "HOME=" + dir, "XDG_CONFIG_HOME=" + filepath.Join(dir, "config")}
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

// toDo are the days on which `round --json` says that something is to be done, by chore: what
// is late on the day of the round, what is put off on the day it is put off to.
func toDo(t *testing.T, text string) map[string]string {
	t.Helper()
	var round struct {
		On     string
		Chores []struct {
			ID, State   string
			Due         *string
			PutOffUntil *string `json:"put_off_until"`
		}
	}
	if err := json.Unmarshal([]byte(text), &round); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, c := range round.Chores {
		switch {
		case c.State == "late":
			out[c.ID] = round.On
		case c.PutOffUntil != nil:
			out[c.ID] = *c.PutOffUntil
		case c.Due != nil:
			out[c.ID] = *c.Due
		}
	}
	return out
}

// appointments are the events of a calendar by chore or fault, and the UID of each, as a parser
// reads them that shares nothing with the program. Every alarm in it must be still to come.
func appointments(t *testing.T, text string) (events map[string]*ics.VEvent, dates map[string]string) {
	t.Helper()
	cal, err := ics.ParseCalendar(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	events, dates = map[string]*ics.VEvent{}, map[string]string{}
	for _, e := range cal.Events() {
		start, err := time.Parse("20060102", e.GetProperty(ics.ComponentPropertyDtStart).Value)
		if err != nil {
			t.Fatal(err)
		}
		end, err := time.Parse("20060102", e.GetProperty(ics.ComponentPropertyDtEnd).Value)
		if err != nil || end.Sub(start) != 24*time.Hour {
			t.Errorf("%s lasts from %s to %s (%v)", e.Id(), start, end, err)
		}
		thing, _, _ := strings.Cut(e.Id(), ".")
		if events[thing] != nil {
			t.Errorf("%s is there twice", e.Id())
		}
		for _, alarm := range e.Alarms() {
			after, err := time.ParseDuration(strings.ToLower(strings.TrimPrefix(alarm.GetProperty("TRIGGER").Value, "PT")))
			if err != nil || start.Add(after).Before(time.Now().UTC().Truncate(time.Minute)) {
				t.Errorf("the alarm of %s rings %s after %s (%v)", e.Id(), after, start, err)
			}
		}
		events[thing], dates[thing] = e, start.Format(time.DateOnly)
		if status := e.GetProperty(ics.ComponentPropertyStatus); status != nil {
			dates[thing] = status.Value
		}
	}
	return events, dates
}

func property(e *ics.VEvent, name ics.ComponentProperty) string {
	if p := e.GetProperty(name); p != nil {
		return p.Value
	}
	return ""
}

func sequence(t *testing.T, e *ics.VEvent) int {
	t.Helper()
	n, err := strconv.Atoi(property(e, ics.ComponentPropertySequence))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Every chore with a date is an event on the day to do it, never before the day of the export,
// and stays the same event, with a growing sequence, when it moves or is no more.
func TestCalendarIsTheRound(t *testing.T) {
	_, run := demoBook(t)
	on := demoDay.String()
	first, before := appointments(t, run("export", "ics", "--alarm", "00:00", "--on", on))
	want := toDo(t, run("round", "--json", "--on", on))
	late, faults := 0, 0
	for thing, date := range before {
		switch {
		case strings.HasPrefix(thing, "fault-"):
			faults++
			if date != on && date != "CANCELLED" {
				t.Errorf("%s is on %s", thing, date)
			}
			continue
		case want[thing] != date && date != "CANCELLED":
			t.Errorf("%s is on %s, to be done %s", thing, date, want[thing])
		case date < on:
			t.Errorf("%s lies in the past, on %s", thing, date)
		}
		if strings.Contains(property(first[thing], "SUMMARY"), "(late since ") {
			late++
		}
		if n := len(first[thing].Alarms()); n != 1 && date != "CANCELLED" {
			t.Errorf("%s has %d alarms", thing, n)
		}
	}
	if len(want) < 25 || late == 0 || faults == 0 {
		t.Fatalf("%d chores with a date, %d late, %d faults", len(want), late, faults)
	}
	for thing, date := range want {
		if before[thing] != date {
			t.Errorf("%s is to be done %s, and in the calendar %q", thing, date, before[thing])
		}
	}

	// A day later what is late is on that day, though nobody wrote anything.
	next := demoDay.AddDays(1).String()
	moved, after := appointments(t, run("export", "ics", "--on", next))
	if after["clean-impeller"] != next || sequence(t, moved["clean-impeller"]) <= sequence(t, first["clean-impeller"]) {
		t.Errorf("a day later: on %s, sequence %d, before %d", after["clean-impeller"], sequence(t, moved["clean-impeller"]), sequence(t, first["clean-impeller"]))
	}

	run("tick", "clean-impeller", "--found", "light", "--on", on, "--future")
	moved, after = appointments(t, run("export", "ics", "--on", on))
	want = toDo(t, run("round", "--json", "--on", on))
	if e := moved["clean-impeller"]; e.Id() != first["clean-impeller"].Id() || after["clean-impeller"] != want["clean-impeller"] || sequence(t, e) <= sequence(t, first["clean-impeller"]) {
		t.Errorf("ticked, it is %s on %s, sequence %d", e.Id(), after["clean-impeller"], sequence(t, e))
	}
}
