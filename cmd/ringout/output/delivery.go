// Package output brings what is drawn to its place: sets of files that come whole or
// not at all, in PDF, SVG and HTML, and the register of what each sheet shows.
package output

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/gofrs/flock"

	"ringout/cmd/ringout/tell"
	"ringout/layout/issue"
	"ringout/model/finding"
	"ringout/model/read"
)

// Delivery brings a set of files into a folder, all of them or none. They are
// written into a hidden folder inside it, so on the same disk, and moved to
// their places when every one of them is complete. A run that is broken off while
// it moves them leaves a list of them, and the next run moves the rest.
type Delivery struct {
	dir, hidden string
	lock        *flock.Flock // held as long as hidden is in use
	made        []string     // folders that were not there before, outermost last
	names       []string
	moving      bool
}

const (
	hiddenPrefix = ".ringout-" // begins the names of hidden folders and of their locks
	lockSuffix   = ".lock"     // ends those of the locks
	movingName   = ".moving"   // lists the files of a complete set, in the order of their moves
)

// NewDelivery makes the folder dir, and those above it, if need be. What it finds
// of runs that were broken off it tells.
func NewDelivery(dir string, told io.Writer) (*Delivery, error) {
	d := &Delivery{dir: filepath.Clean(dir)}
	info, err := os.Stat(d.dir)
	if err == nil && !info.IsDir() {
		return nil, fmt.Errorf("%s: is a file, not a folder to draw into", dir)
	}
	for up := d.dir; errors.Is(err, fs.ErrNotExist); {
		if _, err := os.Lstat(up); err == nil {
			return nil, fmt.Errorf("%s: is a link to a folder that is not there", up)
		}
		d.made = append(d.made, up)
		if up == filepath.Dir(up) {
			break
		}
		up = filepath.Dir(up)
		_, err = os.Stat(up)
	}
	if err := os.MkdirAll(d.dir, 0o777); err != nil {
		d.Abandon()
		return nil, fmt.Errorf("%s: the folder cannot be made: %w", dir, tell.Reason(err))
	}
	Sweep(d.dir, told)
	if err := d.hide(); err != nil {
		d.Abandon()
		return nil, fmt.Errorf("%s: cannot be written into: %w", dir, tell.Reason(err))
	}
	return d, nil
}

// hide makes the hidden folder, its lock first: a folder that nobody holds the lock
// of is one that was left behind.
func (d *Delivery) hide() error {
	for {
		f, err := os.CreateTemp(d.dir, hiddenPrefix+"*"+lockSuffix)
		if err != nil {
			return err
		}
		f.Close()
		switch lock, err := Lock(f.Name()); {
		case err == ErrHeld: // by a run that sweeps
		case err != nil:
			return err
		default:
			hidden := strings.TrimSuffix(f.Name(), lockSuffix)
			if err := os.Mkdir(hidden, 0o777); err != nil {
				Unlock(lock)
				return err
			}
			d.lock, d.hidden = lock, hidden
			return nil
		}
	}
}

// Sweep removes what runs left in a folder that ended before they were done; of a
// set that was complete it moves the rest to its place, and tells so.
func Sweep(dir string, told io.Writer) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), hiddenPrefix) {
			continue
		}
		hidden := filepath.Join(dir, strings.TrimSuffix(e.Name(), lockSuffix))
		lock, err := Lock(hidden + lockSuffix)
		if err != nil {
			continue // under way, or not ours to write
		}
		if moved, stuck := settle(dir, hidden); stuck != nil {
			fmt.Fprintf(told, "ringout: warning: %s: a run was interrupted while moving its files; these are from the run before: %s (%v)\n", dir, tell.Names(moved, ", "), tell.Reason(stuck))
			lock.Close()
			continue
		} else if len(moved) > 0 {
			fmt.Fprintf(told, "ringout: warning: %s: a run was interrupted while moving its files; moved now: %s\n", dir, tell.Names(moved, ", "))
		}
		os.RemoveAll(hidden)
		Unlock(lock)
	}
}

// settle moves to their places the files of a complete set that are still in the
// hidden folder, and returns their names; of one that cannot be moved, it and those
// after it.
func settle(dir, hidden string) (names []string, err error) {
	list, err := os.ReadFile(filepath.Join(hidden, movingName))
	if err != nil {
		return nil, nil // the set was not complete
	}
	for name := range strings.Lines(string(list)) {
		name = strings.TrimSuffix(name, "\n")
		if !filepath.IsLocal(name) {
			continue
		}
		if _, err := os.Lstat(filepath.Join(hidden, name)); err == nil {
			names = append(names, name)
		}
	}
	for i, name := range names {
		if err := move(hidden, dir, name); err != nil {
			return names[i:], err
		}
	}
	return names, nil
}

// move moves a file of a set to its place, over an older one of that name.
var move = func(hidden, dir, name string) error {
	return os.Rename(filepath.Join(hidden, name), filepath.Join(dir, name))
}

// Create opens a file of the set, in a folder of it if its name has one. It is
// not for two goroutines at once.
func (d *Delivery) Create(name string) (*os.File, error) {
	d.names = append(d.names, name)
	file := filepath.Join(d.hidden, name)
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		return nil, err
	}
	return os.Create(file)
}

// Write writes a file of the set.
func (d *Delivery) Write(name string, write func(io.Writer) error) error {
	f, err := d.Create(name)
	if err != nil {
		return err
	}
	return writeClose(f, write)
}

// writeClose writes a file and closes it.
func writeClose(f *os.File, write func(io.Writer) error) error {
	err := write(f)
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}

// Files are the files of the set as they stand in the hidden folder.
func (d *Delivery) Files() fs.FS { return os.DirFS(d.hidden) }

// Finish moves every file to its place, over an older one of that name.
func (d *Delivery) Finish() error {
	for _, name := range d.names {
		// Else the move would fail half way through the set.
		place := filepath.Join(d.dir, name)
		if err := os.MkdirAll(filepath.Dir(place), 0o777); err != nil {
			return err
		}
		switch info, err := os.Lstat(place); {
		case err != nil:
		case info.IsDir():
			return fmt.Errorf("%s: is a folder where a file has to go", place)
		case info.Mode()&fs.ModeSymlink != 0:
			if _, err := os.Stat(place); err != nil {
				return fmt.Errorf("%s: is a link to a file that is not there", place)
			}
		}
	}
	if err := d.note(); err != nil {
		return err
	}
	d.moving = true
	if slices.Contains(d.names, RegisterName) {
		// It comes last: until then it would be of the files before.
		if err := os.Remove(filepath.Join(d.dir, RegisterName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	for i, name := range d.names {
		if err := move(d.hidden, d.dir, name); err != nil {
			return fmt.Errorf("%s: cannot be written: %w; %d of %s of the set are in place, and the next run into %s moves the rest",
				filepath.Join(d.dir, name), tell.Reason(err), i, finding.Count(len(d.names), "file"), d.dir)
		}
	}
	d.moving, d.made = false, nil
	return nil
}

// note lists the files of the set, now that it is complete.
func (d *Delivery) note() error {
	list := filepath.Join(d.hidden, movingName)
	if err := os.WriteFile(list+"-part", []byte(strings.Join(d.names, "\n")+"\n"), 0o666); err != nil {
		return err
	}
	return os.Rename(list+"-part", list)
}

// Abandon removes what was not moved, and the folders that were made for it. It
// does no harm after finish; when that failed while it moved the set, the rest stays
// for the next run.
func (d *Delivery) Abandon() {
	switch {
	case d.lock == nil:
	case d.moving:
		d.lock.Close()
	default:
		os.RemoveAll(d.hidden)
		Unlock(d.lock)
	}
	d.lock = nil
	for _, dir := range d.made {
		os.Remove(dir) // only if empty
	}
}

// IssuesName is the register of issues in the folder of a plant.
const IssuesName = "issues.txt"

// WriteFile writes one file, whole or not at all, over an older one, but over
// nothing that a plant is made of. A link is followed.
func WriteFile(name string, told io.Writer, write func(io.Writer) error) error {
	to, err := Linked(name)
	if err != nil {
		return err
	}
	for _, file := range []string{name, to} {
		if what := plantOwns(file); what != "" {
			return tell.WrongUsef("-o %s: is %s, and nothing is written over it", name, what)
		}
	}
	d, err := NewDelivery(filepath.Dir(to), told)
	if err != nil {
		return err
	}
	defer d.Abandon()
	if err := d.Write(filepath.Base(to), write); err != nil {
		return fmt.Errorf("%s: cannot be written: %w", name, tell.Reason(err))
	}
	return d.Finish()
}

// plantOwns tells what a file is to a plant, by its name or by what stands in it; ""
// for nothing.
func plantOwns(file string) string {
	switch name := filepath.Base(file); {
	case read.IsPlantFile(name):
		return "the text of a plant"
	case name == IssuesName || strings.HasSuffix(name, "."+IssuesName):
		return "a register of issues"
	case name == RegisterName:
		return "a register of sheets"
	}
	switch data, err := os.ReadFile(file); {
	case err != nil:
		return ""
	case issue.IsRegister(data):
		return "a register of issues"
	case bytes.HasPrefix(data, []byte(registerKind)):
		return "a register of sheets"
	case read.IsPlantText(data):
		return "the text of a plant"
	}
	return ""
}

// Linked is the file that a name stands for: where it is a link, what that leads to.
func Linked(name string) (string, error) {
	if info, err := os.Lstat(name); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		return name, nil
	}
	to, err := filepath.EvalSymlinks(name)
	if err != nil {
		return "", fmt.Errorf("%s: is a link to a file that is not there", name)
	}
	return to, nil
}

// Unwritten names the file that could not be written where the user looks for
// it: nobody knows of the hidden folder that it was begun in.
func Unwritten(out string, err error) error {
	if failed := (*fs.PathError)(nil); errors.As(err, &failed) {
		return fmt.Errorf("%s: cannot be written: %w", filepath.Join(out, filepath.Base(failed.Path)), failed.Err)
	}
	return err
}
