package job_test

import (
	"testing"

	"formbuck/buck"
	"formbuck/buck/job"
	"formbuck/buck/variant"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/testdata"
)

// demo is the knife of one of the demo variants.
func demo(t testing.TB, name string) *buck.Knife {
	t.Helper()
	v, plan := load(t, name)
	k, err := buck.NewKnife(plan, v.Spec)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// load reads a demo variant and its drawing.
func load(t testing.TB, name string) (*variant.Variant, *profile.Plan) {
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

var demos = []string{"thistle", "minnow", "otter"}

func TestDemos(t *testing.T) {
	for _, name := range demos {
		t.Run(name, func(t *testing.T) {
			set, err := job.Make(t.Context(), demo(t, name), job.Request{})
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range set.Pieces {
				b := p.Mesh.Bounds()
				t.Logf("%s: %d triangles, %.1f mm3, %.1f %.1f: %s", p.Name, len(p.Mesh.Triangles), p.Mesh.Volume(), b.Min, b.Max, p.Governed)
			}
			t.Log(set.Notes)
		})
	}
}

// makeAll makes every piece of a variant.
func makeAll(t testing.TB, plan *profile.Plan, s buck.Spec) error {
	t.Helper()
	k, err := buck.NewKnife(plan, s)
	if err != nil {
		return err
	}
	_, err = job.Make(t.Context(), k, job.Request{})
	return err
}
