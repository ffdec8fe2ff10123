package ui_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "brine/wrasse"

// rule is what the packages at or below a path may not import.
type rule struct {
	of     string // package path within the module, "" is main
	never  []string
	except []string // paths below of that are free of the rule
	why    string
}

var (
	outside  = []string{"os", "net", "syscall", "os/exec", "os/signal", "net/http", "path/filepath", "io/ioutil"}
	terminal = []string{"github.com/charmbracelet", "github.com/muesli/termenv", "github.com/mattn/go-isatty"}
	database = []string{"go.etcd.io/bbolt"}
)

// rules are the arrows of the house: model <- schedule <- ui, and model <- storage.
var rules = []rule{
	{of: "model", never: []string{module + "/model/ledger"}, except: []string{"model/ledger", "model/station", "model/starter", "model/longlog"}, why: "the fold knows the nouns"},
	{of: "model", never: []string{module + "/schedule", module + "/storage", module + "/ui"}, why: "model knows nobody"},
	{of: "model", never: slices.Concat(outside, terminal, database), why: "model is pure"},
	{of: "schedule", never: []string{module + "/storage", module + "/ui"}, why: "schedule knows only model"},
	{of: "schedule", never: slices.Concat(outside, terminal, database), why: "schedule is pure"},
	{of: "storage", never: []string{module + "/schedule", module + "/ui"}, why: "storage knows only model"},
	{of: "storage", never: terminal, why: "only ui knows the terminal"},
	{of: "storage/exchange", never: slices.Concat(database, []string{"os"}), why: "exchange does no file work"},
	{of: "ui", never: []string{module + "/storage"}, why: "main hands ui its store"},
	{of: "ui", never: database, why: "only storage knows the file"},
	{of: "ui/request", never: slices.Concat(outside, terminal), why: "acts are pure"},
	{of: "ui/parse", never: slices.Concat(outside, terminal), why: "reading what is typed is pure"},
	{of: "ui/phrase", never: slices.Concat(outside, terminal), why: "wording is pure"},
	{of: "ui/command", never: []string{module + "/ui/session", "github.com/charmbracelet/bubbletea"}, why: "commands draw nothing"},
	{of: "ui", never: []string{module + "/ui/termtest", module + "/ui/uitest", "testing"},
		except: []string{"ui/termtest", "ui/uitest"}, why: "test gear is for tests"},
	{of: "ui", never: []string{module + "/model/longlog"}, except: []string{"ui/uitest"}, why: "invented logs are for tests"},
	{of: "storage", never: []string{module + "/model/longlog"}, why: "invented logs are for tests"},
	{of: "", never: []string{module + "/model/longlog"}, why: "invented logs are for tests"},
	{of: "", never: database, why: "only storage knows the file"},
}

// broken are the rules that a package of the module breaks by its imports.
func broken(pkg string, imports []string) []string {
	var out []string
	for _, r := range rules {
		if !applies(r, pkg) {
			continue
		}
		for _, imp := range imports {
			if slices.ContainsFunc(r.never, func(n string) bool { return within(imp, n) }) {
				out = append(out, name(pkg)+" imports "+imp+": "+r.why)
			}
		}
	}
	return out
}

func applies(r rule, pkg string) bool {
	if r.of == "" || pkg == "" {
		return r.of == pkg
	}
	return within(pkg, r.of) && !slices.ContainsFunc(r.except, func(e string) bool { return within(pkg, e) })
}

// within tells whether a path is another or lies below it.
func within(p, root string) bool { return p == root || strings.HasPrefix(p, root+"/") }

func name(pkg string) string {
	if pkg == "" {
		return "main"
	}
	return pkg
}

func TestArrows(t *testing.T) {
	seen := map[string]bool{}
	eachFile(t, func(pkg string, f *ast.File) {
		seen[strings.Split(pkg, "/")[0]] = true
		var imports []string
		for _, spec := range f.Imports {
			p, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			imports = append(imports, p)
		}
		for _, b := range broken(pkg, imports) {
			t.Error(b)
		}
	})
	for _, part := range []string{"", "model", "schedule", "storage", "ui"} {
		if !seen[part] {
			t.Errorf("no file of %s was looked at", name(part))
		}
	}
}

// The time is an argument: a test, or --on, can say what day it is. Only where the
// program is put together may it be asked for.
func TestTheClockIsHandedIn(t *testing.T) {
	eachFile(t, func(pkg string, f *ast.File) {
		handed := within(pkg, "model") || within(pkg, "schedule") || within(pkg, "ui") && pkg != "ui/app" && pkg != "ui/termtest"
		ast.Inspect(f, func(n ast.Node) bool {
			sel, ok := n.(*ast.SelectorExpr)
			if !ok || !handed {
				return true
			}
			x, ok := sel.X.(*ast.Ident)
			if ok && x.Name == "time" && slices.Contains([]string{"Now", "Since", "Until"}, sel.Sel.Name) {
				t.Errorf("%s asks for the time itself: time.%s", pkg, sel.Sel.Name)
			}
			return true
		})
	})
}

func TestEveryRuleBites(t *testing.T) {
	for _, c := range []struct{ pkg, imports string }{
		{"model", module + "/schedule"}, {"model/water", "os"}, {"model/starter", module + "/ui/parse"},
		{"schedule", module + "/storage"}, {"schedule/life", "net/http"}, {"schedule/trend", module + "/ui"},
		{"storage", module + "/schedule"}, {"storage", "github.com/charmbracelet/lipgloss"}, {"storage/exchange", "go.etcd.io/bbolt"},
		{"ui", module + "/storage"}, {"ui/command", module + "/storage/exchange"}, {"ui/session", "go.etcd.io/bbolt"},
		{"ui/request", "os"}, {"ui/parse", "github.com/charmbracelet/bubbletea"}, {"ui/phrase", "os"},
		{"ui/command", "github.com/charmbracelet/bubbletea"}, {"ui/round", module + "/ui/termtest"}, {"ui/round", module + "/model/longlog"}, {"", "go.etcd.io/bbolt"},
	} {
		if len(broken(c.pkg, []string{c.imports})) == 0 {
			t.Errorf("%s may import %s", name(c.pkg), c.imports)
		}
	}
	for _, c := range []struct{ pkg, imports string }{
		{"schedule", module + "/model"}, {"storage", module + "/model"}, {"storage", "go.etcd.io/bbolt"}, {"ui/round", module + "/schedule/life"},
		{"", module + "/storage"}, {"ui/uitest", "testing"}, {"modelling", module + "/storage"},
	} {
		if b := broken(c.pkg, []string{c.imports}); len(b) > 0 {
			t.Errorf("a good arrow is refused: %v", b)
		}
	}
}

// eachFile parses every Go file of the module that is no test.
func eachFile(t *testing.T, look func(pkg string, f *ast.File)) {
	t.Helper()
	const root = ".."
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && p != root && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".")):
			return filepath.SkipDir
		case d.IsDir() || !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go"):
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), p, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		pkg := strings.TrimPrefix(path.Dir(filepath.ToSlash(p)), root)
		look(strings.TrimPrefix(pkg, "/"), f)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
