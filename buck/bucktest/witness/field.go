package witness

import "math"

// Field is heights on square cells over the plan.
type Field struct {
	Step   float64
	X, Y   float64 // corner of the first cell
	NX, NY int
	Z      []float64
}

// Over is a field of nothing that covers the triangles and some room round them.
func Over(all []Triangle, room, step float64) *Field {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, t := range all {
		for _, v := range t {
			for c := range 2 {
				low[c], high[c] = min(low[c], v[c]), max(high[c], v[c])
			}
		}
	}
	f := &Field{Step: step, X: math.Floor((low[0]-room)/step) * step, Y: math.Floor((low[1]-room)/step) * step}
	f.NX, f.NY = int((high[0]+room-f.X)/step)+1, int((high[1]+room-f.Y)/step)+1
	f.Z = make([]float64, f.NX*f.NY)
	return f
}

// Like is a field of one height on the same cells.
func (f *Field) Like(z float64) *Field {
	out := *f
	out.Z = make([]float64, len(f.Z))
	for i := range out.Z {
		out.Z[i] = z
	}
	return &out
}

// Middle is the middle of a cell.
func (f *Field) Middle(n int) (x, y float64) {
	return f.X + (float64(n%f.NX)+0.5)*f.Step, f.Y + (float64(n/f.NX)+0.5)*f.Step
}

// Cell is the number of the cell at a place; -1 beyond the field.
func (f *Field) Cell(x, y float64) int {
	i, j := int(math.Floor((x-f.X)/f.Step)), int(math.Floor((y-f.Y)/f.Step))
	if i < 0 || j < 0 || i >= f.NX || j >= f.NY {
		return -1
	}
	return j*f.NX + i
}

// Heights reads triangles on a face (1: the right one, -1: the left one): how high they reach over the middle of each cell,
// and where they begin; 0 and 0 where there are none.
func (f *Field) Heights(all []Triangle, face float64) (top, bottom *Field) {
	top, bottom = f.Like(0), f.Like(math.Inf(1))
	for _, t := range all {
		f.each(t, func(n int, z float64) {
			if z *= face; z > 0 {
				top.Z[n] = max(top.Z[n], z)
				bottom.Z[n] = min(bottom.Z[n], z)
			}
		})
	}
	for n, z := range bottom.Z {
		if z > top.Z[n]-1e-6 { // one side alone is on this face: the other lies on the other one
			bottom.Z[n] = 0
		}
	}
	return top, bottom
}

// each calls with every cell whose middle lies in a triangle's plan, and the height there.
func (f *Field) each(t Triangle, call func(n int, z float64)) {
	a, b, c := t[0], t[1], t[2]
	area := (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
	if area == 0 {
		return
	}
	i0 := max(0, int((min(a[0], b[0], c[0])-f.X)/f.Step-0.5))
	i1 := min(f.NX-1, int((max(a[0], b[0], c[0])-f.X)/f.Step+0.5))
	j0 := max(0, int((min(a[1], b[1], c[1])-f.Y)/f.Step-0.5))
	j1 := min(f.NY-1, int((max(a[1], b[1], c[1])-f.Y)/f.Step+0.5))
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			n := j*f.NX + i
			x, y := f.Middle(n)
			u := ((x-a[0])*(c[1]-a[1]) - (y-a[1])*(c[0]-a[0])) / area
			v := ((b[0]-a[0])*(y-a[1]) - (b[1]-a[1])*(x-a[0])) / area
			if u >= -1e-9 && v >= -1e-9 && u+v <= 1+1e-9 {
				call(n, a[2]+u*(b[2]-a[2])+v*(c[2]-a[2]))
			}
		}
	}
}

// Lifted is the field with a ball of the radius on every cell: the upper side of all of them together. A sheet that lies on
// the field has its outer side there.
func (f *Field) Lifted(radius float64) *Field {
	out := f.Like(0)
	f.roll(radius, func(n, m int, up float64) { out.Z[m] = max(out.Z[m], f.Z[n]+up) })
	return out
}

// Closed is the field as the sheet covers it: a ball that rolls over it reaches no deeper. It is brute force: the ball's
// middle over every cell, as low as all cells under it let it, and its underside from all of these.
func (f *Field) Closed(radius float64) *Field {
	middles, out := f.Lifted(radius), f.Like(math.Inf(1))
	f.roll(radius, func(n, m int, up float64) { out.Z[m] = min(out.Z[m], middles.Z[n]-up) })
	for n, z := range out.Z {
		out.Z[n] = max(z, 0)
	}
	return out
}

// roll calls with every cell and every other that a ball over it covers, and how high the ball's side is over its middle.
func (f *Field) roll(radius float64, call func(n, m int, up float64)) {
	far := int(radius / f.Step)
	type cover struct {
		i, j int
		up   float64
	}
	var covers []cover
	for j := -far; j <= far; j++ {
		for i := -far; i <= far; i++ {
			if d := float64(i*i+j*j) * f.Step * f.Step; d <= radius*radius {
				covers = append(covers, cover{i, j, math.Sqrt(radius*radius - d)})
			}
		}
	}
	for n := range f.Z {
		i, j := n%f.NX, n/f.NX
		for _, c := range covers {
			if x, y := i+c.i, j+c.j; x >= 0 && y >= 0 && x < f.NX && y < f.NY {
				call(n, y*f.NX+x, c.up)
			}
		}
	}
}

// Passing is what passes over every cell when what lies on the field is drawn out towards -x: the most of all that lies
// further along.
func (f *Field) Passing() *Field {
	out := f.Like(0)
	for n := range f.Z {
		for m := n; m < (n/f.NX+1)*f.NX; m++ {
			out.Z[n] = max(out.Z[n], f.Z[m])
		}
	}
	return out
}

// Most is the greatest height in a turned rectangle, and where; its middle, half its size, and its turn.
func (f *Field) Most(x, y, long, wide, deg float64) (z, atX, atY float64) {
	sin, cos := math.Sincos(deg * math.Pi / 180)
	z = math.Inf(-1)
	for n, h := range f.Z {
		px, py := f.Middle(n)
		u, v := (px-x)*cos+(py-y)*sin, (py-y)*cos-(px-x)*sin
		if math.Abs(u) <= long && math.Abs(v) <= wide && h > z {
			z, atX, atY = h, px, py
		}
	}
	return z, atX, atY
}

// Nearest is how far from a place the nearest cell lies that is higher than least; infinitely far where none is.
func (f *Field) Nearest(x, y, least float64) float64 {
	best := math.Inf(1)
	for n, z := range f.Z {
		if z > least {
			px, py := f.Middle(n)
			best = min(best, math.Hypot(px-x, py-y))
		}
	}
	return best
}
