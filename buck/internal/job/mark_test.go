package job_test

import (
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/internal/lettering"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestMarks checks that on either hand's standoff the mark, seen on the glue face, is the font's and not its
// mirror, that it takes its area times its depth, and that a piece without it is the mirror of the other
// hand's.
func TestMarks(t *testing.T) {
	size.Long(t)
	v, plan := bucktest.Demo(t, "thistle")
	spec := v.Spec
	spec.Standoff.Mark = "no"
	plain := makeSet(t, bucktest.Knife(t, plan, spec), job.Request{Kinds: []job.Kind{job.Standoff}})
	k := demo(t, "thistle")
	boss, err := pieces.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	set := makeSet(t, k, job.Request{Kinds: []job.Kind{job.Standoff}})
	for i, p := range set.Pieces {
		letter := map[string]string{"right": "R", "left": "L"}[p.Hand]
		want, err := lettering.Lay([]string{"thistle", letter + ", " + string(p.Face) + " face"}, 4, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		m, centre := p.Mesh, boss.Top.Centre
		if p.Face == measures.RightFace { // its glue face looks along -z
			m = m.Turned(mesh.Y, 180)
			centre.X = -centre.X
		}
		var corners []r2.Vec
		for _, c := range m.Vertices {
			corners = append(corners, r2.Sub(r2.Vec{X: c.X, Y: c.Y}, centre))
		}
		area, mirrored := 0.0, 0
		for _, loop := range want.Loops {
			for j, q := range loop {
				area -= r2.Cross(q, loop[(j+1)%len(loop)]) / 2
				if _, far := nearest(corners, q); far > 0.005 {
					t.Fatalf("%s: the mark has no corner at (%.2f, %.2f) mm of its middle", p.Name, q.X, q.Y)
				}
				if _, far := nearest(corners, r2.Vec{X: -q.X, Y: q.Y}); far > 0.005 {
					mirrored++
				}
			}
		}
		if mirrored < 50 {
			t.Errorf("%s: the mark is its own mirror, so that the test shows nothing", p.Name)
		}
		taken := plain.Pieces[i].Mesh.Volume() - p.Mesh.Volume()
		t.Logf("%s: %.2f mm3, the mark takes %.3f, its area times its depth %.3f", p.Name, p.Mesh.Volume(), taken, 0.3*math.Abs(area))
		// Both meshes may lie off by their tolerance beside the mark.
		if math.Abs(taken-0.3*math.Abs(area)) > 0.3 {
			t.Errorf("%s: the mark takes %.3f mm3, want %.3f", p.Name, taken, 0.3*math.Abs(area))
		}
	}
	equalVolumes(t, "without marks", plain.Pieces[0].Mesh, plain.Pieces[1].Mesh)
}

// A name that is too long for the underside is shortened; on a boss with no room at all there is no mark.
func TestMarksFit(t *testing.T) {
	size.Long(t)
	v, plan := bucktest.Demo(t, "thistle")
	for _, tt := range []struct {
		name  string
		width float64
		notes int
	}{
		{"a knife of which the name is far too long for its boss", 12, 0},
		{"thistle", 6, 1},
	} {
		spec := v.Spec
		spec.Name, spec.Plate.Width, spec.Plate.PostDiameter = tt.name, tt.width, 3
		if tt.notes > 0 {
			spec.Plate.Width, spec.Standoff.EdgeRadius, spec.Standoff.SideClearance = 4, 0, 0
		}
		set := makeSet(t, bucktest.Knife(t, plan, spec), job.Request{Kinds: []job.Kind{job.Standoff}, Hands: []measures.Hand{measures.Left}})
		none := 0
		for _, n := range set.Notes {
			if n == "standoff: its underside has no room for a mark" {
				none++
			}
		}
		if none != tt.notes {
			t.Errorf("%s, %g mm wide: %q", tt.name, tt.width, set.Notes)
		}
	}
}

// TestRampMarks: a ramp whose cheeks are thick enough carries the variant's name in the underside of one, on either half where
// it is split. Seen on the glue face it is the font's and not its mirror, and it takes its area times its depth. The demo's
// own cheeks are as thin as can be printed, and carry none.
func TestRampMarks(t *testing.T) {
	size.Long(t)
	v, plan := bucktest.Demo(t, "thistle")
	want, err := lettering.Lay([]string{"thistle"}, 4, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	area := 0.0
	for _, loop := range want.Loops {
		for j, q := range loop {
			area -= r2.Cross(q, loop[(j+1)%len(loop)]) / 2
		}
	}
	for _, split := range []measures.Split{measures.SplitAuto, measures.SplitAlways} {
		spec := v.Spec
		spec.Ramp.Clearance, spec.Ramp.Split, spec.Ramp.Mark = 1.3, split, "no"
		fine := job.Request{Kinds: []job.Kind{job.Ramp}, Tolerance: 0.003} // so that the volume of chords is little beside the mark's
		plain := makeSet(t, bucktest.Knife(t, plan, spec), fine)
		spec.Ramp.Mark = "yes"
		k := bucktest.Knife(t, plan, spec)
		set := makeSet(t, k, fine)
		_, ramps, err := k.Ramps()
		if err != nil {
			t.Fatal(err)
		}
		at, room := ramps.Bossed[0].MarkRoom(want.Size, 1, 0.3)
		if !room {
			t.Fatal("no room for the mark")
		}
		for i, p := range set.Pieces {
			if !strings.HasPrefix(p.Name, "ramp-any") {
				continue
			}
			meshtest.Clean(t, p.Mesh)
			if taken := plain.Pieces[i].Mesh.Volume() - p.Mesh.Volume(); math.Abs(taken-0.3*math.Abs(area)) > 0.02*0.3*math.Abs(area) {
				t.Errorf("%s: the mark takes %.3f mm3, want %.3f", p.Name, taken, 0.3*math.Abs(area))
			}
			seen := 1.0 // the glue face of the left half looks along z
			if p.Face != measures.LeftFace {
				seen = -1
			}
			var corners []r2.Vec
			for _, c := range p.Mesh.Vertices {
				corners = append(corners, r2.Vec{X: seen * (c.X - at.X), Y: c.Y - at.Y})
			}
			mirrored := 0
			for _, q := range want.Loops[0] {
				if _, far := nearest(corners, q); far > 0.005 {
					t.Fatalf("%s: the mark has no corner at (%.2f, %.2f) mm of its middle", p.Name, q.X, q.Y)
				}
				if _, far := nearest(corners, r2.Vec{X: -q.X, Y: q.Y}); far > 0.005 {
					mirrored++
				}
			}
			if mirrored == 0 {
				t.Error("the mark is its own mirror, so that the test shows nothing")
			}
		}
	}
	for _, n := range makeSet(t, demo(t, "thistle"), job.Request{Kinds: []job.Kind{job.Ramp}}).Notes {
		if n == "ramp: its cheeks have no room for a mark" {
			return
		}
	}
	t.Error("the demo's ramp does not say that it has no room")
}
