package solid_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

// pieces are all pieces of the test knife, meshed, by name.
func everyPiece(t *testing.T, s measures.Spec) map[string]*mesh.Mesh {
	t.Helper()
	k := bucktest.Knife(t, bucktest.Hunter(), s)
	made := make(map[string]*mesh.Mesh)
	keep := func(name string, start time.Time, m *mesh.Mesh, err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		t.Logf("%s: %d triangles, %.1f mm3, %v, %v", name, len(m.Triangles), m.Volume(), m.Bounds(), time.Since(start))
		meshtest.Clean(t, m)
		made[name] = m
	}
	start := time.Now()
	st, err := pieces.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(st.Demands, st.Height())
	m, err := solid.Standoff(st, 0)
	keep("standoff", start, m, err)
	start = time.Now()
	n, err := pieces.NewNub(k)
	if err != nil {
		t.Fatal(err)
	}
	m, err = solid.Nub(n, 0)
	keep("nub", start, m, err)
	start = time.Now()
	d, err := pieces.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(d.Slit, d.Radius, d.Governs, d.To)
	m, err = solid.Drain(d, 0)
	keep("drain", start, m, err)
	start = time.Now()
	draw := pieces.NewDraw(k)
	t.Log(draw.Binds, time.Since(start))
	ramps, err := pieces.NewRamps(draw)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range ramps.Bossed {
		t.Log(r.Side, r.Head, r.Split, r.Deepest, r.Rise)
		start = time.Now()
		m, err = solid.Ramp(r, 0)
		keep("ramp"+string(rune('0'+i)), start, m, err)
	}
	return made
}

func TestPieces(t *testing.T) {
	if got := len(everyPiece(t, bucktest.Spec())); got < 4 {
		t.Errorf("%d pieces", got)
	}
}

// TestNoCrumbs makes a ramp in whose plan a foot runs along a line; rounding left a crumb of 0.007 mm beside each cheek.
func TestNoCrumbs(t *testing.T) {
	v, plan := bucktest.Demo(t, "otter")
	s := v.Spec
	r := rand.New(rand.NewPCG(50, 11))
	in := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	s.Blade.Thickness = in(1.8, 6)
	s.Blade.TipThickness = in(0.5, 1) * s.Blade.Thickness
	s.Blade.EdgeThickness = in(0.1, 0.4) * s.Blade.TipThickness
	s.Ramp.CantDeg = in(-4, 0)
	_, all, err := bucktest.Knife(t, plan, s).Ramps()
	if err != nil || len(all.On(true)) == 0 {
		t.Fatal(len(all.On(true)), err)
	}
	for _, r := range all.Bossed {
		m, err := solid.Ramp(r, 0)
		if err == nil {
			_, err = mesh.GateBody(m)
		}
		if err != nil {
			t.Errorf("ramp at the %s: %v", r.Side, err)
		}
	}
}
