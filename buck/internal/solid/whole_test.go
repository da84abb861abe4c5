package solid_test

import (
	"errors"
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// whole is the knife's buck in one body, for a bed of the length.
func whole(t testing.TB, name string, bed float64, hand measures.Hand) (*pieces.WholePiece, error) {
	t.Helper()
	v, plan := bucktest.Demo(t, name)
	v.Spec.Whole.Bed = bed
	k := bucktest.Knife(t, plan, v.Spec)
	s, err := pieces.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	d, err := pieces.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	ramps, err := pieces.NewRamps(pieces.NewDraw(k))
	if err != nil {
		t.Fatal(err)
	}
	return pieces.NewWhole([]*pieces.StandoffPiece{s}, ramps, d, measures.Hip.Faces(hand))
}

// summed is the body's volume by the midpoint rule on squares of the step, from heights asked for point by
// point: nothing of the mesh goes into it.
func summed(w *pieces.WholePiece, step float64) float64 {
	sum := 0.0
	for x := w.From - 1 + step/2; x < w.To+1; x += step {
		for y := -40 + step/2; y < 40; y += step {
			p := r2.Vec{X: x, Y: y}
			for _, f := range measures.BothFaces() {
				sum += max(0, w.Height(f, p)) * step * step
			}
		}
	}
	return sum
}

// The whole buck is closed and as large as the union of its parts; cut in two it loses what its pins' holes
// take, two squares by two depths each, and each half fits the bed.
func TestWholeBuck(t *testing.T) {
	size.Long(t)
	const step = 0.1
	for name, hand := range map[string]measures.Hand{"thistle": measures.Both, "otter": measures.Right} {
		if !size.Full() && name == "otter" {
			continue
		}
		t.Run(name, func(t *testing.T) {
			w, err := whole(t, name, 1000, hand)
			if err != nil {
				t.Fatal(err)
			}
			one, err := solid.Whole(w, 0, 0)
			if err != nil {
				t.Fatal(err)
			}
			meshtest.Clean(t, one)
			meshtest.Genus(t, one, 0)
			want := summed(w, step)
			t.Logf("%d triangles, %.1f mm3, summed %.1f", len(one.Triangles), one.Volume(), want)
			if math.Abs(one.Volume()-want) > 5e-4*want {
				t.Errorf("%.1f mm3, want %.1f", one.Volume(), want)
			}
			w, err = whole(t, name, 180, hand)
			if err != nil || w.Parts != 2 || len(w.Pins) != 2 {
				t.Fatalf("%d parts, %d pins, %v", w.Parts, len(w.Pins), err)
			}
			halves := make([]*mesh.Mesh, 2)
			sum := 0.0
			for i := range halves {
				if halves[i], err = solid.Whole(w, i, 0); err != nil {
					t.Fatal(err)
				}
				meshtest.Clean(t, halves[i])
				if long := halves[i].Bounds().Size().X; long > 180+1e-3 {
					t.Errorf("part %d is %.2f mm long", i, long)
				}
				sum += halves[i].Volume()
			}
			hole := 4.3 * 4.3 * 12 // pin 4, fit 0.15 on either side
			if less := one.Volume() - sum; math.Abs(less-4*hole) > 0.5 {
				t.Errorf("the holes take %.3f mm3, want %.3f", less, 4*hole)
			}
		})
	}
}

func TestWholeBuckRefusals(t *testing.T) {
	for _, bed := range []float64{60, 120} {
		_, err := whole(t, "thistle", bed, measures.Right)
		var f *measures.Fault
		if !errors.As(err, &f) || f.Key != "whole.bed" {
			t.Errorf("bed of %g mm: %v", bed, err)
		}
	}
}
