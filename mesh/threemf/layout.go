package threemf

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// DefaultGap is the distance between objects in mm, and DefaultBed the width of a row: a bed of
// about 200 mm is the least that is common; common practice, no source.
const (
	DefaultGap = 5.0
	DefaultBed = 200.0
)

// layout says by how much each object is to be shifted. Objects lie in rows along x, in their order; a
// row ends where the next object would pass the bed's width. Every object gets into the octant of
// positive coordinates. A shift is written to the micrometre, so it is rounded up to that; for an object
// that begins at the origin it is whole mm.
func (p *Package) layout() []r3.Vec {
	gap, bed := p.measures()
	shifts := make([]r3.Vec, len(p.Objects))
	if p.Assembled {
		return shifts
	}
	x, y, deep := 0.0, 0.0, 0.0
	for i, o := range p.Objects {
		b := o.Mesh.Bounds()
		if p.corners != nil {
			shifts[i] = rounded(r3.Sub(p.corners[i], b.Min))
			continue
		}
		size := b.Size()
		if x > 0 && x+size.X > bed {
			x, y = 0, y+math.Ceil(deep+gap)
			deep = 0
		}
		shifts[i] = rounded(r3.Sub(r3.Vec{X: x, Y: y}, b.Min))
		x += math.Ceil(size.X + gap)
		deep = max(deep, size.Y)
	}
	return shifts
}

// measures are the gap between objects and the bed's width.
func (p *Package) measures() (gap, bed float64) {
	gap, bed = p.Gap, p.Bed
	if gap == 0 {
		gap = DefaultGap
	}
	if bed == 0 {
		bed = DefaultBed
	}
	return gap, bed
}

// rounded is a shift to the micrometre, rounded up.
func rounded(d r3.Vec) r3.Vec { return r3.Vec{X: micron(d.X), Y: micron(d.Y), Z: micron(d.Z)} }

// micron rounds up to a thousandth.
func micron(x float64) float64 { return math.Ceil(x*1000) / 1000 }
