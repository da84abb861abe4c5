package path

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck"

)

// Advice is what to change so that a bind goes: the key of the variant that helps, and why.
func (r *Report) Advice(b Bind) (key, why string) {
	k := r.With.Buck.Knife
	more := int(math.Ceil((b.Depth - Felt) / max(k.Spec.Tape.Thickness, 0.01)))
	switch {
	case b.Side == AtHandle:
		return "throat.depth", "the mouth is narrower than what passes it: move it, or bring the handle's outline in line with it"
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

// bossAdvice is what to change where the ramps leave room for a boss that this face does not have.
func (r *Report) bossAdvice(b Bind) (key, why string) {
	const room = "the ramps leave room there for a boss, which this face does not have: "
	switch {
	case r.With.Buck.Knife.Spec.Ramp.CantDeg != 0:
		return "ramp.cant", room + "cant the draw less"
	case b.Side == AtSpine:
		return "standoff.y", room + "less of it moves the boss towards the edge"
	}
	return "standoff.y", room + "more of it moves the boss towards the spine"
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

// Check refuses a knife whose buck, with the pieces made for the hands, would form a sheath that binds
// on the edge, or whose lock is not the one that was asked for. The error is a *buck.Fault; the pieces' own faults come before it. It looks at cells of 0.2 mm.
func Check(k *buck.Knife, hands []buck.Hand) error {
	_, err := Checked(k, hands)
	return err
}

// Of studies the buck for the hands on cells of 0.2 mm: that of the right hand, which has a face with a boss and one
// without, or that of a plain sheath where none of the hands has a boss. The error is that of a piece.
func Of(k *buck.Knife, hands []buck.Hand) (*Study, error) {
	on := buck.Plain
	if slices.ContainsFunc(hands, func(h buck.Hand) bool { return len(h.Faces()) > 0 }) {
		on = buck.Right
	}
	b, err := Made(k, on)
	if err != nil {
		return nil, err
	}
	return New(b, Options{Step: 0.2}), nil
}

// Checked is Check that also gives what was studied, see [Of], nil where a piece is at fault.
func Checked(k *buck.Knife, hands []buck.Hand) (*Study, error) {
	s, err := Of(k, hands)
	if err != nil {
		return nil, err
	}
	if l := s.kept(); l != nil && math.Abs(l.Total-l.Asked) > LockWithin {
		return s, &buck.Fault{Key: "ramp.lock", What: fmt.Sprintf("a lock of %.3g mm is asked for, and %.3g mm would be kept", l.Asked, l.Total)}
	}
	r := s.Verdict()
	for _, bind := range r.Binds {
		if bind.Side == AtEdge {
			key, why := r.Advice(bind)
			return s, &buck.Fault{Key: key, What: fmt.Sprintf(
				"the sheath binds on the cutting edge at (%.1f, %.1f) by %.2f mm on each half: %s",
				bind.At.X, bind.At.Y, bind.Depth, why,
			)}
		}
	}
	return s, nil
}
