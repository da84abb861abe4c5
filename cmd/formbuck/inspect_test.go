package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/stl"

	"gonum.org/v1/gonum/spatial/r3"
)

// inspected writes the mesh as a binary file and reads what inspect answers about it.
func inspected(t *testing.T, m *mesh.Mesh) (s solid, size int) {
	t.Helper()
	var file, out, errs bytes.Buffer
	// The header begins with the word that text files begin with; the size tells them apart.
	if err := stl.Encode(&file, m, "solid by name"); err != nil {
		t.Fatal(err)
	}
	copy(file.Bytes(), "solid ")
	path := filepath.Join(t.TempDir(), "part.stl")
	if err := os.WriteFile(path, file.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	if status := run([]string{"inspect", "--json", path}, &out, &errs); status != exitOK {
		t.Fatalf("status %d: %s", status, &errs)
	}
	if err := json.Unmarshal(out.Bytes(), &s); err != nil {
		t.Fatal(err)
	}
	return s, file.Len()
}

// TestInspectPublishedSolids checks against the sample solids of Mirtich, journal of graphics tools
// 1(2), 1996: a cube of side 20 and an icosahedron in the unit sphere; file sizes by 84 + 50 n.
func TestInspectPublishedSolids(t *testing.T) {
	tests := map[string]struct {
		mesh         *mesh.Mesh
		volume, area float64
		triangles    int
		bytes        int
		tol          float64 // of float32 coordinates
	}{
		"cube":        {meshtest.Box(r3.NewBox(-10, -10, -10, 10, 10, 10)), 8000, 2400, 12, 684, 1e-9},
		"icosahedron": {meshtest.Icosahedron(1), 2.5361507, 9.5745414, 20, 1084, 1e-6},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			s, size := inspected(t, test.mesh)
			if s.Format != "STL binary" || !s.Closed || s.Shells != 1 || len(s.Problems) > 0 {
				t.Errorf("%+v", s)
			}
			if s.Triangles != test.triangles || size != test.bytes {
				t.Errorf("%d triangles in %d bytes, want %d in %d", s.Triangles, size, test.triangles, test.bytes)
			}
			if math.Abs(s.Volume-test.volume) > test.tol || math.Abs(s.Area-test.area) > 4*test.tol {
				t.Errorf("volume %v area %v, want %v and %v", s.Volume, s.Area, test.volume, test.area)
			}
		})
	}
}

func TestInspectCountsShells(t *testing.T) {
	two := mesh.Joined(meshtest.Box(r3.NewBox(0, 0, 0, 1, 1, 1)), meshtest.Box(r3.NewBox(2, 0, 0, 3, 1, 1)))
	if s, _ := inspected(t, two); s.Shells != 2 || s.Volume != 2 || s.Centroid != [3]float64{1.5, 0.5, 0.5} {
		t.Errorf("%+v", s)
	}
}
