package bench_test

import (
	"math"
	"strings"
	"testing"

	"formbuck/buck/bench"
	"formbuck/buck/bucktest"
)

// TestSlab holds the series' first term to a finite-difference reckoning of the same plate, written apart from it: 1350 kg/m3,
// 1300 J/kgK, 0.16 W/mK, from 20 to 150 °C at the far side, air of 170 °C that passes 30 W/m2K, plates of 160 °C. About 60 to 65
// s for a mm in air on both sides is also what shops tell (common practice, no source).
func TestSlab(t *testing.T) {
	for _, tt := range []struct {
		sheet, both, one, plates, plate float64 // mm, seconds
	}{{1.5, 94, 198, 7, 29}, {2, 127, 273, 13, 51}, {2.4, 155, 337, 18, 74}, {3.2, 212, 473, 33, 131}} {
		lies := math.Inf(1)
		for what, got := range map[string][2]float64{
			"air, both sides": {bench.Slab(tt.sheet/2, 30, 170), tt.both}, "air, one side": {bench.Slab(tt.sheet, 30, 170), tt.one},
			"plates": {bench.Slab(tt.sheet/2, lies, 160), tt.plates}, "one plate": {bench.Slab(tt.sheet, lies, 160), tt.plate},
		} {
			if math.Abs(got[0]-got[1]) > max(1, 0.02*got[1]) {
				t.Errorf("%g mm, %s: %.1f s, by finite differences %.0f s", tt.sheet, what, got[0], got[1])
			}
		}
	}
	if perMM := bench.Slab(1, 30, 170) / 2; perMM < 60 || perMM > 65 {
		t.Errorf("%.1f s for a mm", perMM)
	}
}

// TestCooling: twice the sheet or the foam takes twice as long; with 10 mm of foam a sheet of 2 mm is cold after about 15 min,
// which is what shops tell (common practice, no source).
func TestCooling(t *testing.T) {
	one := bench.Cooling(2, 10)
	if one < 12 || one > 20 {
		t.Errorf("%.1f min", one)
	}
	for _, two := range []float64{bench.Cooling(4, 10), bench.Cooling(2, 20)} {
		if math.Abs(two-2*one) > 1e-9 {
			t.Errorf("%.3f min and %.3f min", two, one)
		}
	}
}

// TestHeatSaid: figures stand with their range, and what goes before them.
func TestHeatSaid(t *testing.T) {
	j := bench.Job{Spec: bucktest.Spec()}
	said := j.Heat() + "\n" + j.Pressing()
	for _, want := range []string{"on both sides 85 to 169 s", "the sheet maker's window goes before it", "on one side 34 to 68 s", " min by a heat balance", "a third off either way"} {
		if !strings.Contains(said, want) {
			t.Errorf("no %q in\n%s", want, said)
		}
	}
}
