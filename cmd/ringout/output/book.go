package output

import (
	"fmt"
	"os"
	"time"

	"golang.org/x/sync/errgroup"

	"ringout/layout/sheet"
	"ringout/model"
	"ringout/render"
	"ringout/render/pdf"
)

// MostSheets is how many sheets one PDF holds. The PDF library keeps a whole
// document in memory until it is closed, and so do many viewers; longer sets go
// into volumes.
const MostSheets = 2000

// volumes parts the sheets of a set into those of each PDF. The sheets of one
// drawing are not parted, unless they alone are more than most.
func volumes(sheets []*sheet.Sheet, most int) (all [][]*sheet.Sheet) {
	for len(sheets) > most {
		n := most
		for n > 0 && sheets[n].Part > 1 {
			n--
		}
		if n == 0 {
			n = most // longer than a volume
		}
		all, sheets = append(all, sheets[:n]), sheets[n:]
	}
	return append(all, sheets)
}

// Book writes sheets into a PDF, or into volumes of it, one after the other: while one is
// closed, which takes one processor, the sheets of the next are written.
type Book struct {
	To      *Delivery
	Name    string // of the file, without extension
	Title   string
	Made    time.Time
	Volumes [][]*sheet.Sheet
	whole   bool // all sheets of the set are in this one PDF

	number  int // of the open volume, from 1
	file    *os.File
	pdf     *pdf.Writer
	holds   map[string]bool // the sheets of the open volume
	left    int             // of them, those that are still to come
	closing errgroup.Group  // the volumes before
}

// Page writes the next sheet. Links to sheets of other volumes, or to sheets
// that are not drawn, are left out: the words of the link name the sheet.
func (b *Book) Page(p *render.Page) error {
	if b.left == 0 {
		if err := b.open(); err != nil {
			return err
		}
	}
	if !b.whole {
		p = &render.Page{Head: p.Head, Items: WithoutLinks(p.Items, b.holds)}
	}
	if err := b.pdf.Page(p); err != nil {
		return err
	}
	if b.left--; b.left > 0 {
		return nil
	}
	b.closing.Go(closer(b.pdf, b.file))
	b.pdf, b.file = nil, nil
	if b.number < len(b.Volumes) {
		return nil
	}
	return b.closing.Wait()
}

// closer closes a volume.
func closer(w *pdf.Writer, file *os.File) func() error {
	return func() error {
		err := w.Close()
		if e := file.Close(); err == nil {
			err = e
		}
		return err
	}
}

// open begins the next volume.
func (b *Book) open() (err error) {
	sheets := b.Volumes[b.number]
	b.number++
	name, title := b.Name+".pdf", b.Title
	if len(b.Volumes) > 1 {
		name = fmt.Sprintf("%s-%d.pdf", b.Name, b.number)
		title = fmt.Sprintf("%s, volume %d of %d", b.Title, b.number, len(b.Volumes))
	}
	if b.file, err = b.To.Create(name); err != nil {
		return err
	}
	var heads []render.Head
	b.holds, b.left = Names(sheets), len(sheets)
	for _, s := range sheets {
		heads = append(heads, s.Head)
	}
	b.pdf = pdf.New(b.file, title, heads, b.Made)
	return nil
}

// Abandon closes the files of volumes that were not finished. It does no harm
// after the last sheet.
func (b *Book) Abandon() {
	b.closing.Wait()
	if b.file != nil {
		b.file.Close()
	}
}

// Names are the names of sheets.
func Names(sheets []*sheet.Sheet) map[string]bool {
	all := make(map[string]bool, len(sheets))
	for _, s := range sheets {
		all[s.Name] = true
	}
	return all
}

// WithoutLinks are marks without links to other sheets than those. The marks
// themselves are left as they are: others draw from them.
func WithoutLinks(items []render.Item, to map[string]bool) []render.Item {
	kept := make([]render.Item, 0, len(items))
	for _, item := range items {
		switch m := item.(type) {
		case *render.Group:
			item = &render.Group{ID: m.ID, Data: m.Data, Items: WithoutLinks(m.Items, to)}
		case *render.Link:
			if !to[m.Page] {
				continue
			}
		}
		kept = append(kept, item)
	}
	return kept
}

// Issued is the date of the newest revision, or zero: never the clock, so that
// the same plant gives the same bytes.
func Issued(newest model.Revision) time.Time {
	t, err := time.Parse(time.DateOnly, newest.Date)
	if err != nil {
		return time.Time{}
	}
	return t
}
