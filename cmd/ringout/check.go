package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ringout/layout"
	"ringout/model/finding"
	"ringout/model/read"
)

func checkCommand() *cobra.Command {
	sheets := false
	command := &cobra.Command{
		Use: "check [PLANT]", GroupID: "look", Short: "check a plant and list what is wrong",
		Long: `Check looks for wiring errors: open, short, earth, polarity, termination. All
findings go to stderr with their place in the text, a summary to stdout. With
--sheets it also lays out the sheets of correct wiring, as issued, and reports text
that does not fit; draw, pack and issue report that too. It also reports a damaged
issue register. Of a folder that holds plants in folders of their own, each is
checked.`,
		Example: `  ringout check
  ringout check samples/tern-island --sheets
  ringout check plant.yaml 2> findings.txt`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) error {
			plants := plantsIn(argument(args, 0))
			if len(plants) == 0 {
				_, err := checkPlant(cmd, argument(args, 0), sheets)
				return err
			}
			var all finding.Findings
			var worst error
			for _, path := range plants {
				found, err := checkPlant(cmd, path, sheets)
				if err != nil && !errors.Is(err, errModel) {
					return err
				} else if err != nil {
					worst = err
				}
				all = append(all, found...)
			}
			if _, err := fmt.Fprintf(cmd.OutOrStdout(), "%s: %s\n", finding.Count(len(plants), "plant"), verdict(all)); err != nil {
				return err
			}
			return worst
		},
	}
	command.Flags().BoolVar(&sheets, "sheets", false, "lay out the sheets too")
	return command
}

// checkPlant checks the plant at path, and its sheets if asked to. It prints its findings
// and a summary, and returns them. The error is errModel if there are errors among them.
func checkPlant(cmd *cobra.Command, path string, sheets bool) (finding.Findings, error) {
	r, err := readPlant(path)
	if err != nil {
		return nil, err
	}
	issues, torn := r.issues()
	laidOut := "; sheets not laid out"
	if sheets && r.findings.Errors() == 0 {
		laidOut = ""
		for _, found := range layout.NewIssued(r.plant, false, issues).Pages() {
			r.findings = append(r.findings, found...)
		}
		r.findings = r.findings.Say(r.plant.Say).Sort()
	}
	if err := r.print(cmd.ErrOrStderr()); err != nil {
		return nil, err
	}
	circuits := 0
	for _, l := range r.plant.Loops {
		circuits += len(l.Circuits)
	}
	if _, err := fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, %s, %s: %s%s\n", r.name,
		finding.Count(len(r.plant.Loops), "loop"), finding.Count(circuits, "circuit"),
		finding.Count(len(r.plant.Conductors), "conductor"), verdict(r.findings), laidOut); err != nil {
		return nil, err
	}
	if n := r.counted(); n > 0 && r.findings.Errors() == 0 {
		if _, err := fmt.Fprintf(cmd.OutOrStdout(), "%s: counted places that are not kept yet: %d; draw keeps them\n", r.name, n); err != nil {
			return nil, err
		}
	}
	if torn == nil {
		torn = r.refuseMoved(cmd.ErrOrStderr())
	}
	if torn == nil && r.findings.Errors() > 0 {
		torn = errModel
	}
	return r.findings, torn
}

// plantsIn are the folders with plants in a folder that is no plant itself, by name; ""
// is the current folder. None where it is one, or cannot be read.
func plantsIn(path string) (plants []string) {
	if path == "" {
		path = "."
	}
	holds := func(folder string) bool {
		entries, err := os.ReadDir(folder)
		return err == nil && slices.ContainsFunc(entries, func(e os.DirEntry) bool { return !e.IsDir() && read.IsPlantFile(e.Name()) })
	}
	entries, err := os.ReadDir(path)
	if err != nil || holds(path) {
		return nil
	}
	for _, e := range entries {
		if folder := filepath.Join(path, e.Name()); e.IsDir() && !strings.HasPrefix(e.Name(), ".") && holds(folder) {
			plants = append(plants, folder)
		}
	}
	return plants
}
