package program

import (
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Frame places a plan in a program's axes: the program's zero lies at Zero of the plan; where Turned, the
// work lies face down, turned over about the x axis.
type Frame struct {
	Zero   r2.Vec
	Turned bool
}

// Loop is a counter-clockwise loop of the plan in the program's axes, counter-clockwise too.
func (f Frame) Loop(l profile.Loop) profile.Loop {
	var out profile.Loop
	for _, s := range l {
		out = append(out, profile.Segment{A: f.To(s.A), B: f.To(s.B), Bulge: s.Bulge})
	}
	if !f.Turned {
		return out
	}
	for i := range out {
		out[i].Bulge = -out[i].Bulge
	}
	return out.Reversed()
}

// Box is a box of the plan in the program's axes.
func (f Frame) Box(b r2.Box) r2.Box {
	p, q := f.To(b.Min), f.To(b.Max)
	return r2.Box{
		Min: r2.Vec{X: min(p.X, q.X), Y: min(p.Y, q.Y)},
		Max: r2.Vec{X: max(p.X, q.X), Y: max(p.Y, q.Y)},
	}
}

// To is a point of the plan in the program's axes.
func (f Frame) To(p r2.Vec) r2.Vec {
	q := r2.Sub(p, f.Zero)
	if f.Turned {
		q.Y = -q.Y
	}
	return q
}
