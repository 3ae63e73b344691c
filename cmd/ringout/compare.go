package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/output"
	"ringout/cmd/ringout/tell"
	"ringout/layout"
	"ringout/model/diff"
	"ringout/model/finding"
)

func compareCommand() *cobra.Command {
	return &cobra.Command{
		Use: "compare OLD NEW | compare [PLANT]", GroupID: "look", Short: "list changes between two plants, or since the last issue",
		Long: `Compare OLD NEW lists the differences between two versions of a plant, each a
folder or a file: by loop, cable and place; then which sheets show them, which
test records are void because the wiring has changed, which loop checks to
repeat (same wiring, new values), and which core markers to reprint.

Compare PLANT does the same against the last issue in ` + output.IssuesName + `. Differences
are not errors: the exit code is 0.`,
		Example: `  ringout compare ../tern-island-march tern-island
  ringout compare tern-island`,
		Args: upTo(2, "OLD and NEW, or one PLANT,"),
		ValidArgsFunction: func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			return completePlant(min(len(args), 1))(cmd, args, typed)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) < 2 {
				return compareIssued(argument(args, 0), cmd.OutOrStdout(), cmd.ErrOrStderr())
			}
			return compareTwo(args[0], args[1], cmd.OutOrStdout(), cmd.ErrOrStderr())
		},
	}
}

// compareIssued lists what changed since the last issue.
func compareIssued(path string, stdout, stderr io.Writer) error {
	r, err := readPlant(path)
	if err != nil {
		return err
	}
	issues, err := r.issues()
	if err != nil {
		return err
	}
	if issues == nil {
		return tell.WrongUsef("%s: no issue registered: %s does not exist", r.name, r.issuesPath())
	}
	changes := layout.Since(issues, r.plant)
	if err := printDifferences(stdout, changes.Things); err != nil {
		return err
	}
	newest := issues.Newest()
	if _, err := fmt.Fprintf(stdout, "%s: %s new, changed or withdrawn since revision %s of %s\n", r.name, finding.Count(len(changes.Sheets), "sheet"), newest.Mark, newest.Date); err != nil {
		return err
	}
	if err := printChanges(stdout, changes); err != nil {
		return err
	}
	return r.caution(stderr)
}

// compareTwo lists how two plants differ.
func compareTwo(oldPath, newPath string, stdout, stderr io.Writer) error {
	old, err := readPlant(oldPath)
	if err != nil {
		return err
	}
	now, err := readPlant(newPath)
	if err != nil {
		return err
	}
	changes := layout.Compare(old.plant, now.plant)
	if err := printDifferences(stdout, changes.Things); err != nil {
		return err
	}
	// What is new has no revision before it to print.
	for i := range changes.Sheets {
		changes.Sheets[i].Rev = ""
	}
	words := "no sheet changes"
	if n := len(changes.Sheets); n > 0 {
		words = finding.Count(n, "sheet") + " new, changed or withdrawn"
	}
	if len(changes.Things) == 0 {
		words = "no difference; " + words
	}
	if _, err := fmt.Fprintln(stdout, words); err != nil {
		return err
	}
	if err := printChanges(stdout, changes); err != nil {
		return err
	}
	first := old.caution(stderr)
	if err := now.caution(stderr); err != nil {
		return err
	}
	return first
}

// printDifferences prints how two plants differ, by loop, cable and place.
func printDifferences(w io.Writer, differences []diff.Difference) error {
	var of diff.Ref
	for _, d := range differences {
		if d.Of != of {
			of = d.Of
			if _, err := fmt.Fprintln(w, of.Name()); err != nil {
				return err
			}
		}
		if _, err := fmt.Fprintf(w, "  %s\n", d.Words()); err != nil {
			return err
		}
	}
	return nil
}
