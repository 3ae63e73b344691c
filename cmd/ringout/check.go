package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/tell"
	"ringout/layout"
)

func checkCommand() *cobra.Command {
	return &cobra.Command{
		Use: "check [PLANT]", GroupID: "look", Short: "put a plant through the desk check",
		Long: `Check puts a plant through the questions that the copper will be asked: open,
short, earth, polarity, termination. All problems go to stderr with the place
in the text, and a summary to stdout. Where nothing is wrong with the wiring,
the sheets are laid out too, as issued, and what does not fit is reported. A
register of issues that is torn is told as well.`,
		Example: `  ringout check
  ringout check samples/tern-island
  ringout check plant.yaml 2> problems.txt`,
		Args: upTo(1, "one PLANT"), ValidArgsFunction: completePlant(0),
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := readPlant(argument(args, 0))
			if err != nil {
				return err
			}
			issues, torn := r.issues()
			if r.problems.Errors() == 0 {
				for _, found := range layout.NewIssued(r.plant, false, issues).Pages() {
					r.problems = append(r.problems, found...)
				}
				r.problems = r.problems.Sort()
			}
			if err := r.print(cmd.ErrOrStderr()); err != nil {
				return err
			}
			circuits := 0
			for _, l := range r.plant.Loops {
				circuits += len(l.Circuits)
			}
			if _, err := fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, %s, %s: %s\n", r.name,
				tell.Count(len(r.plant.Loops), "loop"), tell.Count(circuits, "circuit"),
				tell.Count(len(r.plant.Conductors), "conductor"), r.verdict()); err != nil {
				return err
			}
			if torn == nil && r.problems.Errors() > 0 {
				return errProblems
			}
			return torn
		},
	}
}
