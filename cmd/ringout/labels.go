package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/layout/label"
	"ringout/layout/sheet"
	"ringout/model"
	"ringout/model/finding"
	"ringout/model/material"
	"ringout/model/tables"
	"ringout/render"
	"ringout/render/pdf"
	"ringout/render/svg"
)

// labelFormats are the words for --format of labels.
var labelFormats = []string{"csv", "pdf", "svg"}

// labelHeads are the columns of the CSV for a label printer.
var labelHeads = []string{"kind", "place", "end", "of", "text", "far end", "type", "colour", "size", "loops", "code", "status"}

// labelling is one run of labels.
type labelling struct {
	*reading
	out                  string
	of, format           []string
	boxes, loops, cables []string
	status               []string
	code                 bool
	altered              int // cells of the CSV that begin with an apostrophe, so that no spreadsheet runs them
}

func labelsCommand() *cobra.Command {
	var d labelling
	cmd := &cobra.Command{
		Use: "labels [PLANT] [flags]", GroupID: "print", Short: "print cable tags, core markers and terminal markers",
		Long: `Labels prints cable tags, core markers and terminal markers: a tag for each end
of every cable, a marker for each end of every core and wire, by the setting
core markers, and a marker for every strip and terminal. They come enclosure by
enclosure, in terminal order.

CSV is for any label printer. PDF and SVG are sheets of labels with cut marks, on
the stock of the setting label stock, one text size for each kind; terminals come
as strips of markers at their pitch, to cut out, unless they have a stock. Print
at 100 %. Text that does not fit is an error; nothing is written.

--qr adds a QR code: the tag, the number of the ring-out sheet, loop diagram or
box diagram that shows it, and its wiring code.`,
		Example: `  ringout labels samples/tern-island -o labels
  ringout labels --of cores --box JB-21 --format pdf
  ringout labels --of cables --qr
  ringout labels --status new
  ringout labels --loop F-2107 --format csv`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) (err error) {
			for _, f := range d.format {
				if !slices.Contains(labelFormats, f) {
					return tell.WrongUsef("--format: %q is not a format of labels%s: write %s", f, tell.DidYouMean(f, labelFormats), tell.OneOf(labelFormats))
				}
			}
			for _, k := range d.of {
				if !slices.Contains(model.LabelKinds(), k) {
					return tell.WrongUsef("--of: there are no labels of %q%s: write %s", k, tell.DidYouMean(k, model.LabelKinds()), tell.OneOf(model.LabelKinds()))
				}
			}
			for _, s := range d.status {
				if !slices.Contains(model.Statuses(), s) {
					return tell.WrongUsef("--status: nothing is %q%s: write %s", s, tell.DidYouMean(s, model.Statuses()), tell.OneOf(model.Statuses()))
				}
			}
			if d.reading, err = readPlant(argument(args, 0)); err != nil {
				return err
			}
			return d.run(cmd.ErrOrStderr())
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.StringVarP(&d.out, "out", "o", "out", "output folder `DIR` (created if needed)")
	flags.StringSliceVar(&d.of, "of", model.LabelKinds(), "labels of these `THINGS`")
	flags.StringSliceVar(&d.format, "format", labelFormats, "write this `FORMAT`; comma-separated")
	flags.StringSliceVar(&d.boxes, "box", nil, "only labels at these `TAGS`: boxes, cabinets, field devices")
	flags.StringSliceVar(&d.loops, "loop", nil, "only labels of the loops with these `TAGS`")
	flags.StringSliceVar(&d.cables, "cable", nil, "only labels of the cables with these `TAGS` and of their cores")
	flags.StringSliceVar(&d.status, "status", model.Statuses(), "only items of this `STATUS`")
	flags.BoolVar(&d.code, "qr", false, "with a QR code on each label")
	for flag, words := range map[string]func(p *model.Plant) []string{
		"of":     func(*model.Plant) []string { return model.LabelKinds() },
		"format": func(*model.Plant) []string { return labelFormats },
		"status": func(*model.Plant) []string { return model.Statuses() },
		"box":    func(p *model.Plant) []string { return labelTags(p, labelWhere) },
		"loop":   func(p *model.Plant) []string { return labelTags(p, labelLoops) },
		"cable":  func(p *model.Plant) []string { return labelTags(p, labelCables) },
	} {
		err := cmd.RegisterFlagCompletionFunc(flag, completeList(func(args []string) []string {
			r, err := readPlant(argument(args, 0))
			if err != nil {
				r = &reading{plant: &model.Plant{}}
			}
			return words(r.plant)
		}))
		if err != nil {
			panic(err) // no such flag: a slip in this function
		}
	}
	return cmd
}

// The tags that a label is chosen by.
func labelWhere(l material.Label) []string { return []string{l.Where} }

func labelLoops(l material.Label) (tags []string) {
	for _, x := range l.Loops {
		tags = append(tags, x.Tag)
	}
	return tags
}

func labelCables(l material.Label) (tags []string) {
	for _, x := range l.Cables {
		tags = append(tags, x.Tag)
	}
	return tags
}

// labelTags lists the tags that labels may be chosen by, each once.
func labelTags(p *model.Plant, tags func(material.Label) []string) (all []string) {
	seen := map[string]bool{"": true}
	for _, l := range material.Labels(p) {
		for _, tag := range tags(l) {
			if !seen[tag] {
				seen[tag] = true
				all = append(all, tag)
			}
		}
	}
	return all
}

// choose returns the labels that the flags ask for: the flags narrow each other.
func (d *labelling) choose() ([]material.Label, error) {
	labels := slices.DeleteFunc(material.Labels(d.plant), func(l material.Label) bool {
		return !slices.Contains(d.of, l.Kind.String()) || !slices.Contains(d.status, l.Status.String())
	})
	for _, choice := range []struct {
		flag, what string
		tags       []string
		of         func(material.Label) []string
	}{
		{"--box", "box, cabinet or field device", d.boxes, labelWhere},
		{"--loop", "loop", d.loops, labelLoops},
		{"--cable", "cable", d.cables, labelCables},
	} {
		if len(choice.tags) == 0 {
			continue
		}
		known := labelTags(d.plant, choice.of)
		for _, tag := range choice.tags {
			if !slices.ContainsFunc(known, func(s string) bool { return strings.EqualFold(s, tag) }) {
				return nil, tell.WrongUsef("%s: no %s with labels is tagged %q%s", choice.flag, choice.what, tag, tell.DidYouMean(tag, known))
			}
		}
		labels = slices.DeleteFunc(labels, func(l material.Label) bool {
			return !slices.ContainsFunc(choice.of(l), func(s string) bool {
				return slices.ContainsFunc(choice.tags, func(tag string) bool { return strings.EqualFold(s, tag) })
			})
		})
	}
	if len(labels) == 0 {
		return nil, tell.WrongUsef("%s has no labels of that choice", d.name)
	}
	return labels, nil
}

// run writes the labels, all files or none.
func (d *labelling) run(stderr io.Writer) error {
	refuse := func() error {
		if err := d.print(stderr); err != nil {
			return err
		}
		fmt.Fprintf(stderr, "ringout: %s: %s; nothing written\n", d.name, d.verdict())
		return errModel
	}
	if d.findings.Errors() > 0 {
		return refuse()
	}
	labels, err := d.choose()
	if err != nil {
		return err
	}
	plan, err := d.plan(false)
	if err != nil {
		return err
	}
	var pages []*render.Page
	if slices.Contains(d.format, "pdf") || slices.Contains(d.format, "svg") {
		drawn, found := label.Sheets(plan, d.fileName(), labels, d.code)
		if found.Errors() > 0 {
			d.findings = found
			return refuse()
		}
		pages = drawn
	}
	if err := d.keepCounted(stderr); err != nil {
		return err
	}
	to, err := output.NewDelivery(d.out, stderr)
	if err != nil {
		return err
	}
	defer to.Abandon()
	if err := d.write(to, plan, labels, pages); err != nil {
		return err
	}
	if err := to.Finish(); err != nil {
		return err
	}
	if old := d.leftOver(pages); len(old) > 0 {
		fmt.Fprintf(stderr, "ringout: warning: %s: not of these labels, may be out of date: %s\n", d.out, strings.Join(old, ", "))
	}
	if d.altered > 0 {
		fmt.Fprintf(stderr, "ringout: warning: %s.csv: %s would run as a formula in a spreadsheet and got an apostrophe in front; set the printer to omit it, or use --format pdf\n",
			d.fileName(), finding.Count(d.altered, "cell"))
	}
	if output.IsTerminal(stderr) {
		fmt.Fprintf(stderr, "%s: %s written into %s\n", d.name, finding.Count(len(labels), "label"), d.out)
	}
	return nil
}

// write writes the labels in the formats asked for.
func (d *labelling) write(to *output.Delivery, plan *sheet.Plan, labels []material.Label, pages []*render.Page) error {
	if slices.Contains(d.format, "csv") {
		rows := [][]string{labelHeads}
		for _, l := range labels {
			rows = append(rows, []string{l.Kind.String(), l.Where, l.End, l.Of, l.Text, l.Far, l.Type, l.Colour, l.Size,
				strings.Join(labelLoops(l), " "), label.Code(plan, l), l.Status.String()})
		}
		if err := to.Write(d.fileName()+".csv", func(w io.Writer) (err error) {
			d.altered, err = tables.WriteCSV(w, rows)
			return err
		}); err != nil {
			return err
		}
	}
	if slices.Contains(d.format, "svg") {
		for _, page := range pages {
			if err := to.Write(page.Name+".svg", func(w io.Writer) error { return svg.Write(w, page) }); err != nil {
				return err
			}
		}
	}
	if !slices.Contains(d.format, "pdf") {
		return nil
	}
	return to.Write(d.fileName()+".pdf", func(w io.Writer) error {
		var heads []render.Head
		for _, page := range pages {
			heads = append(heads, page.Head)
		}
		book := pdf.New(w, d.plant.Name+", labels", heads, output.Issued(plan.Newest()))
		for _, page := range pages {
			if err := book.Page(page); err != nil {
				return err
			}
		}
		return book.Close()
	})
}

// fileName names the files after the plant and the choice, so that a part never
// takes the place of the whole.
func (d *labelling) fileName() string {
	words := []string{"labels"}
	if len(d.of) < len(model.LabelKinds()) {
		words = append(words, d.of...)
	}
	if len(d.status) < len(model.Statuses()) {
		words = append(words, d.status...)
	}
	words = slices.Concat(words, d.boxes, d.loops, d.cables)
	return d.reading.fileName(words...)
}

// leftOver lists label sheets of this choice in the folder that were not
// written now.
func (d *labelling) leftOver(pages []*render.Page) (old []string) {
	files, err := filepath.Glob(filepath.Join(d.out, d.fileName()+"-[0-9]*.svg"))
	if err != nil {
		return nil
	}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".svg")
		number := strings.TrimPrefix(name, d.fileName()+"-")
		mine := slices.ContainsFunc(pages, func(p *render.Page) bool { return p.Name == name })
		if !mine && strings.Trim(number, "0123456789") == "" && slices.Contains(d.format, "svg") {
			old = append(old, filepath.Base(f))
		}
	}
	return old
}
