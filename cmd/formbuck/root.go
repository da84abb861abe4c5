package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"sync/atomic"
	"syscall"
	"time"

	"formbuck/buck"

	"github.com/spf13/cobra"
)

// What the program's exit status says. The list is closed.
const (
	exitOK    = 0
	exitFault = 1 // the input is at fault, or the system
	exitUsage = 2 // the command line is at fault
	exitOther = 3 // compare found that something changed
)

// app is what every verb speaks through.
type app struct {
	out  *answer                   // what was asked for
	err  io.Writer                 // what is said beside it
	load func(order) (work, error) // how make comes by its work

	colour   bool      // what is said beside the answer may be coloured
	progress *progress // nil: there is nobody to see it
	quiet    bool      // say no more than answers and faults, and no answer where files are
	verbose  bool      // say what was done on the way
	held     atomic.Int32
}

// run runs one command line and gives the exit status. Signals are caught to the very end of the
// program: an interrupt that comes when the work is done must not make it look undone.
func run(args []string, out, errs io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	a := &app{out: &answer{to: out}, err: errs, load: opened, colour: colourful(errs)}
	if terminal(errs) {
		a.progress = &progress{to: errs}
		a.out.before = a.progress.hush
	}
	return a.interruptible(ctx, func() int { return execute(ctx, a, args) })
}

// execute runs one command line on the app.
func execute(ctx context.Context, a *app, args []string) int {
	root := newRoot(a)
	root.SetArgs(args)
	root.SetOut(a.out)
	root.SetErr(a.err)
	began := time.Now() //nolint:forbidigo // told with --verbose; it gets into no file
	err := root.ExecuteContext(ctx)
	a.progress.hush()
	if err == nil {
		a.notes(fmt.Sprintf("took %.2f s", time.Since(began).Seconds()))
	}
	if changed := errors.Is(err, errChanged); err == nil || changed {
		if a.out.fault == nil && changed {
			return exitOther
		}
		err = a.out.fault
	}
	a.complain(err)
	var usage *usageError
	switch {
	case err == nil:
		return exitOK
	case errors.As(err, &usage):
		return exitUsage
	default:
		return exitFault
	}
}

const rootLong = `formbuck makes the printed add-on pieces of a forming buck: a scrap or mock-up knife
over which two hot sheets are pressed into a sheath.

It reads the knife's drawing (DXF) and a variant file (TOML) with its measures, works
out how deep every piece has to be for the knife to draw freely, and writes one print
file (STL) and one picture (PNG) for each piece and hand. Papers for the bench, the sheath's
layout and the mill's programs lie beside them.

Begin with formbuck new. The exit status is 0 where all went well, 1 where the input is at
fault, 2 where the command line is, and 3 where compare finds that a piece changed.`

const rootExample = `  formbuck make                    make the demo knife, to see what comes out
  formbuck new hunter              write hunter.toml and hunter.dxf to start from
  formbuck make hunter.toml        make its pieces into the folder hunter
  formbuck draw hunter.toml        say whether the knife comes out of its sheath
  formbuck watch hunter.toml       make it again whenever it is saved
  formbuck compare a.toml b.toml   say which pieces of b are not those of a
  formbuck profile hunter.dxf      say what a drawing holds
  formbuck layout hunter.toml      lay out its sheath
  formbuck fixture hunter*.toml    design one plate for all of a knife's variants
  formbuck batch week.csv          plan a list of orders
  formbuck inspect hunter/*.stl    measure print files and find their faults
  formbuck prove trim.ngc          prove that a program does no harm to the sheath`

// newRoot builds the command with all its verbs.
func newRoot(a *app) *cobra.Command {
	cobra.EnableCommandSorting = false
	root := &cobra.Command{
		Use:                        "formbuck",
		Short:                      "Printed pieces for the forming buck of a knife sheath",
		Long:                       rootLong,
		Example:                    rootExample,
		Version:                    buck.Version(),
		Args:                       cobra.ArbitraryArgs,
		SuggestionsMinimumDistance: 2,
		SilenceUsage:               true,
		SilenceErrors:              true,
		CompletionOptions:          cobra.CompletionOptions{DisableDefaultCmd: true},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownVerb(cmd, args[0])
			}
			return cmd.Help()
		},
	}
	flags := root.PersistentFlags()
	flags.BoolVarP(&a.quiet, "quiet", "q", false, "leave out warnings; of verbs that write files, the answer too")
	flags.BoolVarP(&a.verbose, "verbose", "v", false, "say what was decided and measured on the way")
	root.PersistentPreRunE = func(cmd *cobra.Command, args []string) error {
		if a.quiet && a.verbose {
			return misuse(cmd, "--quiet and --verbose exclude each other")
		}
		a.progress.begin(seen(strings.Join(append([]string{cmd.CommandPath()}, args[:min(1, len(args))]...), " ")))
		return nil
	}
	root.SetVersionTemplate("formbuck {{.Version}}\n")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error { return misuse(cmd, "%v", err) })
	root.AddCommand(
		newMake(a), newWatch(a), newCompare(a), newNew(a), newProfile(a), newDraw(a), newLayout(a), newFixture(a), newBatch(a), newInspect(a), newProve(a),
		newVersion(a), newCompletion(a), newManual(a),
	)
	for _, c := range root.Commands() {
		if c.ValidArgsFunction == nil && len(c.ValidArgs) == 0 {
			offer(c)
		}
	}
	root.SetHelpCommand(newHelp())
	return root
}

// newHelp is the verb help; cobra's own exits 0 when the verb is unknown.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help [VERB]",
		Short: "Explain a verb",
		RunE: func(cmd *cobra.Command, args []string) error {
			verb, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return unknownVerb(cmd.Root(), strings.Join(args, " "))
			}
			verb.InitDefaultHelpFlag()
			return verb.Help()
		},
	}
}

// unknownVerb refuses a verb that does not exist and names the ones like it.
func unknownVerb(root *cobra.Command, verb string) error {
	if near := root.SuggestionsFor(verb); len(near) > 0 {
		return misuse(root, "unknown verb %q; did you mean %s?", verb, strings.Join(near, " or "))
	}
	return misuse(root, "unknown verb %q", verb)
}

// usageError is a command line that cannot be run.
type usageError struct {
	command string // whose help to read
	what    string
}

// Error is one line that names the help to read.
func (e *usageError) Error() string { return fmt.Sprintf("%s (see %s -h)", e.what, e.command) }

// misuse is a usage error of a command.
func misuse(cmd *cobra.Command, format string, args ...any) error {
	return &usageError{command: cmd.CommandPath(), what: fmt.Sprintf(format, args...)}
}

// positional refuses a number of arguments outside least to most; most < 0 knows no upper limit.
// The name is the argument's own, as in the usage line.
func positional(name string, least, most int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case most == 0 && len(args) > 0:
			return misuse(cmd, "takes no argument, found %q", args[0])
		case len(args) < least:
			return misuse(cmd, "%s is missing", name)
		case most >= 0 && len(args) > most:
			return misuse(cmd, "one %s at a time, found %q beside %q", name, args[most], args[0])
		}
		return nil
	}
}
