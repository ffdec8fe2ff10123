package command_test

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// A command is over in a few milliseconds. The program links nothing that looks users
// up, nor what runs templates, for which the linker keeps every method there is.
func TestNothingCostlyIsLinked(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "../..").Output()
	if err != nil {
		t.Fatalf("listing imports: %v", err)
	}
	if slices.Contains(strings.Fields(string(out)), "os/user") {
		t.Error("os/user is linked")
	}
	symbols, err := exec.Command("go", "tool", "nm", program).Output()
	if err != nil {
		t.Fatalf("listing symbols: %v", err)
	}
	if strings.Contains(string(symbols), " text/template.(*Template).Execute\n") {
		t.Error("templates are run")
	}
}
