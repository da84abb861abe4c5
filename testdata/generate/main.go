// Generate draws the demo knives, invented shapes, into the folder it is given (. without one).
//
// Each knife is laid out in the blade's own axes (x towards the tip, y towards the spine, the
// handle's front at x = 0, mm) and then brought into the units and the position of its drawing.
package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"

	"formbuck/buck/bucktest/sketch"
)

func main() {
	dir := "."
	if len(os.Args) > 1 {
		dir = os.Args[1]
	}
	files := []struct {
		name string
		data []byte
	}{
		{"thistle.dxf", thistle()},
		{"minnow.dxf", minnow()},
		{"otter.dxf", otter()},
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(dir, f.name), f.data, 0o644); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
}

// thistle is a drop-point hunter with a finger notch before the heel, in mm, tip right, edge down.
func thistle() []byte {
	blade := []sketch.Node{
		sketch.Corner(-1.5, -14.6, 20, 62),
		sketch.Smooth(7, -6.2, 0),
		sketch.Corner(15, -12.6, -62, -8),
		sketch.Smooth(58, -17.2, 0),
		sketch.Corner(105, 1.5, 46, 152),
		sketch.Smooth(52, 14.2, 177),
	}
	handle := []sketch.Node{
		sketch.Corner(-1.5, 13.4, 180, 180),
		sketch.Smooth(-48, 15.8, 183),
		sketch.Smooth(-98, 11.4, 190),
		sketch.Smooth(-120, -1, 268),
		sketch.Smooth(-113, -17.6, 318),
		sketch.Smooth(-104, -18.2, 20),
		sketch.Smooth(-88, -14.6, 8),
		sketch.Smooth(-58, -16.4, 0),
		sketch.Smooth(-20, -11, 4),
	}
	at := sketch.Pose{X: 140, Y: 60, Unit: 1}
	d := &sketch.Drawing{}
	d.Polyline("OUTLINE", at.Arcs(sketch.Through(true, append(blade, handle...)...)), true)
	for _, hole := range [2][2]float64{{-108, -3}, {-38, 1}} {
		x, y := at.Point(hole[0], hole[1])
		d.Circle("OUTLINE", x, y, 3.2)
	}
	scale := sketch.Through(false, append(handle, sketch.Corner(-1.5, -14.6, 20, 0))...)
	scale = append(scale, sketch.Arc{AX: -1.5, AY: -14.6, BX: -1.5, BY: 13.4, Bulge: math.Tan(2 * math.Atan(1.5/14.0) / 2)})
	d.Polyline("HANDLE", at.Arcs(scale), true)
	d.Polyline("GRIND", at.Arcs(sketch.Through(false, sketch.Smooth(15.4, -12.4, 80), sketch.Smooth(22, 2.4, 20), sketch.Smooth(30, 3.6, 0), sketch.Smooth(70, 3.6, 0), sketch.Smooth(96.5, 5.7, 12))), false)
	x0, y0 := at.Point(-2, -19)
	x1, y1 := at.Point(-2, 18)
	d.Line("THROAT", x0, y0, x1, y1)
	d.Text("NOTES", 10, 10, 4, "THISTLE drop point, 3.2 stock")
	return d.Bytes(sketch.Millimetres, "OUTLINE", "HANDLE", "GRIND", "THROAT", "NOTES")
}

// minnow is a slim boning knife of splines and an ellipse, in inches, tip to the left and askew.
func minnow() []byte {
	at := sketch.Pose{Deg: 158, X: 150, Y: 20, Unit: 25.4}
	d := &sketch.Drawing{}
	// spine from the butt's top to the tip, edge from the tip to the handle's underside
	d.Spline("OUTLINE", at.Points([][2]float64{
		{-100, 9.5}, {-80, 11.5}, {-45, 12}, {-20, 9}, {10, 9.4}, {60, 10.6}, {100, 8.4}, {122, 6.6}, {131, 5.2},
	}))
	d.Spline("OUTLINE", at.Points([][2]float64{
		{131, 5.2}, {120, -1.6}, {98, -7.4}, {60, -8.2}, {30, -7.0}, {12, -7.8}, {6, -8.6},
	}))
	d.Spline("OUTLINE", at.Points([][2]float64{
		{6, -8.6}, {1, -9.2}, {-4, -14}, {-14, -12.6}, {-30, -8.8}, {-60, -10.6}, {-85, -9.5}, {-100, -9.5},
	}))
	cx, cy := at.Point(-100, 0)
	tx, ty := at.Point(-100, 9.5)
	d.Ellipse("OUTLINE", [2]float64{cx, cy}, [2]float64{tx - cx, ty - cy}, 0.9, 0, math.Pi)
	fx, fy := at.Point(0, -16)
	gx, gy := at.Point(0, 13)
	d.Line("HANDLE", fx, fy, gx, gy)
	fx, fy = at.Point(-3, -17)
	gx, gy = at.Point(-3, 14)
	d.Line("THROAT", fx, fy, gx, gy)
	d.Spline("GRIND", at.Points([][2]float64{{8, -8.2}, {9, 0}, {14, 5}, {30, 6}, {70, 7}, {105, 6.2}, {125, 5.6}}))
	return d.Bytes(sketch.Inches, "OUTLINE", "HANDLE", "THROAT", "GRIND")
}

// otter is a recurved knife of single lines and arcs in no order, in cm, tip up, seen on its left
// face.
func otter() []byte {
	at := sketch.Pose{Mirror: true, Deg: 90, X: 55, Y: 140, Unit: 10}
	outline := sketch.Through(true,
		sketch.Corner(0, -15, 12, 40),
		sketch.Smooth(8, -9.6, 0),
		sketch.Corner(14.5, -14.2, -55, 22),
		sketch.Smooth(46, -8.8, -2),
		sketch.Smooth(88, -14.4, 3),
		sketch.Corner(122, 3.5, 50, 160),
		sketch.Smooth(70, 13.6, 178),
		sketch.Smooth(10, 13, 180),
		sketch.Smooth(-40, 14.6, 182),
		sketch.Smooth(-92, 11, 190),
		sketch.Smooth(-112, -2, 272),
		sketch.Smooth(-102, -17.5, 338),
		sketch.Smooth(-80, -14, 12),
		sketch.Smooth(-50, -16, 0),
		sketch.Smooth(-18, -12, 0),
	)
	d := &sketch.Drawing{}
	for i := range outline {
		// 7 has no factor in common with the number of pieces: every piece comes once
		a := at.Arcs(outline[i*7%len(outline) : i*7%len(outline)+1])[0]
		if i%3 == 1 {
			a = sketch.Arc{AX: a.BX, AY: a.BY, BX: a.AX, BY: a.AY, Bulge: -a.Bulge}
		}
		d.LineOrArc("OUTLINE", a)
	}
	for i, a := range at.Arcs(sketch.Through(false, sketch.Smooth(14.7, -14, 84), sketch.Smooth(21, 2.4, 20), sketch.Smooth(30, 3.8, 0), sketch.Smooth(90, 4, 2), sketch.Smooth(108.5, 7, 14))) {
		if i%2 == 0 {
			a = sketch.Arc{AX: a.BX, AY: a.BY, BX: a.AX, BY: a.AY, Bulge: -a.Bulge}
		}
		d.LineOrArc("GRIND", a)
	}
	x0, y0 := at.Point(0, -18)
	x1, y1 := at.Point(0, 16)
	d.Line("HANDLE", x0, y0, x1, y1)
	x0, y0 = at.Point(-2.5, -18)
	x1, y1 = at.Point(-2.5, 16)
	d.Line("THROAT", x0, y0, x1, y1)
	return d.Bytes(sketch.Centimetres, "OUTLINE", "GRIND", "HANDLE", "THROAT")
}
