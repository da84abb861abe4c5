package path

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/measures"
	"formbuck/buck/pieces"
)

// Advice is what to change so that a bind goes: the key of the variant that helps, and why.
func (r *Report) Advice(b Bind) (key, why string) {
	k := r.With.Buck.Knife
	more := int(math.Ceil((b.Depth - Felt) / max(k.Spec.Tape.Thickness, 0.01)))
	switch {
	case b.Side == AtHandle:
		return "throat.depth", r.lapAdvice(b)
	case b.Side == AtFace && more <= 3:
		return "tape.layers", fmt.Sprintf("%d layers of tape on each face free it", k.Spec.Tape.Layers+more)
	case r.With.Centre != nil:
		return "ramp.cant", "ramps free a straight draw only, and none is made for an arc: draw it straight, turned by ramp.cant"
	case r.inBossRoom(b):
		return r.bossAdvice(b)
	case r.beyond(b):
		return "ramp.x", "no ramp reaches so far towards the tip: more of it"
	case b.Side == AtFace:
		return "ramp.lap", "no ramp reaches so far over the face: more of it"
	}
	return "ramp.y", "no ramp reaches there: move the ramp, or give it more ramp.lap"
}

// lapAdvice is what to change where the handle binds in the mouth, filler or not: how far the sheath may lap over the handle with
// none of that in it, and what of the knife is in the way.
func (r *Report) lapAdvice(b Bind) string {
	k := r.With.Buck.Knife
	clear := 0.0 // x from which on nothing binds at the handle
	for _, o := range r.Binds {
		if o.Side == AtHandle {
			clear = max(clear, o.Box.Max.X+r.With.Knife.Step)
		}
	}
	what := "the blade"
	if k.ZoneAt(b.Passes).OfHandle() {
		what = "the handle"
	}
	why := fmt.Sprintf("what of %s lies at (%.1f, %.1f) passes there, and no filler can be: ", what, b.Passes.X, b.Passes.Y)
	lap := math.Floor(10*(k.Plan.HandleFront-clear)) / 10
	if lap > 0 {
		return why + fmt.Sprintf("a lap of %.1f mm over the handle and less leaves it out of the sheath", lap)
	}
	return why + "no lap over the handle leaves it out of the sheath; bring the handle's outline in line with the blade's"
}

// bossAdvice is what to change where the ramps leave room for a boss: on a face that has none the ramp may be another one, on
// one that has a boss this has to move, by as much as was tried to help.
func (r *Report) bossAdvice(b Bind) (key, why string) {
	if !slices.Contains(r.With.Buck.Faces, b.Face) {
		return "ramp.split", "the ramp is in one piece, which leaves room there for a boss that this face does not have: \"auto\" makes one for either kind of face"
	}
	const room = "the ramps leave room there for the boss: "
	if to, ok := r.clearOf(b); ok {
		return "standoff.y", fmt.Sprintf("%s%.4g frees the draw", room, to)
	}
	return "standoff.y", room + "no place within 8 mm across the blade was found that frees the draw; a smaller plate needs less room"
}

// The places of a boss that are tried, across the blade, and the cells they are looked at with, mm.
const (
	clearStep  = 0.5 // our own, no source
	clearReach = 8   // our own, no source
	clearCells = 0.3 // our own, no source
)

// clearOf is the standoff.y nearest to the one asked for at which nothing binds, as was tried, away from the side of the bind
// first.
func (r *Report) clearOf(b Bind) (y float64, ok bool) {
	k := r.With.Buck.Knife
	away := 1.0
	if b.Side == AtSpine {
		away = -1
	}
	for by := clearStep; by <= clearReach; by += clearStep {
		for _, way := range [2]float64{away, -away} {
			s := k.Spec
			s.Standoff.Y += way * by
			moved, err := pieces.NewBuck(k.Plan, s)
			if err != nil {
				continue
			}
			on, err := Made(moved, r.hand())
			if err == nil && New(on, Options{Step: clearCells}).Verdict().Free() {
				return s.Standoff.Y, true
			}
		}
	}
	return 0, false
}

// hand is the hand whose faces carry the boss.
func (r *Report) hand() measures.Hand {
	for _, h := range measures.Hands() {
		if slices.Equal(r.With.Buck.Knife.Spec.Faces(h), r.With.Buck.Faces) {
			return h
		}
	}
	return measures.Plain
}

// inBossRoom reports whether a ramp leaves room for the boss where it binds.
func (r *Report) inBossRoom(b Bind) bool {
	for _, ramp := range r.With.Buck.On(b.Face) {
		if ramp.Boss.Length > 0 && ramp.Boss.Distance(b.At) < SidePlay {
			return true
		}
	}
	return false
}

// beyond reports whether it binds ahead of all ramps.
func (r *Report) beyond(b Bind) bool {
	for _, ramp := range r.With.Buck.On(b.Face) {
		if ramp.Turned(b.At).X < ramp.Head.Max.X {
			return false
		}
	}
	return true
}

// Of studies the buck for the hands on cells of 0.2 mm: that of the right hand, which has a face with a boss and one
// without, or that of a plain sheath where none of the hands has a boss. The error is that of a piece.
func Of(k *pieces.Buck, hands []measures.Hand) (*Study, error) {
	on := measures.Plain
	if slices.ContainsFunc(hands, func(h measures.Hand) bool { return len(k.Spec.Faces(h)) > 0 }) {
		on = measures.Right
	}
	b, err := Made(k, on)
	if err != nil {
		return nil, err
	}
	return New(b, Options{Step: 0.2}), nil
}

// Checked refuses a knife whose buck, with the pieces made for the hands, would form a sheath that binds
// on the edge, or whose lock is not the one that was asked for. The error is a *measures.Fault; the pieces' own
// faults come before it. Beside it stands what was studied, see [Of]; nil where a piece is at fault.
func Checked(k *pieces.Buck, hands []measures.Hand) (*Study, error) {
	s, err := Of(k, hands)
	if err != nil {
		return nil, err
	}
	if l := s.kept(); l != nil && math.Abs(l.Total-l.Asked) > LockWithin {
		return s, &measures.Fault{Key: "ramp.lock", What: fmt.Sprintf("a lock of %.3g mm is asked for, and %.3g mm would be kept", l.Asked, l.Total)}
	}
	r := s.Verdict()
	for _, bind := range r.Binds {
		if bind.Side == AtEdge {
			key, why := r.Advice(bind)
			return s, &measures.Fault{Key: key, What: fmt.Sprintf(
				"the sheath binds on the cutting edge at (%.1f, %.1f) by %.2f mm on each half: %s",
				bind.At.X, bind.At.Y, bind.Depth, why,
			)}
		}
	}
	return s, nil
}
