package twin_test

import (
	"fmt"

	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/pieces"
)

// A nub's mesh against its cone.
func ExampleMeasure() {
	n := &pieces.NubPiece{Base: 5.35, AngleDeg: 120}
	m, err := solid.Nub(n, 0.01)
	if err != nil {
		fmt.Println(err)
		return
	}
	cone, err := twin.Nub(n)
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := twin.Measure(m, cone, twin.Options{})
	fmt.Println("within 0.01 mm both ways:", d.Worst() <= 0.01, err)
	// Output: within 0.01 mm both ways: true <nil>
}
