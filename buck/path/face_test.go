package path_test

import (
	"math"
	"testing"

	"formbuck/buck/measures"
	"formbuck/buck/path"
)

// TestFor: a study turned to other faces is that of a buck made for them.
func TestFor(t *testing.T) {
	o := path.Options{Step: 0.4}
	right := path.New(demo(t, "thistle", measures.Right, nil), o)
	for _, hand := range measures.Hands() {
		got, want := right.For(measures.Hip.Faces(hand)), path.New(demo(t, "thistle", hand, nil), o)
		for i, f := range want.Faces {
			if got.Faces[i].Face != f.Face {
				t.Fatalf("%s: face %d is the %s", hand, i, got.Faces[i].Face)
			}
			for n := range f.Cavity.Z {
				if got.Faces[i].Cavity.Z[n] != f.Cavity.Z[n] || got.Faces[i].Interference.Z[n] != f.Interference.Z[n] {
					t.Fatalf("%s: the %s face differs in cell %d", hand, f.Face, n)
				}
			}
		}
	}
}

// TestLets: what passes higher than a face lets it is what is felt, and nothing else: without its ramps the knife binds in
// just such cells, with them in none.
func TestLets(t *testing.T) {
	r := path.NewReport(demo(t, "thistle", measures.Right, nil), path.Options{Step: 0.2})
	for _, test := range []struct {
		name  string
		study *path.Study
		binds []path.Bind
	}{{"with ramps", r.With, r.With.Binds(r.With.Plain())}, {"without", r.Without, r.Without.Binds(r.Without.Plain())}} {
		f := test.study.Plain()
		lets := test.study.Lets(f)
		felt, deepest := 0.0, 0.0
		for n, z := range f.Interference.Z {
			if over := test.study.Envelope.Z[n] - lets.Z[n]; z > 0 && over > path.Felt {
				felt += lets.Step * lets.Step
				deepest = max(deepest, over)
			}
		}
		area, most := 0.0, 0.0
		for _, b := range test.binds {
			area += b.Area
			most = max(most, b.Depth)
		}
		if math.Abs(felt-area) > 1e-6 || math.Abs(deepest-most) > 1e-9 {
			t.Errorf("%s: %.3f mm2 are felt, %.3f deep; the binds have %.3f mm2, %.3f deep", test.name, felt, deepest, area, most)
		}
	}
}
