package picture

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// View is from where the parts are seen. Lengths do not matter, only directions.
type View struct {
	From r3.Vec // from the parts to the eye
	Up   r3.Vec // what is up in the picture, as far as From allows
}

// ThreeQuarter looks on the right face from above, past the edge, tip to the right.
func ThreeQuarter() View { return View{From: r3.Vec{X: 0.33, Y: -0.76, Z: 0.56}, Up: r3.Vec{Z: 1}} }

// ThreeQuarterLeft is ThreeQuarter for the left face: z points down, the tip is to the right.
func ThreeQuarterLeft() View {
	return View{From: r3.Vec{X: 0.33, Y: 0.76, Z: -0.56}, Up: r3.Vec{Z: -1}}
}

// Plan looks straight on the right face, spine up, tip to the right.
func Plan() View { return View{From: r3.Vec{Z: 1}, Up: r3.Vec{Y: 1}} }

// PlanLeft looks straight on the left face, spine down, tip to the right.
func PlanLeft() View { return View{From: r3.Vec{Z: -1}, Up: r3.Vec{Y: -1}} }

// Side looks on the edge, right face up, tip to the right.
func Side() View { return View{From: r3.Vec{Y: -1}, Up: r3.Vec{Z: 1}} }

// SideLeft looks on the spine, left face up, tip to the right.
func SideLeft() View { return View{From: r3.Vec{Y: 1}, Up: r3.Vec{Z: -1}} }

// check refuses a view without a direction.
func (v View) check() error {
	bad := &Error{Fault: BadView, Detail: "From " + fmtVec(v.From) + ", Up " + fmtVec(v.Up)}
	if !finite(v.From) || !finite(v.Up) {
		return bad
	}
	f, u := r3.Norm(v.From), r3.Norm(v.Up)
	if !(f > 1e-9 && u > 1e-9 && f < 1e9 && u < 1e9) || r3.Norm(r3.Cross(v.From, v.Up)) < 1e-6*f*u {
		return bad
	}
	return nil
}

// camera turns model points into view points: x to the right, y up, z towards the eye, all in mm.
type camera struct {
	right, up, toward r3.Vec
	ground            r3.Vec // unit Up of the view: the normal of the ground
}

func (v View) camera() camera {
	t := r3.Unit(v.From)
	r := r3.Unit(r3.Cross(v.Up, t))
	return camera{right: r, up: r3.Cross(t, r), toward: t, ground: r3.Unit(v.Up)}
}

func (c camera) see(p r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(p, c.right), Y: r3.Dot(p, c.up), Z: r3.Dot(p, c.toward)}
}

// box is a box along the axes, in mm, or a rectangle in pixels where only x and y are used.
type box struct{ lo, hi r3.Vec }

// nothing is the empty box: it grows to what it is given.
func nothing() box {
	inf := math.Inf(1)
	return box{lo: r3.Vec{X: inf, Y: inf, Z: inf}, hi: r3.Vec{X: -inf, Y: -inf, Z: -inf}}
}

func (b box) with(p r3.Vec) box {
	b.lo = r3.Vec{X: min(b.lo.X, p.X), Y: min(b.lo.Y, p.Y), Z: min(b.lo.Z, p.Z)}
	b.hi = r3.Vec{X: max(b.hi.X, p.X), Y: max(b.hi.Y, p.Y), Z: max(b.hi.Z, p.Z)}
	return b
}

func (b box) size() r3.Vec { return r3.Sub(b.hi, b.lo) }

// corner is one of eight; bit 0 of i chooses high x, bit 1 high y, bit 2 high z.
func (b box) corner(i int) r3.Vec {
	p := b.lo
	if i&1 != 0 {
		p.X = b.hi.X
	}
	if i&2 != 0 {
		p.Y = b.hi.Y
	}
	if i&4 != 0 {
		p.Z = b.hi.Z
	}
	return p
}
