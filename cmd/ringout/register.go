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
	"strings"

	"ringout/layout"
	"ringout/render"
)

// registerName is the file in the output folder that tells what each SVG in it
// shows: a line with a digest and a name for every sheet, between a first line
// that says what the file is and a last one that counts the sheets.
const (
	registerName = "ringout.sheets"
	registerHead = "ringout register of sheets, form 1"
	registerFoot = "end"
)

// register holds the digest of every sheet in a folder by the sheet's name.
type register map[string]string

// readRegister reads the register of a folder; it is empty where there is none.
// A file that was not written whole, or not by ringout, is an error.
func readRegister(dir string) (register, error) {
	name := filepath.Join(dir, registerName)
	refuse := func(what string) (register, error) {
		return nil, fmt.Errorf("%s: %s; it tells which sheets are up to date, so nothing is drawn: remove it to draw all of them", name, what)
	}
	data, err := os.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return register{}, nil
	case err != nil:
		return refuse(fmt.Sprintf("cannot be read: %v", reason(err)))
	}
	lines := strings.Split(string(data), "\n")
	if lines[0] != registerHead {
		return refuse("is not a register that this ringout wrote")
	}
	n := len(lines)
	if n < 3 || lines[n-1] != "" || lines[n-2] != fmt.Sprintf("%s %d", registerFoot, n-3) {
		return refuse("is not whole")
	}
	r := register{}
	for i, line := range lines[1 : n-2] {
		digest, sheet, ok := strings.Cut(line, " ")
		if raw, err := hex.DecodeString(digest); !ok || err != nil || len(raw) != sha256.Size || sheet == "" || r[sheet] != "" {
			return refuse(fmt.Sprintf("line %d is damaged", i+2))
		}
		r[sheet] = digest
	}
	return r, nil
}

// write writes the register in the order of the names.
func (r register) write(w io.WriteCloser) error {
	out := bufio.NewWriter(w)
	fmt.Fprintln(out, registerHead)
	for _, sheet := range slices.Sorted(maps.Keys(r)) { // sorted: output
		fmt.Fprintln(out, r[sheet], sheet)
	}
	fmt.Fprintln(out, registerFoot, len(r))
	err := out.Flush()
	if e := w.Close(); err == nil {
		err = e
	}
	return err
}

// of returns the register without sheets that the plan does not have.
func (r register) of(plan *layout.Plan) register {
	kept := register{}
	for _, s := range plan.Sheets {
		if digest := r[s.Name]; digest != "" {
			kept[s.Name] = digest
		}
	}
	return kept
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
