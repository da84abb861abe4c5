package mesh_test

import (
	"encoding/json"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

func TestShells(t *testing.T) {
	ring := meshtest.Torus(10, 2, 16, 8)
	open := without(box(20, 0, 0, 21, 1, 1), 0)
	got := mesh.Joined(ring, open, box(30, 0, 0, 31, 1, 1)).Shells()
	type row struct {
		first, triangles, edges, vertices, euler, genus int
		closed                                          bool
	}
	want := []row{
		{0, 256, 384, 128, 0, 1, true},
		{256, 11, 18, 8, 1, -1, false},
		{267, 12, 18, 8, 2, 0, true},
	}
	var rows []row
	for _, s := range got {
		rows = append(rows, row{s.First, s.Triangles, s.Edges, s.Vertices, s.Euler(), s.Genus(), s.Closed})
	}
	if d := cmp.Diff(want, rows, cmp.AllowUnexported(row{})); d != "" {
		t.Error(d)
	}
	relative(t, "ring's volume", got[0].Volume, ring.Volume(), 1e-12)
	if got[2].Bounds != r3.NewBox(30, 0, 0, 31, 1, 1) {
		t.Errorf("bounds %v", got[2].Bounds)
	}
}

// A piece in two bodies passes the gate of a mesh, not that of a body; one with a hollow passes both.
func TestGateBody(t *testing.T) {
	hollow := mesh.Joined(box(0, 0, 0, 5, 5, 5), reversed(box(1, 1, 1, 4, 4, 4)))
	if _, err := mesh.GateBody(hollow); err != nil {
		t.Error(err)
	}
	two := mesh.Joined(box(10, 5, 0, 15, 6, 1), box(0, 0, 0, 80, 0.15, 3))
	if _, err := mesh.Gate(two); err != nil {
		t.Fatal(err)
	}
	m, err := mesh.GateBody(two)
	var e *mesh.FaultError
	if m != nil || !errors.As(err, &e) || e.Report.Count(mesh.SeveralBodies) != 1 {
		t.Errorf("two bodies: %v", err)
	}
}

// A crumb beside a body is swept away; the body, a hollow in it and crumbs alone are not.
func TestSwept(t *testing.T) {
	body := mesh.Joined(box(0, 0, 0, 5, 5, 5), reversed(box(1, 1, 1, 1.01, 1.01, 1.01)))
	swept := mesh.Joined(box(7, 0, 0, 7.04, 0.002, 0.007), body).Swept(1e-3)
	meshtest.Genus(t, swept, 0, 0)
	meshtest.Volume(t, swept, body.Volume(), 1e-12)
	if alone := box(0, 0, 0, 0.01, 0.01, 0.01); alone.Swept(1e-3) != alone {
		t.Error("what is all crumbs was swept away")
	}
}

// Two rings through each other are two shells, and clean.
func TestLinkedRings(t *testing.T) {
	m := mesh.Joined(meshtest.Torus(10, 2, 40, 20), meshtest.Torus(10, 2, 40, 20).Turned(mesh.X, 90).Moved(r3.Vec{X: 10}))
	meshtest.Clean(t, m)
	meshtest.Genus(t, m, 1, 1)
}

// Two boxes that share a corner are two shells by their edges, each of genus 0.
func TestShellsTouchAtVertex(t *testing.T) {
	meshtest.Genus(t, mesh.Joined(box(0, 0, 0, 1, 1, 1), box(1, 1, 1, 2, 2, 2)).Welded(), 0, 0)
}

// Shells in each other must take turns, however deep.
func TestNestedShells(t *testing.T) {
	m := &mesh.Mesh{}
	for depth := range 6 {
		s := float64(10 - depth)
		shell := box(-s, -s, -s, s, s, s)
		if depth%2 == 1 {
			shell = reversed(shell)
		}
		m = mesh.Joined(m, shell)
		if r := mesh.Check(m, mesh.Options{}); !r.Clean() {
			t.Errorf("depth %d: %v", depth, r.Err())
		}
		wrong := mesh.Joined(m, reversed(box(-1+s, -1, -1, s-0.5, 1, 1)))
		if got := mesh.Check(wrong, mesh.Options{}).Count(mesh.InvertedShell); (got == 1) != (depth%2 == 1) {
			t.Errorf("depth %d and a cavity: %d inverted", depth, got)
		}
	}
}

func TestSurveyAsJSON(t *testing.T) {
	for _, tc := range []struct {
		name string
		m    *mesh.Mesh
		want string
	}{
		{
			"box", box(0, 0, 0, 1, 2, 3),
			`{"triangles":12,"bounds_mm":{"min":[0,0,0],"max":[1,2,3]},"size_mm":[1,2,3],"volume_mm3":6,"area_mm2":22,` +
				`"centroid_mm":[0.5,1,1.5],"shells":1,"genus":[0],"closed":true,"problems":[]}`,
		},
		{
			"empty", &mesh.Mesh{},
			`{"triangles":0,"bounds_mm":{"min":[0,0,0],"max":[0,0,0]},"size_mm":[0,0,0],"volume_mm3":0,"area_mm2":0,` +
				`"centroid_mm":[0,0,0],"shells":0,"genus":[],"closed":false,` +
				`"problems":[{"class":"empty","count":1,"at_mm":[0,0,0],"places_mm":[[0,0,0]]}]}`,
		},
		{
			"sheet", &mesh.Mesh{Vertices: []r3.Vec{{}, {X: 3}, {Y: 3}}, Triangles: [][3]int32{{0, 1, 2}}},
			`{"triangles":1,"bounds_mm":{"min":[0,0,0],"max":[3,3,0]},"size_mm":[3,3,0],"volume_mm3":0,"area_mm2":4.5,` +
				`"centroid_mm":[1,1,0],"shells":1,"genus":[-1],"closed":false,"problems":[` +
				`{"class":"open edge","count":3,"at_mm":[1.5,0,0],"places_mm":[[1.5,0,0],[0,1.5,0],[1.5,1.5,0]]},` +
				`{"class":"no volume","count":1,"at_mm":[1.5,1.5,0],"places_mm":[[1.5,1.5,0]]}]}`,
		},
	} {
		t.Run(tc.name, func(t *testing.T) {
			got, err := json.Marshal(tc.m.Survey(mesh.Options{}))
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(tc.want, string(got)); d != "" {
				t.Error(d)
			}
		})
	}
}

// Every mesh, however faulty, can be surveyed and written as JSON.
func TestSurveyOfFaultyMeshes(t *testing.T) {
	for _, tc := range faultyMeshes() {
		s := tc.m.Survey(mesh.Options{})
		if _, err := json.Marshal(s); err != nil {
			t.Errorf("%s: %v", tc.name, err)
		}
		if len(s.Problems) != len(mesh.Check(tc.m, mesh.Options{}).Faults) {
			t.Errorf("%s: problems %v", tc.name, s.Problems)
		}
	}
}
