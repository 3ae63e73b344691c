package output

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"os"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"ringout/layout/sheet"
	"ringout/render"
	"ringout/render/svg"
)

// Set writes pages of a plan into a delivery, in one or more formats. SVG files
// are written side by side, a few at a time, while the pages go into the PDF in the
// order of the plan.
type Set struct {
	to     *Delivery
	book   *Book
	web    *webWriter
	leaves *errgroup.Group // stays nil where no SVG is written
	shown  *Register       // what each SVG shows goes into it
	noted  sync.Mutex      // of shown
}

// NewSet begins files of a name for those sheets of a plan. SVG is written where
// there is a register of what it shows.
func NewSet(to *Delivery, name string, formats []string, plan *sheet.Plan, sheets []*sheet.Sheet) *Set {
	s := &Set{to: to}
	if slices.Contains(formats, "pdf") {
		s.book = &Book{To: to, Name: name, Title: plan.Plant.Name, Made: Issued(plan.Newest()), Volumes: volumes(sheets, MostSheets)}
		s.book.whole = len(sheets) == len(plan.Sheets) && len(s.book.Volumes) == 1
	}
	if slices.Contains(formats, "html") {
		s.web = newWebWriter(to, name, plan, sheets)
	}
	return s
}

// NoteIn has SVG files written too, and what each of them shows noted in a register.
func (s *Set) NoteIn(shown *Register) {
	s.shown, s.leaves = shown, new(errgroup.Group)
	s.leaves.SetLimit(runtime.GOMAXPROCS(0))
}

// Page writes the next page.
func (s *Set) Page(page *render.Page) error {
	if s.leaves != nil {
		f, err := s.to.Create(page.Name + ".svg")
		if err != nil {
			return err
		}
		s.leaves.Go(func() error {
			file, err := writeSVG(f, page)
			s.noted.Lock()
			defer s.noted.Unlock()
			s.shown.sheets[page.Name] = drawnSheet{pageDigest(page), file}
			return err
		})
	}
	if s.web != nil {
		if err := s.web.page(page); err != nil {
			return err
		}
	}
	if s.book != nil {
		return s.book.Page(page)
	}
	return nil
}

// Close ends the set after its last page, and writes what stands beside the pages:
// the register last of all.
func (s *Set) Close() error {
	if s.leaves != nil {
		if err := s.leaves.Wait(); err != nil {
			return err
		}
	}
	if s.web != nil {
		if err := s.web.close(); err != nil {
			return err
		}
	}
	if s.shown == nil {
		return nil
	}
	return s.to.Write(RegisterName, s.shown.write)
}

// Abandon waits for what is being written, and closes it. It does no harm after close.
func (s *Set) Abandon() {
	if s.leaves != nil {
		s.leaves.Wait()
	}
	if s.book != nil {
		s.book.Abandon()
	}
}

// writeSVG writes a page into a file and returns a digest of what it wrote.
func writeSVG(f *os.File, page *render.Page) (file string, err error) {
	h := sha256.New()
	err = svg.Write(io.MultiWriter(f, h), page)
	if e := f.Close(); err == nil {
		err = e
	}
	return hex.EncodeToString(h.Sum(nil)), err
}
