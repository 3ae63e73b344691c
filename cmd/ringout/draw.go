package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"
	"golang.org/x/term"

	"ringout/layout"
	"ringout/model"
	"ringout/render"
	"ringout/render/pdf"
	"ringout/render/svg"
)

// formats are the words for --format.
var formats = []string{"pdf", "svg"}

// drawing is one run of draw.
type drawing struct {
	*reading
	out    string
	format []string
	only   []string
	draft  bool
}

func drawCommand() *cobra.Command {
	var d drawing
	cmd := &cobra.Command{
		Use: "draw [PLANT] [flags]", GroupID: "print", Short: "draw the sheets as PDF and SVG",
		Long: `Draw writes one PDF, named after the plant's folder, and one SVG for each sheet
into a folder. All files are written, or none: a plant with errors draws
nothing, except as a draft, which says so across every sheet.

A selection keeps the sheet numbers of the full set. Its PDF has the selection
in its name. Kinds and tags narrow each other: record,F-2107 is the record of
loop F-2107; loop,record is all loop diagrams and all records.`,
		Example: `  ringout draw samples/tern-island -o out
  ringout draw --only loop,record --format pdf
  ringout draw --only F-2107,JB-21
  ringout draw --draft`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) (err error) {
			for _, f := range d.format {
				if !slices.Contains(formats, f) {
					return wrongUsef("--format: %q is not a format%s: write pdf, svg or both", f, didYouMean(f, formats))
				}
			}
			if d.reading, err = readPlant(argument(args, 0)); err != nil {
				return err
			}
			return d.run(cmd.Context(), cmd.ErrOrStderr())
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.StringVarP(&d.out, "out", "o", "out", "draw into the folder `DIR`, made if need be")
	flags.StringSliceVar(&d.format, "format", formats, "write this `FORMAT`; pdf, svg or both with a comma")
	flags.StringSliceVar(&d.only, "only", nil, "draw only sheets of this `KIND|TAG`, more with commas:\n"+strings.Join(layout.Kinds(), ", ")+"; or the tag of a loop,\nbox or cabinet")
	flags.BoolVar(&d.draft, "draft", false, "draw what can be drawn in spite of errors, marked as a draft")
	complete := func(flag string, words func(args []string) []string) {
		if err := cmd.RegisterFlagCompletionFunc(flag, completeList(words)); err != nil {
			panic(err) // no such flag: a slip in this function
		}
	}
	complete("format", func([]string) []string { return formats })
	complete("only", func(args []string) []string {
		r, err := readPlant(argument(args, 0))
		if err != nil {
			return layout.Kinds()
		}
		return append(layout.Kinds(), subjects(layout.New(r.plant, false, nil))...)
	})
	return cmd
}

// run draws the plant and prints the problems that were found, once, sorted.
func (d *drawing) run(ctx context.Context, stderr io.Writer) error {
	if d.problems.Errors() > 0 && !d.draft {
		if err := d.print(stderr); err != nil {
			return err
		}
		fmt.Fprintf(stderr, "ringout: %s: %s, so nothing is drawn (--draft draws what it can)\n", d.name, d.verdict())
		return errProblems
	}
	// The PDF library allocates much and keeps little.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	plan := layout.New(d.plant, d.draft, nil)
	sheets, err := d.choose(plan)
	if err != nil {
		return err
	}
	to, err := newDelivery(d.out)
	if err != nil {
		return err
	}
	defer to.abandon()
	found, err := d.write(ctx, to, plan, sheets, stderr)
	d.problems = append(d.problems, found...).Sort()
	if e := d.print(stderr); err == nil {
		err = e
	}
	if failed := (*fs.PathError)(nil); errors.As(err, &failed) {
		// The file is in the hidden folder, which nobody knows of.
		return fmt.Errorf("%s: cannot be written: %w", filepath.Join(d.out, filepath.Base(failed.Path)), failed.Err)
	}
	if err != nil {
		return err
	}
	if found.Errors() > 0 && !d.draft {
		fmt.Fprintf(stderr, "ringout: %s: %s, so nothing is drawn (--draft draws what it can)\n", d.name, d.verdict())
		return errProblems
	}
	if err := to.finish(); err != nil {
		return err
	}
	if old := leftOver(d.out, plan); len(old) > 0 {
		fmt.Fprintf(stderr, "ringout: caution: %s: not of this set, and perhaps stale: %s\n", d.out, strings.Join(old, ", "))
	}
	if isTerminal(stderr) {
		fmt.Fprintf(stderr, "%s: %s drawn into %s\n", d.name, count(len(sheets), "sheet"), d.out)
	}
	if d.problems.Errors() > 0 {
		return errProblems
	}
	return nil
}

// choose returns the sheets of the plan that --only asks for.
func (d *drawing) choose(plan *layout.Plan) ([]*layout.Sheet, error) {
	var kinds, tags []string
	known := subjects(plan)
	for _, word := range d.only {
		same := func(s string) bool { return strings.EqualFold(s, word) }
		if slices.ContainsFunc(layout.Kinds(), same) {
			kinds = append(kinds, strings.ToLower(word))
		} else if i := slices.IndexFunc(known, same); i >= 0 {
			tags = append(tags, known[i])
		} else {
			return nil, wrongUsef("--only: no sheet is of kind or tag %q%s", word, didYouMean(word, append(layout.Kinds(), known...)))
		}
	}
	var sheets []*layout.Sheet
	for _, s := range plan.Sheets {
		if (kinds == nil || slices.Contains(kinds, s.Kind.Name)) && (tags == nil || slices.Contains(tags, subject(s))) {
			sheets = append(sheets, s)
		}
	}
	switch {
	case len(sheets) > 0:
		return sheets, nil
	case len(d.only) > 0:
		return nil, wrongUsef("--only: the plant has no sheet that is %s", strings.Join(d.only, " and "))
	}
	return nil, fmt.Errorf("%s: there is nothing to draw", d.name)
}

// subject is the tag of what a sheet shows, or "".
func subject(s *layout.Sheet) string {
	switch {
	case s.Loop != nil:
		return s.Loop.Tag
	case s.Place != nil:
		return s.Place.Tag
	}
	return ""
}

// subjects are the tags of all that the sheets show, in their order.
func subjects(plan *layout.Plan) []string {
	var tags []string
	seen := map[string]bool{"": true}
	for _, s := range plan.Sheets {
		if tag := subject(s); !seen[tag] {
			seen[tag] = true
			tags = append(tags, tag)
		}
	}
	return tags
}

// write writes the sheets. SVG files are written side by side, a few at a
// time, while the pages go into the PDF in the order of the plan.
func (d *drawing) write(ctx context.Context, to *delivery, plan *layout.Plan, sheets []*layout.Sheet, stderr io.Writer) (found model.Problems, err error) {
	chosen := map[string]bool{}
	var heads []render.Head
	for _, s := range sheets {
		chosen[s.Name] = true
		heads = append(heads, s.Head)
	}
	var book *pdf.Writer
	if slices.Contains(d.format, "pdf") {
		f, err := to.create(d.bookName() + ".pdf")
		if err != nil {
			return nil, err
		}
		defer f.Close()
		book = pdf.New(f, d.plant.Name, heads, issued(d.plant))
	}
	var leaves errgroup.Group
	leaves.SetLimit(runtime.GOMAXPROCS(0))
	defer leaves.Wait()
	bar := progress{out: stderr, of: len(sheets), start: time.Now()}
	defer bar.clear()
	for page, problems := range plan.Pages() {
		if !chosen[page.Name] {
			continue
		}
		if ctx.Err() != nil {
			return found, fmt.Errorf("stopped; nothing is drawn")
		}
		found = append(found, problems...)
		if len(sheets) < len(plan.Sheets) {
			page.Items = dropLinks(page.Items, chosen)
		}
		if slices.Contains(d.format, "svg") {
			f, err := to.create(page.Name + ".svg")
			if err != nil {
				return found, err
			}
			leaves.Go(func() error { return writeLeaf(f, page) })
		}
		if book != nil {
			if err := book.Page(page); err != nil {
				return found, err
			}
		}
		bar.step()
	}
	if err := leaves.Wait(); err != nil {
		return found, err
	}
	if book != nil {
		return found, book.Close()
	}
	return found, nil
}

func writeLeaf(f *os.File, page *render.Page) error {
	err := svg.Write(f, page)
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}

// bookName is the name of the PDF: of the plant, and of the selection, so that
// a part of the set never takes the place of the whole.
func (d *drawing) bookName() string {
	name := d.name
	if len(d.only) > 0 {
		choice := strings.Join(d.only, "-")
		if len(choice) > 60 {
			choice = "selection"
		}
		name += "-" + choice
	}
	name = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '.':
			return r
		}
		return '_'
	}, name)
	if name = strings.Trim(name, ".-"); name == "" {
		return "plant"
	}
	return name
}

// issued is the date of the newest revision, or zero: never the clock, so that
// the same plant gives the same bytes.
func issued(p *model.Plant) time.Time {
	t, err := time.Parse(time.DateOnly, p.Revision().Date)
	if err != nil {
		return time.Time{}
	}
	return t
}

// dropLinks takes out links to sheets that are not drawn.
func dropLinks(items []render.Item, drawn map[string]bool) []render.Item {
	return slices.DeleteFunc(items, func(item render.Item) bool {
		switch m := item.(type) {
		case *render.Group:
			m.Items = dropLinks(m.Items, drawn)
		case *render.Link:
			return !drawn[m.Page]
		}
		return false
	})
}

// progress is a bar on a terminal, once the work has taken a while.
type progress struct {
	out   io.Writer
	of    int
	done  int
	start time.Time
	bar   *progressbar.ProgressBar
}

func (p *progress) step() {
	p.done++
	if p.bar == nil {
		if time.Since(p.start) < time.Second || !isTerminal(p.out) {
			return
		}
		p.bar = progressbar.NewOptions(p.of, progressbar.OptionSetWriter(p.out), progressbar.OptionSetDescription("drawing"),
			progressbar.OptionShowCount(), progressbar.OptionSetWidth(30), progressbar.OptionThrottle(100*time.Millisecond),
			progressbar.OptionClearOnFinish())
	}
	p.bar.Set(p.done) // a bar that cannot be shown is no reason to stop
}

func (p *progress) clear() {
	if p.bar != nil {
		p.bar.Clear()
	}
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// leftOver lists SVG files in the folder that look like sheets and are not of
// this set.
func leftOver(dir string, plan *layout.Plan) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	mine := map[string]bool{}
	for _, s := range plan.Sheets {
		mine[s.Name+".svg"] = true
	}
	var old []string
	for _, e := range entries {
		kind, _, _ := strings.Cut(strings.TrimSuffix(e.Name(), ".svg"), "-")
		if filepath.Ext(e.Name()) == ".svg" && slices.Contains(layout.Kinds(), kind) && !mine[e.Name()] {
			old = append(old, e.Name())
		}
	}
	return old
}
