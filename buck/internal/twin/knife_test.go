package twin_test

import (
	"fmt"
	"math"
	"testing"

	"formbuck/buck/internal/solid"
	"formbuck/buck/knives"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// The mesh of the knife must follow its half thickness: bevel and flat are two regions.
func TestKnifeMeshFollowsTheKnife(t *testing.T) {
	for name, k := range everyKnife(t) {
		m, err := solid.Knife(k, 0.1)
		if err != nil {
			t.Fatal(err)
		}
		top := newLid(m)
		worst, at := 0.0, r2.Vec{}
		for x := 5.0; x < k.Plan.Tip.X-1; x += 0.5 {
			for y := -20.0; y < 20; y += 0.25 {
				p := r2.Vec{X: x, Y: y}
				if z := top.over(p); k.Half(p) > 0 && !math.IsInf(z, -1) && math.Abs(z-k.Half(p)) > worst {
					worst, at = math.Abs(z-k.Half(p)), p
				}
			}
		}
		if !(worst <= 0.15) {
			t.Errorf("%s: %.4f mm from the half thickness at %.2f", name, worst, at)
		}
	}
}

// No mesh of a piece that is glued on reaches into the knife by more than the tolerance.
func TestPiecesStayOutOfTheKnife(t *testing.T) {
	for name, k := range everyKnife(t) {
		all := bodies(t, k)[:2]
		for i, r := range ramps(t, k) {
			all = append(all, rampMesh(fmt.Sprintf("ramp %d", i), r, nil))
		}
		for _, p := range all {
			m, err := p.mesh(0)
			if err != nil {
				t.Fatal(err)
			}
			deepest, at := 0.0, r3.Vec{}
			for _, n := range m.Triangles {
				a, b, c := m.Vertices[n[0]], m.Vertices[n[1]], m.Vertices[n[2]]
				for i := range 9 {
					for j := range 9 - i {
						v := r3.Add(a, r3.Add(r3.Scale(float64(i)/8, r3.Sub(b, a)), r3.Scale(float64(j)/8, r3.Sub(c, a))))
						if d := inKnife(k, v); d > deepest {
							deepest, at = d, v
						}
					}
				}
			}
			if deepest > solid.Tolerance {
				t.Errorf("%s %s: %.4f mm in the knife at %.3f", name, p.name, deepest, at)
			}
		}
	}
}

// inKnife is how deep p lies in the knife: the lesser of the ways straight up and to the rim.
func inKnife(k *pieces.Buck, p r3.Vec) float64 {
	q := r2.Vec{X: p.X, Y: p.Y}
	d := k.Half(q) - math.Abs(p.Z)
	if d <= 0 {
		return 0
	}
	if k.ZoneAt(q) == knives.OnHandle {
		return min(d, k.Plan.Handle.Distance(q))
	}
	return min(d, k.Plan.Outline.Distance(q))
}
