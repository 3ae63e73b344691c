package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/layout"
	"ringout/layout/sheet"
	"ringout/model/finding"
	"ringout/render"
)

// This file decides which sheets are drawn, draws them and delivers them.

// choice is what a run of draw is about to draw.
type choice struct {
	shown  *output.Register // what the folder shows; nil where no SVG is written
	source string           // digest of what the sheets are drawn from
	plan   *sheet.Plan      // nil where all is up to date
	chosen map[string]bool  // names of the sheets that are asked for
	of     int              // how many those are
	sheets []*sheet.Sheet   // those of them that are drawn
	told   bool             // the sheets were compared, and found is known
	found  finding.Findings // of the sheets
}

// decide finds out which sheets are to be drawn.
func (d *drawing) decide(ctx context.Context, stderr io.Writer) (c choice, err error) {
	if slices.Contains(d.format, "svg") {
		if c.shown, err = output.ReadRegister(d.out); err != nil {
			return c, err
		}
		if c.source = d.source(); d.changed && c.shown.UpToDate(d.out, c.source) {
			c.of = c.shown.Count()
			return c, nil
		}
	}
	compare := d.changed && c.shown.Count() > 0
	if compare && c.shown.HasCommon(d.common()) {
		issues, err := d.issues()
		if err != nil {
			return c, err
		}
		fits, err := d.compare(ctx, &c, layout.NewSince(d.plant, d.draft, issues, c.shown.Drawing), stderr)
		if fits || err != nil {
			return c, err
		}
	}
	// The register is of no use, or wrong.
	plan, err := d.plan(d.draft)
	if err != nil {
		return c, err
	}
	if compare {
		_, err = d.compare(ctx, &c, plan, stderr)
		return c, err
	}
	return c, d.choose(&c, plan)
}

// compare chooses the sheets that differ from those in the folder. All that the plan
// does not keep are drawn for this, and none is written. Their findings are kept too;
// a kept sheet had none. It is false if what the plan keeps is not what the folder
// holds.
func (d *drawing) compare(ctx context.Context, c *choice, plan *sheet.Plan, stderr io.Writer) (fits bool, err error) {
	if err := d.choose(c, plan); err != nil {
		return false, err
	}
	if plan.Torn() || !c.shown.Fits(d.out, plan) {
		return false, nil
	}
	drawn := slices.DeleteFunc(c.sheets, plan.Kept)
	c.sheets, c.found, c.told = nil, nil, true
	err = d.each(ctx, c, drawn, stderr, func(s *sheet.Sheet, page *render.Page, findings finding.Findings) error {
		c.found = append(c.found, findings...)
		if !c.shown.Shows(d.out, page) {
			c.sheets = append(c.sheets, s)
		}
		return nil
	})
	return !plan.Torn(), err
}

// choose chooses the sheets of a plan that --only asks for.
func (d *drawing) choose(c *choice, plan *sheet.Plan) error {
	var kinds, tags []string
	known := subjects(plan)
	for _, word := range d.only {
		same := func(s string) bool { return strings.EqualFold(s, word) }
		if slices.ContainsFunc(layout.KindNames(), same) {
			kinds = append(kinds, strings.ToLower(word))
		} else if i := slices.IndexFunc(known, same); i >= 0 {
			tags = append(tags, known[i])
		} else {
			return tell.WrongUsef("--only: no sheet has kind or tag %q%s", word, tell.DidYouMean(word, append(layout.KindNames(), known...)))
		}
	}
	var sheets []*sheet.Sheet
	for _, s := range plan.Sheets {
		if (kinds == nil || slices.Contains(kinds, s.Kind.Name)) && (tags == nil || slices.Contains(tags, s.Tag())) {
			sheets = append(sheets, s)
		}
	}
	switch {
	case len(sheets) > 0:
	case len(d.only) > 0:
		return tell.WrongUsef("--only: the plant has no sheet that is %s", strings.Join(d.only, " and "))
	default:
		return fmt.Errorf("%s: there is nothing to draw", d.name)
	}
	c.plan, c.sheets, c.of, c.chosen = plan, sheets, len(sheets), output.Names(sheets)
	return nil
}

// subjects are the tags of all that the sheets show, in their order.
func subjects(plan *sheet.Plan) []string {
	var tags []string
	seen := map[string]bool{"": true}
	for _, s := range plan.Sheets {
		if tag := s.Tag(); !seen[tag] {
			seen[tag] = true
			tags = append(tags, tag)
		}
	}
	return tags
}

// draw draws the chosen sheets and writes them.
func (d *drawing) draw(ctx context.Context, to *output.Delivery, c choice, stderr io.Writer) (found finding.Findings, err error) {
	set := output.NewSet(to, d.bookName(), d.format, c.plan, c.sheets)
	defer set.Abandon()
	if c.shown != nil {
		c.shown.Keep(c.plan)
		c.shown.Know(c.plan, c.source, d.common())
		set.NoteIn(c.shown)
	}
	err = d.each(ctx, &c, c.sheets, stderr, func(_ *sheet.Sheet, page *render.Page, findings finding.Findings) error {
		found = append(found, findings...)
		return set.Page(page)
	})
	if c.told {
		found = c.found
	}
	if err != nil {
		return found, err
	}
	if c.shown != nil && len(found) > 0 {
		c.shown.Forget()
	}
	return found, set.Close()
}

// each draws sheets and hands them over one by one, until something fails. Links
// to sheets that --only leaves out are taken out.
func (d *drawing) each(ctx context.Context, c *choice, sheets []*sheet.Sheet, stderr io.Writer, do func(*sheet.Sheet, *render.Page, finding.Findings) error) error {
	bar := output.NewProgress(stderr, len(sheets))
	defer bar.Clear()
	i := 0
	for page, findings := range c.plan.Draw(sheets) {
		if ctx.Err() != nil {
			return fmt.Errorf("stopped; nothing is drawn")
		}
		if len(d.only) > 0 {
			page.Items = output.WithoutLinks(page.Items, c.chosen)
		}
		if err := do(sheets[i], page, findings); err != nil {
			return err
		}
		bar.Advance()
		i++
	}
	return nil
}

// deliver moves what was drawn into its folder, and names old files there.
func (d *drawing) deliver(to *output.Delivery, c choice, stderr io.Writer) error {
	if err := to.Finish(); err != nil {
		return err
	}
	d.cautionOld(stderr, append(output.OldSheets(d.out, output.Names(c.plan.Sheets)), to.OldPages()...))
	if len(d.only) == 0 && slices.Contains(d.format, "pdf") && len(c.sheets) > 0 {
		if old := to.OldBooks(d.fileName()); len(old) > 0 {
			fmt.Fprintf(stderr, "ringout: warning: %s: left from an earlier run, may be out of date: %s\n", d.out, strings.Join(old, ", "))
		}
	}
	d.reportCount(stderr, len(c.sheets), c.of)
	if d.findings.Errors() > 0 {
		return errModel
	}
	return nil
}

// refuse reports that a plant with errors draws nothing.
func (d *drawing) refuse(stderr io.Writer) error {
	fmt.Fprintf(stderr, "ringout: %s: %s; nothing drawn (--draft draws what it can)\n", d.name, d.verdict())
	return errModel
}

// cautionOld names files that may be of an earlier set.
func (d *drawing) cautionOld(stderr io.Writer, old []string) {
	if len(old) > 0 {
		fmt.Fprintf(stderr, "ringout: warning: %s: not of this set, may be out of date: %s\n", d.out, strings.Join(old, ", "))
	}
}

// reportCount prints on a terminal how many sheets were drawn.
func (d *drawing) reportCount(stderr io.Writer, n, of int) {
	if !output.IsTerminal(stderr) {
		return
	}
	drawn := finding.Count(n, "sheet")
	if d.changed {
		drawn = fmt.Sprintf("%d of %s changed,", n, finding.Count(of, "sheet"))
	}
	fmt.Fprintf(stderr, "%s: %s drawn into %s\n", d.name, drawn, d.out)
}

// bookName is the name of the PDF and of the folder of HTML.
func (d *drawing) bookName() string {
	name := d.fileName(d.only...)
	if d.changed {
		name += "-changed"
	}
	return name
}

// source is a digest of all that the full set of sheets is drawn from: the text of the
// plant, and what digest adds.
func (d *drawing) source() string {
	return d.digest(func(h io.Writer) {
		for _, name := range slices.Sorted(maps.Keys(d.sources)) { // sorted: a digest
			fmt.Fprintf(h, "%q %d\n", name, len(d.sources[name]))
			h.Write(d.sources[name])
		}
	})
}

// common is a digest of what every sheet depends on.
func (d *drawing) common() string {
	return d.digest(func(h io.Writer) { io.WriteString(h, layout.Common(d.plant)) })
}

// digest is a digest of what sheets are drawn from beside the text of the plant: this
// build of ringout, the issues, whether as a draft; and more. It is output.Unknown if
// any of that cannot be read, for a plant with errors, and for a part of the set.
func (d *drawing) digest(more func(h io.Writer)) string {
	issues, err := d.register()
	if err != nil || len(d.only) > 0 || d.findings.Errors() > 0 {
		return output.Unknown
	}
	return output.OriginOf(func(h io.Writer) {
		fmt.Fprintf(h, "%d\n%s%q %v\n", len(issues), issues, d.name, d.draft)
		more(h)
	})
}
