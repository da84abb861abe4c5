package main

import (
	"context"
	"errors"
	"strings"

	"formbuck/buck"

	"github.com/spf13/cobra"
)

const compareLong = `Tell what a change changes, without writing anything: which pieces of the new variant are
not those of the old one, by how much and why, and which printed pieces are still good.

A reason is found by trying: the old variant is computed again with one key changed. Keys
that only do it together are named together. What is engraved in a piece, the variant's name,
does not count: a piece that differs in nothing else is still good.

The exit status is 0 where every piece is still good and 3 where one is not. With --json
the answer is one line with the keys old, new, changed, changes and pieces; a piece's state
is good, changed, new or gone.`

const compareExample = `  formbuck compare hunter.toml hunter-thick.toml
  formbuck compare hunter.toml hunter-thick.toml --hand left
  formbuck compare hunter.toml hunter-thick.toml --json | jq '.pieces[] | select(.state != "good")'`

// compareFlags are the flags of compare.
type compareFlags struct {
	hands  choices
	pieces choices
	json   bool

	unfinished bool
}

func newCompare(a *app) *cobra.Command {
	f := compareFlags{hands: choices{of: handNames()}, pieces: choices{of: pieceNames()}}
	cmd := &cobra.Command{
		Use:     "compare OLD.toml NEW.toml",
		Short:   "Tell which pieces a change changes, by how much and why",
		Long:    compareLong,
		Example: compareExample,
		Args:    positional("OLD.toml or NEW.toml", 2, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.compare(cmd.Context(), args[0], args[1], f)
		},
	}
	flags := cmd.Flags()
	flags.Var(&f.hands, "hand", "look at this hand only: "+oneOf(handNames())+"; may be repeated")
	flags.Var(&f.pieces, "piece", "look at this piece only: "+oneOf(pieceNames())+"; may be repeated")
	unfinishedFlag(flags, &f.unfinished)
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON")
	complete(cmd, "hand", handNames())
	complete(cmd, "piece", pieceNames())
	return cmd
}

// errChanged is that a comparison found something: it is no fault and has an exit status of its own.
var errChanged = errors.New("something changed")

// compareAnswer is what compare says as JSON.
type compareAnswer struct {
	Old string `json:"old"`
	New string `json:"new"`
	*sinceAnswer
}

func (a *app) compare(ctx context.Context, older, newer string, f compareFlags) error {
	var designs [2]*buck.Design
	o := orderOf("", f.hands, f.pieces)
	o.options.Unfinished = f.unfinished
	for i, file := range []string{older, newer} {
		o.variant = file
		d, err := design(o)
		if err != nil {
			return err
		}
		designs[i] = d
		a.notes(d.Notes()...)
	}
	report, err := buck.Compare(ctx, designs[0], designs[1], o.options)
	if err != nil {
		return err
	}
	if f.json {
		if err := a.answerJSON(compareAnswer{Old: older, New: newer, sinceAnswer: sinceOf(report)}); err != nil {
			return err
		}
	} else {
		a.printf("%s\n", strings.Join(report.Lines(), "\n"))
	}
	if report.Changed() {
		return errChanged
	}
	return nil
}
