package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"ringout/layout"
	"ringout/model/finding"
)

func checkCommand() *cobra.Command {
	return &cobra.Command{
		Use: "check [PLANT]", GroupID: "look", Short: "check a plant and list what is wrong",
		Long: `Check looks for wiring errors: open, short, earth, polarity, termination. All
findings go to stderr with their place in the text, a summary to stdout. If the
wiring is correct, it also lays out the sheets, as issued, and reports text that
does not fit. It also reports a damaged issue register.`,
		Example: `  ringout check
  ringout check samples/tern-island
  ringout check plant.yaml 2> findings.txt`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := readPlant(argument(args, 0))
			if err != nil {
				return err
			}
			issues, torn := r.issues()
			if r.findings.Errors() == 0 {
				for _, found := range layout.NewIssued(r.plant, false, issues).Pages() {
					r.findings = append(r.findings, found...)
				}
				r.findings = r.findings.Sort()
			}
			if err := r.print(cmd.ErrOrStderr()); err != nil {
				return err
			}
			circuits := 0
			for _, l := range r.plant.Loops {
				circuits += len(l.Circuits)
			}
			if _, err := fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, %s, %s: %s\n", r.name,
				finding.Count(len(r.plant.Loops), "loop"), finding.Count(circuits, "circuit"),
				finding.Count(len(r.plant.Conductors), "conductor"), r.verdict()); err != nil {
				return err
			}
			if torn == nil && r.findings.Errors() > 0 {
				return errModel
			}
			return torn
		},
	}
}
