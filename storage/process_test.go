package storage

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"brine/wrasse/model"
	"brine/wrasse/model/ledger"
)

func ignoreEOF(err error) error {
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

// process is this test binary with a job on a book.
func process(path, job, arg string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), jobEnv+"="+job, pathEnv+"="+path, argEnv+"="+arg)
	return cmd
}

// whole makes sure that a book verifies, and that each act of notes is there as a whole.
func whole(t *testing.T, b *Book) *ledger.Book {
	t.Helper()
	findings, err := b.Verify()
	if err != nil || len(findings) > 0 {
		t.Fatalf("verify: %v %q", err, findings)
	}
	book := full(t, b)
	for seq := model.Seq(1); seq <= book.Last(); seq++ {
		n, ok := must(book.Written(seq)).Body.(model.Note)
		if !ok {
			continue
		}
		var k, of int
		if _, err := fmt.Sscanf(n.Text, "%d of %d", &k, &of); err != nil {
			continue
		}
		if act := must(book.Act(seq)); len(act) != of {
			t.Fatalf("entry %d belongs to an act of %d, %d are there", seq, of, len(act))
		}
	}
	return book
}

// A process that does acts is killed at a random instant, again and again, on one book
// and on new ones: what it said was done is there, nothing is half there, and the book
// comes to the same as rebuilt from its log.
func TestCrash(t *testing.T) {
	dir := t.TempDir()
	acknowledged := 0
	for round := range *rounds {
		path := filepath.Join(dir, fmt.Sprintf("book%d.db", round/5)) // the first of five begins with no file
		cmd := process(path, "write for ever", "")
		out := must(cmd.StdoutPipe())
		noError(t, cmd.Start())
		// One in four is killed while it starts, each of the others some time after an act: on a busy machine a process
		// may take any time to start.
		after, within := 0, 60
		if round%4 > 0 {
			after, within = 1+rand.IntN(8), 10
		}
		kill := func() {
			time.AfterFunc(time.Duration(rand.IntN(within*1000))*time.Microsecond, func() { cmd.Process.Kill() })
		}
		if after == 0 {
			kill()
		}
		last := model.Seq(0)
		for lines := bufio.NewReader(out); ; {
			line, err := lines.ReadString('\n')
			if err != nil {
				break
			}
			seq, err := strconv.Atoi(strings.TrimSpace(line))
			noError(t, err)
			last = model.Seq(seq)
			acknowledged++
			if after--; after == 0 {
				kill()
			}
		}
		cmd.Wait()
		if status, ok := cmd.ProcessState.Sys().(syscall.WaitStatus); !ok || status.Signal() != syscall.SIGKILL {
			t.Fatalf("the process ended by itself: %v", cmd.ProcessState)
		}
		b := At(path, time.Now)
		if _, err := b.Load(); errors.Is(err, ErrNoBook) && last == 0 {
			continue // killed before its first act
		}
		if book := whole(t, b); book.Last() < last {
			t.Fatalf("round %d: entry %d was acknowledged, %d are there", round, last, book.Last())
		}
		b.Close()
	}
	t.Logf("%d rounds, %d acts acknowledged and found", *rounds, acknowledged)
	if acknowledged == 0 {
		t.Error("not one act was acknowledged")
	}
}

func TestFourWriters(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	const writers = 4
	var cmds []*exec.Cmd
	var outs []*strings.Builder
	for range writers {
		cmd := process(b.Path(), "write some", strconv.Itoa(*acts))
		out := new(strings.Builder)
		cmd.Stdout, cmd.Stderr = out, out
		noError(t, cmd.Start())
		cmds, outs = append(cmds, cmd), append(outs, out)
	}
	busy := 0
	for i, cmd := range cmds {
		if err := cmd.Wait(); err != nil {
			t.Fatalf("%v: %s", err, outs[i])
		}
		busy += strings.Count(outs[i].String(), "busy")
	}
	book := whole(t, b)
	next := map[string]int{}
	for _, n := range book.Notes() {
		who, i, _ := strings.Cut(n.What.Text, " ")
		if i != strconv.Itoa(next[who]) {
			t.Fatalf("act %s of process %s follows its act %d", i, who, next[who]-1)
		}
		next[who]++
	}
	if len(next) != writers || len(book.Notes()) != writers**acts {
		t.Errorf("%d acts of %d processes are there, want %d", len(book.Notes()), len(next), writers**acts)
	}
	t.Logf("%d acts, %d times in use", len(book.Notes()), busy)
}

func TestLockHeldByAnother(t *testing.T) {
	b := newBook(t)
	write(t, b, setUp()...)
	cmd := process(b.Path(), "hold the lock", "")
	in := must(cmd.StdinPipe())
	out := must(cmd.StdoutPipe())
	noError(t, cmd.Start())
	if line, _ := bufio.NewReader(out).ReadString('\n'); line != "held\n" {
		t.Fatalf("the other process says %q", line)
	}
	f := must(os.Open(b.Path()))
	defer f.Close()
	err := flock(f, true, time.Now()) // not to wait the whole time it may take
	if !errors.Is(err, ErrBusy) || !strings.Contains(err.Error(), fmt.Sprintf("process %d ", cmd.Process.Pid)) {
		t.Errorf("got %v, want ErrBusy naming process %d", err, cmd.Process.Pid)
	}
	done := make(chan Written)
	go func() {
		w, err := try(b, note("patient"))
		if err != nil {
			t.Error(err)
		}
		done <- w
	}()
	in.Close()
	if w := <-done; w.Act != 7 {
		t.Errorf("act %d after the lock was let go", w.Act)
	}
	if err := cmd.Wait(); err != nil {
		t.Error(err)
	}
}
