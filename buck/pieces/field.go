package pieces

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Field is a height at the nodes of a rectangular grid on the draw's axes, bilinear between them.
type Field struct {
	box    r2.Box
	nx, ny int // cells
	dx, dy float64
	z      []float64 // rows of nx+1 nodes, from the lowest y
}

// newField lays a grid with cells of about step over the box.
func newField(box r2.Box, step float64) *Field {
	size := r2.Sub(box.Max, box.Min)
	f := &Field{
		box: box,
		nx:  max(1, int(math.Ceil(size.X/step))),
		ny:  max(1, int(math.Ceil(size.Y/step))),
	}
	f.dx, f.dy = size.X/float64(f.nx), size.Y/float64(f.ny)
	f.z = make([]float64, (f.nx+1)*(f.ny+1))
	return f
}

// clone returns a field of the same heights that can be changed by itself.
func (f *Field) clone() *Field {
	e := *f
	e.z = slices.Clone(f.z)
	return &e
}

// node is the place of node n on the draw's axes.
func (f *Field) node(n int) r2.Vec {
	i, j := n%(f.nx+1), n/(f.nx+1)
	return r2.Vec{X: f.box.Min.X + float64(i)*f.dx, Y: f.box.Min.Y + float64(j)*f.dy}
}

// at is the height at q; outside the box that of the nearest point of it.
func (f *Field) at(q r2.Vec) float64 {
	i, u := cellOf((q.X-f.box.Min.X)/f.dx, f.nx)
	j, v := cellOf((q.Y-f.box.Min.Y)/f.dy, f.ny)
	n := j*(f.nx+1) + i
	low := f.z[n] + (f.z[n+1]-f.z[n])*u
	n += f.nx + 1
	high := f.z[n] + (f.z[n+1]-f.z[n])*u
	return low + (high-low)*v
}

// cellOf is in which of n cells a coordinate, in cells, lies, and which share of it is below; at the near end of
// the first or the far end of the last where it lies beyond.
func cellOf(x float64, n int) (cell int, share float64) {
	switch {
	case !(x > 0):
		return 0, 0
	case x >= float64(n):
		return n - 1, 1
	default:
		i := int(x)
		return i, x - float64(i)
	}
}

// sweep makes every node the greatest of its row from it on, against the draw.
func (f *Field) sweep() {
	for n := len(f.z) - 2; n >= 0; n-- {
		if n%(f.nx+1) < f.nx {
			f.z[n] = max(f.z[n], f.z[n+1])
		}
	}
}

// raise lifts the node nearest to q of those next to it on its way out, if it is lower.
func (f *Field) raise(q r2.Vec, z float64) {
	i, j := int((q.X-f.box.Min.X)/f.dx), int(math.Round((q.Y-f.box.Min.Y)/f.dy))
	if i >= 0 && i <= f.nx && j >= 0 && j <= f.ny {
		n := j*(f.nx+1) + i
		f.z[n] = max(f.z[n], z)
	}
}

// neighbours calls yield with every node beside n, corner to corner included, and how far it is.
func (f *Field) neighbours(n int, yield func(m int, far float64)) {
	i, j := n%(f.nx+1), n/(f.nx+1)
	away := [4]float64{1: f.dx, 2: f.dy, 3: math.Hypot(f.dx, f.dy)}
	for dj := -1; dj <= 1; dj++ {
		for di := -1; di <= 1; di++ {
			if di == 0 && dj == 0 || i+di < 0 || i+di > f.nx || j+dj < 0 || j+dj > f.ny {
				continue
			}
			yield(n+dj*(f.nx+1)+di, away[di*di+2*dj*dj])
		}
	}
}

// covered is the field let down from every height at the slope, so that it is nowhere steeper, and
// carried on by a node where it falls more steeply than that: between the nodes there it may stay
// high up to the lower one, and what is read from this field is nowhere less. Against the draw it
// never falls.
func (f *Field) covered(slope float64) *Field {
	out := *f
	out.z = make([]float64, len(f.z))
	for n, z := range f.z {
		out.z[n] = z
		f.neighbours(n, func(m int, far float64) {
			if f.z[m]-z > slope*far {
				out.z[n] = max(out.z[n], f.z[m])
			}
		})
	}
	// Two passes, there and back, carry a height as far as it reaches along the eight directions of
	// the grid (Borgefors, "Distance transformations in digital images", Computer Vision, Graphics
	// and Image Processing 34, 1986, from memory).
	for n := range out.z {
		out.letDown(n, slope)
	}
	for n := len(out.z) - 1; n >= 0; n-- {
		out.letDown(n, slope)
	}
	soft := out.rounded()
	soft.sweep()
	return soft
}

const (
	roundReach = 1   // nodes, to either side, over which edges are rounded
	roundSlope = 0.2 // the steepest, as a tangent, that rounding leaves as it is; our own, no source
)

// rounded is the field with the steps that nodes leave along a slanting cliff made smooth: widened
// by the reach where it is steep, then the mean over the reach, and nowhere less than it was.
func (f *Field) rounded() *Field {
	wide := f.along(1, f.dx, widest).along(f.nx+1, f.dy, widest)
	soft := wide.along(1, f.dx, mean).along(f.nx+1, f.dy, mean)
	for n, z := range f.z {
		soft.z[n] = max(soft.z[n], z)
	}
	return soft
}

// widest is the middle of the values or what is let down to it from the others, a step apart.
func widest(values []float64, step float64) float64 {
	most := values[roundReach]
	for i, z := range values {
		most = max(most, z-roundSlope*step*math.Abs(float64(i-roundReach)))
	}
	return most
}

// mean weighs the values as a tent.
func mean(values []float64, _ float64) float64 {
	sum, weight := 0.0, 0.0
	for i, z := range values {
		w := roundReach + 1 - math.Abs(float64(i-roundReach))
		sum, weight = sum+w*z, weight+w
	}
	return sum / weight
}

// along is the field of what a rule makes of each node and its neighbours within the reach, one way: stride is
// from node to node, 1 along x and nx+1 along y. Beyond the grid the last node stands.
func (f *Field) along(stride int, step float64, rule func([]float64, float64) float64) *Field {
	out := *f
	out.z = make([]float64, len(f.z))
	var near [2*roundReach + 1]float64
	for n := range f.z {
		at, last := n%(f.nx+1), f.nx
		if stride > 1 {
			at, last = n/(f.nx+1), f.ny
		}
		for d := range near {
			near[d] = f.z[n+stride*(min(max(at+d-roundReach, 0), last)-at)]
		}
		out.z[n] = rule(near[:], step)
	}
	return &out
}

// letDown raises node n to what its neighbours let down to it.
func (f *Field) letDown(n int, slope float64) {
	f.neighbours(n, func(m int, far float64) {
		f.z[n] = max(f.z[n], f.z[m]-slope*far)
	})
}
