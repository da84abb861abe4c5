// Package meshtest is the oracle that every test of a mesh calls, and a few solids to test with.
//
// A piece's test makes its mesh and then says, for instance,
//
//	meshtest.Clean(t, m)
//	meshtest.Volume(t, m, 2897.9856, 0.05)
//	meshtest.Bounds(t, m, r3.NewBox(-25, -8, 0, 25, 8, 4), 1e-4)
package meshtest

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

// Clean fails the test for every class of fault that keeps the mesh from being written, and if
// snapping it to the file's grid changes its volume by more than rounding can: by more than
// Grid times its area. It returns the mesh as a file would hold it, or nil.
func Clean(t testing.TB, m *mesh.Mesh) *mesh.Mesh {
	t.Helper()
	snapped, err := mesh.Gate(m)
	if err != nil {
		t.Errorf("not clean: %v", err)
		return nil
	}
	if before, after := m.Volume(), snapped.Volume(); !(math.Abs(after-before) <= mesh.Grid*m.Area()) {
		t.Errorf("snapping changes the volume from %.9g to %.9g mm3", before, after)
	}
	return snapped
}

// Volume fails the test unless the volume is within tol (mm3) of want.
func Volume(t testing.TB, m *mesh.Mesh, want, tol float64) {
	t.Helper()
	near(t, "volume in mm3", m.Volume(), want, tol)
}

// Area fails the test unless the area is within tol (mm2) of want.
func Area(t testing.TB, m *mesh.Mesh, want, tol float64) {
	t.Helper()
	near(t, "area in mm2", m.Area(), want, tol)
}

// Bounds fails the test unless every side of the bounds is within tol (mm) of want.
func Bounds(t testing.TB, m *mesh.Mesh, want r3.Box, tol float64) {
	t.Helper()
	got := m.Bounds()
	Point(t, "lower bound", got.Min, want.Min, tol)
	Point(t, "upper bound", got.Max, want.Max, tol)
}

// Point fails the test unless every coordinate of got is within tol (mm) of want.
func Point(t testing.TB, what string, got, want r3.Vec, tol float64) {
	t.Helper()
	near(t, what+" x", got.X, want.X, tol)
	near(t, what+" y", got.Y, want.Y, tol)
	near(t, what+" z", got.Z, want.Z, tol)
}

// Genus fails the test unless the mesh has shells of these genera, in the order of their lowest
// triangle.
func Genus(t testing.TB, m *mesh.Mesh, want ...int) {
	t.Helper()
	shells := m.Shells()
	if len(shells) != len(want) {
		t.Errorf("%d shells, want %d", len(shells), len(want))
		return
	}
	for i, s := range shells {
		if s.Genus() != want[i] {
			t.Errorf("shell %d: genus %d, want %d", i, s.Genus(), want[i])
		}
	}
}

// near compares two numbers; a number that is none is near nothing.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g +- %.2g", what, got, want, tol)
	}
}
