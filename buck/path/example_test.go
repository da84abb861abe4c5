package path_test

import (
	"fmt"

	"formbuck/buck/path"
)

// A blade whose sections, from the mouth at the left to the tip, are thinnest before the mouth: what has to be
// filled there for the rest to pass.
func ExampleStraight() {
	blade := &path.Map{
		Grid: path.Grid{Step: 1, NX: 6, NY: 1},
		Z:    []float64{4.5, 1.1, 1.1, 1.6, 1.6, 0.2},
	}
	passes := path.Straight(blade)
	for i, h := range blade.Z {
		fmt.Printf("%.1f ", passes.Z[i]-h)
	}
	// Output: 0.0 0.5 0.5 0.0 0.0 0.0
}
