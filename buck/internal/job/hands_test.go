package job_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/stl"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r3"
)

func makeSet(t testing.TB, k *pieces.Buck, r job.Request) *job.Set {
	t.Helper()
	set, err := job.Make(t.Context(), k, r)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

func names(s *job.Set) []string {
	var list []string
	for _, p := range s.Pieces {
		list = append(list, p.Name)
	}
	return list
}

// TestPiecesOfAHand checks which pieces a hand needs. Common practice, no source: right-hand carry puts
// the boss on the knife's left face.
func TestPiecesOfAHand(t *testing.T) {
	size.Long(t)
	k := demo(t, "thistle")
	rest := []string{"ramp-any", "ramp-spine-any", "drain-any"}
	for hand, want := range map[measures.Hand][]string{
		measures.Right: append(append([]string{"standoff-right"}, rest...), "nub-any", "locator-right"),
		measures.Left:  append(append([]string{"standoff-left"}, rest...), "nub-any", "locator-left"),
		measures.Both:  append(append([]string{"standoff-right", "standoff-left"}, rest...), "nub-any", "locator-right", "locator-left"),
		measures.Plain: rest,
	} {
		set := makeSet(t, k, job.Request{Hands: []measures.Hand{hand}})
		if got := names(set); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", hand, got, want)
		}
		for _, p := range set.Pieces {
			if (p.Kind == job.Standoff || p.Kind == job.Locator) && (p.Hand == "right") != (p.Face == measures.LeftFace) {
				t.Errorf("%s: the %s-hand %s is on the %s face", hand, p.Hand, p.Kind, p.Face)
			}
		}
	}
}

// TestOtherHandIsMirror checks the mirror in z = 0, where the pieces sit on the knife: volumes equal, bounds
// mirrored, winding outward; and on the bed, where one is the other's mirror in y.
func TestOtherHandIsMirror(t *testing.T) {
	size.Long(t)
	for _, name := range bucktest.Demos() {
		v, plan := bucktest.Demo(t, name)
		v.Spec.Standoff.Mark = "no" // a mark is not mirrored
		set := makeSet(t, bucktest.Knife(t, plan, v.Spec), job.Request{Kinds: []job.Kind{job.Standoff}})
		right, left := set.Pieces[0], set.Pieces[1]
		equalVolumes(t, name+" on the knife", right.Mesh, left.Mesh)
		a, b := right.Mesh.Bounds(), left.Mesh.Bounds()
		if a.Min != (r3.Vec{X: b.Min.X, Y: b.Min.Y, Z: -b.Max.Z}) || a.Max != (r3.Vec{X: b.Max.X, Y: b.Max.Y, Z: -b.Min.Z}) {
			t.Errorf("%s: bounds %v and %v are not mirrored", name, a, b)
		}
		onBed := fromFile(t, set, right)
		equalVolumes(t, name+" on the bed", onBed, fromFile(t, set, left))
		if z := onBed.Bounds().Min.Z; z != 0 {
			t.Errorf("%s: stands %g mm above the bed", name, z)
		}
	}
}

func equalVolumes(t *testing.T, what string, a, b *mesh.Mesh) {
	t.Helper()
	va, vb := a.Volume(), b.Volume()
	if va <= 0 || math.Abs(va-vb) > 1e-9*va {
		t.Errorf("%s: volumes %.12g and %.12g", what, va, vb)
	}
}

// fromFile is the piece as its print file has it.
func fromFile(t *testing.T, set *job.Set, p *job.Piece) *mesh.Mesh {
	t.Helper()
	f, err := set.STL(p, job.Format{})
	if err != nil {
		t.Fatal(err)
	}
	back, err := stl.Decode(bytes.NewReader(f.Data))
	if err != nil {
		t.Fatal(err)
	}
	if want := 84 + 50*len(back.Mesh.Triangles); len(f.Data) != want {
		t.Errorf("%s: %d bytes, want %d", f.Name, len(f.Data), want)
	}
	return back.Mesh
}

// TestSymmetricPiecesServeBothFaces checks that a piece for any hand is its own mirror in z = 0, if it is one piece.
func TestSymmetricPiecesServeBothFaces(t *testing.T) {
	size.Long(t)
	set := makeSet(t, demo(t, "thistle"), job.Request{Kinds: []job.Kind{job.Ramp, job.Drain}})
	for _, p := range set.Pieces {
		b := p.Mesh.Bounds()
		if math.Abs(b.Min.Z+b.Max.Z) > 2e-5 || math.Abs(p.Mesh.Centroid().Z) > 1e-4 {
			t.Errorf("%s: leans from the middle plane: %v, %v", p.Name, b, p.Mesh.Centroid())
		}
	}
}

// TestThinnerHandle changes the handle from 22 to 18 mm: the standoff loses exactly 2 mm, and beside its locator no
// file of a piece that does not read the handle changes by a byte.
func TestThinnerHandle(t *testing.T) {
	size.Long(t)
	v, plan := bucktest.Demo(t, "thistle")
	files := make(map[float64]map[string][]byte)
	top := make(map[float64]float64)
	for _, handle := range []float64{22, 18} {
		s := v.Spec
		s.Handle.Thickness = handle
		k, err := pieces.NewBuck(plan, s)
		if err != nil {
			t.Fatal(err)
		}
		set := makeSet(t, k, job.Request{})
		files[handle] = make(map[string][]byte)
		for _, p := range set.Pieces {
			f, err := set.STL(p, job.Format{})
			if err != nil {
				t.Fatal(err)
			}
			files[handle][f.Name] = f.Data
			if p.Name == "standoff-left" {
				top[handle] = p.Mesh.Bounds().Max.Z
			}
		}
	}
	if d := top[22] - top[18]; math.Abs(d-2) > 2e-5 {
		t.Errorf("the standoff changed by %.6f mm, want 2", d)
	}
	for name, data := range files[22] {
		same := bytes.Equal(data, files[18][name])
		// The locator's window is the standoff's foot, which is the wider the higher the standoff is.
		if reads := strings.Contains(name, "standoff") || strings.Contains(name, "locator"); same == reads {
			t.Errorf("%s: same bytes: %v", name, same)
		}
	}
}

// TestStandoffHeight is the worked case on the demo: 11 + 1 - 1.6 - 1.8 = 8.6 above the face. Derived
// here.
func TestStandoffHeight(t *testing.T) {
	size.Long(t)
	k := demo(t, "thistle")
	p, err := pieces.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(p.Height()-8.6) > 1e-9 || p.Governing().What != "clip over the bare handle" {
		t.Errorf("%.4f mm, set by %s", p.Height(), p.Governing().What)
	}
	set := makeSet(t, k, job.Request{Kinds: []job.Kind{job.Standoff}})
	tall := p.TopZ + p.Nubs[0].Tall()
	if z := set.Pieces[1].Mesh.Bounds().Max.Z; math.Abs(z-tall) > 1e-4 {
		t.Errorf("the mesh reaches to %.5f mm, want %.5f", z, tall)
	}
}

// TestSameBytes makes the files of a variant again and again.
func TestSameBytes(t *testing.T) {
	var first []job.File
	for range size.Or(2, 3) {
		v, plan := bucktest.Demo(t, "otter")
		set := makeSet(t, bucktest.Knife(t, plan, v.Spec), job.Request{})
		files, err := set.Files(t.Context(), job.Format{}, measures.Hands())
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = files
		}
		for i, f := range files {
			if f.Name != first[i].Name || !bytes.Equal(f.Data, first[i].Data) {
				t.Errorf("%s: other bytes", f.Name)
			}
		}
	}
}

// TestWarnings checks that what a maker should know is said.
func TestWarnings(t *testing.T) {
	size.Long(t)
	v, plan := bucktest.Demo(t, "thistle")
	for _, tt := range []struct {
		name string
		set  func(*measures.Spec)
		want int
	}{
		{"as it is", func(*measures.Spec) {}, 0},
		{"steep walls", func(s *measures.Spec) { s.Standoff.DraftDeg = 2 }, 1},
		{"beside the blade", func(s *measures.Spec) { s.Standoff.Y = -4 }, 1},
		{"so high that it reaches into either ramp", func(s *measures.Spec) { s.Standoff.Height = 30 }, 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := v.Spec
			tt.set(&s)
			k, err := pieces.NewBuck(plan, s)
			if err != nil {
				t.Fatal(err)
			}
			set := makeSet(t, k, job.Request{Kinds: []job.Kind{job.Standoff}})
			if len(set.Warnings) != tt.want {
				t.Errorf("%d warnings: %q", len(set.Warnings), set.Warnings)
			}
		})
	}
}
