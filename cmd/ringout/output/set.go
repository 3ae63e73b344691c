package output

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"ringout/layout/sheet"
	"ringout/render"
	"ringout/render/svg"
)

// Set writes pages of a plan into a delivery, in one or more formats. SVG and HTML files
// are written side by side, a few at a time, while the pages go into the PDF in the
// order of the plan.
type Set struct {
	to     *Delivery
	book   *Book
	web    *webWriter
	leaves errgroup.Group // files of one page
	shown  *Register      // what each SVG shows goes into it; nil where none is written
	noted  sync.Mutex     // of shown
}

// NewSet begins files of a name for those sheets of a plan. SVG is written where
// there is a register of what it shows.
func NewSet(to *Delivery, name string, formats []string, plan *sheet.Plan, sheets []*sheet.Sheet) *Set {
	s := &Set{to: to}
	s.leaves.SetLimit(runtime.GOMAXPROCS(0))
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
func (s *Set) NoteIn(shown *Register) { s.shown = shown }

// Page writes the next page.
func (s *Set) Page(page *render.Page) error {
	if s.shown != nil {
		if err := s.leaf(page.Name+".svg", func(w io.Writer) error { return s.svg(w, page) }); err != nil {
			return err
		}
	}
	if s.web != nil {
		name, write, err := s.web.page(page)
		if err == nil {
			err = s.leaf(name, write)
		}
		if err != nil {
			return err
		}
	}
	if s.book != nil {
		return s.book.Page(page)
	}
	return nil
}

// leaf writes a file of one page beside others.
func (s *Set) leaf(name string, write func(io.Writer) error) error {
	f, err := s.to.Create(name)
	if err != nil {
		return err
	}
	s.leaves.Go(func() error { return writeClose(f, write) })
	return nil
}

// svg writes a page as SVG and notes what it wrote.
func (s *Set) svg(w io.Writer, page *render.Page) error {
	h := sha256.New()
	err := svg.Write(io.MultiWriter(w, h), page)
	shown := drawnSheet{pageDigest(page), hex.EncodeToString(h.Sum(nil))}
	s.noted.Lock()
	defer s.noted.Unlock()
	s.shown.sheets[page.Name] = shown
	return err
}

// Close ends the set after its last page, and writes what stands beside the pages:
// the register last of all.
func (s *Set) Close() error {
	if err := s.leaves.Wait(); err != nil {
		return err
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
	s.leaves.Wait()
	if s.book != nil {
		s.book.Abandon()
	}
}
