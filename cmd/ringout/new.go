package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"ringout/cmd/ringout/tell"
	"ringout/model/read"
)

// firstPlant is the plant that new writes.
//
//go:embed new/plant.yaml
var firstPlant []byte

func newCommand() *cobra.Command {
	return &cobra.Command{
		Use: "new [FOLDER]", GroupID: "start", Short: "write a small example plant",
		Long: `New writes plant.yaml, a small commented plant, into FOLDER (default: the
current folder). It creates FOLDER if needed. It does not overwrite a plant.`,
		Example: `  ringout new pump-house
  ringout new pump-house && ringout draw pump-house`,
		Args: upTo(1, "one FOLDER"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := argument(args, 0)
			if dir == "" {
				dir = "."
			}
			entries, err := os.ReadDir(dir)
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return tell.WrongUsef("%s: cannot be used: %v", dir, tell.Reason(err))
			}
			for _, e := range entries {
				if read.IsPlantFile(e.Name()) {
					return tell.WrongUsef("%s exists; new does not overwrite a plant", filepath.Join(dir, e.Name()))
				}
			}
			if err := os.MkdirAll(dir, 0o777); err != nil {
				return fmt.Errorf("%s: the folder cannot be made: %w", dir, tell.Reason(err))
			}
			name := filepath.Join(dir, "plant.yaml")
			f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
			if err != nil {
				return fmt.Errorf("%s: cannot be written: %w", name, tell.Reason(err))
			}
			_, err = f.Write(firstPlant)
			if e := f.Close(); err == nil {
				err = e
			}
			if err != nil {
				os.Remove(name)
				return fmt.Errorf("%s: cannot be written: %w", name, tell.Reason(err))
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s is written; next: ringout check %s\n", name, dir)
			return err
		},
	}
}
