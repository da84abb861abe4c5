package knives_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
)

// TestMass weighs a bar whose mass is arithmetic: 100 mm of blade 24 mm wide, ground flat over 16 mm,
// and 100 mm of handle of the same width, as light and as heavy as handles are.
func TestMass(t *testing.T) {
	s := bucktest.Spec()
	s.Blade.Grind, s.Handle.Rounding = "flat", 0
	k := bucktest.Knife(t, bucktest.Strip(), s)
	full, edge, handle := s.Blade.Thickness, s.Blade.EdgeThickness, s.Handle.Thickness
	blade := 100 * (8*full + 16*(full+edge)/2)
	least, most, known := k.Mass()
	wantLeast := 7.85e-3*blade + 0.9e-3*100*24*handle
	wantMost := 7.85e-3*(blade+100*24*full) + 1.9e-3*100*24*(handle-full)
	if !known || math.Abs(least/wantLeast-1) > 1e-3 || math.Abs(most/wantMost-1) > 1e-3 {
		t.Errorf("%.3f to %.3f g, want %.3f to %.3f g", least, most, wantLeast, wantMost)
	}
}
