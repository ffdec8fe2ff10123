package phrase

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// banned are phrases a keeper stumbled over, and what is said instead; DEVELOPERS.md, "How
// it speaks", has the rules they broke.
var banned = map[string]string{
	"jobs are taken to slip": "parts this hard to reach get done late",
	"less %d d for":          "due N days before DAY, because of what",
	"for reach":              "because it is hard to reach",
	"half last ":             "half of yours lasted",
	"changes its life":       "what is found doesn't move it",
	"what it uses is worth":  "spares worth N min",
	"left unchecked: ":       "left unchecked it",
	"starts a new cycle":     "begins anew",
	"found failed within":    "worn out within",
	"after = new":            "OLD -> NEW",
	"to decide":              "before you act",
	"waits for nothing":      "no timer on this step",
	"was ever put there":     "more used than counted",
	"is the salt mixed":      "this is my salt mix",
	"count in no slip":       "don't count as late",
	"% of the risk":          "the most useful N minutes",
	"placing costs":          "what a move would save",
	"of getting at it":       "of getting there",
	"(after a swap)":         "swapped for a new one",
	"every 1 ":               "every",
}

// No text of the program says what keepers did not understand.
func TestNoBannedPhrases(t *testing.T) {
	texts := 0
	err := filepath.WalkDir("..", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			said, err := strconv.Unquote(lit.Value)
			if err != nil {
				t.Fatal(err)
			}
			texts++
			for phrase, better := range banned {
				if strings.Contains(said, phrase) {
					t.Errorf("%s: %q; say: %s", files.Position(lit.Pos()), said, better)
				}
			}
			return true
		})
		return nil
	})
	if err != nil || texts < 1000 {
		t.Fatalf("%d texts read, %v", texts, err)
	}
}
