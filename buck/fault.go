package buck

import (
	"errors"
	"fmt"

	"formbuck/buck/batch"
	"formbuck/buck/internal/sound"
	"formbuck/buck/measures"
	"formbuck/buck/program/ngc"
	"formbuck/buck/variant"
	"formbuck/profile/dxf"

	"gonum.org/v1/gonum/spatial/r2"
)

// Kind is what kind of thing is wrong: one of the list below, a [variant.Problem] or a [dxf.Class].
type Kind string

// The kinds that stand beside those of variant files and drawings.
const (
	Binds    Kind = "binds"             // the sheath binds on the cutting edge, or locks otherwise than asked for
	Unfit    Kind = "unfit measure"     // measures that no piece or sheath can be made of
	Own      Kind = "fault of its own"  // nobody's measures may lead to it: please report it
	BadOrder Kind = "order at fault"    // of a list of orders or the shop
	BadRun   Kind = "program at fault"  // of a program or a run of programs
	NoShop   Kind = "no shop"           // the file that says what the shop has is not there
	NoOrder  Kind = "no such order"     // one that is marked as done and not in the list
	Other    Kind = "cannot be carried" // whatever else: a file that cannot be read, a context that is done
)

// Fault is one thing that is wrong: what kind, where, what was found, what would be taken and what to do.
// What is not known is empty.
type Fault struct {
	Kind         Kind
	File         string
	Line, Column int     // from 1; 0: not known
	Key          string  // of the variant file, or the column of a list
	At           *r2.Vec // in the blade's frame; of a drawing's fault in its own axes; mm
	What         string  // what is wrong
	Value        string  // that was found
	Limit        string  // what would be taken
	Advice       string  // what to do

	text string // as it is said; empty: it is put together
	err  error  // that it was made of
}

// Error is one line with the place first.
func (f *Fault) Error() string {
	if f.text != "" {
		return f.text
	}
	return f.What
}

// Unwrap is the error of the room where the fault was found.
func (f *Fault) Unwrap() error { return f.err }

// Faults takes an error apart: every single thing that is wrong, in the order in which it is said. An
// error that is none of the input's is one of kind [Other].
func Faults(err error) []*Fault {
	if err == nil {
		return nil
	}
	if f := known(err); f != nil {
		return []*Fault{f}
	}
	switch e := err.(type) { //nolint:errorlint // it is this very error that is taken apart; what it wraps comes after
	case interface{ Unwrap() []error }:
		var all []*Fault
		for _, one := range e.Unwrap() {
			all = append(all, Faults(one)...)
		}
		return all
	case interface{ Unwrap() error }:
		if inner := Faults(e.Unwrap()); len(inner) > 1 || len(inner) == 1 && inner[0].Kind != Other {
			return inner
		}
	case batch.Faults:
		return each(e)
	case ngc.Faults:
		return each(e)
	}
	return []*Fault{{Kind: Other, What: err.Error(), err: err}}
}

// each are the faults of a room's list.
func each[E error](list []E) []*Fault {
	var all []*Fault
	for _, one := range list {
		all = append(all, Faults(one)...)
	}
	return all
}

// known is a single fault of some room; nil: it is none.
func known(err error) *Fault {
	switch e := err.(type) { //nolint:errorlint // see Faults
	case *Fault:
		return e
	case *variant.Fault:
		what := e.What
		if what == "" {
			what = string(e.Problem)
		}
		return &Fault{
			Kind: Kind(e.Problem), File: e.At.File, Line: e.At.Line, Column: e.At.Column, Key: e.Key,
			What: what, Value: e.Found, Limit: e.Expected, Advice: e.Hint, text: e.Error(), err: e,
		}
	case *dxf.Fault:
		return &Fault{Kind: Kind(e.Class), File: e.File, Line: e.Line, At: e.At, What: e.What, text: e.Error(), err: e}
	case *measures.Fault:
		return &Fault{Kind: Unfit, Key: e.Key, At: e.At, What: e.What, Advice: e.Mend, text: e.Error(), err: e}
	case *batch.Fault:
		return &Fault{Kind: BadOrder, File: e.File, Line: e.Line, Column: e.Column, Key: e.Key, What: e.What, text: e.Error(), err: e}
	case *ngc.Fault:
		return &Fault{Kind: BadRun, File: e.File, Line: e.Line, Column: e.Column, What: e.What, text: e.Error(), err: e}
	case sound.Fault:
		return &Fault{Kind: Own, What: e.Error(), text: e.Error(), err: e}
	}
	return nil
}

// placed gives a fault of the measures its place in the variant file, and one of the program's own the digest of what it was
// found with.
func (d *Design) placed(err error) error {
	var own sound.Fault
	if errors.As(err, &own) {
		text := fmt.Sprintf("%s: %v (digest of the variant: %s)", d.file, err, d.inputs(Options{})[:16])
		return &Fault{Kind: Own, File: d.file, What: own.Error(), text: text, err: err}
	}
	var f *measures.Fault
	if !errors.As(err, &f) || f.Key == "" {
		return fmt.Errorf("%s: %w", d.file, err)
	}
	at := d.variant.Where(f.Key)
	return &Fault{
		Kind: Unfit, File: at.File, Line: at.Line, Column: at.Column, Key: f.Key, At: f.At, What: f.What, Advice: f.Mend,
		text: fmt.Sprintf("%s: %s: %v", at, f.Key, err), err: err,
	}
}

// refusal is the error of a sheath that must not be formed as it is.
func refusal(bound error) *Fault {
	f := *Faults(bound)[0]
	f.Kind, f.text, f.err = Binds, bound.Error(), bound
	return &f
}
