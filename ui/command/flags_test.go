package command

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Whatever is given to a flag that can't take it, one line says in plain words which flag it is.
func TestFlagsSayWhatTheyTake(t *testing.T) {
	getenv := func(string) string { return "" }
	root := (&program{Env: Env{Getenv: getenv}}).root()
	each := func(cmd *cobra.Command) {
		cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
			if t := f.Value.Type(); t == "string" || t == "stringArray" || f.Name == "help" {
				return
			}
			var said bytes.Buffer
			args := append(strings.Fields(strings.TrimPrefix(cmd.CommandPath(), "wrasse")), "--"+f.Name+"=abc")
			code := Run(Env{Getenv: getenv, Now: time.Now, Stderr: &said, Stdout: &bytes.Buffer{}, Stdin: &bytes.Buffer{}}, args)
			if code != exitUsage || !strings.HasPrefix(said.String(), `wrasse: --`+f.Name+` "abc": `) ||
				strings.Count(said.String(), "\n") != 1 || strings.Contains(said.String(), "strconv") {
				t.Errorf("%v: exit %d, %q", args, code, said.String())
			}
		})
	}
	each(root)
	for _, cmd := range root.Commands() {
		each(cmd)
	}
}
