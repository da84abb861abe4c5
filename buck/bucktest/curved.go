package bucktest

import (
	"fmt"
	"io/fs"
	"math"
	"testing"

	"formbuck/buck/bucktest/sketch"
	"formbuck/buck/variant"
	"formbuck/profile"
)

// Curved are the names of knives whose blades do not run straight, or whose handles end in a ring. One more, the crescent,
// lies between two circles and is drawn along them.
func Curved() []string { return []string{"trailing", "hawkbill", "ring", "sabre", "forward", "sickle"} }

// CurvedFiles are the files of a curved knife as its maker would have them, NAME.dxf and NAME.toml: a drawing with outline,
// handle, edge mark and tip, a variant with the three measures that one has to state and what is added.
func CurvedFiles(name, more string) func(path string) ([]byte, error) {
	nodes := curves()[name]
	edge, tip := nodes[3], nodes[4]
	d := &sketch.Drawing{}
	for _, a := range sketch.Through(true, nodes...) {
		d.LineOrArc("OUTLINE", a)
	}
	d.Line("HANDLE", 0, -40, 0, 40)
	d.Line("EDGE", edge.X-3, edge.Y-3, edge.X+3, edge.Y-3)
	out := (nodes[4].In + nodes[4].Out - 180) / 2 * math.Pi / 180
	d.Line("TIP", tip.X+math.Cos(out), tip.Y+math.Sin(out), tip.X+5*math.Cos(out), tip.Y+5*math.Sin(out))
	text := fmt.Sprintf("name = %q\n[drawing]\nfile = \"%s.dxf\"\ntip = \"0 deg\"\nedge = \"-90 deg\"\n"+
		"[blade]\nthickness = 3\nplunge = %.3f\n[handle]\nthickness = 18\n%s", name, name, tip.X-9.5, more)
	files := map[string][]byte{
		name + ".toml": []byte(text),
		name + ".dxf":  d.Bytes(sketch.Millimetres, "OUTLINE", "HANDLE", "EDGE", "TIP"),
	}
	return func(path string) ([]byte, error) {
		if data, ok := files[path]; ok {
			return data, nil
		}
		return nil, fs.ErrNotExist
	}
}

// CurvedKnife is a curved knife with more in its variant file, or the test fails.
func CurvedKnife(t testing.TB, name, more string) (*variant.Variant, *profile.Plan) {
	t.Helper()
	return Drawn(t, name+".toml", CurvedFiles(name, more))
}

// curves are the outlines from the handle's front on its edge side by the heel, the belly and the tip, round the butt. The
// fourth node lies on the edge, the fifth is the tip.
func curves() map[string][]sketch.Node {
	c, s := sketch.Corner, sketch.Smooth
	handle := func(h float64) []sketch.Node {
		return []sketch.Node{
			c(0, h, 180, 180), s(-55, h+2, 180), s(-108, 0, 270), s(-55, -h-3, 0),
		}
	}
	ring := func(h float64) []sketch.Node {
		return []sketch.Node{
			c(0, h, 180, 180), s(-50, h+1, 183), s(-86, 13, 180), s(-102, -4, 270), s(-86, -20, 0), s(-50, -h-1, 3),
		}
	}
	front := func(h float64) []sketch.Node { return []sketch.Node{c(0, -h, 0, 0), c(6, -h, 0, -60)} }
	knife := func(h float64, grip []sketch.Node, blade ...sketch.Node) []sketch.Node {
		return append(append(front(h), blade...), grip...)
	}
	// on is a node on a circle about (0, 140), deg ahead of the front
	on := func(radius, deg, back float64) sketch.Node {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return s(radius*sin, 140-radius*cos, deg+back)
	}
	point := on(131, 46, 0)
	return map[string][]sketch.Node{
		// a blade that lies between two circles
		"crescent": append([]sketch.Node{
			c(0, -11, 0, 0), on(151, 12, 0), on(151, 24, 0), on(151, 34, 0), c(point.X, point.Y, 75, 224), on(129, 30, 180), on(129, 15, 180),
		}, handle(11)...),
		// a tip 13 mm above the spine's line
		"trailing": knife(11, handle(11), c(9, -14, -60, 2), s(62, -15, 4), c(128, 24, 52, 208), s(70, 10, 182)),
		// a hollow edge and a tip below the heel
		"hawkbill": knife(11, handle(11), c(9, -12, -60, 10), s(36, -11, -8), c(80, -30, -48, 112), s(52, 6, 164)),
		// bent down all along, a ring at the butt
		"ring": knife(10, ring(10), c(9, -12, -60, 2), s(34, -16, -22), c(70, -44, -52, 124), s(40, 4, 162)),
		// an even curve upwards, about a point 160 mm above
		"sabre": knife(11, handle(11), c(9, -12, -60, 3), s(75, 4, 26), c(140, 52, 50, 214), s(75, 26, 205)),
		// bent forwards, widest ahead of the middle
		"forward": knife(11, handle(11), c(9, -12, -60, 3), s(60, -20, -12), c(150, -22, 40, 150), s(70, 4, 164)),
		// half a circle, the edge inside
		"sickle": knife(10, ring(10), c(9, -11, -60, 20), s(40, -10, -16), c(84, -44, -62, 104), s(54, 8, 150)),
	}
}
