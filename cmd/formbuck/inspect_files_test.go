package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/stl"
	"formbuck/mesh/threemf"

	"github.com/rogpeppe/go-internal/testscript"
	"gonum.org/v1/gonum/spatial/r3"
)

// part is the script command "part KIND FILE": it writes a print file that a script cannot hold,
// because it is binary. Most are a cube of 20 mm with one fault.
func part(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: part KIND FILE")
	}
	data, err := partFile(args[0])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), data, 0o666))
}

// cube is the sample of Mirtich, journal of graphics tools 1(2), 1996.
func cube() *mesh.Mesh { return meshtest.Box(r3.NewBox(-10, -10, -10, 10, 10, 10)) }

// partFile is the file of a kind.
func partFile(kind string) ([]byte, error) {
	if rest, ok := strings.CutPrefix(kind, "3mf "); ok {
		return packFile(rest)
	}
	if m := faultyMesh(kind); m != nil {
		var b bytes.Buffer
		err := stl.Encode(&b, m, kind)
		return b.Bytes(), err
	}
	var b bytes.Buffer
	if err := stl.Encode(&b, cube(), kind); err != nil {
		return nil, err
	}
	data := b.Bytes()
	number := func(x float64) { binary.LittleEndian.PutUint32(data[84+50+12:], math.Float32bits(float32(x))) }
	switch kind {
	case "cube":
	case "solid header":
		copy(data, "solid cube by a program that names its binary files so")
	case "solid header, cut":
		copy(data, "solid cube by a program that names its binary files so")
		data = data[:600]
	case "NaN":
		number(math.NaN())
	case "infinite":
		number(math.Inf(1))
	case "cut":
		data = data[:660]
	case "cut in header":
		data = data[:50]
	case "count too high":
		data[80]++
	case "count too low":
		data[80]--
	case "none":
		data = data[:84]
		data[80] = 0
	case "trailing":
		data = append(data, "some more"...)
	default:
		return nil, errors.New("no such kind: " + kind)
	}
	return data, nil
}

// faultyMesh is a cube with a fault of its surface, nil for a kind that is none.
func faultyMesh(kind string) *mesh.Mesh {
	m := cube()
	switch kind {
	case "open":
		m.Triangles = m.Triangles[1:]
	case "twice":
		m.Triangles = append(m.Triangles, m.Triangles[0])
	case "flipped":
		t := m.Triangles[0]
		m.Triangles[0] = [3]int32{t[0], t[2], t[1]}
	case "inside out":
		for i, t := range m.Triangles {
			m.Triangles[i] = [3]int32{t[0], t[2], t[1]}
		}
	case "T-junction":
		// The side x = 10 is cut at the middle of its upper edge, the top is not.
		m.Vertices = append(m.Vertices, r3.Vec{X: 10, Z: 10})
		for i, t := range m.Triangles {
			if on(m, t, r3.Vec{X: 1}) && (on(m, [3]int32{t[0], t[1], t[1]}, r3.Vec{Z: 1}) || on(m, [3]int32{t[1], t[2], t[2]}, r3.Vec{Z: 1}) || on(m, [3]int32{t[2], t[0], t[0]}, r3.Vec{Z: 1})) {
				for !on(m, [3]int32{t[0], t[1], t[1]}, r3.Vec{Z: 1}) {
					t = [3]int32{t[1], t[2], t[0]}
				}
				m.Triangles[i] = [3]int32{t[0], 8, t[2]}
				m.Triangles = append(m.Triangles, [3]int32{8, t[1], t[2]})
				break
			}
		}
	case "crossing":
		m = mesh.Joined(m, m.Moved(r3.Vec{X: 7, Y: 7, Z: 7}))
	case "needle":
		m.Triangles = append(m.Triangles, [3]int32{0, 1, 1})
	case "edge to edge":
		m = mesh.Joined(m, m.Moved(r3.Vec{X: 20, Y: 20})).Welded()
	case "corner to corner":
		m = mesh.Joined(m, m.Moved(r3.Vec{X: 20, Y: 20, Z: 20})).Welded()
	case "beside, inside out": // a second cube
		other := m.Moved(r3.Vec{X: 30})
		for i, t := range other.Triangles {
			other.Triangles[i] = [3]int32{t[0], t[2], t[1]}
		}
		m = mesh.Joined(m, other)
	case "sliver", "no sliver": // a point of the top is next to an edge: the triangle between is as low as that
		low := 1.9e-5
		if kind == "no sliver" {
			low = 2.1e-5
		}
		i := slices.IndexFunc(m.Triangles, func(t [3]int32) bool {
			return on(m, t, r3.Vec{Z: 1}) && m.Vertices[t[1]].X == 10 && m.Vertices[t[2]].X == 10
		})
		m.Vertices = append(m.Vertices, r3.Vec{X: 10 - low, Z: 10})
		t := m.Triangles[i]
		m.Triangles[i] = [3]int32{t[0], t[1], 8}
		m.Triangles = append(m.Triangles, [3]int32{t[1], t[2], 8}, [3]int32{t[2], t[0], 8})
	case "fin": // thinner than what prints, and beside the cube
		return mesh.Joined(m, meshtest.Box(r3.NewBox(15, -10, -10, 15.5, 10, 10)))
	case "bracket": // hangs out over the bed on both sides, further on one
		return mesh.Joined(meshtest.Box(r3.NewBox(0, 0, 0, 20, 10, 20)), meshtest.Box(r3.NewBox(0, 11, 15, 20, 30, 20)), meshtest.Box(r3.NewBox(0, -13, 10, 20, -1, 20)))
	case "shelf": // hangs out over the bed on one side
		return mesh.Joined(meshtest.Box(r3.NewBox(0, 0, 0, 200, 10, 20)), meshtest.Box(r3.NewBox(0, 11, 18.5, 200, 40, 20)))
	default:
		return nil
	}
	return m
}

// on tells whether all corners of a triangle lie on the cube's side in a direction.
func on(m *mesh.Mesh, t [3]int32, side r3.Vec) bool {
	for _, i := range t {
		if r3.Dot(m.Vertices[i], side) != 10 {
			return false
		}
	}
	return true
}

// packFile is a 3MF file with a cube and a tetrahedron, or with a fault.
func packFile(kind string) ([]byte, error) {
	var b bytes.Buffer
	err := threemf.Encode(&b, &threemf.Package{Title: "two", Objects: []threemf.Object{
		{Name: "cube", Mesh: cube()}, {Name: "Größe 1", Mesh: meshtest.Tetrahedron(5, 4, 3)},
	}})
	if err != nil {
		return nil, err
	}
	edit := func(old, new string) ([]byte, error) { return repacked(b.Bytes(), old, new) }
	switch kind {
	case "two":
		return b.Bytes(), nil
	case "inches":
		return edit(`unit="millimeter"`, `unit="inch"`)
	case "mirrored":
		return edit(`"1.000 0.000 0.000 0.000 1.000 0.000 0.000 0.000 1.000`, `"1.000 0.000 0.000 0.000 1.000 0.000 0.000 0.000 -1.000`)
	case "cut":
		return b.Bytes()[:b.Len()-9], nil
	case "no model":
		return repacked(b.Bytes(), "", "")
	case "XML cut":
		return edit("</model>", "")
	case "vertex not there":
		return edit(`v1="0"`, `v1="8"`)
	case "NaN":
		return edit(`x="-10"`, `x="nan"`)
	case "extension":
		return edit("<model ", `<model xmlns:q="urn:q" requiredextensions="q" `)
	}
	return nil, errors.New("no such kind: " + kind)
}

// repacked is the package with a text of its model changed where it first stands, or without its model.
func repacked(data []byte, old, new string) ([]byte, error) {
	return repackedPart(data, ".model", old, new)
}

// repackedPart is repacked for the part whose name ends so.
func repackedPart(data []byte, part, old, new string) ([]byte, error) {
	from, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	to := zip.NewWriter(&b)
	for _, f := range from.File {
		if old == "" && strings.HasSuffix(f.Name, part) {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		text, err := io.ReadAll(r)
		if err != nil {
			return nil, err
		}
		w, err := to.Create(f.Name)
		if err != nil {
			return nil, err
		}
		if old != "" && strings.HasSuffix(f.Name, part) {
			text = bytes.Replace(text, []byte(old), []byte(new), 1)
		}
		if _, err := w.Write(text); err != nil {
			return nil, err
		}
	}
	err = to.Close()
	return b.Bytes(), err
}

// Every kind that the scripts use can be made.
func TestPartFiles(t *testing.T) {
	for _, kind := range []string{"cube", "shelf", "3mf two"} {
		if data, err := partFile(kind); err != nil || len(data) == 0 {
			t.Errorf("%s: %v", kind, err)
		}
	}
	if _, err := partFile("of no kind"); err == nil {
		t.Error("a kind that is none was made")
	}
}
