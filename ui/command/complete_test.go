package command_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"
)

// offered is what a shell is told to offer, descriptions left out.
func offered(t *testing.T, run func(...string) string, words ...string) []string {
	t.Helper()
	var out []string
	for line := range strings.Lines(run(append([]string{"__complete"}, words...)...)) {
		if !strings.HasPrefix(line, ":") {
			word, _, _ := strings.Cut(strings.TrimSpace(line), "\t")
			out = append(out, word)
		}
	}
	return out
}

// The ids are those of the book, where each kind belongs.
func TestCompletionKnowsTheBook(t *testing.T) {
	_, run := demoBook(t)
	for _, c := range []struct{ words, has, not []string }{
		{[]string{"tick", ""}, []string{"clean-impeller", "renew-resin"}, []string{"mixing-pump", "tds-tap"}},
		{[]string{"tick", "clean-im"}, []string{"clean-impeller"}, []string{"renew-resin"}},
		{[]string{"tick", "clean-impeller", ""}, nil, []string{"renew-resin"}},
		{[]string{"tick", "clean-impeller", "--found", ""}, []string{"clean", "light", "heavy", "stopped"}, []string{"passed", "spent"}},
		{[]string{"tick", "renew-resin", "--found", ""}, []string{"under half", "spent"}, []string{"stopped"}},
		{[]string{"use", ""}, []string{"water-made", "batches"}, []string{"clean-impeller"}},
		{[]string{"use", "water-made", ""}, nil, []string{"batches"}},
		{[]string{"read", ""}, []string{"tds-tap", "tds-membrane"}, []string{"water-made"}},
		{[]string{"read", "tds-tap", ""}, nil, []string{"tds-membrane"}},
		{[]string{"read", "tds-tap", "248", ""}, []string{"tds-membrane"}, []string{"tds-tap"}},
		{[]string{"flag", ""}, []string{"mixing-pump", "di-resin"}, []string{"clean-impeller"}},
		{[]string{"flag", "mixing-pump", "--cause", ""}, []string{"in-the-way", "too-tight"}, nil},
		{[]string{"fault", "mix"}, []string{"mixing-pump"}, []string{"di-resin"}},
		{[]string{"import", "t.csv", "--decimal", ""}, []string{"comma", "point"}, nil},
		{[]string{"export", ""}, []string{"jsonl", "csv", "ics"}, nil},
		{[]string{"completion", ""}, []string{"bash", "zsh", "fish", "powershell"}, nil},
		{[]string{"sh"}, []string{"sheet", "shelf"}, []string{"tick"}},
	} {
		got := offered(t, run, c.words...)
		for _, want := range c.has {
			if !slices.Contains(got, want) {
				t.Errorf("%q: %q is not offered: %q", c.words, want, got)
			}
		}
		for _, unwanted := range c.not {
			if slices.Contains(got, unwanted) {
				t.Errorf("%q: %q is offered", c.words, unwanted)
			}
		}
	}
}

// Files are offered where one is taken, and nowhere else.
func TestCompletionOfFiles(t *testing.T) {
	_, run := demoBook(t)
	for line, want := range map[string]string{
		"mix --salt": ":4\n", "salinity 35 --reference": ":4\n", "tick x --by": ":4\n", "begin x --sets": ":4\n", "round --on": ":4\n",
		"demo --write": ":0\n", "import": ":0\n", "export csv": ":0\n",
	} {
		if got := run(append(append([]string{"__complete"}, strings.Fields(line)...), "")...); !strings.HasSuffix(got, want) {
			t.Errorf("%s: %q, want %q", line, got, want)
		}
	}
}

// Where there is no book, or a wrong configuration, nothing is offered and nothing said.
func TestCompletionIsQuiet(t *testing.T) {
	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "wrasse"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "wrasse", "config.toml"), []byte("mouse = 3"), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, "__complete", "tick", "")
	cmd.Env = []string{"HOME=" + dir, "XDG_CONFIG_HOME=" + dir, "XDG_DATA_HOME=" + dir}
	out, err := cmd.Output()
	if err != nil || string(out) != ":4\n" {
		t.Errorf("%q, %v", out, err)
	}
}

// shell looks for a shell and starts it with nothing of the tester's own.
func shell(t *testing.T, name, book string, args ...string) *termtest.Terminal {
	t.Helper()
	bin, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed: its completion is not tested here", name)
	}
	return termtest.Start(t, termtest.Options{Bin: bin, Args: args, Dir: t.TempDir(), W: 120, H: 24,
		Env: []string{"PATH=" + filepath.Dir(program) + ":" + os.Getenv("PATH"), "WRASSE_BOOK=" + book, "PS1=ready> "}})
}

// bashWords is the part of bash-completion that the script rests on, for machines
// without it.
const bashWords = `_get_comp_words_by_ref() { cur=${COMP_WORDS[COMP_CWORD]}; prev=${COMP_WORDS[COMP_CWORD-1]}; words=("${COMP_WORDS[@]}"); cword=$COMP_CWORD; }`

// clearLine is ctrl+u, which empties the line in either shell.
const clearLine = "\x15"

func TestCompletionInBash(t *testing.T) {
	book, _ := demoBook(t)
	sh := shell(t, "bash", book, "--norc", "--noprofile", "-i")
	sh.WaitFor("ready>")
	sh.Send(bashWords + "<enter>")
	sh.Send("[ -r /usr/share/bash-completion/bash_completion ] && . /usr/share/bash-completion/bash_completion<enter>")
	sh.Send("source <(wrasse completion bash); clear; echo sour''ced<enter>")
	sh.WaitFor("sourced")
	sh.Send("wrasse tick clean-im<tab>")
	sh.WaitFor("wrasse tick clean-impeller")
	sh.Send("--found he<tab>")
	sh.WaitFor("wrasse tick clean-impeller --found heavy")
	sh.Send(clearLine + "wrasse read tds-<tab><tab>")
	sh.WaitFor("tds-membrane", "tds-product", "tds-tap")
	sh.Send(clearLine + "wrasse use water-<tab>")
	sh.WaitFor("wrasse use water-made")
	sh.Send(clearLine + "wrasse flag mixing-pu<tab>")
	sh.WaitFor("wrasse flag mixing-pump")
}

func TestCompletionInZsh(t *testing.T) {
	book, _ := demoBook(t)
	sh := shell(t, "zsh", book, "-f", "-i")
	sh.WaitFor("ready>")
	sh.Send("autoload -U compinit; compinit -u -D; source <(wrasse completion zsh); clear; echo sour''ced<enter>")
	sh.WaitFor("sourced")
	sh.Send("wrasse tick clean-im<tab>")
	sh.WaitFor("wrasse tick clean-impeller")
	sh.Send(clearLine + "wrasse read tds-<tab>")
	sh.WaitFor("tds-membrane", "TDS after the membrane", "tds-product")
	sh.Send(clearLine + "wrasse use water-<tab>")
	sh.WaitFor("wrasse use water-made")
}

func TestCompletionInFish(t *testing.T) {
	book, _ := demoBook(t)
	fish, err := exec.LookPath("fish")
	if err != nil {
		t.Skip("fish is not installed: its completion is not tested here")
	}
	cmd := exec.Command(fish, "--no-config", "--command", `wrasse completion fish | source; complete -C "wrasse tick clean-im"; complete -C "wrasse read tds-"`)
	cmd.Env = []string{"PATH=" + filepath.Dir(program) + ":" + os.Getenv("PATH"), "WRASSE_BOOK=" + book, "HOME=" + t.TempDir()}
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for _, want := range []string{"clean-impeller\tMixing pump: clean impeller\n", "tds-membrane\tTDS after the membrane\n"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%q is not offered:\n%s", want, out)
		}
	}
}

func TestCompletionScripts(t *testing.T) {
	for _, name := range []string{"bash", "zsh", "fish", "powershell"} {
		out, err := exec.Command(program, "completion", name).Output()
		if err != nil || !strings.Contains(string(out), "__complete") {
			t.Errorf("%s: %v", name, err)
		}
	}
	err := exec.Command(program, "completion", "csh").Run()
	if failed, ok := err.(*exec.ExitError); !ok || failed.ExitCode() != 2 {
		t.Errorf("csh: %v", err)
	}
}
