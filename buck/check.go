package buck

import (
	"context"
	"fmt"
	"slices"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/path"
)

// Checked is what [Design.Check] found.
type Checked struct {
	Warnings []string // what the user should know, a line each
	Free     bool     // the knife comes out of its sheath, and nothing binds anywhere
}

// Check tells what Make would refuse, and what of the knife, its draw and its layout Make would warn of,
// without making any piece. The error is the one that Make gives.
func (d *Design) Check(ctx context.Context, o Options) (*Checked, error) {
	hands := o.hands(d)
	_, left, bound := d.edge(hands)()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if bound != nil && !o.Unfinished {
		return nil, refusal(bound)
	}
	c := &Checked{Warnings: d.readWarnings(), Free: bound == nil && len(left) == 0}
	if bound != nil {
		c.Warnings = append(c.Warnings, bound.Error()+"; the pieces are not finished")
	}
	sheath, err := layout.New(d.knife, hands)
	switch {
	case err != nil && d.knife.Spec.Fixture.Made != nil:
		return nil, d.placed(err)
	case err != nil:
		left = append(left, fmt.Sprintf("sheath: %v; it was not laid out", err))
	default:
		left = slices.Concat(left, sheath.Warnings)
	}
	for _, warning := range left {
		c.Warnings = append(c.Warnings, d.file+": "+warning)
	}
	return c, nil
}

// edge looks, beside other work, where the sheath would bind, and gives what waits for the answer: what to
// say of places elsewhere than on the cutting edge, and an error for these. Beside it what was studied.
func (d *Design) edge(hands []measures.Hand) (answer func() (study *path.Study, left []string, err error)) {
	type found struct {
		study *path.Study
		err   error
	}
	answered := make(chan found, 1)
	go func() {
		study, err := path.Checked(d.knife, hands)
		answered <- found{study, err}
	}()
	return func() (study *path.Study, left []string, err error) {
		f := <-answered
		if f.study != nil {
			left = bindsElsewhere(f.study.Verdict())
		}
		if f.err != nil {
			err = d.placed(f.err)
		}
		return f.study, left, err
	}
}

// bindsElsewhere is what to say of what binds elsewhere than on the cutting edge.
func bindsElsewhere(r *path.Report) (warnings []string) {
	for _, b := range path.Paired(r.Binds) {
		if b.Side != path.AtEdge {
			key, why := r.Advice(b.Bind)
			warnings = append(warnings, fmt.Sprintf("%s: the sheath binds %s: %s", key, b, why))
		}
	}
	return warnings
}
