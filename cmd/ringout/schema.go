package main

import (
	"io"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/output"
	"ringout/model/read"
)

func schemaCommand() *cobra.Command {
	var file string
	cmd := &cobra.Command{
		Use: "schema [flags]", GroupID: "more", Short: "print a JSON Schema of the plant's text, for editors",
		Long: `Schema prints a JSON Schema (draft 07) of one file of a plant. An editor with a
YAML language server completes keys and words by it, shows what they mean, and
underlines what cannot be read. It does not check tags or wiring; use check for
that.`,
		Example: `  ringout schema -o ringout.schema.json`,
		Args:    upTo(0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			schema, err := read.Schema()
			if err != nil {
				return err
			}
			write := func(w io.Writer) error {
				_, err := w.Write(schema)
				return err
			}
			if file != "" {
				return output.WriteFile(file, cmd.ErrOrStderr(), write)
			}
			return write(cmd.OutOrStdout())
		},
	}
	cmd.Flags().StringVarP(&file, "out", "o", "", "write to `FILE` (overwrites) instead of the screen")
	return cmd
}
