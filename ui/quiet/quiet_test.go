package quiet

import (
	"os/exec"
	"strings"
	"testing"

	"brine/wrasse/ui/termtest"
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

// On a terminal that answers nothing, a program that links the framework writes
// no escape byte of its own accord and does not wait. (The harness's own test
// shows that without the guard it asks.)
func TestNothingIsAsked(t *testing.T) {
	s := termtest.Start(t, termtest.Options{Bin: termtest.Build(t, "testdata/guarded"), Mute: true})
	if code := s.Wait(); code != 0 {
		t.Errorf("exit code %d", code)
	}
	if got, want := s.Raw(), "linked, enter\r\n"; got != want {
		t.Errorf("wrote %q, want %q", got, want)
	}
}
