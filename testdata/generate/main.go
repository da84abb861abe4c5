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
)

// Values of $INSUNITS.
const (
	inches      = 1
	millimetres = 4
	centimetres = 5
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
	blade := []node{
		corner(-1.5, -14.6, 20, 62),
		smooth(7, -6.2, 0),
		corner(15, -12.6, -62, -8),
		smooth(58, -17.2, 0),
		corner(105, 1.5, 46, 152),
		smooth(52, 14.2, 177),
	}
	handle := []node{
		corner(-1.5, 13.4, 180, 180),
		smooth(-48, 15.8, 183),
		smooth(-98, 11.4, 190),
		smooth(-120, -1, 268),
		smooth(-113, -17.6, 318),
		smooth(-104, -18.2, 20),
		smooth(-88, -14.6, 8),
		smooth(-58, -16.4, 0),
		smooth(-20, -11, 4),
	}
	at := pose{x: 140, y: 60, unit: 1}
	d := &drawing{}
	d.polyline("OUTLINE", at.arcs(through(true, append(blade, handle...)...)), true)
	hx, hy := at.point(-108, -3)
	d.circle("OUTLINE", hx, hy, 3.2)
	scale := through(false, append(handle, corner(-1.5, -14.6, 20, 0))...)
	scale = append(scale, arc{-1.5, -14.6, -1.5, 13.4, math.Tan(2 * math.Atan(1.5/14.0) / 2)})
	d.polyline("HANDLE", at.arcs(scale), true)
	d.polyline("GRIND", at.arcs(through(false, smooth(15.4, -12.4, 80), smooth(22, 2.4, 20), smooth(30, 3.6, 0), smooth(70, 3.6, 0), smooth(96.5, 5.7, 12))), false)
	x0, y0 := at.point(-2, -19)
	x1, y1 := at.point(-2, 18)
	d.line("THROAT", x0, y0, x1, y1)
	d.text("NOTES", 10, 10, 4, "THISTLE drop point, 3.2 stock")
	return d.bytes(millimetres, "OUTLINE", "HANDLE", "GRIND", "THROAT", "NOTES")
}

// minnow is a slim boning knife of splines and an ellipse, in inches, tip to the left and askew.
func minnow() []byte {
	at := pose{deg: 158, x: 150, y: 20, unit: 25.4}
	d := &drawing{}
	// spine from the butt's top to the tip, edge from the tip to the handle's underside
	d.spline("OUTLINE", at.points([][2]float64{
		{-100, 9.5}, {-80, 11.5}, {-45, 12}, {-20, 9}, {10, 9.4}, {60, 10.6}, {100, 8.4}, {122, 6.6}, {131, 5.2},
	}))
	d.spline("OUTLINE", at.points([][2]float64{
		{131, 5.2}, {120, -1.6}, {98, -7.4}, {60, -8.2}, {30, -7.0}, {12, -7.8}, {6, -8.6},
	}))
	d.spline("OUTLINE", at.points([][2]float64{
		{6, -8.6}, {1, -9.2}, {-4, -14}, {-14, -12.6}, {-30, -8.8}, {-60, -10.6}, {-85, -9.5}, {-100, -9.5},
	}))
	cx, cy := at.point(-100, 0)
	tx, ty := at.point(-100, 9.5)
	d.ellipse("OUTLINE", [2]float64{cx, cy}, [2]float64{tx - cx, ty - cy}, 0.9, 0, math.Pi)
	fx, fy := at.point(0, -16)
	gx, gy := at.point(0, 13)
	d.line("HANDLE", fx, fy, gx, gy)
	fx, fy = at.point(-3, -17)
	gx, gy = at.point(-3, 14)
	d.line("THROAT", fx, fy, gx, gy)
	d.spline("GRIND", at.points([][2]float64{{8, -8.2}, {9, 0}, {14, 5}, {30, 6}, {70, 7}, {105, 6.2}, {125, 5.6}}))
	return d.bytes(inches, "OUTLINE", "HANDLE", "THROAT", "GRIND")
}

// otter is a recurved knife of single lines and arcs in no order, in cm, tip up, seen on its left
// face.
func otter() []byte {
	at := pose{mirror: true, deg: 90, x: 55, y: 140, unit: 10}
	outline := through(true,
		corner(0, -15, 12, 40),
		smooth(8, -9.6, 0),
		corner(14.5, -14.2, -55, 22),
		smooth(46, -8.8, -2),
		smooth(88, -14.4, 3),
		corner(122, 3.5, 50, 160),
		smooth(70, 13.6, 178),
		smooth(10, 13, 180),
		smooth(-40, 14.6, 182),
		smooth(-92, 11, 190),
		smooth(-112, -2, 272),
		smooth(-102, -17.5, 338),
		smooth(-80, -14, 12),
		smooth(-50, -16, 0),
		smooth(-18, -12, 0),
	)
	d := &drawing{}
	for i := range outline {
		// 7 has no factor in common with the number of pieces: every piece comes once
		a := at.arcs(outline[i*7%len(outline) : i*7%len(outline)+1])[0]
		if i%3 == 1 {
			a = arc{a.bx, a.by, a.ax, a.ay, -a.bulge}
		}
		d.lineOrArc("OUTLINE", a)
	}
	for i, a := range at.arcs(through(false, smooth(14.7, -14, 84), smooth(21, 2.4, 20), smooth(30, 3.8, 0), smooth(90, 4, 2), smooth(108.5, 7, 14))) {
		if i%2 == 0 {
			a = arc{a.bx, a.by, a.ax, a.ay, -a.bulge}
		}
		d.lineOrArc("GRIND", a)
	}
	x0, y0 := at.point(0, -18)
	x1, y1 := at.point(0, 16)
	d.line("HANDLE", x0, y0, x1, y1)
	x0, y0 = at.point(-2.5, -18)
	x1, y1 = at.point(-2.5, 16)
	d.line("THROAT", x0, y0, x1, y1)
	return d.bytes(centimetres, "OUTLINE", "GRIND", "HANDLE", "THROAT")
}
