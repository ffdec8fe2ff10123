package command_test

import (
	"os/exec"
	"regexp"
	"strings"
	"testing"
)

// The manual has every command and every flag that the help has, and no line of it is
// taken for a request that it is not.
func TestManual(t *testing.T) {
	run := func(args ...string) string {
		out, err := exec.Command(program, args...).Output()
		if err != nil {
			t.Fatalf("wrasse %v: %v", args, err)
		}
		return string(out)
	}
	page := run("man")
	if !strings.Contains(strings.ReplaceAll(page, "\n", " "), "licensed hands") {
		t.Error("the manual does not say who goes first")
	}
	for _, section := range []string{"DATES", "VERDICTS"} { // where the README leads
		if !strings.Contains(page, `.SH "`+section+`"`) {
			t.Errorf("the manual has no %s", section)
		}
	}
	commands := commandNames(run("--help"))
	if len(commands) < 30 {
		t.Fatalf("%d commands", len(commands))
	}
	for _, c := range commands {
		if !strings.Contains(page, `.SS "wrasse `+strings.ReplaceAll(c, "-", `\-`)) {
			t.Errorf("%s is not in the manual", c)
		}
		help := run(c, "--help")
		if !strings.Contains(help, "\nUsage:\n  wrasse "+c+" ") {
			t.Errorf("%s is not called by its name", c)
		}
		if !strings.Contains(help, "\nExamples:\n  wrasse ") {
			t.Errorf("%s has no example", c)
		}
		refuses := strings.Contains("completion demo export man sheet", c)
		if offers := strings.Contains(help, "--json"); offers == refuses {
			t.Errorf("the help of %s offers --json: %v", c, offers)
		}
		for line := range strings.Lines(help) {
			if len([]rune(line)) > 81 {
				t.Errorf("%s --help has a line of %d: %s", c, len([]rune(line)), line)
			}
		}
		for _, f := range regexp.MustCompile(`(?m)^ +(?:-[a-z], )?--([a-z-]+)`).FindAllStringSubmatch(help, -1) {
			if name := strings.ReplaceAll(f[1], "-", `\-`); f[1] != "help" && !strings.Contains(page, `\-\-`+name) {
				t.Errorf("--%s of %s is not in the manual", f[1], c)
			}
		}
	}
	for line := range strings.Lines(page) {
		if strings.HasPrefix(line, "'") || strings.HasPrefix(line, ".") && !regexp.MustCompile(`^\.(TH|SH|SS|PP|TP|nf|fi)\b`).MatchString(line) {
			t.Errorf("a line is taken for a request: %q", line)
		}
	}
}
