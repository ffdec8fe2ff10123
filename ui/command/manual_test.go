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
	if !strings.Contains(page, "licensed hands") {
		t.Error("the manual does not say who goes first")
	}
	commands := regexp.MustCompile(`(?m)^  ([a-z]+) +[A-Z]`).FindAllStringSubmatch(run("--help"), -1)
	if len(commands) < 18 {
		t.Fatalf("%d commands", len(commands))
	}
	for _, c := range commands {
		if c[1] == "help" {
			continue
		}
		if !strings.Contains(page, `.SS "wrasse `+c[1]) {
			t.Errorf("%s is not in the manual", c[1])
		}
		help := run(c[1], "--help")
		if !strings.Contains(help, "\nUsage:\n  wrasse "+c[1]+" ") {
			t.Errorf("%s is not called by its name", c[1])
		}
		for _, f := range regexp.MustCompile(`(?m)^ +(?:-[a-z], )?--([a-z-]+)`).FindAllStringSubmatch(help, -1) {
			if name := strings.ReplaceAll(f[1], "-", `\-`); f[1] != "help" && !strings.Contains(page, `\-\-`+name) {
				t.Errorf("--%s of %s is not in the manual", f[1], c[1])
			}
		}
	}
	for line := range strings.Lines(page) {
		if strings.HasPrefix(line, "'") || strings.HasPrefix(line, ".") && !regexp.MustCompile(`^\.(TH|SH|SS|PP|TP|nf|fi)\b`).MatchString(line) {
			t.Errorf("a line is taken for a request: %q", line)
		}
	}
}
