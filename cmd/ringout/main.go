// Command ringout checks a plant of instrument loops written as text, and
// draws, lists and traces its wiring. This package has the flags, files and exit
// codes; what a plant is and how a sheet looks is decided elsewhere.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"ringout/cmd/ringout/tell"
)

// Exit codes.
const (
	fine        = 0
	modelErrors = 1
	wrong       = 2 // use, or a file that cannot be read or written
)

// errModel ends a run that has errors in the model, once they are printed.
var errModel = errors.New("errors in the model")

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	// What writes files stops at the first signal and clears up. The second ends
	// whatever does not watch ctx, such as waiting for a pipe to be written.
	context.AfterFunc(ctx, stop)
	collectLate()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// collectLate has the collector wait until the heap has grown to five times what is in
// use, unless the environment says how long. Most of a heap is marks of sheets that are
// done with: collecting them at each doubling takes a sixth of the processor time. A
// large plant needs the memory itself.
func collectLate() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
}

// collectSoon undoes collectLate for a plant of very many loops, of which each keeps
// some 30 kB.
func collectSoon(loops int) {
	if loops > 5000 && os.Getenv("GOGC") == "" {
		debug.SetGCPercent(100)
	}
}

// run runs one command line and returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root := rootCommand()
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	command, err := root.ExecuteContextC(ctx)
	switch {
	case err == nil:
		return fine
	case errors.Is(err, errModel):
		return modelErrors
	}
	fmt.Fprintf(stderr, "ringout: %v\n", err)
	if use := (tell.WrongUse{}); errors.As(err, &use) {
		fmt.Fprintf(stderr, "see: %s -h\n", command.CommandPath())
	}
	return wrong
}

// Groups of commands in the help.
var groups = []*cobra.Group{{ID: "start", Title: "start"}, {ID: "look", Title: "look"}, {ID: "print", Title: "print"}, {ID: "more", Title: "more"}}

const rootHelp = `ringout reads instrument loops from plain text, checks the wiring, and prints
the drawings and test sheets used to install and test it.

usage: ringout COMMAND [PLANT] [flags]
PLANT is a folder of .yaml files or one such file; without it, the current folder.
{{range $g := .Groups}}
{{$g.Title}}{{range $.Commands}}{{if and (eq .GroupID $g.ID) .IsAvailableCommand}}
  {{rpad .Name 11}} {{.Short}}{{end}}{{end}}
{{end}}
examples
{{.Example}}

For more: ringout COMMAND -h
exit code: 0 success, 1 errors in the model, 2 usage or file error
`

const verbHelp = `{{with .Long}}{{trimTrailingWhitespaces .}}{{else}}{{.Short}}{{end}}

usage: {{.UseLine}}{{if .HasAvailableSubCommands}}
{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name 11}} {{.Short}}{{end}}{{end}}{{end}}{{if .HasAvailableLocalFlags}}

flags
{{trimTrailingWhitespaces .LocalFlags.FlagUsages}}{{end}}{{if .HasExample}}

examples
{{.Example}}{{end}}
`

func rootCommand() *cobra.Command {
	root := &cobra.Command{
		Use:     "ringout COMMAND [PLANT] [flags]",
		Version: version(),
		Example: `  ringout new tern-island
  ringout check tern-island
  ringout draw tern-island -o out
  ringout trace FT-2107 tern-island`,
		SilenceErrors: true, SilenceUsage: true, DisableFlagsInUseLine: true,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				cmd.SetOut(cmd.ErrOrStderr())
				if err := cmd.Help(); err != nil {
					return err
				}
				return tell.WrongUsef("no command given")
			}
			var commands []string
			for _, c := range cmd.Commands() {
				commands = append(commands, c.Name())
			}
			return tell.WrongUsef("%q is not a command%s", args[0], tell.DidYouMean(args[0], commands))
		},
	}
	root.AddGroup(groups...)
	root.AddCommand(newCommand(), checkCommand(), explainCommand(), traceCommand(), listCommand(), importCommand(), drawCommand(), issueCommand(), compareCommand(), labelsCommand(), packCommand(), schemaCommand(), &cobra.Command{
		Use: "version", GroupID: "more", Short: "print the version of the program", Args: upTo(0, ""),
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprintln(cmd.OutOrStdout(), "ringout", version())
			return err
		},
	})
	root.SetHelpCommandGroupID("more")
	root.SetCompletionCommandGroupID("more")
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	root.SetHelpTemplate(rootHelp)
	root.SetVersionTemplate("ringout {{.Version}}\n")
	for _, c := range root.Commands() {
		c.DisableFlagsInUseLine = true
		plainFlags(c)
		c.SetHelpTemplate(verbHelp)
		if c.Name() == "completion" {
			describeCompletion(c)
		}
	}
	root.SetFlagErrorFunc(flagError)
	root.PersistentPreRunE = func(cmd *cobra.Command, _ []string) (err error) {
		cmd.Flags().Visit(func(f *pflag.Flag) {
			// Most likely a variable of a script that is not set.
			if s := f.Value.String(); err == nil && (strings.TrimSpace(s) == "" || s == "[]") {
				err = tell.WrongUsef("--%s: is empty", f.Name)
			}
		})
		return err
	}
	return root
}

// describeCompletion words the help of the command that the library brings.
func describeCompletion(c *cobra.Command) {
	c.Use = "completion SHELL"
	c.Short = "print a shell completion script"
	c.Long = "Completion prints a script that completes commands, flags, tags, kinds of sheet\nand names of lists in a shell."
	c.Example = "  source <(ringout completion bash)\n  ringout completion bash -h"
	c.Args = cobra.ArbitraryArgs
	c.RunE = func(c *cobra.Command, args []string) error {
		var shells []string
		for _, s := range c.Commands() {
			shells = append(shells, s.Name())
		}
		if len(args) == 0 {
			return tell.WrongUsef("completion needs the name of a shell: %s", strings.Join(shells, ", "))
		}
		return tell.WrongUsef("%q is not a shell: write %s%s", args[0], strings.Join(shells, ", "), tell.DidYouMean(args[0], shells))
	}
}

// plainFlags makes flags that are true or false yesNo, those of the commands below too.
func plainFlags(c *cobra.Command) {
	c.InitDefaultHelpFlag()
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Value.Type() == "bool" {
			f.Value = yesNo{f.Value}
		}
	})
	for _, below := range c.Commands() {
		plainFlags(below)
	}
}

// yesNo is a flag that needs no value; the help has its name alone.
type yesNo struct{ pflag.Value }

// flagError is what is wrong with a flag, in words.
func flagError(_ *cobra.Command, err error) error {
	if bad := (*pflag.InvalidValueError)(nil); errors.As(err, &bad) {
		if _, is := bad.GetFlag().Value.(yesNo); is {
			return tell.WrongUsef("--%s: %q is neither true nor false", bad.GetFlag().Name, bad.GetValue())
		}
	}
	return tell.WrongUsef("%v", err)
}

// version is what the build knows of itself.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	if v == "" || v == "(devel)" {
		v = "development build"
	}
	return fmt.Sprintf("%s, %s %s/%s", v, info.GoVersion, runtime.GOOS, runtime.GOARCH)
}

// upTo lets a command take at most n arguments, which the error calls what.
func upTo(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) <= n:
			return nil
		case n == 0:
			return tell.WrongUsef("%s: unexpected %q", cmd.Name(), args[0])
		}
		return tell.WrongUsef("%s: unexpected %q; it takes %s", cmd.Name(), args[n], what)
	}
}
