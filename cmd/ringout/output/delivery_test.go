package output

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestMain(m *testing.M) {
	killed()
	os.Exit(m.Run())
}

// killed is what a test runs in a process of its own, to be killed: it does the
// first word of RINGOUT_KILLED in the folder that follows, and waits.
func killed() {
	what, dir, _ := strings.Cut(os.Getenv("RINGOUT_KILLED"), " ")
	var err error
	switch what {
	case "":
		return
	case "lock":
		_, err = Lock(filepath.Join(dir, "a.lock"))
	case "write":
		var d *Delivery
		if d, err = NewDelivery(dir, io.Discard); err == nil {
			err = writeSet(d, "new")
		}
	default: // the move that it does not get to
		var d *Delivery
		last := move
		move = func(hidden, dir, name string) error {
			if name == what {
				fmt.Println("ready")
				select {}
			}
			return last(hidden, dir, name)
		}
		if d, err = NewDelivery(dir, io.Discard); err == nil {
			if err = writeSet(d, "new"); err == nil {
				err = d.Finish()
			}
		}
	}
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	fmt.Println("ready")
	select {}
}

// kill has a process do something, and kills it when that is done.
func kill(t *testing.T, what, dir string) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "RINGOUT_KILLED="+what+" "+dir)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	line, _ := bufio.NewReader(out).ReadString('\n')
	cmd.Process.Kill()
	cmd.Wait()
	if line != "ready\n" {
		t.Fatalf("the other process says %q", line)
	}
}

var setNames = []string{"a.svg", "web/b.html", "c.pdf"}

func writeSet(d *Delivery, content string) error {
	for _, name := range setNames {
		f, err := d.Create(name)
		if err != nil {
			return err
		}
		if _, err := f.WriteString(content + " " + name); err != nil {
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
	}
	return nil
}

// holds is what a folder holds: files, and folders that are hidden.
func holds(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		name, _ := filepath.Rel(dir, path)
		switch {
		case err != nil || path == dir:
		case e.IsDir() && strings.HasPrefix(name, "."):
			all[name] = "folder"
		case !e.IsDir():
			var data []byte
			data, err = os.ReadFile(path)
			all[filepath.ToSlash(name)] = string(data)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// A lock is free the moment its process is dead, and never two have it.
func TestLockOfTheDead(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	kill(t, "lock", dir)
	name := filepath.Join(dir, "a.lock")
	lock, err := Lock(name)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Lock(name); err != ErrHeld {
		t.Fatalf("the lock is taken twice: %v", err)
	}
	Unlock(lock)
	if _, err := os.Stat(name); !os.IsNotExist(err) {
		t.Errorf("the file of the lock is left behind: %v", err)
	}
}

// Many that want a lock have it one after the other, though each removes its file.
func TestLockIsOfOne(t *testing.T) {
	t.Parallel()
	name := filepath.Join(t.TempDir(), "a.lock")
	inside := make(chan bool, 1)
	done := make(chan error)
	for range 8 {
		go func() {
			for range 50 {
				lock, err := Lock(name)
				for err == ErrHeld {
					time.Sleep(50 * time.Microsecond)
					lock, err = Lock(name)
				}
				if err != nil {
					done <- err
					return
				}
				select {
				case inside <- true:
				default:
					done <- errors.New("two have the lock")
					return
				}
				<-inside
				Unlock(lock)
			}
			done <- nil
		}()
	}
	for range 8 {
		if err := <-done; err != nil {
			t.Fatal(err)
		}
	}
}

// What a killed run left goes at once; what a live one writes stays, however old.
func TestSweep(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	kill(t, "write", dir)
	if len(holds(t, dir)) == 0 {
		t.Fatal("the killed run left nothing")
	}
	live, err := NewDelivery(dir, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	ago := time.Now().Add(-1000 * time.Hour)
	if err := errors.Join(writeSet(live, "live"), os.Chtimes(live.hidden, ago, ago), os.Mkdir(filepath.Join(dir, ".other"), 0o777)); err != nil {
		t.Fatal(err)
	}
	var told bytes.Buffer
	next, err := NewDelivery(dir, &told)
	if err != nil {
		t.Fatal(err)
	}
	next.Abandon()
	if err := live.Finish(); err != nil {
		t.Fatal(err)
	}
	live.Abandon()
	want := map[string]string{".other": "folder", "a.svg": "live a.svg", "web/b.html": "live web/b.html", "c.pdf": "live c.pdf"}
	if got := holds(t, dir); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the folder holds %v, want %v", got, want)
	}
	if told.Len() > 0 {
		t.Errorf("told: %s", &told)
	}
}

// A run that is killed at any move leaves a set that the next run makes whole, and
// tells of.
func TestHalfMoved(t *testing.T) {
	t.Parallel()
	for i, at := range setNames {
		dir := t.TempDir()
		old, err := NewDelivery(dir, io.Discard)
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(writeSet(old, "old"), old.Finish()); err != nil {
			t.Fatal(err)
		}
		old.Abandon()
		kill(t, at, dir)
		got := holds(t, dir)
		for j, name := range setNames {
			if want := map[bool]string{true: "new ", false: "old "}[j < i] + name; got[name] != want {
				t.Fatalf("killed before %s: %s is %q", at, name, got[name])
			}
		}
		var told bytes.Buffer
		Sweep(dir, &told)
		if want := "moved now: " + strings.Join(setNames[i:], ", ") + "\n"; !strings.HasSuffix(told.String(), want) {
			t.Errorf("killed before %s: told %q, want %q at its end", at, &told, want)
		}
		want := map[string]string{"a.svg": "new a.svg", "web/b.html": "new web/b.html", "c.pdf": "new c.pdf"}
		if got := holds(t, dir); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("killed before %s: the folder holds %v, want %v", at, got, want)
		}
	}
}

// A move that fails says what is in place, and the next run does the rest, or names
// what it cannot.
func TestMoveFails(t *testing.T) {
	dir := t.TempDir()
	real := move
	t.Cleanup(func() { move = real })
	fails := func(hidden, dir, name string) error {
		if name == "web/b.html" {
			return &os.PathError{Op: "rename", Path: name, Err: errors.New("no such luck")}
		}
		return real(hidden, dir, name)
	}
	d, err := NewDelivery(dir, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	move = fails
	err = errors.Join(writeSet(d, "new"), d.Finish())
	d.Abandon()
	if err == nil || !strings.Contains(err.Error(), "web/b.html: cannot be written: no such luck; 1 of 3 files of the set are in place") {
		t.Errorf("the error is %v", err)
	}
	var told bytes.Buffer
	Sweep(dir, &told)
	if want := "from the run before: web/b.html, c.pdf (no such luck)"; !strings.Contains(told.String(), want) {
		t.Errorf("told %q, want %q in it", &told, want)
	}
	move = real
	told.Reset()
	Sweep(dir, &told)
	want := map[string]string{"a.svg": "new a.svg", "web/b.html": "new web/b.html", "c.pdf": "new c.pdf"}
	if got := holds(t, dir); fmt.Sprint(got) != fmt.Sprint(want) || !strings.Contains(told.String(), "moved now: web/b.html, c.pdf") {
		t.Errorf("the folder holds %v, told %q", got, &told)
	}
}
