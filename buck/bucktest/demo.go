package bucktest

import (
	"path"
	"slices"
	"sync"
	"testing"

	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/buck/variant"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/testdata"
)

// Demos are the names of the demo variants.
func Demos() []string { return []string{"thistle", "minnow", "otter"} }

// TwoBosses are the measures of the thistle with two small bosses on a face instead of one, the further one,
// named low, turned and on flat and bevel.
func TwoBosses(s measures.Spec) measures.Spec {
	s.Plate.Length, s.Plate.PostSpacing, s.Clip.Length = 24, 14, 40
	low := measures.Mount{Name: "low", Placement: measures.Placement{X: 72, Y: 6, CantDeg: -4}, Plate: s.Plate}
	low.Plate.Length, low.Plate.Width, low.Plate.PostSpacing = 20, 10, 11
	s.Standoff.More = []measures.Mount{low}
	return s
}

// Demo reads a demo variant and its drawing, or the test fails.
func Demo(t testing.TB, name string) (*variant.Variant, *profile.Plan) {
	t.Helper()
	return Drawn(t, name+".toml", testdata.FS.ReadFile)
}

// DemoKnife is the knife of a demo variant, the same one for all tests of a package: it is not to be changed.
func DemoKnife(t testing.TB, name string) *pieces.Buck {
	t.Helper()
	demos.Lock()
	defer demos.Unlock()
	if demos.knives[name] == nil {
		v, plan := Demo(t, name)
		demos.knives[name] = Knife(t, plan, v.Spec)
	}
	return demos.knives[name]
}

var demos = struct {
	sync.Mutex
	knives map[string]*pieces.Buck
}{knives: map[string]*pieces.Buck{}}

// Drawn reads a variant file and its drawing by a function such as os.ReadFile, or the test fails.
func Drawn(t testing.TB, file string, open func(path string) ([]byte, error)) (*variant.Variant, *profile.Plan) {
	t.Helper()
	v, p := read(t, file, open)
	return v, planned(t, v, p)
}

// Lapped is a demo variant whose drawing has no throat line: its sheath laps over the handle's front by depth mm.
func Lapped(t testing.TB, name string, depth float64) (*variant.Variant, *profile.Plan) {
	t.Helper()
	v, p := read(t, name+".toml", testdata.FS.ReadFile)
	v.Spec.Throat.Depth = depth
	p.Marks = slices.DeleteFunc(p.Marks, func(m profile.Mark) bool { return m.Kind == profile.Throat })
	return v, planned(t, v, p)
}

// read reads a variant file and its drawing, which lies beside it.
func read(t testing.TB, file string, open func(path string) ([]byte, error)) (*variant.Variant, *profile.Profile) {
	t.Helper()
	v, err := variant.Load(file, open)
	if err != nil {
		t.Fatal(err)
	}
	data, err := open(path.Join(path.Dir(file), v.Drawing.File))
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
	return v, p
}

// planned turns a drawing into the blade's frame as its variant has it.
func planned(t testing.TB, v *variant.Variant, p *profile.Profile) *profile.Plan {
	t.Helper()
	plan, err := p.Plan(v.Hints())
	if err != nil {
		t.Fatal(err)
	}
	return plan
}
