package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// delivery brings a set of files into a folder, all of them or none. They are
// written into a hidden folder inside it, so on the same disk, and moved to
// their places when every one of them is complete.
type delivery struct {
	dir, hidden string
	made        []string // folders that were not there before, outermost last
	names       []string
}

// newDelivery makes the folder dir, and those above it, if need be.
func newDelivery(dir string) (*delivery, error) {
	d := &delivery{dir: filepath.Clean(dir)}
	info, err := os.Stat(d.dir)
	if err == nil && !info.IsDir() {
		return nil, fmt.Errorf("%s: is a file, not a folder to draw into", dir)
	}
	for up := d.dir; errors.Is(err, fs.ErrNotExist); {
		d.made = append(d.made, up)
		if up == filepath.Dir(up) {
			break
		}
		up = filepath.Dir(up)
		_, err = os.Stat(up)
	}
	if err := os.MkdirAll(d.dir, 0o777); err != nil {
		d.abandon()
		return nil, fmt.Errorf("%s: the folder cannot be made: %w", dir, reason(err))
	}
	d.sweep()
	if d.hidden, err = os.MkdirTemp(d.dir, hiddenPrefix); err != nil {
		d.abandon()
		return nil, fmt.Errorf("%s: cannot be written into: %w", dir, reason(err))
	}
	return d, nil
}

// hiddenPrefix begins the names of hidden folders.
const hiddenPrefix = ".ringout-"

// sweep removes the hidden folders of runs that were killed. No run writes for a
// day without adding a file; a younger folder may be that of another run.
func (d *delivery) sweep() {
	entries, err := os.ReadDir(d.dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && e.IsDir() && strings.HasPrefix(e.Name(), hiddenPrefix) && time.Since(info.ModTime()) > 24*time.Hour {
			os.RemoveAll(filepath.Join(d.dir, e.Name()))
		}
	}
}

// create opens a file of the set, in a folder of it if its name has one. It is
// not for two goroutines at once.
func (d *delivery) create(name string) (*os.File, error) {
	d.names = append(d.names, name)
	file := filepath.Join(d.hidden, name)
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		return nil, err
	}
	return os.Create(file)
}

// finish moves every file to its place, over an older one of that name.
func (d *delivery) finish() error {
	for _, name := range d.names {
		// Else the move would fail half way through the set.
		if err := os.MkdirAll(filepath.Dir(filepath.Join(d.dir, name)), 0o777); err != nil {
			return err
		}
		if info, err := os.Lstat(filepath.Join(d.dir, name)); err == nil && info.IsDir() {
			return fmt.Errorf("%s: is a folder where a file has to go", filepath.Join(d.dir, name))
		}
	}
	if slices.Contains(d.names, registerName) {
		// It comes last: until then it would be of the files before.
		if err := os.Remove(filepath.Join(d.dir, registerName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	for _, name := range d.names {
		if err := os.Rename(filepath.Join(d.hidden, name), filepath.Join(d.dir, name)); err != nil {
			return err
		}
	}
	d.made = nil
	return nil
}

// abandon removes what was not moved, and the folders that were made for it. It
// does no harm after finish.
func (d *delivery) abandon() {
	if d.hidden != "" {
		os.RemoveAll(d.hidden)
	}
	for _, dir := range d.made {
		os.Remove(dir) // only if empty
	}
}

// unwritten names the file that could not be written where the user looks for
// it: nobody knows of the hidden folder that it was begun in.
func unwritten(out string, err error) error {
	if failed := (*fs.PathError)(nil); errors.As(err, &failed) {
		return fmt.Errorf("%s: cannot be written: %w", filepath.Join(out, filepath.Base(failed.Path)), failed.Err)
	}
	return err
}
