package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/tell"
	"ringout/model/finding"
)

func explainCommand() *cobra.Command {
	return &cobra.Command{
		Use: "explain [CODE]", GroupID: "look", Short: "explain a finding by its code, with an example",
		Long: `Explain prints what a finding means, when it occurs, whether it stops the
drawing, and an example before and after. CODE is the word in brackets at the
end of a finding. Without it, all codes are listed.`,
		Example: `  ringout explain core-used-twice
  ringout explain`,
		Args: upTo(1, "one CODE"),
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return findingCodes(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listKinds(cmd.OutOrStdout())
			}
			code := strings.Trim(args[0], "[]") // as it is printed
			for _, k := range finding.Kinds() {
				if k.Code == code {
					return explain(cmd.OutOrStdout(), k)
				}
			}
			return tell.WrongUsef("no finding has the code %q%s", code, tell.DidYouMean(code, findingCodes()))
		},
	}
}

func findingCodes() []string {
	var all []string
	for _, k := range finding.Kinds() {
		all = append(all, k.Code)
	}
	return all
}

// listKinds prints one line for each kind of finding.
func listKinds(w io.Writer) error {
	var b strings.Builder
	for _, k := range finding.Kinds() {
		fmt.Fprintf(&b, "%-22s %-8s %s\n", k.Code, k.Severity, k.Means)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// explain prints all that is known of a kind of finding.
func explain(w io.Writer, k *finding.Kind) error {
	var b strings.Builder
	severity := k.Severity.String()
	if k.Milder != "" {
		severity += "; warning " + k.Milder
	}
	fmt.Fprintf(&b, "%s (%s)\n%s\n\n", k.Code, severity, k.Means)
	for _, line := range tell.Wrap(k.When, 78) {
		fmt.Fprintf(&b, "%s\n", strings.TrimRight(line, " "))
	}
	before, after := k.Example()
	for _, part := range []struct {
		head  string
		lines []string
	}{{"before", before}, {"after", after}} {
		fmt.Fprintf(&b, "\n%s\n", part.head)
		for _, line := range part.lines {
			fmt.Fprintf(&b, "  %s\n", line)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}
