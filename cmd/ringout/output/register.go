package output

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"

	"golang.org/x/sync/errgroup"

	"ringout/cmd/ringout/tell"
	"ringout/layout/sheet"
	"ringout/render"
)

// RegisterName is the file in the output folder that tells what each SVG in it
// shows. A first line says what the file is. The next has a digest of all that
// the sheets were drawn from, and one of what bears on every sheet, or dashes.
// Then come a line for each sheet: "sheet", a digest of the page, one of the file and
// the name; and, if there are digests, one for each drawing: "drawing",
// what layout.Known has of it, its kind and its tag. A last line has a digest of
// all before it.
const (
	RegisterName = "ringout.sheets"
	registerKind = "ringout register of sheets"
	registerHead = registerKind + ", form 5"
	registerFoot = "end"
	Unknown      = "-" // stands for a digest that cannot be told
)

// Register is what is known of the sheets in a folder.
type Register struct {
	source   string                            // digest of what they were drawn from; unknown where they have to be drawn to tell
	common   string                            // digest of what bears on every sheet, likewise
	sheets   map[string]drawnSheet             // by name
	drawings map[[2]string]sheet.CachedDrawing // by kind and tag, of the whole set
}

func newRegister() *Register {
	return &Register{Unknown, Unknown, map[string]drawnSheet{}, map[[2]string]sheet.CachedDrawing{}}
}

// Count is how many sheets the register knows of.
func (r *Register) Count() int { return len(r.sheets) }

// OldSheets lists SVG files in the folder that look like sheets and that the register
// does not know of.
func (r *Register) OldSheets(dir string) []string { return OldSheets(dir, r.sheets) }

// Drawing is what the register knows of a drawing.
func (r *Register) Drawing(kind, tag string) sheet.CachedDrawing {
	return r.drawings[[2]string{kind, tag}]
}

// drawnSheet has the digests of a page and of the file that it was written into, in
// hexadecimal digits.
type drawnSheet struct{ page, file string }

// ReadRegister reads the register of a folder; it is empty where there is none.
// A file that was not written whole, or not by ringout, is an error.
func ReadRegister(dir string) (*Register, error) {
	name := filepath.Join(dir, RegisterName)
	refuse := func(what string) (*Register, error) {
		return nil, fmt.Errorf("%s: %s; needed to find changed sheets; delete it to draw all", name, what)
	}
	data, err := os.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR): // NewDelivery tells of a file that is in the way
		return newRegister(), nil
	case err != nil:
		return refuse(fmt.Sprintf("cannot be read: %v", tell.Reason(err)))
	}
	if !bytes.HasPrefix(data, []byte(registerHead+"\n")) {
		return refuse("is not a register that this ringout wrote")
	}
	body, foot, _ := strings.Cut(string(data), "\n"+registerFoot+" ")
	if foot != sumOf(body)+"\n" {
		return refuse("was edited or damaged")
	}
	r := newRegister()
	for i, line := range strings.Split(body, "\n")[1:] {
		if !r.read(i, line) {
			return refuse("was edited or damaged")
		}
	}
	return r, nil
}

func sumOf(s string) string {
	sum := sha256.Sum256([]byte(s))
	return hex.EncodeToString(sum[:])
}

// read reads a line, counted from the second; false if it says nothing.
func (r *Register) read(i int, line string) bool {
	words := strings.SplitN(line, " ", 8)
	number := func(s string) int64 {
		if n, err := strconv.ParseInt(s, 10, 64); err == nil {
			return n
		}
		return -1
	}
	switch {
	case i == 0 && len(words) == 2:
		r.source, r.common = words[0], words[1]
		return (r.source == Unknown || isDigest(r.source)) && (r.common == Unknown || isDigest(r.common))
	case words[0] == "sheet" && len(words) == 4:
		s := drawnSheet{words[1], words[2]}
		twice := r.sheets[words[3]].page != ""
		r.sheets[words[3]] = s
		return isDigest(s.page) && isDigest(s.file) && words[3] != "" && !twice
	case words[0] == "drawing" && len(words) == 8:
		k := sheet.CachedDrawing{Stamp: words[1], Refs: words[2], Code: words[3], Sheets: int(number(words[4]))}
		if words[5] != Unknown {
			k.Shows = strings.Split(words[5], ",")
		}
		of := [2]string{words[6], words[7]}
		_, twice := r.drawings[of]
		r.drawings[of] = k
		return k.Sheets > 0 && !twice
	}
	return false
}

func isDigest(s string) bool {
	raw, err := hex.DecodeString(s)
	return err == nil && len(raw) == sha256.Size
}

// write writes the register in the order of the names.
func (r *Register) write(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s %s", registerHead, r.source, r.common)
	for _, name := range slices.Sorted(maps.Keys(r.sheets)) { // sorted: output
		fmt.Fprintf(&b, "\nsheet %s %s %s", r.sheets[name].page, r.sheets[name].file, name)
	}
	order := func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }
	for _, of := range slices.SortedFunc(maps.Keys(r.drawings), order) {
		k := r.drawings[of]
		fmt.Fprintf(&b, "\ndrawing %s %s %s %d %s %s %s", k.Stamp, cmp.Or(k.Refs, Unknown), cmp.Or(k.Code, Unknown), k.Sheets, cmp.Or(strings.Join(k.Shows, ","), Unknown), of[0], of[1])
	}
	_, err := fmt.Fprintf(w, "%s\n%s %s\n", b.String(), registerFoot, sumOf(b.String()))
	return err
}

// Keep forgets sheets that the plan does not have.
func (r *Register) Keep(plan *sheet.Plan) {
	mine := Names(plan.Sheets)
	maps.DeleteFunc(r.sheets, func(name string, _ drawnSheet) bool { return !mine[name] })
}

// Know notes what the sheets of a plan are drawn from.
func (r *Register) Know(plan *sheet.Plan, source, common string) {
	r.source, r.common = source, common
	clear(r.drawings)
	if common == Unknown {
		return
	}
	for _, s := range plan.Sheets {
		if k := plan.Known(s); s.Part == 1 {
			r.drawings[[2]string{s.Kind.Name, s.Tag()}] = k
		}
	}
}

// Forget forgets what the sheets are drawn from, so that all have to be drawn to
// tell: some have problems to report.
func (r *Register) Forget() {
	r.source, r.common = Unknown, Unknown
	clear(r.drawings)
}

// pageDigest tells what a page shows, and which build of ringout wrote it down:
// another may write the same page in another way.
func pageDigest(p *render.Page) string {
	h := sha256.New()
	if info, ok := debug.ReadBuildInfo(); ok {
		io.WriteString(h, info.Main.Version)
	}
	sum := p.Digest()
	h.Write(sum[:])
	return hex.EncodeToString(h.Sum(nil))
}

// Shows reports whether the folder holds a page as it was written.
func (r *Register) Shows(dir string, p *render.Page) bool {
	return r.sheets[p.Name].page == pageDigest(p) && r.stands(dir, p.Name)
}

// stands reports whether the file of a sheet is there, every byte as it was written.
func (r *Register) stands(dir, name string) bool {
	h := sha256.New()
	f, err := os.Open(filepath.Join(dir, name+".svg"))
	if err != nil {
		return false
	}
	defer f.Close()
	_, err = io.Copy(h, f)
	return err == nil && hex.EncodeToString(h.Sum(nil)) == r.sheets[name].file
}

// stand reports whether all of some files do, several at a time.
func (r *Register) stand(dir string, names []string) bool {
	var each errgroup.Group
	each.SetLimit(runtime.GOMAXPROCS(0))
	var gone atomic.Bool
	for _, name := range names {
		each.Go(func() error {
			if !gone.Load() && !r.stands(dir, name) {
				gone.Store(true)
			}
			return nil
		})
	}
	each.Wait()
	return !gone.Load()
}

// HasCommon reports whether what bears on every sheet is as it was.
func (r *Register) HasCommon(common string) bool { return common != Unknown && r.common == common }

// UpToDate reports whether the folder holds all sheets as drawn from source.
func (r *Register) UpToDate(dir, source string) bool {
	return r.source != Unknown && r.source == source && r.stand(dir, slices.Collect(maps.Keys(r.sheets)))
}

// Fits reports whether all that a plan keeps stands in the folder, in a set of the
// same sheets: each prints its number and how many there are.
func (r *Register) Fits(dir string, plan *sheet.Plan) bool {
	if !slices.ContainsFunc(plan.Sheets, plan.Kept) {
		return true
	}
	var kept []string
	for _, s := range plan.Sheets {
		if _, known := r.sheets[s.Name]; !known {
			return false
		}
		if plan.Kept(s) {
			kept = append(kept, s.Name)
		}
	}
	return len(plan.Sheets) == len(r.sheets) && r.stand(dir, kept)
}

// OriginOf is a digest of this build of ringout and of what write writes; unknown
// where ringout cannot read itself.
func OriginOf(write func(h io.Writer)) string {
	h := sha256.New()
	tool, err := os.Executable()
	if err == nil {
		err = addFile(h, tool)
	}
	if err != nil {
		return Unknown
	}
	write(h)
	return hex.EncodeToString(h.Sum(nil))
}

// addFile adds a file to a digest.
func addFile(h io.Writer, name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(h, f)
	return err
}
