// Package pdf writes the pages of a set into one PDF file, with an outline and
// links from page to page. In go render.Pages, out come the same marks; nothing
// is decided or measured here.
//
// The contents of pages are made side by side, each on its own (content.go). The library
// makes all else of the file: fonts, pages, links, outline. The two are put together at
// the end (file.go).
package pdf

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strings"
	"time"
	"unicode"

	"github.com/go-pdf/fpdf"

	"ringout/fonts"
	"ringout/render"
)

// Writer writes one document. It is not for two goroutines at once; two Writers
// are.
type Writer struct {
	out    io.Writer
	doc    *fpdf.Fpdf
	heads  []render.Head
	links  map[string]int // page name to link number
	given  int            // pages
	making []<-chan made  // the contents of the last of them, in order
	pages  [][]byte       // the contents of those before, deflated
	known  [fonts.Count]letters
	err    error // the first one; nothing is written after it
}

// made is the content of a page, or why there is none.
type made struct {
	*content
	err error
}

// New begins a document of the pages in heads, in their order. Made is the date
// in the file; its zero means 1 January 1970, never the clock, so that the same
// pages give the same bytes. Errors come from Page and Close.
func New(w io.Writer, title string, heads []render.Head, made time.Time) *Writer {
	p := &Writer{out: w, heads: heads, links: make(map[string]int, len(heads))}
	p.doc = fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: 210, Ht: 297}})
	if len(heads) == 0 {
		p.err = fmt.Errorf("document %q has no pages", title)
	}
	for i := range heads {
		h := &heads[i]
		if err := h.Check(); err != nil && p.err == nil {
			p.err = err
		}
		if _, twice := p.links[h.Name]; twice && p.err == nil {
			p.err = fmt.Errorf("page %q is in the document twice", h.Name)
		}
		p.links[h.Name] = p.doc.AddLink()
		p.doc.SetLink(p.links[h.Name], 0, i+1)
	}
	if made.IsZero() {
		made = time.Unix(0, 0)
	}
	p.doc.SetCatalogSort(true)
	p.doc.SetCompression(false) // what it would deflate is replaced
	p.doc.SetCreationDate(made.UTC())
	p.doc.SetModificationDate(made.UTC())
	p.doc.SetTitle(strings.Map(writable, title), true)
	p.doc.SetAutoPageBreak(false, 0)
	for f := range fonts.Count {
		// The library may write into the file it is given: a copy each.
		p.doc.AddUTF8FontFromBytes(family(f), style(f), f.Data())
	}
	return p
}

func family(f fonts.Face) string { return strings.ReplaceAll(f.Family(), " ", "") }

func style(f fonts.Face) string {
	if f.Weight() > 400 {
		return "B"
	}
	return ""
}

// Page writes the next page. Its Head must be the next of those given to New. A
// page that render's Page.Check refuses, or a Link to a page that is not in the
// document, gives an error, here or of a later page or Close; after an error no
// document is written. The page may not be altered before Close.
func (p *Writer) Page(page *render.Page) error {
	if p.err != nil {
		return p.err
	}
	if p.given == len(p.heads) || p.heads[p.given] != page.Head {
		p.err = fmt.Errorf("page %q is not page %d of the document", page.Name, p.given+1)
		return p.err
	}
	p.given++
	ready := make(chan made, 1)
	go func() {
		c, err := encode(page)
		ready <- made{c, err}
	}()
	p.making = append(p.making, ready)
	if len(p.making) > 2*runtime.GOMAXPROCS(0) {
		p.err = p.next()
	}
	return p.err
}

// next takes the first content that is being made into the document.
func (p *Writer) next() error {
	c := <-p.making[0]
	p.making = p.making[1:]
	head := &p.heads[len(p.pages)]
	if c.err != nil {
		return fmt.Errorf("page %q: %w", head.Name, c.err)
	}
	// Portrait always: landscape would swap the true width and height.
	p.doc.AddPageFormat("P", fpdf.SizeType{Wd: mm(head.W), Ht: mm(head.H)})
	for f := range fonts.Count {
		p.learn(f, c.letters[f])
	}
	p.pages = append(p.pages, c.stream)
	entry := head.Title
	if entry == "" {
		entry = head.Name
	}
	// The library reckons outline targets from the height of the last page.
	p.doc.Bookmark(entry, 0, mm(p.heads[len(p.heads)-1].H-head.H))
	for _, l := range c.links {
		link, known := p.links[l.Page]
		if !known {
			return fmt.Errorf("page %q: link at %v: page %q is not in the document", head.Name, l.Min, l.Page)
		}
		p.doc.Link(mm(l.Min.X), mm(l.Min.Y), mm(l.Max.X-l.Min.X), mm(l.Max.Y-l.Min.Y), link)
	}
	return p.doc.Error()
}

// learn has the library take letters of a face into the file, on a page whose own marks
// are replaced. On the first page it sets every face, in their order: file.go reads the
// names of the faces there.
func (p *Writer) learn(f fonts.Face, all string) {
	fresh := strings.Map(func(r rune) rune {
		if p.known[f].has(r) {
			return -1
		}
		p.known[f].add(r)
		return r
	}, all)
	if fresh != "" || len(p.pages) == 0 {
		p.doc.SetFont(family(f), style(f), 10)
		p.doc.Text(0, 0, fresh)
	}
}

// Close writes the document out. It gives an error, and writes nothing, when a
// page failed or is still to come.
func (p *Writer) Close() error {
	for p.err == nil && len(p.making) > 0 {
		p.err = p.next()
	}
	if p.err == nil && p.given < len(p.heads) {
		p.err = fmt.Errorf("page %q was not written", p.heads[p.given].Name)
	}
	if p.err == nil {
		var file bytes.Buffer
		if p.err = p.doc.Output(&file); p.err == nil {
			p.err = join(p.out, file.Bytes(), p.pages)
		}
	}
	return p.err
}

// writable drops what the title of a document cannot carry.
func writable(r rune) rune {
	if r > 0xFFFF || !unicode.IsGraphic(r) {
		return -1
	}
	return r
}

func mm(l render.Len) float64 { return float64(l) / 1000 }
