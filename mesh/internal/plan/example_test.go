package plan_test

import (
	"fmt"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// A plate of 10 x 6 mm with a square window of 2 x 2 mm, cut in two by a line.
func Example() {
	t, err := plan.New(r2.NewBox(0, 0, 10, 6))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, line := range []struct {
		points []r2.Vec
		closed bool
	}{
		{[]r2.Vec{{}, {X: 10}, {X: 10, Y: 6}, {Y: 6}}, true},
		{[]r2.Vec{{X: 1, Y: 2}, {X: 3, Y: 2}, {X: 3, Y: 4}, {X: 1, Y: 4}}, true},
		{[]r2.Vec{{X: 5}, {X: 5, Y: 6}}, false},
	} {
		if err := t.AddLine(line.points, line.closed); err != nil {
			fmt.Println(err)
			return
		}
	}
	window := t.Locate(r2.Vec{X: 2, Y: 3})
	left := t.Locate(r2.Vec{X: 4, Y: 1})
	right := t.Locate(r2.Vec{X: 9, Y: 1})

	regions := t.Regions()
	points := t.Points()
	area := make(map[int32]float64)
	for i, v := range t.Triangles() {
		a, b, c := points[v[0]], points[v[1]], points[v[2]]
		area[regions[i]] += r2.Cross(r2.Sub(b, a), r2.Sub(c, a)) / 2
	}
	fmt.Printf("window %.1f mm2\n", area[regions[window]])
	fmt.Printf("left of the line %.1f mm2\n", area[regions[left]])
	fmt.Printf("right of the line %.1f mm2\n", area[regions[right]])
	// Output:
	// window 4.0 mm2
	// left of the line 26.0 mm2
	// right of the line 30.0 mm2
}
