package solid_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/knives"
	"formbuck/buck/pieces"
	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r2"
)

// low is the lowest height at p, over another height, of the faces of a mesh that look down.
func low(m *mesh.Mesh, p r2.Vec, above float64) (z float64, found bool) {
	z = math.Inf(1)
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		area := (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
		if area >= 0 {
			continue // looks up, or stands upright
		}
		u := ((p.X-a.X)*(c.Y-a.Y) - (p.Y-a.Y)*(c.X-a.X)) / area
		v := ((b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X)) / area
		if u < 0 || v < 0 || u+v > 1 {
			continue
		}
		if at := a.Z + u*(b.Z-a.Z) + v*(c.Z-a.Z); at > above && at < z {
			z, found = at, true
		}
	}
	return z, found
}

// TestUndersideFollowsTheBlade: under a boss that is turned and stands on flat and bevel of a blade with distal taper the
// piece's underside is the blade's face and the gap for the glue, everywhere. The face is reckoned anew: stock T(x), which
// falls in a straight line from the heel to the tip, over the flat, and te/2 + (T/2 - te/2) u on the bevel, u the share of
// the way from the edge to the grind line.
func TestUndersideFollowsTheBlade(t *testing.T) {
	for _, cant := range []float64{0, 9, -14} {
		s := bucktest.Spec()
		s.Blade.TipThickness, s.Blade.EdgeThickness = 1.6, 0.4
		s.Standoff.CantDeg, s.Standoff.X, s.Standoff.Y, s.Standoff.Fit = cant, 8, 2, 0.05
		p := standoff(t, s)
		m, err := solid.Standoff(p, 0)
		if err != nil {
			t.Fatal(err)
		}
		flat, bevel := 0, 0
		for x := -18.0; x <= 18; x += 1.3 {
			for y := -5.0; y <= 5; y += 0.9 {
				at := p.Top.At(r2.Vec{X: x, Y: y})
				if p.Top.Distance(at) > -0.2 {
					continue
				}
				half := (3.2 - (3.2-1.6)*at.X/100) / 2
				if at.Y < 16 {
					half = 0.2 + (half-0.2)*at.Y/16
					bevel++
				} else {
					flat++
				}
				if z, found := low(m, at, math.Inf(-1)); !found || math.Abs(z-half-0.15) > solid.Tolerance {
					t.Fatalf("cant %g: the underside is at %.4f over (%.2f, %.2f), want %.4f", cant, z, at.X, at.Y, half+0.15)
				}
			}
		}
		if flat < 40 || bevel < 40 {
			t.Errorf("cant %g: %d places on the flat, %d on the bevel", cant, flat, bevel)
		}
		if got := math.Atan2(p.Nubs[1].Centre.Y-p.Nubs[0].Centre.Y, p.Nubs[1].Centre.X-p.Nubs[0].Centre.X) * 180 / math.Pi; math.Abs(got-cant) > 1e-9 {
			t.Errorf("its nubs lie along %g deg, want %g", got, cant)
		}
	}
}

// TestCheeksFollowTheBlade: where a ramp laps over the blade its cheeks lie on the face with the gap for the glue, on flat
// and bevel of a blade with distal taper.
func TestCheeksFollowTheBlade(t *testing.T) {
	s := bucktest.Spec()
	s.Blade.TipThickness = 1.8
	k := bucktest.Knife(t, bucktest.Hunter(), s)
	_, ramps, err := k.Ramps()
	if err != nil || len(ramps.On(true)) == 0 {
		t.Fatalf("%d ramps, %v", len(ramps.On(true)), err)
	}
	places := map[knives.Zone]int{}
	for _, r := range ramps.Bossed {
		m, err := solid.Ramp(r, 0)
		if err != nil {
			t.Fatal(err)
		}
		for x := r.Head.Min.X + 0.3; x < r.Head.Max.X; x += 0.7 {
			for y := r.Head.Min.Y + 0.3; y < r.Head.Max.Y; y += 0.7 {
				at := r.Blade(r2.Vec{X: x, Y: y})
				if r.BaseAt(at) != pieces.Steel || !k.Holds(at) {
					continue
				}
				want := k.Half(at) + s.Ramp.Glue
				if z, found := low(m, at, 0.01); !found || math.Abs(z-want) > solid.Tolerance {
					t.Fatalf("%s ramp: the cheek is at %.4f over (%.2f, %.2f), want %.4f", r.Side, z, at.X, at.Y, want)
				}
				places[k.Blade(at)]++
			}
		}
	}
	if places[knives.OnBevel] < 50 || places[knives.OnFlat] < 20 {
		t.Errorf("places: %v", places)
	}
}
