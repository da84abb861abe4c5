package plastic_test

import (
	"fmt"
	"math"
	"testing"

	"formbuck/buck/internal/plastic"
)

// Worked by hand from the formula for a sheet of 150 C on a body of 20 C.
func TestContact(t *testing.T) {
	for _, tt := range []struct {
		what    string
		e, want float64
	}{
		{"solid PLA", 539, 84.5},
		{"sparse PLA", 220, 111.9},
		{"solid ABS", 498, 87.0},
		{"steel", 7950, 28.1},
		{"the same", plastic.Sheet, 85},
	} {
		if got := plastic.Contact(plastic.Sheet, 150, tt.e, 20); math.Abs(got-tt.want) > 0.06 {
			t.Errorf("%s: %.2f C, want %.1f", tt.what, got, tt.want)
		}
	}
}

// Effusivities of solid plastics come out at those of handbooks: 539 and 498.
func TestEffusivity(t *testing.T) {
	for _, p := range plastic.Plastics() {
		want := map[string]float64{"PLA": 539, "ABS": 498}[p.Name]
		if e := p.Solid.Effusivity(); want > 0 && math.Abs(e-want) > 2 {
			t.Errorf("%s: %.0f, want %.0f", p.Name, e, want)
		}
		if p.Touched(150, 0.3) <= p.Touched(150, 1) {
			t.Errorf("%s: sparse infill is not hotter", p.Name)
		}
		if !p.Holds(30) || p.Holds(400) {
			t.Errorf("%s: holds under 400 C, or softens under 30", p.Name)
		}
	}
}

func ExampleSorted() {
	hold, soften := plastic.Sorted(150)
	fmt.Println(hold, soften)
	// Output: [ABS ASA PC PA12 PA6] [PLA PETG]
}
