package main

import (
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"

	"gonum.org/v1/gonum/spatial/r3"
)

// frame is a plate of 10 x 10 for each hole and 4 high, each with a square hole of 4 through it, side by side in one body.
func frame(holes int) *mesh.Mesh {
	solid := func(x, y int) bool { return x >= 0 && x < 5*holes && y >= 0 && y < 5 && (x%5 != 2 || y != 2) }
	m := &mesh.Mesh{}
	quad := func(a, b, c, d r3.Vec) {
		n := int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, a, b, c, d)
		m.Triangles = append(m.Triangles, [3]int32{n, n + 1, n + 2}, [3]int32{n, n + 2, n + 3})
	}
	for x := range 5 * holes {
		for y := range 5 {
			if !solid(x, y) {
				continue
			}
			at := func(i, j int, z float64) r3.Vec { return r3.Vec{X: 2 * float64(x+i), Y: 2 * float64(y+j), Z: z} }
			quad(at(0, 0, 4), at(1, 0, 4), at(1, 1, 4), at(0, 1, 4))
			quad(at(0, 0, 0), at(0, 1, 0), at(1, 1, 0), at(1, 0, 0))
			for _, side := range [][4]int{{0, 0, 1, 0}, {1, 0, 1, 1}, {1, 1, 0, 1}, {0, 1, 0, 0}} {
				dx, dy := side[3]-side[1], side[0]-side[2] // outwards
				if !solid(x+dx, y+dy) {
					quad(at(side[0], side[1], 0), at(side[2], side[3], 0), at(side[2], side[3], 4), at(side[0], side[1], 4))
				}
			}
		}
	}
	return m.Welded()
}

// turnedIn is the mesh with its inside out.
func turnedIn(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: m.Vertices, Triangles: slices.Clone(m.Triangles)}
	for i, t := range out.Triangles {
		out.Triangles[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}

// TestInspectGenus wants shells, genus and volume of solids with holes through them, with hollows in them, and beside each
// other. The genus of a torus is 1, by V - E + F = 2 - 2 g (Euler and Poincaré; from memory).
func TestInspectGenus(t *testing.T) {
	big, small := meshtest.Box(r3.NewBox(-10, -10, -10, 10, 10, 10)), meshtest.Box(r3.NewBox(-4, -4, -4, 4, 4, 4))
	ring := meshtest.Torus(20, 5, 48, 24)
	sin := func(n float64) float64 { return n / 2 * math.Sin(2*math.Pi/n) } // area of a polygon in the circle of radius 1
	tube := 2 * sin(48) * 20 * 25 * sin(24)                                 // as Pappus has it, with 2 sin(48) for 2 pi: 48 wedges
	hollow := meshtest.Torus(20, 2, 48, 24)
	for name, test := range map[string]struct {
		mesh     *mesh.Mesh
		genus    []int
		holes    string
		volume   float64
		problems []string
	}{
		"ball":                    {meshtest.Icosahedron(1), []int{0}, "", 2.5361507, nil},
		"ring":                    {ring, []int{1}, "1 through, genus 1", tube, nil},
		"plate with a hole":       {frame(1), []int{1}, "1 through, genus 1", 4 * (100 - 4), nil},
		"plate with two":          {frame(2), []int{2}, "2 through, genus 2", 4 * (200 - 8), nil},
		"plate with three":        {frame(3), []int{3}, "3 through, genus 3", 4 * (300 - 12), nil},
		"hollow":                  {mesh.Joined(big, turnedIn(small)), []int{0, 0}, "", 8000 - 512, nil},
		"hollow ring":             {mesh.Joined(ring, turnedIn(hollow)), []int{1, 1}, "2 through, genus 1, 1", tube * 21 / 25, nil},
		"hollow with a core":      {mesh.Joined(big, turnedIn(small), meshtest.Box(r3.NewBox(-1, -1, -1, 1, 1, 1))), []int{0, 0, 0}, "", 8000 - 512 + 8, nil},
		"side by side":            {mesh.Joined(frame(2), big.Moved(r3.Vec{X: 50})), []int{2, 0}, "2 through, genus 2, 0", 768 + 8000, nil},
		"one in the other":        {mesh.Joined(big, small), []int{0, 0}, "", 8512, []string{"inverted shell"}},
		"ring around a ball":      {mesh.Joined(ring, small), []int{1, 0}, "1 through, genus 1, 0", tube + 512, nil},
		"ring through a ring":     {mesh.Joined(ring, upright(ring)), []int{1, 1}, "2 through, genus 1, 1", 2 * tube, nil},
		"hollow, both inside out": {mesh.Joined(turnedIn(big), small), []int{0, 0}, "", 512 - 8000, []string{"inverted shell", "no volume"}},
	} {
		t.Run(name, func(t *testing.T) {
			if testing.Short() && name != "plate with two" && name != "hollow" {
				t.Skip("run in full")
			}
			s, _ := inspected(t, test.mesh)
			if !slices.Equal(s.Genus, test.genus) || s.Shells != len(test.genus) || !s.Closed {
				t.Errorf("genus %v of %d shells, closed: %v", s.Genus, s.Shells, s.Closed)
			}
			if math.Abs(s.Volume-test.volume) > 1e-6*math.Abs(test.volume) {
				t.Errorf("volume %v, want %v", s.Volume, test.volume)
			}
			var problems []string
			for _, p := range s.Problems {
				problems = append(problems, p.Class)
			}
			if !slices.Equal(problems, test.problems) {
				t.Errorf("problems %v, want %v", problems, test.problems)
			}
			text := s.text(0)
			if _, holes, _ := strings.Cut(text, "  holes     "); test.holes == "" && holes != "" || !strings.HasPrefix(holes, test.holes) {
				t.Errorf("%s\nwant holes %q", text, test.holes)
			}
		})
	}
}

// upright is a ring about the z axis stood up, so that it passes through one that lies.
func upright(ring *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Triangles: ring.Triangles}
	for _, v := range ring.Vertices {
		out.Vertices = append(out.Vertices, r3.Vec{X: v.X + 20, Y: -v.Z, Z: v.Y})
	}
	return out
}
