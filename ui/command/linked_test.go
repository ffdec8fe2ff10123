package command_test

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// A command is over in a few milliseconds, of which the C library would take one: the
// program links nothing that wants it, nor what runs templates, for which the linker
// keeps every method there is.
func TestNothingCostlyIsLinked(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "../..").Output()
	if err != nil {
		t.Fatalf("listing imports: %v", err)
	}
	linked := strings.Fields(string(out))
	for _, costly := range []string{"net", "os/user", "runtime/cgo"} {
		if slices.Contains(linked, costly) {
			t.Errorf("%s is linked", costly)
		}
	}
	symbols, err := exec.Command("go", "tool", "nm", program).Output()
	if err != nil {
		t.Fatalf("listing symbols: %v", err)
	}
	if strings.Contains(string(symbols), " text/template.(*Template).Execute\n") {
		t.Error("templates are run")
	}
}
