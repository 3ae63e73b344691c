package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/layout/pack"
	"ringout/layout/sheet"
	"ringout/model/finding"
)

// packing is one run of pack.
type packing struct {
	scoping
	out     string
	draft   bool
	oneSize bool
	file    string // name of it, without extension
}

func packCommand() *cobra.Command {
	var p packing
	cmd := &cobra.Command{
		Use: "pack [PLANT] [flags]", GroupID: "print", Short: "make a field pack: the sheets for one job in one PDF",
		Long: `Pack writes one PDF in the order of the work: a cover with contents, cautions,
permits, tools and material; the diagrams of boxes and cabinets; the ring-out
sheets of cables; each loop with its record; punch list, mark-up key, sign-off.
The sheets are those of the drawing set, with the same numbers and codes.

Drawings and forms differ in size; print single-sided. --one-size reduces all to
the forms' paper size, for double-sided printing, bound on the left: a loop
diagram then faces its record.

Combine scope flags freely; separate tags with commas. A tag file has one tag of
any kind on a line; text after a # is a comment. With the same flags, ringout
list material gives the counts of the cover as CSV or XLSX.`,
		Example: `  ringout pack samples/tern-island --box JB-21 -o out
  ringout pack --loop F-2107,L-2115
  ringout pack --tag-file monday.txt`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) (err error) {
			if p.reading, err = readPlant(argument(args, 0)); err != nil {
				return err
			}
			return p.run(cmd.Context(), cmd.ErrOrStderr())
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	p.flags(cmd, "pack", 0)
	flags.StringVarP(&p.out, "out", "o", "out", "output folder `DIR` (created if needed)")
	flags.BoolVar(&p.oneSize, "one-size", false, "reduce all to the forms' paper size, for double-sided printing")
	flags.BoolVar(&p.draft, "draft", false, "pack despite errors, marked DRAFT")
	return cmd
}

// run writes the pack and prints the findings.
func (p *packing) run(ctx context.Context, stderr io.Writer) error {
	if p.given() == "" {
		var ways []string
		for _, k := range scopes {
			ways = append(ways, "--"+k.flag)
		}
		return tell.WrongUsef("pack needs a scope: %s or --tag-file", strings.Join(ways, ", "))
	}
	if err := p.choose(); err != nil {
		return err
	}
	p.file = p.fileName("pack", p.short())
	refuse := func() error {
		fmt.Fprintf(stderr, "ringout: %s: %s; nothing packed (--draft packs what it can)\n", p.name, p.verdict())
		return errModel
	}
	if p.findings.Errors() > 0 && !p.draft {
		if err := p.print(stderr); err != nil {
			return err
		}
		return refuse()
	}
	plan, err := p.plan(p.draft)
	if err != nil {
		return err
	}
	pack, err := pack.New(plan, p.title, p.scope, p.oneSize)
	if err != nil {
		return tell.WrongUsef("%s: %v", p.words(), err)
	}
	if p.findings.Errors() == 0 {
		if err := p.keepCounted(stderr); err != nil {
			return err
		}
	}
	to, err := output.NewDelivery(p.out, stderr)
	if err != nil {
		return err
	}
	defer to.Abandon()
	found, err := p.write(ctx, to, plan, pack)
	p.findings = append(p.findings, found...).Say(p.plant.Say).Sort()
	if e := p.print(stderr); err == nil {
		err = e
	}
	if err != nil {
		return output.Unwritten(p.out, err)
	}
	if found.Errors() > 0 && !p.draft {
		return refuse()
	}
	if err := to.Finish(); err != nil {
		return err
	}
	if output.IsTerminal(stderr) {
		fmt.Fprintf(stderr, "%s: %s in %s\n", p.name, finding.Count(len(pack.Sheets), "page"), filepath.Join(p.out, p.file+".pdf"))
	}
	if p.findings.Errors() > 0 {
		return errModel
	}
	return nil
}

// mostJob is how long the tags of a pack are in the name of its file.
const mostJob = 50

// short is the scope for the name of a file: its tags, or the name of the file
// that they are in.
func (p *packing) short() string {
	if job := pack.Job(p.title, "-", mostJob); p.tagFile == "" || job == pack.Job(p.title, "-", math.MaxInt) {
		return job
	}
	return strings.TrimSuffix(filepath.Base(p.tagFile), filepath.Ext(p.tagFile))
}

// write writes the pages, in their order, into one file.
func (p *packing) write(ctx context.Context, to *output.Delivery, plan *sheet.Plan, pack *pack.Pack) (found finding.Findings, err error) {
	book := output.Book{To: to, Name: p.file, Title: p.plant.Name + ", field pack for " + pack.Words,
		Made: output.Issued(plan.Newest()), Volumes: [][]*sheet.Sheet{pack.Printed()}}
	defer book.Abandon()
	for page, findings := range pack.Pages() {
		if ctx.Err() != nil {
			return found, fmt.Errorf("stopped; nothing is packed")
		}
		found = append(found, findings...)
		if err := book.Page(page); err != nil {
			return found, err
		}
	}
	return found, nil
}
