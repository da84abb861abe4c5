package picture

import (
	"fmt"
	"image/color"
	"math"

	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// chordTolerance is how far chords of curves may lie from them, in mm: a fraction of a pixel.
const chordTolerance = 0.02

// knife draws the knife's outlines, moved as the function says.
func (c *canvas) knife(k *pieces.Buck, f frame, move func(r2.Vec) r2.Vec, line color.NRGBA, fill bool) {
	loops := [][]r2.Vec{k.Plan.Outline.Flatten(chordTolerance)}
	if len(k.Plan.Handle) > 0 {
		loops = append(loops, k.Plan.Handle.Flatten(chordTolerance))
	}
	if len(k.Plan.Guard) > 0 {
		loops = append(loops, k.Plan.Guard.Flatten(chordTolerance))
	}
	for i, loop := range loops {
		for j, p := range loop {
			loop[j] = f.at(move(p))
		}
		if fill {
			shade := steel
			if i > 0 {
				shade = color.NRGBA{112, 104, 96, 255}
			}
			c.fill(shade, loop)
		}
		c.line(line, 1.6, closed(loop)...)
	}
	if len(k.Plan.Grind) > 0 {
		grind := k.Plan.Grind.Flatten(chordTolerance)
		for j, p := range grind {
			grind[j] = f.at(move(p))
		}
		c.line(color.NRGBA{line.R, line.G, line.B, 120}, 1, grind...)
	}
}

func still(p r2.Vec) r2.Vec { return p }

// pieces draws the outlines of what is on the buck.
func (c *canvas) pieces(b path.Buck, on measures.Face, f frame) {
	for _, r := range b.On(on) {
		h := r.Head
		c.dashed(quiet, 1.6, 7, f.all(closed([]r2.Vec{
			r.Blade(h.Min), r.Blade(r2.Vec{X: h.Max.X, Y: h.Min.Y}), r.Blade(h.Max), r.Blade(r2.Vec{X: h.Min.X, Y: h.Max.Y}),
		}))...)
	}
	for _, face := range b.Faces {
		if face != on {
			continue
		}
		for _, s := range b.Bosses() {
			c.dashed(quiet, 1.6, 7, f.all(closed(pill(s.Foot())))...)
		}
	}
	if d := b.Drain; d != nil {
		c.dashed(quiet, 1.6, 7, f.all(closed([]r2.Vec{
			d.At(r2.Vec{X: d.From, Y: -d.RadiusAt(d.From)}), d.At(r2.Vec{X: d.To, Y: -d.RadiusAt(d.To)}),
			d.At(r2.Vec{X: d.To, Y: d.RadiusAt(d.To)}), d.At(r2.Vec{X: d.From, Y: d.RadiusAt(d.From)}),
		}))...)
	}
}

func pill(p pieces.Pill) []r2.Vec {
	var points []r2.Vec
	r, reach := p.Width/2, (p.Length-p.Width)/2
	for i := range 80 {
		a := 2 * math.Pi * (float64(i) + 0.5) / 80
		points = append(points, p.At(r2.Vec{X: math.Copysign(reach, math.Cos(a)) + r*math.Cos(a), Y: r * math.Sin(a)}))
	}
	return points
}

// tint is the colour of an interference, in mm: blue where there is room, yellow to dark red where the
// sheath must open, by up to most.
func tint(i, most float64) color.NRGBA {
	type stop struct {
		at      float64
		r, g, b float64
	}
	stops := []stop{
		{-1, 168, 196, 220},
		{0, 226, 236, 238},
		{0, 226, 236, 238},
		{1e-9, 255, 236, 150},
		{0.25, 252, 190, 80},
		{0.55, 226, 84, 48},
		{1, 120, 8, 38},
	}
	t := max(i, -1)
	if i > 0 {
		t = min(i/most, 1)
	}
	for n := 1; n < len(stops); n++ {
		a, b := stops[n-1], stops[n]
		if t <= b.at {
			u := 0.0
			if b.at > a.at {
				u = (t - a.at) / (b.at - a.at)
			}
			mix := func(x, y float64) uint8 { return uint8(x + (y-x)*u + 0.5) }
			return color.NRGBA{mix(a.r, b.r), mix(a.g, b.g), mix(a.b, b.b), 255}
		}
	}
	last := stops[len(stops)-1]
	return color.NRGBA{uint8(last.r), uint8(last.g), uint8(last.b), 255}
}

// scaleBar draws the colours with their figures.
func (c *canvas) scaleBar(x, y, w, most float64) {
	const room = 0.5 // mm of clearance that are shown
	span := room + most
	for i := range int(w) {
		mm := -room + span*(float64(i)+0.5)/w
		c.box(tint(mm, most), x+float64(i), y, 1, 20)
	}
	tick := 0.1
	for _, t := range []float64{0.2, 0.25, 0.5, 1, 2} {
		if span/tick > 8 {
			tick = t
		}
	}
	for mm := -math.Floor(room/tick) * tick; mm <= most+1e-9; mm += tick {
		px := x + w*(mm+room)/span
		c.line(ink, 1, r2.Vec{X: px, Y: y + 20}, r2.Vec{X: px, Y: y + 26})
		s := fmt.Sprintf("%.3g", math.Abs(mm))
		if math.Abs(mm) < 1e-9 {
			s = "0"
		}
		c.text(s, px-c.width(s, 16)/2, y+42, 16, ink)
	}
	c.text("room left, mm", x, y-8, 16, quiet)
	s := "must open, mm on each half"
	c.text(s, x+w-c.width(s, 16), y-8, 16, quiet)
}

// rule draws a length of 20 mm.
func (c *canvas) rule(f frame, x, y float64) {
	w := 20 * f.scale
	for i := range 4 {
		k := ink
		if i%2 == 1 {
			k = hair
		}
		c.box(k, x+w*float64(i)/4, y, w/4, 6)
	}
	c.text("20 mm", x+w+8, y+8, 16, quiet)
}
