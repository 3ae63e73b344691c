package output

import (
	"fmt"
	"io"
	"path"
	"slices"

	"ringout/cmd/ringout/wiring"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/finding"
	"ringout/render"
	"ringout/render/html"
)

// webWriter writes the set that a browser opens from disk: a folder of its own,
// named as the PDF, so that the links of a part of the set never lead into the
// whole.
type webWriter struct {
	to  *Delivery
	dir string
	set *html.Set
}

func newWebWriter(to *Delivery, name string, plan *sheet.Plan, sheets []*sheet.Sheet) *webWriter {
	p := plan.Plant
	rev := plan.Newest()
	issue := "Revision " + rev.Mark + " of " + rev.Date
	if rev.Mark == "" {
		issue = "Revision " + wiring.NotGiven
	}
	if status := plan.Status(); status != "" {
		issue += ". " + status
	}
	title, notice := p.Name, ""
	if title == "" {
		title = wiring.NotGiven
	}
	if plan.Draft {
		notice = "DRAFT"
	}
	if n := len(plan.Sheets); len(sheets) < n {
		issue += ". " + finding.Count(len(sheets), "sheet") + " of " + finding.Count(n, "sheet")
	}
	var all []html.Sheet
	for _, s := range sheets {
		part := ""
		if s.Of > 1 {
			part = fmt.Sprintf("%d of %d", s.Part, s.Of)
		}
		all = append(all, html.Sheet{Head: s.Head, No: s.No, Number: s.Number, Words: s.Words, Part: part, Kind: s.Kind.Words,
			Revision: plan.Revision(s).Mark, Code: s.Code, Subject: s.Tag(), Parts: s.Place != nil})
	}
	set := html.New(title, issue, notice, all)
	set.Words = tagWords(p)
	return &webWriter{to, name + "-html", set}
}

// tagWords say what tags name: the parts of places and devices, and the pairs of
// cores.
func tagWords(p *model.Plant) map[string]string {
	words := map[string]string{}
	for _, pl := range p.Places {
		for _, x := range pl.Parts {
			words[x.Tag] = partWord(p, x) + " in " + pl.Tag
		}
	}
	for _, l := range p.Loops {
		for _, d := range l.Devices {
			words[d.Tag] = p.Say(d.Kind.Words)
		}
	}
	for _, c := range p.Cables {
		if c.Type == nil || c.Type.Size == 1 {
			continue
		}
		for _, core := range slices.Concat(c.Cores, c.Screens) {
			words[core.Name()] = fmt.Sprintf("%s %d", p.Say(c.Type.GroupWord()), core.Group)
		}
	}
	return words
}

func partWord(p *model.Plant, x *model.Part) string {
	switch {
	case x.Strip != nil && x.Coupler == nil:
		return "strip"
	case x.Card != nil:
		return "card, " + p.Say(x.Kind.Words)
	}
	return p.Say(x.Kind.Words)
}

// page is the file of one page, and what writes it; pages come in the order of the sheets.
func (w *webWriter) page(p *render.Page) (name string, write func(io.Writer) error, err error) {
	write, err = w.set.Page(p)
	return path.Join(w.dir, html.File(p.Name)), write, err
}

// close writes what stands beside the sheets.
func (w *webWriter) close() error {
	for name, write := range w.set.Files() {
		if err := w.to.Write(path.Join(w.dir, name), write); err != nil {
			return err
		}
	}
	return nil
}
