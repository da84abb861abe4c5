package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"formbuck/cmd/internal/folder"

	"github.com/spf13/cobra"
)

const watchLong = `Make a variant, and make it again whenever it is saved: its own file, one that it builds
on (base), or its drawing. It makes what formbuck make makes, and takes the same flags. One line
tells what each save changed, by how much and why.

A save that leaves the variant at fault is told, as make tells it; the job folder stays as it
was, and the next save is waited for. A file that is only half written is waited for until it
is left alone. Ctrl-C ends the watch; the exit status is then 0.

The files are looked at five times a second, or as often as --every says: files on a
network tell of no change by themselves.`

const watchExample = `  formbuck watch hunter.toml                  into the folder hunter, at every save
  formbuck watch hunter.toml --hand right     only what a right-hand sheath needs
  formbuck watch hunter.toml --every 2        look every two seconds
  formbuck watch hunter.toml --json           a line of JSON for each make, as of make --json`

// watchFlags are the flags of watch.
type watchFlags struct {
	makeFlags
	every seconds
}

// seconds is a flag that takes a time within limits.
type seconds struct{ positive }

// Type is the name of the value in a usage line.
func (s *seconds) Type() string { return "SECONDS" }

// Set reads the time.
func (s *seconds) Set(text string) error {
	const least, most = 0.01, 3600
	if err := s.positive.Set(text); err != nil || s.positive < least || s.positive > most {
		return fmt.Errorf("expected seconds from %g to %g", least, float64(most))
	}
	return nil
}

func newWatch(a *app) *cobra.Command {
	f := watchFlags{makeFlags: newMakeFlags(), every: seconds{0.2}}
	cmd := &cobra.Command{
		Use:     "watch VARIANT.toml",
		Short:   "Make a variant again whenever it is saved",
		Long:    watchLong,
		Example: watchExample,
		Args:    positional("VARIANT.toml", 1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			tick := time.NewTicker(time.Duration(float64(f.every.positive) * float64(time.Second)))
			defer tick.Stop()
			return a.watch(cmd.Context(), f.order(args[0], a.verbose), f.makeFlags, func(ctx context.Context) bool {
				select {
				case <-ctx.Done():
					return false
				case <-tick.C:
					return true
				}
			})
		},
	}
	f.bind(cmd)
	flags := cmd.Flags()
	flags.Var(&f.every, "every", "look at the files every `SECONDS`, 0.01 to 3600")
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON for each make")
	return cmd
}

// watch makes the order, and again after every save. It looks at the files whenever next returns true, and
// ends when that is false. An error is that there is no such variant to begin with, or that nobody hears what
// it says.
func (a *app) watch(ctx context.Context, o order, f makeFlags, next func(context.Context) bool) error {
	if err := mistaken(o.variant, ".toml"); err != nil {
		return err
	}
	if _, err := readFile(o.variant); err != nil {
		return err
	}
	defer a.hold()()
	w := &watcher{app: a, order: o, flags: f}
	w.order.read = w.files.open
	w.remake(ctx, nil)
	if ctx.Err() == nil {
		a.note("watching " + strings.Join(w.files.paths(), ", ") + "; Ctrl-C ends it")
	}
	for quiet := 0; next(ctx); {
		if quiet++; w.files.look() {
			quiet = 1
		}
		least := quietLooks
		if w.files.lacking() {
			least = goneLooks
		}
		changed := w.files.changed()
		if quiet < least || len(changed) == 0 && !w.shut {
			continue
		}
		w.remake(ctx, changed)
		quiet = 0
		if a.out.fault != nil {
			return a.out.fault
		}
	}
	return nil
}

// watcher is a variant that is watched.
type watcher struct {
	app    *app
	order  order
	flags  makeFlags
	files  sources
	made   bool     // at least once
	warned []string // of what, when it was last made
	shut   bool     // another run was writing into the folder; that was told
}

// remake makes the order once, for the files that changed, and says what came of it.
func (w *watcher) remake(ctx context.Context, changed []string) {
	w.files.begin()
	w.app.progress.begin("formbuck: making " + w.order.variant)
	m, err := w.app.produce(ctx, w.order, w.flags)
	w.app.progress.hush()
	if ctx.Err() != nil {
		return
	}
	var fault *folder.Fault
	shut := errors.As(err, &fault) && fault.Kind == folder.InUse
	if err != nil {
		if !shut || !w.shut {
			w.app.complain(err)
		}
		w.shut = shut
		return
	}
	w.files.forget()
	for _, warning := range m.warnings() {
		if !slices.Contains(w.warned, warning) {
			w.app.warn(warning)
		}
	}
	w.app.notes(m.notes()...)
	if w.flags.json {
		_ = w.app.answerJSON(makeAnswerOf(m.name, m.dir, m.product, m.report)) // a failure is remembered by the answer
	} else {
		w.app.done("%s\n", w.line(m, changed))
	}
	w.made, w.warned, w.shut = true, m.warnings(), false
}

// line tells what was saved and what that changed.
func (w *watcher) line(m *made, changed []string) string {
	var parts []string
	if c := m.product.Changes; c != nil && c.Changed() {
		for _, line := range c.Lines() {
			if !strings.HasPrefix(line, "still good: ") {
				parts = append(parts, line)
			}
		}
	} else if c != nil && w.made {
		parts = append(parts, "no piece changed")
	}
	line := strings.Join(append(parts, summary(m.dir, m.report)), "; ")
	if len(changed) > 0 {
		line = strings.Join(changed, ", ") + ": " + line
	}
	return line
}
