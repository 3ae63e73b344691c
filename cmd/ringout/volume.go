package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"strings"
	"time"
	"unicode/utf8"

	"ringout/layout"
	"ringout/model"
	"ringout/render"
	"ringout/render/pdf"
)

// mostSheets is how many sheets one PDF holds. The PDF library keeps a whole
// document in memory until it is closed, and so do many viewers; longer sets go
// into volumes.
const mostSheets = 2000

// volumes parts the sheets of a set into those of each PDF. The sheets of one
// drawing are not parted, unless they alone are more than most.
func volumes(sheets []*layout.Sheet, most int) (all [][]*layout.Sheet) {
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

// bookWriter writes sheets into a PDF, or into volumes of it, one after the other:
// each is closed before the next is begun.
type bookWriter struct {
	to      *delivery
	name    string // of the file, without extension
	title   string
	made    time.Time
	volumes [][]*layout.Sheet
	whole   bool // all sheets of the set are in this one PDF

	number int // of the open volume, from 1
	file   *os.File
	pdf    *pdf.Writer
	holds  map[string]bool // the sheets of the open volume
	left   int             // of them, those that are still to come
}

// page writes the next sheet. Links to sheets of other volumes, or to sheets
// that are not drawn, are left out: the words of the link name the sheet.
func (b *bookWriter) page(p *render.Page) error {
	if b.left == 0 {
		if err := b.open(); err != nil {
			return err
		}
	}
	if !b.whole {
		p = &render.Page{Head: p.Head, Items: withoutLinks(p.Items, b.holds)}
	}
	if err := b.pdf.Page(p); err != nil {
		return err
	}
	if b.left--; b.left > 0 {
		return nil
	}
	err := b.pdf.Close()
	if e := b.file.Close(); err == nil {
		err = e
	}
	b.pdf, b.file = nil, nil
	return err
}

// open begins the next volume.
func (b *bookWriter) open() (err error) {
	sheets := b.volumes[b.number]
	b.number++
	name, title := b.name+".pdf", b.title
	if len(b.volumes) > 1 {
		name = fmt.Sprintf("%s-%d.pdf", b.name, b.number)
		title = fmt.Sprintf("%s, volume %d of %d", b.title, b.number, len(b.volumes))
	}
	if b.file, err = b.to.create(name); err != nil {
		return err
	}
	var heads []render.Head
	b.holds, b.left = names(sheets), len(sheets)
	for _, s := range sheets {
		heads = append(heads, s.Head)
	}
	b.pdf = pdf.New(b.file, title, heads, b.made)
	return nil
}

// abandon closes the file of a volume that was not finished. It does no harm
// after the last sheet.
func (b *bookWriter) abandon() {
	if b.file != nil {
		b.file.Close()
	}
}

// names are the names of sheets.
func names(sheets []*layout.Sheet) map[string]bool {
	all := make(map[string]bool, len(sheets))
	for _, s := range sheets {
		all[s.Name] = true
	}
	return all
}

// withoutLinks are marks without links to other sheets than those. The marks
// themselves are left as they are: others draw from them.
func withoutLinks(items []render.Item, to map[string]bool) []render.Item {
	kept := make([]render.Item, 0, len(items))
	for _, item := range items {
		switch m := item.(type) {
		case *render.Group:
			item = &render.Group{ID: m.ID, Data: m.Data, Items: withoutLinks(m.Items, to)}
		case *render.Link:
			if !to[m.Page] {
				continue
			}
		}
		kept = append(kept, item)
	}
	return kept
}

// bookName is the name of the PDF: of the plant, and of the selection, so that
// a part of the set never takes the place of the whole, nor of another part.
func (d *drawing) bookName() string {
	name, _ := render.FileName(d.name)
	if name == "" {
		name = "plant"
	}
	if len(d.only) > 0 {
		all := strings.Join(d.only, "-")
		choice, same := render.FileName(all)
		if utf8.RuneCountInString(choice) > 60 {
			choice, same = "selection", false
		}
		if !same || d.hasTwins() {
			choice = strings.TrimPrefix(choice+"-"+shortDigest(d.only), "-")
		}
		name += "-" + choice
	}
	if d.changed {
		name += "-changed"
	}
	return name
}

// hasTwins tells whether tags of the plant differ only in case: files of theirs
// would be one on some systems.
func (r *reading) hasTwins() bool {
	if r.plant == nil {
		return false
	}
	first := map[string]string{}
	for _, k := range scopes {
		for _, tag := range k.tags(r.plant) {
			key := render.SameFile(tag)
			if other, twice := first[key]; twice && other != tag {
				return true
			}
			first[key] = tag
		}
	}
	return false
}

// shortDigest tells two lists of tags apart whose names in files are alike.
func shortDigest(tags []string) string {
	sum := sha256.Sum256([]byte(strings.Join(tags, "\n")))
	return hex.EncodeToString(sum[:3])
}

// issued is the date of the newest revision, or zero: never the clock, so that
// the same plant gives the same bytes.
func issued(newest model.Revision) time.Time {
	t, err := time.Parse(time.DateOnly, newest.Date)
	if err != nil {
		return time.Time{}
	}
	return t
}
