package pieces

import (
	"math"

	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// LockPocket is a round pocket in a ramp, over which the sheet keeps a bump on either half. The blade's
// full stock has to pass it, never the edge: so it lies beside the blade where the stock ahead of it is.
type LockPocket struct {
	Centre r2.Vec
	Radius float64 // so wide that the sheet, pressed into it, comes down to the floor in the middle
	Floor  float64 // half thickness of the ramp in the pocket
	Total  float64 // by how much both halves together must open, mm
}

// Holds tells whether p lies in the pocket; a nil pocket holds nothing.
func (l *LockPocket) Holds(p r2.Vec) bool {
	return l != nil && r2.Norm2(r2.Sub(p, l.Centre)) < l.Radius*l.Radius
}

const (
	lockStep = 0.25 // between the places that are looked at, mm; our own, no source
	lockRoom = 0.15 // more than the sheet needs to come down, mm; our own, no source
	lockEven = 1.5  // within which what passes may not be higher, and within a third of which not lower, mm; our own, no source
)

// keepLock gives one of the ramps the pocket that the measures ask for, as near to the handle as there is a
// place for it on either kind of face. Its error is a Fault.
func (d *Draw) keepLock(all *Ramps) error {
	total := d.Knife.Spec.Ramp.Lock
	if total == 0 {
		return nil
	}
	var on, also *RampPiece
	var best *LockPocket
	for _, r := range all.Bossed {
		for x := r.Head.Min.X + lockStep; !r.Grip && x < r.Head.Max.X; x += lockStep {
			if best != nil && x >= r.Turned(best.Centre).X {
				break
			}
			for y := r.Head.Min.Y; y < r.Head.Max.Y; y += lockStep {
				l := d.pocket(r, r2.Vec{X: x, Y: y})
				if l == nil || !l.alone(r, all.Bossed) || best != nil && x >= r.Turned(best.Centre).X {
					continue
				}
				if bare := l.under(all.Bare); bare != nil && l.alone(bare, all.Bare) {
					on, also, best = r, bare, l
				}
			}
		}
	}
	if best == nil {
		return measures.Faultf("ramp.lock", "there is no place for a lock of %.3g mm: it needs a gap beside the blade, ahead of the mouth, that the full stock passes and that is %.1f mm wide; with 0 friction alone holds the knife",
			total, 2*d.down(d.Knife.Spec.Tape.Total()+total/2))
	}
	on.Lock, also.Lock = best, best
	return nil
}

// under is the ramp in which the pocket lies; nil where none is there.
func (l *LockPocket) under(ramps []*RampPiece) *RampPiece {
	for _, r := range ramps {
		if !r.Grip && r.BaseAt(l.Centre) == Gap {
			return r
		}
	}
	return nil
}

// alone tells whether neither the room of the drain nor another ramp reaches into the pocket.
func (l *LockPocket) alone(on *RampPiece, ramps []*RampPiece) bool {
	for deg := 0.0; deg < 360; deg += 15 {
		if on.Drain.RoomHolds(r2.Add(l.Centre, r2.Rotate(r2.Vec{X: l.Radius}, measures.Radians(deg), r2.Vec{}))) {
			return false
		}
	}
	for _, r := range ramps {
		for deg := 0.0; deg < 360 && r != on; deg += 15 {
			if r.BaseAt(r2.Add(l.Centre, r2.Rotate(r2.Vec{X: l.Radius}, measures.Radians(deg), r2.Vec{}))) != NoBase || r.BaseAt(l.Centre) != NoBase {
				return false
			}
		}
	}
	return true
}

// down is how far, along the plan, the sheet takes to come down by a height; see bend.
func (d *Draw) down(by float64) float64 {
	ball := d.Knife.Spec.Sheet.Ball()
	by = min(by, ball)
	return math.Sqrt(by*(2*ball-by)) + lockRoom
}

// pocket is the pocket about q of the draw's axes, or nil where none can be: beside the blade, passed by the
// full stock evenly, and as far from steel and handle as the sheet needs to come down from them.
func (d *Draw) pocket(r *RampPiece, q r2.Vec) *LockPocket {
	k, p := d.Knife, r.Blade(q)
	full := k.Spec.Blade.Thickness / 2
	e := d.Envelope.at(q)
	if q.X < 1 || e < 0.9*full || r.BaseAt(p) != Gap {
		return nil
	}
	l := &LockPocket{Centre: p, Total: k.Spec.Ramp.Lock}
	l.Floor = e - l.Total/2
	if distance(&k.Rim, p) < d.down(full+k.Spec.Tape.Total()-l.Floor) {
		return nil
	}
	if distance(&k.HandleRim, p) < d.down(k.Spec.Handle.Thickness/2-l.Floor) {
		return nil
	}
	for y := -lockEven; y <= lockEven; y += lockStep {
		beside := d.Envelope.at(r2.Vec{X: q.X, Y: q.Y + y})
		if beside > e+0.005 || math.Abs(y) <= lockEven/3 && beside < e-0.005 {
			return nil
		}
	}
	rim := 0.0
	for deg := 0.0; deg < 360; deg += 15 {
		rim = max(rim, r.Surface(r2.Add(p, r2.Rotate(r2.Vec{X: 3}, measures.Radians(deg), r2.Vec{}))))
	}
	l.Radius = d.down(max(rim, e+r.Rise) - l.Floor)
	if l.Floor < r.Knife.Spec.Ramp.Wall || r.Boss.Distance(p) < max(l.Radius, d.down(bossHeight)) {
		return nil
	}
	return l
}

// Height is the height of the ramp's surface at p with the pocket in it.
func (r *RampPiece) Height(p r2.Vec) float64 {
	if r.Lock.Holds(p) {
		return min(r.Lock.Floor, r.Surface(p))
	}
	return r.Surface(p)
}
