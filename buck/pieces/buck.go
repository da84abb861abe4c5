// Package pieces models the add-on pieces that are glued to a knife to make a forming buck, each in a file of its own, and the
// knife's way out of the sheath, which the ramps follow from. What they are made of is a [Buck].
//
// The frame is that of package knives.
package pieces

import (
	"sync"

	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Buck is a knife with what its pieces are worked out from, each once for all who ask.
type Buck struct {
	*knives.Knife
	drawn func() drawn
	shell *shell
}

// NewBuck checks the measures of the blade and the handle against the plan. Its errors are Faults.
func NewBuck(plan *profile.Plan, s measures.Spec) (*Buck, error) {
	k, err := knives.NewKnife(plan, s)
	b := &Buck{Knife: k, shell: new(shell)}
	b.drawn = b.drawOnce()
	return b, err
}

// RampFor is which faces a ramp is for.
type RampFor string

// The faces: all alike; those with a boss, to which it leaves room; those without one, on which it is whole.
const (
	AllFaces    RampFor = ""
	BossedFaces RampFor = "boss"
	BareFaces   RampFor = "bare"
)

// Ramps are the ramps and fillers of a knife for either kind of face. What the boss's room takes nothing from that binds is
// one piece for both and stands in both lists.
type Ramps struct {
	Bossed []*RampPiece // of a face with a boss
	Bare   []*RampPiece // of a face without one
}

// On are those of a face with a boss or without one.
func (r *Ramps) On(boss bool) []*RampPiece {
	switch {
	case r == nil:
		return nil
	case boss:
		return r.Bossed
	}
	return r.Bare
}

// Differ reports whether a face with a boss has other ramps than one without.
func (r *Ramps) Differ() bool {
	for _, list := range [2][]*RampPiece{r.Bossed, r.Bare} {
		for _, p := range list {
			if p.For != AllFaces {
				return true
			}
		}
	}
	return false
}

// faced makes of each head the ramps for faces with a boss and, where something binds in the boss's room, others for faces
// without one. A ramp that is never to be split leaves its room on both.
func (d *Draw) faced(heads []*RampPiece) (*Ramps, error) {
	all := &Ramps{}
	for _, r := range heads {
		if r.Knife.Spec.Ramp.Split == measures.SplitNever || !d.bindsInRoom(r) {
			parts := r.whole(d.feltIn)
			all.Bossed, all.Bare = append(all.Bossed, parts...), append(all.Bare, parts...)
			continue
		}
		bare := *r
		bare.Boss, bare.For, r.For = Pill{}, BareFaces, BossedFaces
		all.Bossed, all.Bare = append(all.Bossed, r.whole(d.feltIn)...), append(all.Bare, bare.whole(d.feltIn)...)
	}
	for _, list := range [2][]*RampPiece{all.Bossed, all.Bare} {
		for _, r := range list {
			if err := r.part(); err != nil {
				return nil, err
			}
		}
	}
	return all, d.keepLock(all)
}

// bindsInRoom reports whether something is felt to bind where a ramp leaves room to the boss; a filler is asked for its plan
// alone.
func (d *Draw) bindsInRoom(r *RampPiece) bool {
	whole := *r
	whole.Boss = Pill{}
	in := func(p r2.Vec) bool { return r.Boss.Distance(p) < 0 && whole.BaseAt(p) != NoBase }
	if !r.Grip {
		return d.feltWhere(in)
	}
	cells := 0
	for x := r.Head.Min.X; x < r.Head.Max.X; x += drawStep {
		for y := r.Head.Min.Y; y < r.Head.Max.Y; y += drawStep {
			if in(r.Blade(r2.Vec{X: x, Y: y})) {
				cells++
			}
		}
	}
	return float64(cells)*drawStep*drawStep >= roomLeast
}

// feltIn reports whether anything is felt to bind in a box of the draw's axes.
func (d *Draw) feltIn(b r2.Box) bool {
	return d.feltWhere(func(p r2.Vec) bool {
		q := d.turned(p)
		return q.X >= b.Min.X && q.X <= b.Max.X && q.Y >= b.Min.Y && q.Y <= b.Max.Y
	})
}

// roomLeast is the area in mm2 that binds in the boss's room and is left so: it is less than what binds and is felt.
// Our own, no source.
const roomLeast = 0.25

// drawn is what was found of a knife's way out.
type drawn struct {
	draw  *Draw
	ramps *Ramps
	err   error
}

// drawOnce computes the draw and its ramps when they are first asked for, whoever asks.
func (k *Buck) drawOnce() func() drawn {
	return sync.OnceValue(func() drawn {
		d := NewDraw(k)
		ramps, err := NewRamps(d)
		return drawn{draw: d, ramps: ramps, err: err}
	})
}

// Ramps are the knife's draw and the ramps that free it, as NewDraw and NewRamps give them, computed
// once for all who ask: they are not to be changed. Errors are Faults.
func (k *Buck) Ramps() (*Draw, *Ramps, error) {
	d := k.drawn()
	return d.draw, d.ramps, d.err
}
