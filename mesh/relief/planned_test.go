package relief_test

import (
	"math"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// sides is how many sides the polygons of a facetted cone have.
const sides = 40

// facetted is a cone of plane facets on a level floor, over rings at every millimetre to radius 8, and a bump on it.
func facetted(bump relief.Height) relief.Body {
	var normals []r2.Vec
	for k := range sides {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / sides)
		normals = append(normals, r2.Vec{X: cos, Y: sin})
	}
	far := func(p r2.Vec) float64 {
		d := 0.0
		for _, n := range normals {
			d = max(d, r2.Dot(n, p))
		}
		return d
	}
	var lines []relief.Line
	for r := 1.; r <= 8; r++ {
		l := relief.Line{Closed: true}
		for k := range sides {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / sides)
			l.Points = append(l.Points, r2.Scale(r/math.Cos(math.Pi/sides), r2.Vec{X: cos, Y: sin}))
		}
		lines = append(lines, l)
	}
	profile := func(d float64) float64 { return 3 - 0.02*max(d-1, 0)*(max(d-1, 0)+1) } // at the rings
	height := func(p r2.Vec) float64 {
		d := far(p)
		low := math.Floor(d)
		return profile(low) + (d-low)*(profile(low+1)-profile(low)) + bump(p)
	}
	return relief.Body{Lines: lines, Spans: func(p r2.Vec) []relief.Span {
		if far(p) > 8 {
			return nil
		}
		return block(flat(-5), height)
	}}
}

// TestAsPlanned has a lid of plane facets that takes the plan's triangles and no more.
func TestAsPlanned(t *testing.T) {
	up, _ := facing(build(t, facetted(flat(0)), 0.01))
	if want := 7*2*sides + sides - 2; up != want {
		t.Errorf("%d triangles in the lid, want %d", up, want)
	}
}

// TestBumps puts a bump on the lid, here and there: wherever it is it is met.
func TestBumps(t *testing.T) {
	for k := range 24 {
		sin, cos := math.Sincos(float64(k))
		c := r2.Scale(1.4+0.25*float64(k), r2.Vec{X: cos, Y: sin})
		bump := func(p r2.Vec) float64 { return 0.1 * math.Pow(max(0, 1-r2.Norm2(r2.Sub(p, c))/0.81), 2) }
		b := facetted(bump)
		m, h := build(t, b, 0.01), b.Spans(r2.Vec{})[0].High
		for _, off := range []r2.Vec{{}, {X: 0.2}, {Y: 0.3}, {X: -0.4, Y: 0.1}} {
			p := r2.Add(c, off)
			if z := lidAt(t, m, p); math.Abs(z-h(p)) > 0.0115 { // upright, where it is steep
				t.Errorf("bump at (%.2f, %.2f): the lid is at %.4f, not %.4f", c.X, c.Y, z, h(p))
			}
		}
	}
}

// lidAt is the height of the triangle over p that faces up.
func lidAt(t *testing.T, m *mesh.Mesh, p r2.Vec) float64 {
	t.Helper()
	flat := func(v r3.Vec) r2.Vec { return r2.Sub(r2.Vec{X: v.X, Y: v.Y}, p) }
	for _, tri := range m.Triangles {
		a, b, c := m.Vertices[tri[0]], m.Vertices[tri[1]], m.Vertices[tri[2]]
		wa, wb, wc := r2.Cross(flat(b), flat(c)), r2.Cross(flat(c), flat(a)), r2.Cross(flat(a), flat(b))
		if sum := wa + wb + wc; min(wa, wb, wc) >= 0 && sum > 1e-9 {
			return (wa*a.Z + wb*b.Z + wc*c.Z) / sum
		}
	}
	t.Fatalf("no lid over (%.3f, %.3f)", p.X, p.Y)
	return 0
}

// TestSharpFoot has drafted sides run out on a level floor: they meet it in one edge, without a wall.
func TestSharpFoot(t *testing.T) {
	const top, fall, tall = 3., 2., 4. // half the upper square, mm down for each mm out, mm
	lines := []relief.Line{box(-top, -top, top, top), box(-6, -6, 6, 6), line(-6, -6, -top, -top), line(6, 6, top, top), line(-6, 6, -top, top), line(6, -6, top, -top)}
	m := build(t, relief.Body{Lines: lines, SharpFeet: true, Spans: func(p r2.Vec) []relief.Span {
		if !inBox(p, -6, -6, 6, 6) {
			return nil
		}
		return block(flat(0), func(p r2.Vec) float64 {
			return tall - fall*max(0, math.Abs(p.X)-top, math.Abs(p.Y)-top)
		})
	}}, 0.01)
	const foot = top + tall/fall
	for _, v := range m.Vertices {
		if off := math.Abs(max(math.Abs(v.X), math.Abs(v.Y)) - foot); v.Z < tall/2 && (v.Z != 0 || off > 2e-4) {
			t.Errorf("a corner of the foot at (%.4f, %.4f, %.4f)", v.X, v.Y, v.Z)
		}
	}
	if n := len(m.Triangles); n != 2+2+8 {
		t.Errorf("%d triangles, want those of a frustum with four sides, 12", n)
	}
	big, small := 4*foot*foot, 4*top*top
	if want := tall / 3 * (big + small + math.Sqrt(big*small)); math.Abs(m.Volume()-want) > 0.02 {
		t.Errorf("%.4f mm3, want %.4f", m.Volume(), want)
	}
}

// TestSharpFeetTogether has two cones run into each other, so that their foot is hollow where they meet: it comes out whole, and along
// a line through a tip, which nothing else bends, the lid is as high as it should be.
func TestSharpFeetTogether(t *testing.T) {
	const tol = 0.01
	for _, power := range []float64{1, 2} {
		for _, fall := range []float64{0.6, 1, 2, 4} {
			for _, apart := range []float64{0.7, 2.2, 2.9} {
				for _, y := range []float64{0, 0.71} {
					one, two := r2.Vec{X: -apart, Y: -y}, r2.Vec{X: apart, Y: y}
					lid := func(p r2.Vec) float64 {
						return max(3-fall*math.Pow(r2.Norm(r2.Sub(p, one)), power), 2-0.8*fall*math.Pow(r2.Norm(r2.Sub(p, two)), power))
					}
					lines := []relief.Line{box(-8, -8, 8, 8), line(-8, one.Y, 8, one.Y), line(two.X, -8, two.X, 8), line(one.X, -8, one.X, 8)}
					m := build(t, relief.Body{Lines: lines, SharpFeet: true, Spans: func(p r2.Vec) []relief.Span {
						if !inBox(p, -8, -8, 8, 8) {
							return nil
						}
						return block(flat(0), lid)
					}}, tol)
					for off := -1.9; off < 2; off += 0.1 {
						p := r2.Vec{X: two.X, Y: two.Y + off}
						steep := math.Hypot(1, 2*fall*power)
						if h := lid(p); h > 0.2 && math.Abs(lidAt(t, m, p)-h) > 2*tol*steep {
							t.Errorf("power %g, fall %g, %g apart: at (%.2f, %.2f) the lid is at %.3f, not %.3f", power, fall, apart, p.X, p.Y, lidAt(t, m, p), h)
						}
					}
				}
			}
		}
	}
}
