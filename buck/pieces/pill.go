package pieces

import (
	"math"

	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// Pill is a stadium in the plan: a rectangle with a half circle on either end.
type Pill struct {
	Centre   r2.Vec
	AngleDeg float64 // of its long axis, from x
	Length   float64 // overall
	Width    float64 // overall
}

// Distance is the signed distance of p from the pill's outline, in mm, negative inside.
func (s Pill) Distance(p r2.Vec) float64 {
	q := s.Local(p)
	along := max(math.Abs(q.X)-(s.Length-s.Width)/2, 0)
	return math.Hypot(along, q.Y) - s.Width/2
}

// Local is p in the pill's own axes: x along, y across, origin at its centre.
func (s Pill) Local(p r2.Vec) r2.Vec {
	return r2.Rotate(r2.Sub(p, s.Centre), -measures.Radians(s.AngleDeg), r2.Vec{})
}

// At is a point given in the pill's own axes.
func (s Pill) At(q r2.Vec) r2.Vec {
	return r2.Add(s.Centre, r2.Rotate(q, measures.Radians(s.AngleDeg), r2.Vec{}))
}

// Grown is the pill with its outline moved outwards by d.
func (s Pill) Grown(d float64) Pill {
	s.Length += 2 * d
	s.Width += 2 * d
	return s
}

// rimAt is a point of the outline, t from 0 to 1 round it by length, counter-clockwise from the
// beginning of its upper side.
func (s Pill) rimAt(t float64) r2.Vec {
	straight, r := s.Length-s.Width, s.Width/2
	along := t * (2*straight + 2*math.Pi*r)
	end := 1.0 // of the upper side and the half circle after it; -1 of the others
	if half := straight + math.Pi*r; along >= half {
		end, along = -1, along-half
	}
	q := r2.Vec{X: straight/2 - along, Y: r}
	if along > straight {
		sin, cos := math.Sincos((along - straight) / max(r, math.SmallestNonzeroFloat64))
		q = r2.Vec{X: -straight/2 - r*sin, Y: r * cos}
	}
	return s.At(r2.Scale(end, q))
}

// footprintStep is how finely the footprint of plate and clip is searched, in mm. Our own, no source.
const footprintStep = 0.5

// highest is the greatest height over a rectangle laid on the pill's axes, and where it is.
func highest(length, width float64, on Pill, h func(r2.Vec) float64) (float64, r2.Vec) {
	best, at := math.Inf(-1), r2.Vec{}
	nx, ny := int(math.Ceil(length/footprintStep)), int(math.Ceil(width/footprintStep))
	for i := range nx + 1 {
		for j := range ny + 1 {
			p := on.At(r2.Vec{
				X: length * (float64(i)/float64(nx) - 0.5),
				Y: width * (float64(j)/float64(ny) - 0.5),
			})
			if z := h(p); z > best {
				best, at = z, p
			}
		}
	}
	return best, at
}
