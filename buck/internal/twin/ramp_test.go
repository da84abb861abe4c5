package twin_test

import (
	"fmt"
	"math"
	"testing"

	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/knives"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/testdata/size"

	"github.com/deadsy/sdfx/sdf"
	"gonum.org/v1/gonum/spatial/r2"
)

// ramps are the draw ramps of a knife.
func ramps(t testing.TB, k *pieces.Buck) []*pieces.RampPiece {
	t.Helper()
	_, r, err := k.Ramps()
	if err != nil {
		t.Fatal(err)
	}
	return r.Bossed
}

// rampMesh is a ramp as a piece to be measured against a twin, within the usual tolerance.
func rampMesh(name string, r *pieces.RampPiece, body sdf.SDF3) piece {
	return piece{name, func(float64) (*mesh.Mesh, error) { return rampSolid(r) }, body}
}

// The piece reads what passes at nodes this far apart, in mm.
const nodes = 0.2

// letDown is how far, in mm, the surface of a ramp may lie from brute force let down at 45 degrees.
// All of it arises beside cliffs. The piece carries the higher node on by one, at most their diagonal;
// widens by two nodes either way along both axes; takes the mean over as many, weighed as a tent,
// which lifts a valley of slope one by 8/9 of a node along either axis; and reads straight
// between nodes, at most half a diagonal from one. The twin's own lines stand 0.05 mm apart. That is
// height: square to 45 degrees it is less by sqrt 2. The other way the piece lets down along eight
// directions, by which a cone of 2 mm, half the thickest blade, is flatter by at most 8 %: less.
const letDown = (nodes*math.Sqrt2+2*nodes*math.Sqrt2+2*nodes*8/9+nodes/math.Sqrt2+0.05)/math.Sqrt2 + solid.Tolerance

func TestTwinOfRampIsNearItsMesh(t *testing.T) {
	size.Long(t)
	for name, k := range everyKnife(t) {
		if !size.Full() && name != "hunter" && name != "minnow" { // the longer ramps take most of it
			continue
		}
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for i, r := range ramps(t, k) {
				body, err := twin.Ramp(r)
				if err != nil {
					t.Fatal(err)
				}
				p := rampMesh(fmt.Sprintf("ramp %d at the %s", i, r.Side), r, body)
				if d := measured(t, p, solid.Tolerance, 1.5); !(d.Worst() <= letDown) {
					t.Errorf("%s: %.5f mm", p.name, d.Worst())
				}
			}
		})
	}
}

// margin is the least height of a mesh over what passes and the clearance, and where.
type margin struct {
	least float64
	at    r2.Vec
	asked int
}

// rim is how near, in mm, a place may lie to the room of the boss or the handle, where the piece ends.
const rim = 0.01

// beside tells of a place on the handle or at its rim.
func beside(k *pieces.Buck, p r2.Vec) bool {
	for _, d := range []r2.Vec{{X: rim}, {X: -rim}, {Y: rim}, {Y: -rim}} {
		if k.ZoneAt(r2.Add(p, d)) == knives.OnHandle {
			return true
		}
	}
	return false
}

// covers measures a ramp's surface against brute force, along lines a fifth of a millimetre apart,
// every fiftieth of one along them.
func covers(r *pieces.RampPiece, m *mesh.Mesh) margin {
	top := newLid(m)
	got := margin{least: math.Inf(1)}
	for y := r.Head.Min.Y + 0.003; y < r.Head.Max.Y; y += 0.1997 {
		twin.NewSweep(r.Knife, y, r.Head.Min.X+0.001, 0.02, r.CantDeg).Each(func(x, _, passes float64) {
			p := r2.Rotate(r2.Vec{X: x, Y: y}, r.CantDeg*math.Pi/180, r2.Vec{})
			if x > r.Head.Max.X || r.Boss.Distance(p) < rim || beside(r.Knife, p) {
				return
			}
			if z := top.over(p) - passes - r.Knife.Spec.Ramp.Clearance; z < got.least {
				got.least, got.at = z, p
			}
			got.asked++
		})
	}
	return got
}

func TestRampCoversWhatPasses(t *testing.T) {
	size.Long(t)
	for name, k := range everyKnife(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for i, r := range ramps(t, k) {
				m, err := rampSolid(r)
				if err != nil {
					t.Fatal(err)
				}
				c := covers(r, m)
				t.Logf("ramp %d: at least %.4f mm over what passes and the clearance of %.2f mm, at %.3f; %d places",
					i, c.least, k.Spec.Ramp.Clearance, c.at, c.asked)
				if !(c.least >= -solid.Tolerance) {
					t.Errorf("ramp %d: %.4f mm", i, c.least)
				}
			}
		})
	}
}
