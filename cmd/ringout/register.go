package main

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"time"

	"ringout/layout"
	"ringout/render"
)

// registerName is the file in the output folder that tells what each SVG in it
// shows. A first line says what the file is, the next has a digest of all that
// the sheets were drawn from, or a dash; then come a digest of the page, the size
// of the file and the name of every sheet, and a last line counts the sheets.
const (
	registerName = "ringout.sheets"
	registerHead = "ringout register of sheets, form 3"
	registerFoot = "end"
	noSource     = "-"
)

// register is what is known of the sheets in a folder.
type register struct {
	source string                // digest of what they were drawn from; noSource where they have to be drawn to tell
	sheets map[string]drawnSheet // by name
	when   time.Time             // it was written: after all sheets
}

// drawnSheet has the digest of a page, in hexadecimal digits, and the bytes of
// the file that it was written into.
type drawnSheet struct {
	page string
	size int64
}

// readRegister reads the register of a folder; it is empty where there is none.
// A file that was not written whole, or not by ringout, is an error.
func readRegister(dir string) (*register, error) {
	name := filepath.Join(dir, registerName)
	refuse := func(what string) (*register, error) {
		return nil, fmt.Errorf("%s: %s; it tells which sheets are up to date, so nothing is drawn: remove it to draw all of them", name, what)
	}
	data, err := os.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &register{source: noSource, sheets: map[string]drawnSheet{}}, nil
	case err != nil:
		return refuse(fmt.Sprintf("cannot be read: %v", reason(err)))
	}
	lines := strings.Split(string(data), "\n")
	if lines[0] != registerHead {
		return refuse("is not a register that this ringout wrote")
	}
	n := len(lines)
	if n < 4 || lines[n-1] != "" || lines[n-2] != fmt.Sprintf("%s %d", registerFoot, n-4) {
		return refuse("is not whole")
	}
	info, err := os.Stat(name)
	if err != nil {
		return refuse(fmt.Sprintf("cannot be read: %v", reason(err)))
	}
	r := &register{lines[1], map[string]drawnSheet{}, info.ModTime()}
	if r.source != noSource && !isDigest(r.source) {
		return refuse("line 2 is damaged")
	}
	for i, line := range lines[2 : n-2] {
		words := strings.SplitN(line, " ", 3)
		damaged := len(words) < 3 || !isDigest(words[0]) || words[2] == "" || r.sheets[words[2]].page != ""
		if !damaged {
			size, err := strconv.ParseInt(words[1], 10, 64)
			damaged = err != nil
			r.sheets[words[2]] = drawnSheet{words[0], size}
		}
		if damaged {
			return refuse(fmt.Sprintf("line %d is damaged", i+3))
		}
	}
	return r, nil
}

func isDigest(s string) bool {
	raw, err := hex.DecodeString(s)
	return err == nil && len(raw) == sha256.Size
}

// write writes the register in the order of the names.
func (r *register) write(w io.WriteCloser) error {
	out := bufio.NewWriter(w)
	fmt.Fprintln(out, registerHead)
	fmt.Fprintln(out, r.source)
	for _, name := range slices.Sorted(maps.Keys(r.sheets)) { // sorted: output
		fmt.Fprintln(out, r.sheets[name].page, r.sheets[name].size, name)
	}
	fmt.Fprintln(out, registerFoot, len(r.sheets))
	err := out.Flush()
	if e := w.Close(); err == nil {
		err = e
	}
	return err
}

// keep forgets sheets that the plan does not have.
func (r *register) keep(plan *layout.Plan) {
	mine := names(plan.Sheets)
	maps.DeleteFunc(r.sheets, func(name string, _ drawnSheet) bool { return !mine[name] })
}

// digest tells what a page shows, and which build of ringout wrote it down:
// another may write the same page in another way.
func digest(p *render.Page) string {
	h := sha256.New()
	if info, ok := debug.ReadBuildInfo(); ok {
		io.WriteString(h, info.Main.Version)
	}
	sum := p.Digest()
	h.Write(sum[:])
	return hex.EncodeToString(h.Sum(nil))
}

// shows tells whether the folder holds a page as it was written.
func (r *register) shows(dir string, p *render.Page) bool {
	return r.sheets[p.Name].page == digest(p) && r.stands(dir, p.Name)
}

// stands tells whether the file of a sheet is as it was written: there, of the
// same size, and not written since.
func (r *register) stands(dir, name string) bool {
	info, err := os.Stat(filepath.Join(dir, name+".svg"))
	return err == nil && info.Size() == r.sheets[name].size && !info.ModTime().After(r.when)
}

// upToDate returns how many sheets the folder holds if all of them were drawn
// from what was read now, without anything to report; else 0.
func (d *drawing) upToDate() (int, error) {
	if !d.changed || d.problems.Errors() > 0 {
		return 0, nil
	}
	shown, err := readRegister(d.out)
	if err != nil || shown.source == noSource || shown.source != d.source() {
		return 0, err
	}
	for name := range shown.sheets {
		if !shown.stands(d.out, name) {
			return 0, nil
		}
	}
	return len(shown.sheets), nil
}

// source is a digest of all that the full set of sheets is drawn from: the text
// of the plant, its issues, whether as a draft, and this build of ringout. It is
// noSource if any of that cannot be told, and for a part of the set.
func (d *drawing) source() string {
	h := sha256.New()
	tool, err := os.Executable()
	for _, name := range []string{tool, d.issuesPath()} {
		if err == nil {
			err = addFile(h, name)
		}
	}
	if err != nil || len(d.only) > 0 {
		return noSource
	}
	for _, name := range slices.Sorted(maps.Keys(d.sources)) { // sorted: a digest
		fmt.Fprintf(h, "%q %d\n", name, len(d.sources[name]))
		h.Write(d.sources[name])
	}
	fmt.Fprintf(h, "%q %v", d.name, d.draft)
	return hex.EncodeToString(h.Sum(nil))
}

// addFile adds a file to a digest; one that is not there counts as empty.
func addFile(h io.Writer, name string) error {
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(h, f)
	return err
}
