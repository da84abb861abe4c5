package pieces

import (
	"math"

	"formbuck/buck/knives"
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// NewStandoffs computes the mount bosses of a knife: the first and those that stand on the same faces beside it, in
// the order given. No two may meet, nor a further one and a ramp or the drain insert. Its errors are Faults.
func NewStandoffs(k *Buck) ([]*StandoffPiece, error) {
	first, err := NewStandoff(k)
	if err != nil {
		return nil, err
	}
	all := []*StandoffPiece{first}
	for _, m := range k.Spec.Standoff.More {
		s, err := k.standoff(m)
		if err != nil {
			return nil, err
		}
		for _, other := range all {
			if at, meet := s.meets(other.Foot()); meet {
				return nil, measures.FaultAtf(s.key("x"), at, "the boss's foot stands on that of the boss %s", other.Title())
			}
		}
		if err := s.apart(); err != nil {
			return nil, err
		}
		all = append(all, s)
	}
	return all, nil
}

// Title names the boss among those of its knife.
func (s *StandoffPiece) Title() string {
	if s.Name == "" {
		return "before the handle"
	}
	return s.Name
}

// key is the key of one of the boss's measures.
func (s *StandoffPiece) key(name string) string {
	if s.Name == "" {
		return "standoff." + name
	}
	return "standoff.more." + s.Name + "." + name
}

// plateKey is the key of one of the plate's measures.
func (s *StandoffPiece) plateKey(name string) string {
	if s.Name == "" {
		return "plate." + name
	}
	return s.key(name)
}

// MouthLine returns a point of the mouth's line, through the points where the throat crosses the
// outline, and the way out of the sheath, square to it.
func (k *Buck) MouthLine() (at, out r2.Vec) {
	at, out = k.Plan.ThroatEdge, r2.Vec{X: -1}
	if d := r2.Sub(k.Plan.ThroatSpine, at); r2.Norm(d) > 1e-9 {
		out = r2.Unit(r2.Vec{X: -d.Y, Y: d.X})
		if out.X > 0 {
			out = r2.Scale(-1, out)
		}
	}
	return at, out
}

// beyondMouth tells whether p lies on the handle's side of the mouth.
func (k *Buck) beyondMouth(p r2.Vec) bool {
	at, out := k.MouthLine()
	return r2.Dot(r2.Sub(p, at), out) > 0
}

// meets tells whether the boss's foot and a pill have anything in common, and where.
func (s *StandoffPiece) meets(other Pill) (r2.Vec, bool) {
	foot := s.Foot()
	for i := range 360 {
		t := float64(i) / 360
		if p := foot.rimAt(t); other.Distance(p) < 0 {
			return p, true
		}
		if p := other.rimAt(t); foot.Distance(p) < 0 {
			return p, true
		}
	}
	return r2.Vec{}, false
}

// apart refuses a further boss that stands on a ramp or on the drain insert. The first one has its room left to it by
// them.
func (s *StandoffPiece) apart() error {
	_, ramps, err := s.Knife.Ramps()
	if err != nil {
		return err
	}
	drain, err := NewDrain(s.Knife)
	if err != nil {
		return err
	}
	if at, meet := s.onLine(drain.FootLine()); meet {
		return measures.FaultAtf(s.key("x"), at, "the boss's foot stands on the drain insert")
	}
	for _, r := range ramps.Bossed {
		if at, meet := s.onLine(r.FootLine()); meet {
			return measures.FaultAtf(s.key("x"), at, "the boss's foot stands on the %s at the %s", r.title(), r.Where())
		}
	}
	return nil
}

// onLine tells whether the boss's foot and what a line goes round have anything in common, and where.
func (s *StandoffPiece) onLine(line []r2.Vec) (r2.Vec, bool) {
	foot, in := s.Foot(), knives.NewPatch(line)
	for i := range 360 {
		if p := foot.rimAt(float64(i) / 360); in.Holds(p) {
			return p, true
		}
	}
	for _, p := range line {
		if foot.Distance(p) < 0 {
			return p, true
		}
	}
	return r2.Vec{}, false
}

// Under is how much too low the clip on this boss lies where its footprint reaches over another boss, in mm; 0 where it
// does not, or clears the sheet over it as asked.
func (s *StandoffPiece) Under(other *StandoffPiece) float64 {
	clip := s.Knife.Spec.Clip
	low := other.TopZ + clip.Clearance - s.TopZ
	for i := range 360 {
		q := s.Top.Local(other.Top.rimAt(float64(i) / 360))
		if math.Abs(q.X) < clip.Length/2 && math.Abs(q.Y) < clip.Width/2 {
			return max(low, 0)
		}
	}
	return 0
}
