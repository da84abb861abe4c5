package solid_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/profile"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestLacking meshes knives of which something is not drawn that a drawing may lack, or that have a second edge or a swedge: each
// has heights, ridges and lines, and every piece; the mesh of the knife follows its heights.
func TestLacking(t *testing.T) {
	size.Long(t)
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	lacks := map[string]func(*profile.Plan, *measures.Spec){
		"no-grind-line": func(p *profile.Plan, _ *measures.Spec) { p.Grind = nil },
		"grind-width":   func(p *profile.Plan, s *measures.Spec) { p.Grind, s.Blade.GrindWidth = nil, 11 },
		"no-handle":     func(p *profile.Plan, _ *measures.Spec) { p.Handle = nil },
		"bare":          func(p *profile.Plan, _ *measures.Spec) { p.Grind, p.Handle = nil, nil },
		"swedge": func(p *profile.Plan, s *measures.Spec) {
			p.Swedge = profile.Path{{A: v(50, 13), B: v(68, 9)}, {A: v(68, 9), B: v(104.6, 4.1)}}
			p.SwedgeEdge = p.Outline.Between(p.Tip, v(50, 13)).Reversed()
			s.Swedge.Thickness = 1.6
		},
		"guard": func(p *profile.Plan, s *measures.Spec) {
			p.Guard = bucktest.Polygon(v(-4, -13), v(2, -13), v(2, 13), v(-4, 12.88))
			s.Guard.Thickness = 14
		},
		"dagger": func(p *profile.Plan, _ *measures.Spec) {
			p.Back = p.Outline.Between(p.Tip, v(20, 13)).Reversed()
			p.Grind = profile.Path{{A: p.Heel, B: v(24, -1)}, {A: v(24, -1), B: p.Tip}}
			p.GrindBack = profile.Path{{A: v(20, 13), B: v(26, 3)}, {A: v(26, 3), B: p.Tip}}
		},
		"dagger-by-width": func(p *profile.Plan, _ *measures.Spec) {
			p.Back, p.Grind = p.Outline.Between(p.Tip, v(20, 13)).Reversed(), nil
		},
		"bare-and-turns": func(p *profile.Plan, s *measures.Spec) { p.Grind, p.Handle, s.Ramp.CantDeg = nil, nil, 3 },
	}
	for name, lack := range lacks {
		t.Run(name, func(t *testing.T) {
			plan, s := bucktest.Hunter(), bucktest.Spec()
			lack(plan, &s)
			k := bucktest.Knife(t, plan, s)
			st, err := pieces.NewStandoff(k)
			if err != nil {
				t.Fatal(err)
			}
			d, err := pieces.NewDrain(k)
			if err != nil {
				t.Fatal(err)
			}
			_, ramps, err := k.Ramps()
			if err != nil {
				t.Fatal(err)
			}
			clean := func(m *mesh.Mesh, err error) {
				t.Helper()
				if err != nil {
					t.Fatal(err)
				}
				meshtest.Clean(t, m)
			}
			whole, err := solid.Knife(k, 0.05)
			clean(whole, err)
			follows(t, k, whole)
			clean(solid.Standoff(st, 0))
			clean(solid.Drain(d, 0))
			for _, r := range ramps.Bossed {
				clean(solid.Ramp(r, 0.03))
			}
		})
	}
}

// follows compares the vertices of a knife's mesh with its heights, away from where these jump.
func follows(t *testing.T, k *pieces.Buck, m *mesh.Mesh) {
	t.Helper()
	const aside, within = 0.2, 0.06 // mm
	seen := map[knives.Zone]int{}
	for _, f := range m.Triangles {
		a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
		p, z := r2.Vec{X: (a.X + b.X + c.X) / 3, Y: (a.Y + b.Y + c.Y) / 3}, (a.Z+b.Z+c.Z)/3
		on := k.ZoneAt(p)
		for _, d := range []r2.Vec{{X: aside}, {X: -aside}, {Y: aside}, {Y: -aside}} {
			if k.ZoneAt(r2.Add(p, d)) != on {
				on = knives.Beside
			}
		}
		if on == knives.Beside || z < 0 {
			continue
		}
		seen[on]++
		if d := math.Abs(k.Half(p) - z); d > within {
			t.Fatalf("%.3f mm off the height in zone %d at (%.2f, %.2f)", d, on, p.X, p.Y)
		}
	}
	if len(seen) == 0 {
		t.Error("nothing compared")
	}
}
