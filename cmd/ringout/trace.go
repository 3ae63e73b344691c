package main

import (
	"bufio"
	"strings"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/tell"
	"ringout/cmd/ringout/trace"
)

func traceCommand() *cobra.Command {
	readings := false
	cmd := &cobra.Command{
		Use: "trace TAG [PLANT] [flags]", GroupID: "look", Short: "print the wiring of a loop, device, cable or terminal",
		Long: `Trace prints each circuit of TAG, from the device to the I/O, in a form to read
aloud: a line for each station where cores land and each cable between, a column
for each leg. > marks the lines of TAG. Below are the terminations: core, colour,
far end and marker.

With --readings it shows the expected readings at each station instead: V, Ω or
mV in each state, then the margins. Of a segment it shows the volts at each device
and what the whole pair has against what its kind allows. Missing data is named;
values that depend on it are not calculated.

TAG is a loop, circuit, device, card, supply, box, cabinet, cable, strip or
terminal. For a supply it lists the feeds first, then jumpered terminals and
circuits.`,
		Example: `  ringout trace F-2107
  ringout trace W-21 samples/tern-island
  ringout trace JB-21/X1:7
  ringout trace F-2107 --readings`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return tell.WrongUsef("trace needs a TAG")
			}
			return upTo(2, "a TAG and one PLANT")(cmd, args)
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return completePlant(1)(cmd, args, typed)
			}
			r, err := readPlant("")
			if err != nil {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			// Terminals only where their strip is typed: there are too many.
			tags, terminals := trace.Tags(r.plant)
			if strings.ContainsRune(typed, ':') {
				tags = terminals
			}
			return tags, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := readPlant(argument(args, 1))
			if err != nil {
				return err
			}
			out := bufio.NewWriter(cmd.OutOrStdout())
			if err := trace.Write(out, r.plant, args[0], readings); err != nil {
				return err
			}
			if err := out.Flush(); err != nil {
				return err
			}
			return r.caution(cmd.ErrOrStderr())
		},
	}
	cmd.Flags().BoolVar(&readings, "readings", false, "print what a meter should read along the path")
	return cmd
}
