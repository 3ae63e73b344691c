package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"
	"golang.org/x/term"

	"ringout/layout"
	"ringout/model"
	"ringout/render"
	"ringout/render/svg"
)

// formats are the words for --format.
var formats = []string{"pdf", "svg", "html"}

// drawing is one run of draw.
type drawing struct {
	*reading
	out    string
	format []string
	only   []string
	draft  bool

	changed  bool            // draw only what changed since the last run
	distrust bool            // the register does not tell what can be kept
	chosen   map[string]bool // names of the sheets that --only asks for
}

func drawCommand() *cobra.Command {
	var d drawing
	cmd := &cobra.Command{
		Use: "draw [PLANT] [flags]", GroupID: "print", Short: "draw the sheets as PDF, SVG and HTML",
		Long: `Draw writes one PDF, named after the plant's folder, and one SVG for each sheet
into a folder. All files are written, or none: a plant with errors draws
nothing, except as a draft, which says so across every sheet.

A selection keeps the sheet numbers of the full set. Its PDF has the selection
in its name. Kinds and tags narrow each other: record,F-2107 is the record of
loop F-2107; loop,record is all loop diagrams and all records.

With --changed only sheets are written that show something else than the SVG
files in the folder, and the PDF, with -changed in its name, holds only these.
The file ` + registerName + ` in the folder tells what each SVG there shows.

HTML is a folder to open from disk, on a tablet too: index.html in it finds tags,
and the sheets lead to each other. It needs no server and no network.
More than ` + strconv.Itoa(mostSheets) + ` sheets go into several PDFs.`,
		Example: `  ringout draw samples/tern-island -o out
  ringout draw --only loop,record --format pdf
  ringout draw --only F-2107,JB-21
  ringout draw --changed
  ringout draw --format html
  ringout draw --draft`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) (err error) {
			for _, f := range d.format {
				if !slices.Contains(formats, f) {
					return wrongUsef("--format: %q is not a format: write pdf, svg or html%s", f, didYouMean(f, formats))
				}
			}
			if d.changed && slices.Contains(d.format, "html") {
				return wrongUsef("--changed: a folder of HTML is one whole; leave html out of --format")
			}
			if d.changed && !slices.Contains(d.format, "svg") {
				return wrongUsef("--changed: compares with the SVG files in %s, so --format needs svg", d.out)
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
	flags.StringSliceVar(&d.format, "format", formats[:2], "write this `FORMAT`; pdf, svg, html, more with commas")
	flags.StringSliceVar(&d.only, "only", nil, "draw only sheets of this `KIND|TAG`, more with commas:\n"+strings.Join(layout.Kinds(), ", ")+"; or the tag of a loop,\nbox, cabinet or cable")
	flags.BoolVar(&d.changed, "changed", false, "draw only sheets that show something else than those in DIR")
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
	var shown *register // stays nil where no SVG is written
	var source string
	var err error
	sweep(d.out, stderr) // before the register is read: its set may not be all in place
	if slices.Contains(d.format, "svg") {
		if shown, err = readRegister(d.out); err != nil {
			return err
		}
		if source = d.source(); d.changed && shown.upToDate(d.out, source) {
			d.tell(stderr, 0, len(shown.sheets))
			d.cautionOld(stderr, leftOver(d.out, shown.sheets))
			return d.print(stderr)
		}
	}
	plan, err := d.planSince(shown)
	if err != nil {
		return err
	}
	sheets, err := d.choose(plan)
	if err != nil {
		return err
	}
	d.chosen = names(sheets)
	to, err := newDelivery(d.out, stderr)
	if err != nil {
		return err
	}
	defer to.abandon()
	of, compared := len(sheets), d.changed && len(shown.sheets) > 0
	if compared && (plan.Torn() || !shown.fits(d.out, plan)) {
		to.abandon()
		d.distrust = true
		return d.run(ctx, stderr)
	}
	var found model.Problems
	if compared {
		if sheets, found, err = d.changes(ctx, plan, sheets, shown, stderr); err != nil {
			return err
		}
		if plan.Torn() {
			to.abandon()
			d.distrust = true
			return d.run(ctx, stderr)
		}
	}
	if shown != nil {
		shown.keep(plan)
		shown.know(plan, source, d.common())
		if len(found) > 0 {
			shown.forget()
		}
	}
	seen, err := d.write(ctx, to, plan, sheets, shown, stderr)
	if !compared {
		found = seen
	}
	d.problems = append(d.problems, found...).Sort()
	if e := d.print(stderr); err == nil {
		err = e
	}
	if err != nil {
		return unwritten(d.out, err)
	}
	if found.Errors() > 0 && !d.draft {
		fmt.Fprintf(stderr, "ringout: %s: %s, so nothing is drawn (--draft draws what it can)\n", d.name, d.verdict())
		return errProblems
	}
	if err := to.finish(); err != nil {
		return err
	}
	d.cautionOld(stderr, append(leftOver(d.out, names(plan.Sheets)), staleWeb(to)...))
	if old := d.oldBooks(to); len(old) > 0 && len(sheets) > 0 {
		fmt.Fprintf(stderr, "ringout: caution: %s: of an earlier run, and perhaps stale: %s\n", d.out, strings.Join(old, ", "))
	}
	d.tell(stderr, len(sheets), of)
	if d.problems.Errors() > 0 {
		return errProblems
	}
	return nil
}

// cautionOld names files that may be of an earlier set.
func (d *drawing) cautionOld(stderr io.Writer, old []string) {
	if len(old) > 0 {
		fmt.Fprintf(stderr, "ringout: caution: %s: not of this set, and perhaps stale: %s\n", d.out, strings.Join(old, ", "))
	}
}

// tell tells on a terminal how many sheets were drawn.
func (d *drawing) tell(stderr io.Writer, n, of int) {
	if !isTerminal(stderr) {
		return
	}
	drawn := count(n, "sheet")
	if d.changed {
		drawn = fmt.Sprintf("%d of %s changed,", n, count(of, "sheet"))
	}
	fmt.Fprintf(stderr, "%s: %s drawn into %s\n", d.name, drawn, d.out)
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
		if (kinds == nil || slices.Contains(kinds, s.Kind.Name)) && (tags == nil || slices.Contains(tags, s.Tag())) {
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

// subjects are the tags of all that the sheets show, in their order.
func subjects(plan *layout.Plan) []string {
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

// write draws sheets and writes them. SVG files are written side by side, a few
// at a time, while the pages go into the PDF in the order of the plan. What each
// SVG shows goes into the register.
func (d *drawing) write(ctx context.Context, to *delivery, plan *layout.Plan, sheets []*layout.Sheet, shown *register, stderr io.Writer) (found model.Problems, err error) {
	var bound *bookWriter
	if slices.Contains(d.format, "pdf") {
		bound = &bookWriter{to: to, name: d.bookName(), title: d.plant.Name, made: issued(plan.Newest()), volumes: volumes(sheets, mostSheets)}
		bound.whole = len(sheets) == len(plan.Sheets) && len(bound.volumes) == 1
		defer bound.abandon()
	}
	var web *webWriter
	if slices.Contains(d.format, "html") {
		web = newWebWriter(to, d.bookName(), plan, sheets)
	}
	var leaves errgroup.Group
	var noted sync.Mutex // of shown
	leaves.SetLimit(runtime.GOMAXPROCS(0))
	defer leaves.Wait()
	err = d.each(ctx, plan, sheets, stderr, func(page *render.Page, problems model.Problems) error {
		found = append(found, problems...)
		if shown != nil {
			f, err := to.create(page.Name + ".svg")
			if err != nil {
				return err
			}
			leaves.Go(func() error {
				file, err := writeLeaf(f, page)
				noted.Lock()
				defer noted.Unlock()
				shown.sheets[page.Name] = drawnSheet{digest(page), file}
				return err
			})
		}
		if web != nil {
			if err := web.page(page); err != nil {
				return err
			}
		}
		if bound != nil {
			return bound.page(page)
		}
		return nil
	})
	if e := leaves.Wait(); err == nil {
		err = e
	}
	if err == nil && web != nil {
		err = web.close()
	}
	if err != nil || shown == nil {
		return found, err
	}
	if len(found) > 0 {
		shown.forget()
	}
	f, err := to.create(registerName)
	if err != nil {
		return found, err
	}
	return found, shown.write(f)
}

// each draws sheets and hands them over one by one, until something fails. Links
// to sheets that --only leaves out are taken out.
func (d *drawing) each(ctx context.Context, plan *layout.Plan, sheets []*layout.Sheet, stderr io.Writer, do func(*render.Page, model.Problems) error) error {
	bar := progress{out: stderr, of: len(sheets), start: time.Now()}
	defer bar.clear()
	for page, problems := range plan.Draw(sheets) {
		if ctx.Err() != nil {
			return fmt.Errorf("stopped; nothing is drawn")
		}
		if len(d.only) > 0 {
			page.Items = withoutLinks(page.Items, d.chosen)
		}
		if err := do(page, problems); err != nil {
			return err
		}
		bar.step()
	}
	return nil
}

// planSince plans the sheets, and keeps what a register knows to be as it was.
func (d *drawing) planSince(shown *register) (*layout.Plan, error) {
	if !d.changed || d.distrust || shown.common == unknown || shown.common != d.common() {
		return d.plan(d.draft)
	}
	issues, err := d.issues()
	if err != nil {
		return nil, err
	}
	return layout.NewSince(d.plant, d.draft, issues, func(kind, tag string) layout.Known { return shown.drawings[[2]string{kind, tag}] }), nil
}

// changes are the sheets that show something else than the folder does. All that
// the plan does not keep are drawn to tell, and none is written. Their problems
// are found too; what is kept had none.
func (d *drawing) changes(ctx context.Context, plan *layout.Plan, sheets []*layout.Sheet, shown *register, stderr io.Writer) (changed []*layout.Sheet, found model.Problems, err error) {
	sheets = slices.DeleteFunc(slices.Clone(sheets), plan.Kept)
	i := 0
	err = d.each(ctx, plan, sheets, stderr, func(page *render.Page, problems model.Problems) error {
		found = append(found, problems...)
		if !shown.shows(d.out, page) {
			changed = append(changed, sheets[i])
		}
		i++
		return nil
	})
	return changed, found, err
}

// writeLeaf writes a page into a file and returns a digest of what it wrote.
func writeLeaf(f *os.File, page *render.Page) (file string, err error) {
	h := sha256.New()
	err = svg.Write(io.MultiWriter(f, h), page)
	if e := f.Close(); err == nil {
		err = e
	}
	return hex.EncodeToString(h.Sum(nil)), err
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
// the set.
func leftOver[T any](dir string, set map[string]T) []string {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil
	}
	var old []string
	for _, e := range entries {
		name := strings.TrimSuffix(e.Name(), ".svg")
		kind, _, _ := strings.Cut(name, "-")
		if _, mine := set[name]; filepath.Ext(e.Name()) == ".svg" && slices.Contains(layout.Kinds(), kind) && !mine {
			old = append(old, e.Name())
		}
	}
	return old
}

// oldBooks lists PDFs of the plant in the folder that this run did not write:
// volumes of a longer set, or the whole where only changes were drawn.
func (d *drawing) oldBooks(to *delivery) []string {
	if len(d.only) > 0 || !slices.Contains(d.format, "pdf") {
		return nil
	}
	name := regexp.QuoteMeta(strings.TrimSuffix(d.bookName(), "-changed"))
	mine := regexp.MustCompile("^" + name + `(-changed)?(-[0-9]+)?\.pdf$`)
	entries, err := os.ReadDir(d.out)
	if err != nil {
		return nil
	}
	var old []string
	for _, e := range entries {
		if mine.MatchString(e.Name()) && !slices.Contains(to.names, e.Name()) {
			old = append(old, e.Name())
		}
	}
	return old
}
