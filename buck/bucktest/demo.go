package bucktest

import (
	"slices"
	"testing"

	"formbuck/buck"
	"formbuck/buck/variant"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/testdata"
)

// Demos are the names of the demo variants.
func Demos() []string { return []string{"thistle", "minnow", "otter"} }

// TwoBosses are the measures of the thistle with two small bosses on a face instead of one, the further one,
// named low, turned and on flat and bevel.
func TwoBosses(s buck.Spec) buck.Spec {
	s.Plate.Length, s.Plate.PostSpacing, s.Clip.Length = 24, 14, 40
	low := buck.Mount{Name: "low", Placement: buck.Placement{X: 72, Y: 6, CantDeg: -4}, Plate: s.Plate}
	low.Plate.Length, low.Plate.Width, low.Plate.PostSpacing = 20, 10, 11
	s.Standoff.More = []buck.Mount{low}
	return s
}

// Demo reads a demo variant and its drawing, or the test fails.
func Demo(t testing.TB, name string) (*variant.Variant, *profile.Plan) {
	t.Helper()
	file, err := testdata.FS.Open(name + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	v, err := variant.Decode(name+".toml", file)
	if err != nil {
		t.Fatal(err)
	}
	data, err := testdata.FS.ReadFile(v.Drawing.File)
	if err != nil {
		t.Fatal(err)
	}
	d, err := dxf.Parse(data, v.Drawing.File)
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Read(d, profile.Options{Units: v.Drawing.Units})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := p.Plan(v.Hints())
	if err != nil {
		t.Fatal(err)
	}
	return v, plan
}

// Lapped is a demo variant whose drawing has no throat line: its sheath laps over the handle's front by depth mm.
func Lapped(t testing.TB, name string, depth float64) (*variant.Variant, *profile.Plan) {
	t.Helper()
	v, _ := Demo(t, name)
	v.Spec.Throat.Depth = depth
	data, err := testdata.FS.ReadFile(v.Drawing.File)
	if err != nil {
		t.Fatal(err)
	}
	d, err := dxf.Parse(data, v.Drawing.File)
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Read(d, profile.Options{Units: v.Drawing.Units})
	if err != nil {
		t.Fatal(err)
	}
	p.Marks = slices.DeleteFunc(p.Marks, func(m profile.Mark) bool { return m.Kind == profile.Throat })
	plan, err := p.Plan(profile.Hints{
		TipDeg: v.Drawing.TipDeg, EdgeDeg: v.Drawing.EdgeDeg,
		HandleFront: v.Spec.Handle.Front, ThroatDepth: depth,
	})
	if err != nil {
		t.Fatal(err)
	}
	return v, plan
}
