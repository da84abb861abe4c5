package pieces

import (
	"fmt"
	"math"

	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// DrainPiece is the tip drain insert: a round plug on the tip's bisector that widens outwards, slit
// to take the tip. It serves both faces.
type DrainPiece struct {
	Knife    *Buck
	Tip      r2.Vec  // origin of its axes
	AxisDeg  float64 // direction out of the tip, from x
	From, To float64 // along the axis
	Radius   float64 // at From
	Slope    float64 // by which the radius grows per mm
	Slit     float64 // half height of the slit
	Play     float64 // between slit and blade, on its faces and at its floor
	Governs  string
}

// Constants of the drain. Standing water is held by surface tension in a round hole of diameter d to a
// head 4 gamma / (rho g d); below 4 mm that is over 7 mm of water.
const (
	drainLeast = 4     // diameter, mm; derived above
	slitPlay   = 0.125 // per side, mm: a slit is blade and tape and 0.2 to 0.3; common practice, no source
	drainWall  = 0.8   // least jaw beside the slit, mm: two beads of a 0.4 mm nozzle; common practice, no source
	drainCant  = 60    // the most that its axis may turn, degrees; our own, no source
	drainSpare = 3     // by which the plug passes the trim line, mm; common practice, no source
)

// NewDrain computes the drain insert of a knife. Its errors are Faults.
func NewDrain(k *Buck) (*DrainPiece, error) {
	s := k.Spec.Drain
	low, high := k.Chord(k.Plan.Heel.X + 1)
	switch {
	case s.Diameter < drainLeast:
		return nil, measures.Faultf("drain.diameter", "a drain %.4g mm wide holds water by surface tension: at least %d mm", s.Diameter, drainLeast)
	case s.Diameter >= high-low:
		return nil, measures.Faultf("drain.diameter", "a drain %.4g mm wide is wider than the blade, %.4g mm at the heel", s.Diameter, high-low)
	case s.Lap <= 0 || s.Lap > (k.Plan.Tip.X-k.Plan.Heel.X)/2:
		return nil, measures.Faultf("drain.lap", "%.4g mm over the tip is not between 0 and half the blade's length", s.Lap)
	}
	d := &DrainPiece{Knife: k, Play: slitPlay + s.Fit, Slope: measures.TanDeg(s.TaperDeg), From: -s.Lap}
	d.setAxis()
	d.To = s.Length
	if d.To == 0 {
		d.To = k.TrimReach() + drainSpare
	}
	d.Radius = s.Diameter / 2
	tip := d.Local(k.Plan.Tip)
	switch {
	case math.Abs(s.CantDeg) > drainCant:
		return nil, measures.Faultf("drain.cant", "%.4g deg turns the insert away from the tip: at most %d deg", s.CantDeg, drainCant)
	case tip.X <= d.From || tip.X >= d.To:
		return nil, measures.FaultAtf("drain.x", d.Tip, "the insert, from %.4g to %.4g mm along its axis, does not hold the tip, at %.4g mm", d.From, d.To, tip.X)
	case math.Abs(tip.Y) >= d.Radius:
		return nil, measures.FaultAtf("drain.y", d.Tip, "the insert, %.4g mm wide, does not hold the tip, %.4g mm from its axis", 2*d.Radius, math.Abs(tip.Y))
	}
	d.Slit = d.thickest() + d.Play
	d.Governs = "as drain.diameter"
	if least := d.Slit + drainWall; d.Radius < least {
		d.Radius = least
		d.Governs = fmt.Sprintf("slit %.2f mm and its jaws", 2*d.Slit)
	}
	if d.Play < 0 {
		return nil, measures.Faultf("drain.fit", "a fit of %.4g mm leaves the slit narrower than the blade", s.Fit)
	}
	return d, nil
}

// setAxis lays the axis on the bisector of edge and spine at the tip, taken over the length that the
// plug laps over, and moves and turns it by the placement.
func (d *DrainPiece) setAxis() {
	p, s := d.Knife.Plan, d.Knife.Spec.Drain
	back := func(path profile.Path) r2.Vec {
		return r2.Unit(r2.Sub(p.Tip, path.At(max(0, 1-s.Lap/path.Length()))))
	}
	out := r2.Unit(r2.Add(back(p.Edge), back(p.Spine)))
	d.AxisDeg = math.Atan2(out.Y, out.X)*180/math.Pi + s.CantDeg
	axis := r2.Rotate(r2.Vec{X: s.X, Y: s.Y}, measures.Radians(d.AxisDeg), r2.Vec{})
	d.Tip = r2.Add(p.Tip, axis)
}

// TrimReach is how far the sheath's trimmed edge stands outside the blade's outline, in mm: flat contact of the
// sheets, half the eyelet's flange or its setting die with half a millimetre of room, and outside
// the hole's centre at least the flange with 2 mm of rim, or 1.25 hole diameters; common practice,
// no source.
func (k *Buck) TrimReach() float64 {
	s := k.Spec
	fold := measures.Fold{Half: s.Blade.Thickness/2 + s.Tape.Total(), Sheet: s.Sheet.Thickness, Edge: 0.2, DraftDeg: 5}
	eyelet := fold.Contact() + max(s.Eyelet.Flange, s.Eyelet.Die)/2 + 0.5
	return eyelet + max(s.Eyelet.Flange/2+2, 1.25*s.Eyelet.Hole)
}

// slitStep is how far apart, in mm, the places are at which the steel in the slit is looked at. On a bevel of one in five
// the greatest between two is less than 0.015 mm more. Derived.
const slitStep = 0.15

// thickest is the greatest half thickness of blade and tape within the plug, its own sides and its inner end among what is
// looked at, once its radius is set.
func (d *DrainPiece) thickest() float64 {
	k, most := d.Knife, 0.0
	nx := int(math.Ceil(-d.From / slitStep))
	for i := range nx + 1 {
		x := d.From * (1 - float64(i)/float64(nx))
		wide := d.RadiusAt(x)
		ny := int(math.Ceil(2 * wide / slitStep))
		for j := range ny + 1 {
			p := d.At(r2.Vec{X: x, Y: wide * (2*float64(j)/float64(ny) - 1)})
			if h := k.Half(p); h > 0 {
				most = max(most, h+k.TapeAt(p))
			}
		}
	}
	return most
}

// Short is how far the insert ends before the sheath's trimmed edge, in mm; 0 where it passes it.
func (d *DrainPiece) Short() float64 {
	return max(0, d.Knife.TrimReach()-(d.To-d.Local(d.Knife.Plan.Tip).X))
}

// At is a point given in the plug's axes: x along it, out of the tip, y across.
func (d *DrainPiece) At(q r2.Vec) r2.Vec {
	return r2.Add(d.Tip, r2.Rotate(q, measures.Radians(d.AxisDeg), r2.Vec{}))
}

// Local is p in the plug's axes.
func (d *DrainPiece) Local(p r2.Vec) r2.Vec {
	return r2.Rotate(r2.Sub(p, d.Tip), -measures.Radians(d.AxisDeg), r2.Vec{})
}

// RadiusAt is the plug's radius at x along its axis.
func (d *DrainPiece) RadiusAt(x float64) float64 { return d.Radius + d.Slope*(x-d.From) }

// Half is the half height of the round plug at p; 0 beside it.
func (d *DrainPiece) Half(p r2.Vec) float64 {
	q := d.Local(p)
	r := d.RadiusAt(q.X)
	return math.Sqrt(max(r*r-q.Y*q.Y, 0))
}

// drain is the drain insert, which other pieces leave room to; nil where it cannot be made: whoever makes it is told.
func (k *Buck) drain() *DrainPiece {
	d, err := NewDrain(k)
	if err != nil {
		return nil
	}
	return d
}

// Room is the room in the plan that other pieces leave to the plug: its widest outline and what pieces leave each other.
func (d *DrainPiece) Room() []r2.Vec {
	var corners []r2.Vec
	from, to := d.From-piecesApart, d.To+piecesApart
	for _, q := range [4]r2.Vec{{X: from, Y: -1}, {X: to, Y: -1}, {X: to, Y: 1}, {X: from, Y: 1}} {
		corners = append(corners, d.At(r2.Vec{X: q.X, Y: q.Y * d.roomAt(q.X)}))
	}
	return corners
}

// roomAt is half the width of the room at x along the axis.
func (d *DrainPiece) roomAt(x float64) float64 {
	return d.RadiusAt(x) + piecesApart*math.Hypot(1, d.Slope)
}

// RoomHolds tells whether p lies in the room; a nil piece takes none.
func (d *DrainPiece) RoomHolds(p r2.Vec) bool {
	if d == nil {
		return false
	}
	q := d.Local(p)
	return q.X > d.From-piecesApart && q.X < d.To+piecesApart && math.Abs(q.Y) < d.roomAt(q.X)
}

// InSlit tells whether p lies within the slit: the tip's outline, grown by the play.
func (d *DrainPiece) InSlit(p r2.Vec) bool {
	if d.Knife.Outline.Holds(p) {
		return true
	}
	_, far := d.Knife.Rim.Nearest(p)
	return far < d.Play
}
