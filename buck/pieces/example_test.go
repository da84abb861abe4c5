package pieces_test

import (
	"fmt"

	"formbuck/buck/bucktest"
	"formbuck/buck/pieces"
)

// A handle that gets thicker raises the clip, and the clip the boss: half a millimetre for each.
func ExampleNewStandoff() {
	for _, thickness := range []float64{22, 24} {
		s := bucktest.Spec()
		s.Handle.Thickness = thickness
		knife, err := pieces.NewBuck(bucktest.Hunter(), s)
		if err != nil {
			fmt.Println(err)
			return
		}
		boss, err := pieces.NewStandoff(knife)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.2f mm over the face, for the %s\n", boss.Height(), boss.Governing().What)
	}
	// Output:
	// 8.60 mm over the face, for the clip over the bare handle
	// 9.60 mm over the face, for the clip over the bare handle
}
