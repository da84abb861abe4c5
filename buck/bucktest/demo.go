package bucktest

import (
	"testing"

	"formbuck/buck/variant"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/testdata"
)

// Demos are the names of the demo variants.
func Demos() []string { return []string{"thistle", "minnow", "otter"} }

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
	plan, err := p.Plan(profile.Hints{
		TipDeg: v.Drawing.TipDeg, EdgeDeg: v.Drawing.EdgeDeg,
		HandleFront: v.Spec.Handle.Front, ThroatDepth: v.Spec.Throat.Depth,
	})
	if err != nil {
		t.Fatal(err)
	}
	return v, plan
}
