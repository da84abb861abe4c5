package profile_test

import (
	"errors"
	"fmt"
	"os"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

func Example() {
	data, err := os.ReadFile("../testdata/thistle.dxf")
	if err != nil {
		fmt.Println(err)
		return
	}
	d, err := dxf.Parse(data, "thistle.dxf")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := profile.Read(d, profile.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := p.Plan(profile.Hints{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s on layer %s: %.1f mm2, %d holes\n", p.Units, p.Layer, p.Outline.Area(), len(p.Holes))
	fmt.Printf("tip at x = %.1f, heel at x = %.1f, handle's front at x = %.1f\n", plan.Tip.X, plan.Heel.X, plan.HandleFront)
	fmt.Println(plan.Frame.Throat)
	// Output:
	// mm on layer OUTLINE: 5948.0 mm2, 2 holes
	// tip at x = 107.0, heel at x = 17.0, handle's front at x = 2.0
	// throat at the line on its layer
}

func ExampleRead_faults() {
	data, _ := os.ReadFile("../testdata/drawings/bad/open-outline-wide.dxf")
	d, _ := dxf.Parse(data, "knife.dxf")
	_, err := profile.Read(d, profile.Options{})
	var faults dxf.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			fmt.Println(f)
		}
	}
	// Output:
	// knife.dxf:19: open-outline: LWPOLYLINE handle 21 layer OUTLINE: open: no other end near the one at (-50.000, -39.000) mm
	// knife.dxf:19: open-outline: LWPOLYLINE handle 21 layer OUTLINE: open: no other end near the one at (-50.000, -9.000) mm
}
