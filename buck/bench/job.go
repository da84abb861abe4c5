// Package bench is what a hand does to make a sheath, told once for all papers: the steps from the bare buck to the finished
// sheath in their order, what there is to buy for it, what to look at in the end, and what to mind.
//
// Lengths are mm.
package bench

import (
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
)

// Job is what steps and hardware of one sheath depend on.
type Job struct {
	Spec    measures.Spec
	Bosses  []measures.Plate // the plates of the bosses on a face that has any; none: a plain sheath
	Faces   int              // that have them
	Locator bool             // there is a template for the pieces
	Sheath  *layout.Sheath   // nil: it was not laid out, and steps are silent of what that decides
	OnPlate bool             // it is drilled and trimmed on a plate of its own
}

// Of is the job of a buck and of its layout, which may be nil.
func Of(b path.Buck, l *layout.Sheath) Job {
	j := Job{Spec: b.Knife.Spec, Faces: len(b.Faces), Sheath: l, OnPlate: l != nil && l.Plate != nil}
	for _, s := range b.Bosses() {
		j.Bosses = append(j.Bosses, s.Plate)
	}
	if all := b.Bosses(); len(all) > 0 && b.Drain != nil {
		_, err := pieces.NewLocators(all, b.Ramps, b.Drain)
		j.Locator = err == nil
	}
	return j
}

// OfSheath is the job of a layout for all its hands at once: with a boss where any of them has one.
func OfSheath(l *layout.Sheath) Job {
	j := Job{Spec: l.Knife.Spec, Sheath: l, OnPlate: l.Plate != nil}
	if len(l.Posts) > 0 {
		j.Bosses, j.Faces = []measures.Plate{l.Knife.Spec.Plate}, 1
	}
	return j
}

// boss tells whether the sheath has one.
func (j Job) boss() bool { return len(j.Bosses) > 0 && j.Faces > 0 }

func mm(v float64) string { return drawing.Millimetres(v) }
