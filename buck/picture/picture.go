// Package picture draws shaded pictures of meshes, made to be understood at a glance in a shop:
// soft light, thin dark lines along real edges with hidden lines removed, overall dimensions in
// mm, a scale bar and the axes of the knife's frame (x to the tip, y to the spine, z out of the
// right face). Projection is parallel, so a length reads the same wherever it lies.
//
// How a picture is made: the parts are welded and their edges sorted into real edges and seams of
// a smooth surface; a depth buffer with two by two samples a pixel finds what is seen; every pixel
// is lit once for each smooth patch it shows; lines are drawn with exact coverage where the depth
// buffer says that they are seen.
//
// The rasteriser is our own. Package fauxgl was tried first and measured (BenchmarkRasterisers
// draws the same mesh of 20 000 triangles with both, on one core): at the same two by two samples
// it takes 127 ms for the shaded surface alone where a whole picture here takes 34 ms; it tells no
// caller which triangle a sample shows, which hidden lines need; and it leaves surfaces of equal
// depth to the order of goroutines: two coincident shells of two colours came out different in
// each of 20 runs.
//
// Same parts, same options: same picture, byte for byte. Nothing here runs concurrently, keeps
// state or reads a clock, so pictures may be drawn on several goroutines at once. Processors for
// which the compiler fuses multiply and add may differ from others by a step of tone in a pixel.
package picture

import (
	"cmp"
	"image"
	"image/color"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

// Part is one body of a picture.
type Part struct {
	Name   string      // for the legend; empty: not in the legend
	Mesh   *mesh.Mesh  // in mm, triangles counter-clockwise seen from outside
	Colour color.NRGBA // alpha is ignored; the zero value takes a colour from our palette by index
	Faint  bool        // drawn as if of glass, to show where the other parts sit
}

// Mark points at a place of interest, such as a fault of a mesh.
type Mark struct {
	At    r3.Vec // mm
	Label string
}

// Options say how a picture is laid out. The zero value works.
type Options struct {
	Width, Height int     // pixels, zero or at least 480 x 360 and at most 8192; zero: 1200 x 900
	Title         string  // one line, cut with an ellipsis where it is too long
	Caption       string  // several lines, small; long lines are wrapped
	View          View    // zero: ThreeQuarter
	CreaseDeg     float64 // edges bent by more are sharp; zero: 22
	NoSizes       bool    // leaves the overall dimensions away
	Marks         []Mark
	Edge, Spine   string // what the two sides of the blade are called; "": edge and spine
}

// sides are what the two sides of the blade are called.
func (o Options) sides() (edge, spine string) {
	return cmp.Or(o.Edge, "edge"), cmp.Or(o.Spine, "spine")
}

// Draw makes one picture of all parts together, seen as o.View says. Its pixels are opaque. The
// inside of a surface, seen only where a mesh is open or turned inside out, is drawn in rose.
// The error is an *Error.
func Draw(parts []Part, o Options) (*image.NRGBA, error) {
	return compose(parts, o, onePane)
}

// Views makes one picture with three panes of one scale: plan, side and three-quarter. Plan and
// side are aligned along x, the side view standing under the plan as third-angle projection has
// it (ISO 5456-2:1996). When o.View looks from the left face (negative z) so do the plan and, with
// z pointing down, the side. The error is an *Error.
func Views(parts []Part, o Options) (*image.NRGBA, error) {
	return compose(parts, o, threePanes)
}

// Seen tells, for each of the views, which of the marks Draw shows as seen, and not dashed because they are behind a part.
// o.View does not count. The error is an *Error.
func Seen(parts []Part, o Options, views ...View) ([][]bool, error) {
	all := make([][]bool, len(views))
	var sc *scene
	for k, v := range views {
		var err error
		o.View = v
		if o, err = o.complete(); err != nil {
			return nil, err
		}
		if sc == nil {
			if sc, err = sceneOf(parts, o); err != nil {
				return nil, err
			}
		}
		s, panes, err := lay(sc, o, onePane)
		if err != nil {
			return nil, err
		}
		d := newDrawing(panes[0], s)
		d.fillBuffers()
		for _, m := range o.Marks {
			all[k] = append(all[k], d.seen(m))
		}
	}
	return all, nil
}

// compose checks, lays out and paints.
func compose(parts []Part, o Options, panes func(*sheet) ([]*pane, error)) (*image.NRGBA, error) {
	o, err := o.complete()
	if err != nil {
		return nil, err
	}
	sc, err := sceneOf(parts, o)
	if err != nil {
		return nil, err
	}
	s, all, err := lay(sc, o, panes)
	if err != nil {
		return nil, err
	}
	for _, p := range all {
		p.castShadow()
	}
	for _, p := range all {
		p.paint()
	}
	s.furnish()
	return s.image(), nil
}

// sceneOf checks parts and marks.
func sceneOf(parts []Part, o Options) (*scene, error) {
	sc, err := newScene(parts, o.CreaseDeg)
	if err != nil {
		return nil, err
	}
	return sc, checkMarks(o.Marks)
}

// lay lays a scene out.
func lay(sc *scene, o Options, panes func(*sheet) ([]*pane, error)) (*sheet, []*pane, error) {
	s, err := newSheet(sc, o)
	if err != nil {
		return nil, nil, err
	}
	all, err := panes(s)
	return s, all, err
}

// complete fills the defaults in and refuses what cannot be drawn.
func (o Options) complete() (Options, error) {
	if o.Width == 0 {
		o.Width = 1200
	}
	if o.Height == 0 {
		o.Height = 900
	}
	if o.Width < 480 || o.Width > 8192 || o.Height < 360 || o.Height > 8192 {
		return o, &Error{Fault: BadSize, Detail: fmtSize(o.Width, o.Height)}
	}
	if o.CreaseDeg == 0 {
		o.CreaseDeg = 22
	}
	if !(o.CreaseDeg > 0 && o.CreaseDeg <= 180) {
		return o, &Error{Fault: BadCrease, Detail: fmtDeg(o.CreaseDeg)}
	}
	if o.View == (View{}) {
		o.View = ThreeQuarter()
	}
	return o, o.View.check()
}

// Colour is that of a picture's part by its index, where none is given. The palette is our own: mid tones that stand off a
// light ground and carry dark lines.
func Colour(i int) color.NRGBA {
	colours := [...]color.NRGBA{
		{226, 164, 84, 255},  // amber
		{96, 150, 176, 255},  // slate blue
		{150, 172, 96, 255},  // olive
		{200, 112, 92, 255},  // brick
		{142, 128, 178, 255}, // plum
		{100, 172, 154, 255}, // verdigris
		{196, 186, 164, 255}, // sand
		{140, 148, 158, 255}, // steel
	}
	return colours[i%len(colours)]
}

// finite tells whether all of v can be drawn.
func finite(v r3.Vec) bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}
