package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// radPerDeg turns degrees into radians.
const radPerDeg = math.Pi / 180

// turn is v turned counter-clockwise by an angle in radians.
func turn(v r2.Vec, rad float64) r2.Vec {
	sin, cos := math.Sincos(rad)
	return r2.Vec{X: v.X*cos - v.Y*sin, Y: v.X*sin + v.Y*cos}
}

// sincosDeg is sine and cosine of an angle in degrees, exact at quarter turns.
func sincosDeg(deg float64) (sin, cos float64) {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	switch deg {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(deg * radPerDeg)
}

// normalDeg is the angle between -180 (not included) and 180.
func normalDeg(deg float64) float64 {
	deg = math.Mod(deg, 360)
	switch {
	case deg > 180:
		return deg - 360
	case deg <= -180:
		return deg + 360
	}
	return deg
}

// ToBlade is a point of the drawing in the blade frame.
func (f Frame) ToBlade(d r2.Vec) r2.Vec {
	sin, cos := sincosDeg(f.AngleDeg)
	d = r2.Sub(d, f.Origin)
	p := r2.Vec{X: d.X*cos + d.Y*sin, Y: d.Y*cos - d.X*sin}
	if f.TurnedOver {
		p.Y = -p.Y
	}
	return p
}

// ToDrawing is a point of the blade frame in the drawing's axes.
func (f Frame) ToDrawing(p r2.Vec) r2.Vec {
	if f.TurnedOver {
		p.Y = -p.Y
	}
	sin, cos := sincosDeg(f.AngleDeg)
	return r2.Add(f.Origin, r2.Vec{X: p.X*cos - p.Y*sin, Y: p.X*sin + p.Y*cos})
}

// path is a path of the drawing in the blade frame, in the same direction of travel.
func (f Frame) path(p Path) Path {
	if p == nil {
		return nil
	}
	out := make(Path, len(p))
	for i, s := range p {
		out[i] = Segment{A: f.ToBlade(s.A), B: f.ToBlade(s.B), Bulge: s.Bulge}
		if f.TurnedOver {
			out[i].Bulge = -s.Bulge
		}
		if i > 0 {
			out[i].A = out[i-1].B
		}
	}
	if p.Closed() {
		out[len(out)-1].B = out[0].A
	}
	return out
}

// loop is path for a loop, counter-clockwise again.
func (f Frame) loop(l Loop) Loop {
	if l == nil {
		return nil
	}
	return counterClockwise(f.path(Path(l)))
}
