package main

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
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
// shows: a line with a digest of the page, one of the file and a name for every
// sheet, between a first line that says what the file is and a last one that
// counts the sheets.
const (
	registerName = "ringout.sheets"
	registerHead = "ringout register of sheets, form 2"
	registerFoot = "end"
)

// register holds what is known of every sheet in a folder by the sheet's name.
type register map[string]drawnSheet

// drawnSheet has the digests of a page and of the file that it was written into,
// in hexadecimal digits.
type drawnSheet struct{ page, file string }

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
		words := strings.SplitN(line, " ", 3)
		if len(words) < 3 || !isDigest(words[0]) || !isDigest(words[1]) || words[2] == "" || r[words[2]].page != "" {
			return refuse(fmt.Sprintf("line %d is damaged", i+2))
		}
		r[words[2]] = drawnSheet{words[0], words[1]}
	}
	return r, nil
}

func isDigest(s string) bool {
	raw, err := hex.DecodeString(s)
	return err == nil && len(raw) == sha256.Size
}

// write writes the register in the order of the names.
func (r register) write(w io.WriteCloser) error {
	out := bufio.NewWriter(w)
	fmt.Fprintln(out, registerHead)
	for _, sheet := range slices.Sorted(maps.Keys(r)) { // sorted: output
		fmt.Fprintln(out, r[sheet].page, r[sheet].file, sheet)
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
		if drawn, ok := r[s.Name]; ok {
			kept[s.Name] = drawn
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

// stands tells whether the folder holds a page as it was written: nobody altered
// or cut its file since.
func (r register) stands(dir string, p *render.Page) bool {
	drawn := r[p.Name]
	if drawn.page != digest(p) {
		return false
	}
	data, err := os.ReadFile(filepath.Join(dir, p.Name+".svg"))
	sum := sha256.Sum256(data)
	return err == nil && drawn.file == hex.EncodeToString(sum[:])
}

// summed is a file with the digest of what was written into it.
type summed struct {
	io.WriteCloser
	sum hash.Hash
}

func (s summed) Write(p []byte) (int, error) {
	s.sum.Write(p)
	return s.WriteCloser.Write(p)
}
