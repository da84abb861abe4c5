package ngc_test

import (
	"fmt"
	"strings"

	"formbuck/buck/program/ngc"
)

func Example() {
	p, err := ngc.Read("two.ngc", strings.NewReader(`(two holes)
G21 G17 G90 G94 G98
S2500 M3 F250
G0 Z15
G81 X10 Y20 Z-2 R5
X40
M5
M2
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range p.Motions {
		if m.Kind == ngc.Feed {
			fmt.Printf("line %d: drills at (%g, %g) down to %g mm\n", m.Line, m.To.X, m.To.Y, m.To.Z)
		}
	}
	_, err = ngc.Read("wrong.ngc", strings.NewReader("G21 G90\nG0 X1 G41\nM2\n"))
	fmt.Println(err)
	// Output:
	// line 5: drills at (10, 20) down to -2 mm
	// line 6: drills at (40, 20) down to -2 mm
	// wrong.ngc:2:7: G41 is not read here: cutter compensation is left to no machine: write the path of the tool's centre
}
