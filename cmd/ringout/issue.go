package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/layout"
	"ringout/layout/issue"
	"ringout/layout/sheet"
	"ringout/model/finding"
	"ringout/model/read"
)

func issueCommand() *cobra.Command {
	var is issue.Issue
	cmd := &cobra.Command{
		Use: "issue [PLANT] --rev MARK --status WORDS [flags]", GroupID: "print", Short: "issue the set: give changed sheets a new revision",
		Long: `Issue records in the register ` + output.IssuesName + `, beside the plant's text, what every
sheet shows. Sheets changed since their last issue get the new revision; the
others keep theirs. A new status reissues every sheet. From then on draw prints
each sheet's own revision, and marks sheets changed since then NOT ISSUED. Keep
the register with the plant; do not edit it.

The status "` + issue.AsBuilt + `" removes the revision clouds.`,
		Example: `  ringout issue --rev A --status "for approval" --by MO
  ringout issue samples/tern-island --rev 1 --status "for construction" --note "pump 4 added"
  ringout issue --rev 2 --status "as built" --date 2031-09-30`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, f := range []string{"rev", "status"} {
				if !cmd.Flags().Changed(f) {
					return tell.WrongUsef("--%s is not given", f)
				}
			}
			r, err := readPlant(argument(args, 0))
			if err != nil {
				return err
			}
			return r.issue(cmd.Context(), is, cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
	flags := cmd.Flags()
	flags.SortFlags = false
	flags.StringVar(&is.Mark, "rev", "", "`MARK` of the revision, such as B, 2 or P3; required")
	flags.StringVar(&is.Status, "status", "", "status of the issue in `WORDS`; required")
	flags.StringVar(&is.By, "by", "", "who issues it: `NAME` or initials")
	flags.StringVar(&is.Note, "note", "", "what changed, in `WORDS` for the revision table")
	flags.StringVar(&is.Date, "date", time.Now().Format(time.DateOnly), "`DAY` of the issue")
	return cmd
}

// issue issues the plant and prints what that changes. The register is written
// whole or not at all, and by one run at a time.
func (r *reading) issue(ctx context.Context, is issue.Issue, stdout, stderr io.Writer) (err error) {
	if err := r.print(stderr); err != nil {
		return err
	}
	if r.findings.Errors() > 0 {
		fmt.Fprintf(stderr, "ringout: %s: %s; nothing issued\n", r.name, r.verdict())
		return errModel
	}
	path, err := output.Linked(r.issuesPath())
	if err != nil {
		return err
	}
	lock, err := output.Lock(output.LockOf(path))
	if err == output.ErrHeld {
		return fmt.Errorf("%s: another issue of this plant is running; try again when it ends", path)
	} else if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", path, tell.Reason(err))
	}
	defer output.Unlock(lock)
	old, err := r.issues() // not read before the lock was taken
	if err != nil {
		return err
	}
	if old == nil {
		old = &issue.Register{}
	}
	next, changes, err := layout.Raise(old, r.plant, is)
	if err != nil {
		taken := issue.MarkError("")
		if n := len(r.plant.Revisions); n > 0 && old.Newest().Mark == "" && errors.As(err, &taken) { // the text has those before it
			at := read.RevisionAt(r.sources, is.Mark)
			if at == (finding.Pos{}) {
				at = read.RevisionAt(r.sources, r.plant.Revisions[n-1].Mark)
			}
			return tell.WrongUsef("%s: %v", at, err)
		}
		return tell.WrongUsef("%s: %v", r.name, err)
	}
	if err := r.tryDrawing(next); err != nil {
		return err
	}
	if err := r.keepCounted(stderr); err != nil {
		return err
	}
	to, err := output.NewDelivery(filepath.Dir(path), stderr)
	if err != nil {
		return err
	}
	defer to.Abandon()
	f, err := to.Create(filepath.Base(path))
	if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", path, tell.Reason(err))
	}
	if err := errors.Join(next.Write(f), f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("%s: cannot be written: %w", path, tell.Reason(err))
	}
	if ctx.Err() != nil {
		return fmt.Errorf("stopped; nothing is issued")
	}
	if err := to.Finish(); err != nil {
		return err
	}
	if old.Converted() {
		fmt.Fprintf(stderr, "ringout: %s: converted from an earlier format; an older ringout cannot read it\n", path)
	}
	if _, err := fmt.Fprintf(stdout, "%s: revision %s of %s, %s: %s new, changed or withdrawn; %s now at this revision\n", r.name, is.Mark, is.Date, is.Status,
		finding.Count(len(changes.Sheets), "sheet"), finding.Count(sheet.Raised(next), "sheet")); err != nil {
		return err
	}
	return printChanges(stdout, changes)
}

// tryDrawing draws the plant with a register and returns the first fault: what
// is issued has to be drawable.
func (r *reading) tryDrawing(issues *issue.Register) error {
	for page, found := range layout.NewIssued(r.plant, false, issues).Pages() {
		if err := page.Check(); err != nil {
			return err
		}
		if i := slices.IndexFunc(found, func(p finding.Finding) bool { return p.Severity == finding.Error }); i >= 0 {
			return errors.New(found[i].Text)
		}
	}
	return nil
}

// issuesPath is where the register of the plant is: in its folder, or beside
// its file under the file's name.
func (r *reading) issuesPath() string {
	if info, err := os.Stat(r.path); err == nil && !info.IsDir() {
		return strings.TrimSuffix(r.path, filepath.Ext(r.path)) + "." + output.IssuesName
	}
	return filepath.Join(r.path, output.IssuesName)
}

// issues reads the register of the plant; nil where there is none.
func (r *reading) issues() (*issue.Register, error) {
	path := r.issuesPath()
	text, err := r.register()
	if err == nil && text == nil {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", path, tell.Reason(err))
	}
	issues, err := issue.Read(text)
	if err != nil {
		return nil, fmt.Errorf("%s:%w", path, err)
	}
	return issues, nil
}

// newest is the newest issue: of the register, or without one of the plant's own
// text.
func (r *reading) newest() (issue.Issue, error) {
	issues, err := r.issues()
	if err != nil {
		return issue.Issue{}, err
	}
	if issues != nil {
		return issues.Newest(), nil
	}
	rev := r.plant.Revision()
	return issue.Issue{Mark: rev.Mark, Date: rev.Date, Status: r.plant.Status, By: rev.By, Note: rev.Text}, nil
}

// plan plans the sheets with what the register of the plant says of them.
func (r *reading) plan(draft bool) (*sheet.Plan, error) {
	issues, err := r.issues()
	if err != nil {
		return nil, err
	}
	return layout.NewIssued(r.plant, draft, issues), nil
}

// printChanges prints which sheets changed, which records and loop checks to repeat and
// which markers to reprint.
func printChanges(w io.Writer, changes *sheet.Changes) error {
	var b strings.Builder
	if changes.Number[0] != changes.Number[1] {
		fmt.Fprintf(&b, "  drawing number prefix %q, was %q; %s\n", changes.Number[1], changes.Number[0], have(changes.Renumbered))
	}
	for _, c := range changes.Sheets {
		fmt.Fprintf(&b, "  %s: %s", sheetWords(c), c.What)
		if c.Rev != "" && c.What == "changed" {
			fmt.Fprintf(&b, " since rev %s", c.Rev)
		}
		words := c.Words
		if c.Was != "" && c.Code != "" && c.Was != c.Code && !c.Own {
			words = []string{fmt.Sprintf("wiring code %s, was %s", c.Code, c.Was)}
		}
		if len(words) > 0 {
			fmt.Fprintf(&b, ": %s", tell.Names(words, "; "))
		}
		b.WriteByte('\n')
	}
	list := func(head string, all []sheet.SheetChange, words func(c sheet.SheetChange) string) {
		told := "" // the sheets of a record follow each other
		for _, c := range all {
			if c.Record && c.Number != told && words(c) != "" {
				told = c.Number
				fmt.Fprintf(&b, "%s  %s%s: %s\n", head, c.Number, recordOf(c), words(c))
				head = ""
			}
		}
	}
	list("repeat these records: wiring changed since test\n", changes.Sheets, func(c sheet.SheetChange) string {
		if c.Was == "" || c.Was == c.Code {
			return ""
		}
		return fmt.Sprintf("wiring code %s, was %s", c.Code, c.Was)
	})
	list("repeat these loop checks: expected values changed\n", changes.Rechecks, func(c sheet.SheetChange) string {
		return tell.Names(c.Words, "; ")
	})
	if len(changes.Markers) > 0 {
		fmt.Fprintf(&b, "reprint these markers\n")
		for _, m := range changes.Markers {
			fmt.Fprintf(&b, "  %s\n", m)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// recordOf is what a record is of.
func recordOf(c sheet.SheetChange) string {
	switch {
	case c.Loop != nil:
		return " of loop " + c.Loop.Tag
	case c.Cable != nil && len(c.Groups) > 0:
		return " of cable " + c.Cable.Tag + ", " + tell.Names(c.Groups, ", ")
	case c.Cable != nil:
		return " of cable " + c.Cable.Tag
	}
	return ""
}

// have is how many sheets have something.
func have(n int) string {
	if n == 1 {
		return "1 sheet has"
	}
	return fmt.Sprintf("%d sheets have", n)
}

// sheetWords is the number of a sheet, and its part where it may have several.
func sheetWords(c sheet.SheetChange) string {
	if c.Part > 1 {
		return fmt.Sprintf("%s part %d", c.Number, c.Part)
	}
	return c.Number
}
