package twin_test

import (
	"testing"

	"formbuck/buck"
	"formbuck/buck/bucktest"
	"formbuck/buck/variant"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/testdata"
)

// knives are the test knife and the demo knives, by name.
func knives(t testing.TB) map[string]*buck.Knife {
	t.Helper()
	all := map[string]*buck.Knife{"hunter": hunter(t)}
	if raced {
		return all
	}
	for _, name := range []string{"thistle", "minnow", "otter"} {
		all[name] = demo(t, name)
	}
	return all
}

func hunter(t testing.TB) *buck.Knife {
	t.Helper()
	return bucktest.Knife(t, bucktest.Hunter(), bucktest.Spec())
}

// demo is the knife of one of the demo variants.
func demo(t testing.TB, name string) *buck.Knife {
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
	return bucktest.Knife(t, plan, v.Spec)
}
