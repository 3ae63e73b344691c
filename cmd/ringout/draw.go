package main

import (
	"context"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/layout"
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

	changed bool // draw only what changed since the last run
}

func drawCommand() *cobra.Command {
	var d drawing
	cmd := &cobra.Command{
		Use: "draw [PLANT] [flags]", GroupID: "print", Short: "draw the sheets as PDF, SVG and HTML",
		Long: `Draw writes one PDF, named after the plant's folder, and one SVG for each sheet
into a folder. Draw writes all files or none. With errors it writes nothing,
unless --draft: then every sheet is marked DRAFT.

A selection keeps the sheet numbers of the full set. Its PDF has the selection
in its name. A kind and a tag together select both: record,F-2107 is the record
of loop F-2107; loop,record is all loop diagrams and all records.

--changed writes only sheets that differ from the SVG files in the folder, and a
PDF of these, with -changed in its name. The file ` + output.RegisterName + ` in the folder
records what each SVG shows.

--format html writes a folder to open from disk, also on a tablet: index.html
finds tags; sheets are linked. It needs no server and no network.
More than ` + strconv.Itoa(output.MostSheets) + ` sheets go into several PDFs.`,
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
					return tell.WrongUsef("--format: %q is not a format: write pdf, svg or html%s", f, tell.DidYouMean(f, formats))
				}
			}
			if d.changed && slices.Contains(d.format, "html") {
				return tell.WrongUsef("--changed does not write html: leave html out of --format")
			}
			if d.changed && !slices.Contains(d.format, "svg") {
				return tell.WrongUsef("--changed: compares with the SVG files in %s, so --format needs svg", d.out)
			}
			if d.reading, err = readPlant(argument(args, 0)); err != nil {
				return err
			}
			return d.run(cmd.Context(), cmd.ErrOrStderr())
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.StringVarP(&d.out, "out", "o", "out", "output folder `DIR` (created if needed)")
	flags.StringSliceVar(&d.format, "format", formats[:2], "write this `FORMAT`: pdf, svg, html; comma-separated")
	flags.StringSliceVar(&d.only, "only", nil, "draw only sheets of this `KIND|TAG`, comma-separated:\n"+strings.Join(layout.KindNames(), ", ")+"; or the tag of a loop,\nbox, cabinet or cable")
	flags.BoolVar(&d.changed, "changed", false, "draw only sheets that differ from those in DIR")
	flags.BoolVar(&d.draft, "draft", false, "draw despite errors, marked DRAFT")
	complete := func(flag string, words func(args []string) []string) {
		if err := cmd.RegisterFlagCompletionFunc(flag, completeList(words)); err != nil {
			panic(err) // no such flag: a slip in this function
		}
	}
	complete("format", func([]string) []string { return formats })
	complete("only", func(args []string) []string {
		r, err := readPlant(argument(args, 0))
		if err != nil {
			return layout.KindNames()
		}
		return append(layout.KindNames(), subjects(layout.New(r.plant, false, nil))...)
	})
	return cmd
}

// run decides what is drawn, draws it and delivers it. It prints the findings that
// were found, once, sorted.
func (d *drawing) run(ctx context.Context, stderr io.Writer) error {
	if d.findings.Errors() > 0 && !d.draft {
		if err := d.print(stderr); err != nil {
			return err
		}
		return d.refuse(stderr)
	}
	output.Sweep(d.out, stderr) // before the register is read: its set may not be all in place
	c, err := d.decide(ctx, stderr)
	if err != nil {
		return err
	}
	if c.plan == nil {
		d.reportCount(stderr, 0, c.of)
		d.cautionOld(stderr, c.shown.OldSheets(d.out))
		return d.print(stderr)
	}
	if d.findings.Errors() == 0 { // a draft is no landing
		if err := d.keepCounted(stderr); err != nil {
			return err
		}
	}
	to, err := output.NewDelivery(d.out, stderr)
	if err != nil {
		return err
	}
	defer to.Abandon()
	found, err := d.draw(ctx, to, c, stderr)
	d.findings = append(d.findings, found...).Say(d.plant.Say).Sort()
	if e := d.print(stderr); err == nil {
		err = e
	}
	switch {
	case err != nil:
		return output.Unwritten(d.out, err)
	case found.Errors() > 0 && !d.draft:
		return d.refuse(stderr)
	}
	return d.deliver(to, c, stderr)
}
