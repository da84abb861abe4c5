package solid_test

import (
	"math/rand/v2"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/mesh"
	"formbuck/testdata/size"
)

// TestFillers meshes the fillers of sheaths that lap over their handles at random, straight and canted, tight and with play:
// each passes the gate in one body.
func TestFillers(t *testing.T) {
	size.Long(t)
	made, each := 0, size.Or(8, 24)
	for seed := range uint64(each) {
		r := rand.New(rand.NewPCG(seed, 11))
		in := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
		name := bucktest.Demos()[seed%3]
		v, plan := bucktest.Lapped(t, name, in(0, 25))
		v.Spec.Ramp.CantDeg = []float64{0, in(-4, 4)}[seed%2]
		v.Spec.Ramp.Fit = []float64{0, in(0, 0.4)}[seed/2%2]
		_, ramps, err := bucktest.Knife(t, plan, v.Spec).Ramps()
		if err != nil {
			t.Errorf("%s, seed %d: %v", name, seed, err)
			continue
		}
		for _, p := range ramps.Bossed {
			if !p.Grip {
				continue
			}
			made++
			m, err := solid.Ramp(p, 0)
			if err == nil {
				_, err = mesh.GateBody(m)
			}
			if err != nil {
				t.Errorf("%s, seed %d: filler at the %s: %v", name, seed, p.Side, err)
			}
		}
	}
	if made < each/2 {
		t.Errorf("only %d fillers were made", made)
	}
}
