package measures_test

import (
	"math"
	"testing"

	"formbuck/buck/measures"
)

// TestFoldExtra checks the sheet that an edge draws in against a table worked by hand from the two arcs and
// the wall, printed to two places.
func TestFoldExtra(t *testing.T) {
	sheets := []float64{1.5, 2, 2.4, 3.2}
	for h, row := range map[float64][4]float64{
		1: {.28, .24, .22, .19}, 1.6: {.58, .50, .45, .39}, 2: {.83, .70, .64, .54}, 2.5: {1.20, 1.01, .91, .77},
		3: {1.63, 1.36, 1.21, 1.03}, 4: {2.55, 2.20, 1.95, 1.63}, 11: {9.0, 8.6, 8.3, 7.8},
	} {
		for i, sheet := range sheets {
			places := 0.0051
			if h == 11 {
				places = 0.051
			}
			got := measures.Fold{Half: h, Sheet: sheet, Edge: 0.2, DraftDeg: 5}.Extra()
			if math.Abs(got-row[i]) > places {
				t.Errorf("half %g, sheet %g: %.4f mm drawn in, want %.2f", h, sheet, got, row[i])
			}
		}
	}
}
