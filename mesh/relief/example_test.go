package relief_test

import (
	"fmt"

	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// A roof over a square: its ridge is drawn, its eaves stand a millimetre high.
func ExampleBuild() {
	eaves := relief.Line{Closed: true, Points: []r2.Vec{{X: -3, Y: -2}, {X: 3, Y: -2}, {X: 3, Y: 2}, {X: -3, Y: 2}}}
	ridge := relief.Line{Points: []r2.Vec{{X: -3}, {X: 3}}}
	body := relief.Body{
		Lines: []relief.Line{eaves, ridge},
		Spans: func(p r2.Vec) []relief.Span {
			if p.X < -3 || p.X > 3 || p.Y < -2 || p.Y > 2 {
				return nil
			}
			return []relief.Span{{
				Low:  func(r2.Vec) float64 { return 0 },
				High: func(p r2.Vec) float64 { return 3 - max(p.Y, -p.Y) },
			}}
		},
	}
	m, err := relief.Build(body, relief.Options{})
	fmt.Printf("%d triangles, %.0f mm3, %v\n", len(m.Triangles), m.Volume(), err)
	// Output: 20 triangles, 48 mm3, <nil>
}
