package quiet

import (
	"os/exec"
	"strings"
	"testing"
)

// The guard is only as good as its place in the initialisation order.
func TestPathSortsBeforeBubbletea(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", ".").CombinedOutput()
	if err != nil {
		t.Fatalf("listing imports: %v\n%s", err, out)
	}
	const framework = "github.com/charmbracelet/bubbletea"
	var self string
	for _, path := range strings.Fields(string(out)) {
		if path == framework {
			t.Errorf("quiet imports %s, so it cannot be initialised before it", framework)
		}
		if strings.HasSuffix(path, "/ui/quiet") {
			self = path
		}
	}
	if self == "" || self >= framework {
		t.Errorf("import path %q does not sort before %q", self, framework)
	}
}
