package drawing

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"formbuck/profile"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
	"gonum.org/v1/gonum/spatial/r2"
)

// PNG writes the drawing as a picture with so many dots an inch.
func (d *Drawing) PNG(to io.Writer, dpi float64) error {
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	return e.Encode(to, d.Image(dpi))
}

// Image is the drawing in pixels.
func (d *Drawing) Image(dpi float64) *image.NRGBA {
	scale := dpi / 25.4
	size := image.Rect(0, 0, int(math.Ceil(d.Size.X*scale)), int(math.Ceil(d.Size.Y*scale)))
	r := &raster{image: image.NewNRGBA(size), scale: scale, height: d.Size.Y}
	draw.Draw(r.image, size, image.NewUniform(White), image.Point{}, draw.Src)
	for _, it := range d.shown() {
		switch {
		case it.text != "":
			r.text(it)
		case it.filled:
			r.fill(it.fill, it.paths)
		default:
			r.stroke(*it.pen, it.paths)
		}
	}
	return r.image
}

// raster is a picture being drawn.
type raster struct {
	image  *image.NRGBA
	scale  float64
	height float64 // of the paper, mm
}

// pixel is a point of the paper in pixels.
func (r *raster) pixel(p r2.Vec) r2.Vec {
	return r2.Vec{X: p.X * r.scale, Y: (r.height - p.Y) * r.scale}
}

// chords are a path's points in pixels.
func (r *raster) chords(p profile.Path) []r2.Vec {
	points := p.Flatten(0.1 / r.scale)
	for i, q := range points {
		points[i] = r.pixel(q)
	}
	return points
}

// fill fills what an odd number of paths goes round: x/image fills what is gone round at all, so paths within an
// even number of others are turned the other way.
func (r *raster) fill(c color.NRGBA, paths []profile.Path) {
	var polygons [][]r2.Vec
	for i, p := range paths {
		if len(p) == 0 {
			continue
		}
		within := 0
		for j, q := range paths {
			if i != j && profile.Loop(q).Contains(p.Start()) {
				within++
			}
		}
		if (profile.Loop(p).Area() > 0) == (within%2 == 1) {
			p = p.Reversed()
		}
		polygons = append(polygons, r.chords(p))
	}
	r.paint(c, polygons)
}

// paint fills polygons, wound alike, each added to the others.
func (r *raster) paint(c color.NRGBA, polygons [][]r2.Vec) {
	box := image.Rectangle{}
	for _, points := range polygons {
		for _, p := range points {
			x, y := int(math.Floor(p.X)), int(math.Floor(p.Y))
			box = box.Union(image.Rect(x-1, y-1, x+2, y+2))
		}
	}
	if box = box.Intersect(r.image.Rect); box.Empty() {
		return
	}
	var z vector.Rasterizer
	z.Reset(box.Dx(), box.Dy())
	z.DrawOp = draw.Over
	for _, points := range polygons {
		for i, p := range points {
			x, y := float32(p.X-float64(box.Min.X)), float32(p.Y-float64(box.Min.Y))
			if i == 0 {
				z.MoveTo(x, y)
			} else {
				z.LineTo(x, y)
			}
		}
		z.ClosePath()
	}
	z.Draw(r.image, box, image.NewUniform(c), image.Point{})
}

// stroke draws lines as one area, so that where they meet nothing is laid on twice.
func (r *raster) stroke(p Pen, paths []profile.Path) {
	half := max(p.width()*r.scale, 0.8) / 2
	var polygons [][]r2.Vec
	for _, path := range paths {
		points := r.chords(path)
		if path.Closed() && len(points) > 0 {
			points = append(points, points[0])
		}
		for _, run := range dashed(points, p.Dash, r.scale) {
			for i, q := range run {
				polygons = append(polygons, dot(q, half))
				if i > 0 {
					if bar := bar(run[i-1], q, half); bar != nil {
						polygons = append(polygons, bar)
					}
				}
			}
		}
	}
	r.paint(p.Colour, polygons)
}

// dashed cuts a polyline in pixels into the marks of a dash pattern in mm.
func dashed(points []r2.Vec, dash []float64, scale float64) [][]r2.Vec {
	if len(dash) == 0 || len(points) < 2 {
		return [][]r2.Vec{points}
	}
	var runs [][]r2.Vec
	k, left, run := 0, dash[0]*scale, []r2.Vec{points[0]}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		for length := r2.Norm(r2.Sub(b, a)); length > left; length = r2.Norm(r2.Sub(b, a)) {
			a = r2.Add(a, r2.Scale(left/length, r2.Sub(b, a)))
			if k%2 == 0 {
				runs = append(runs, append(run, a))
			}
			k++
			left, run = max(dash[k%len(dash)]*scale, 0.1), []r2.Vec{a}
		}
		left -= r2.Norm(r2.Sub(b, a))
		run = append(run, b)
	}
	if k%2 == 0 {
		runs = append(runs, run)
	}
	return runs
}

// bar is the rectangle along a straight line, wound as dot is.
func bar(a, b r2.Vec, half float64) []r2.Vec {
	d := r2.Sub(b, a)
	l := r2.Norm(d)
	if l == 0 {
		return nil
	}
	n := r2.Scale(half/l, r2.Vec{X: -d.Y, Y: d.X})
	return []r2.Vec{r2.Sub(a, n), r2.Sub(b, n), r2.Add(b, n), r2.Add(a, n)}
}

func dot(p r2.Vec, half float64) []r2.Vec {
	n := 8
	if half > 2 {
		n = 16
	}
	points := make([]r2.Vec, n)
	for i := range points {
		a := 2 * math.Pi * float64(i) / float64(n)
		points[i] = r2.Vec{X: p.X + half*math.Cos(a), Y: p.Y + half*math.Sin(a)}
	}
	return points
}

// text draws the letters' outlines.
func (r *raster) text(it item) {
	t := it.type_
	glyphs, length := lay(it.text, t.Bold)
	size, turn := t.size(), t.TurnDeg*math.Pi/180
	place := func(x, y float64) r2.Vec {
		return r.pixel(r2.Add(it.at, r2.Rotate(r2.Vec{X: x * size, Y: y * size}, turn, r2.Vec{})))
	}
	middle, reach := r.pixel(it.at), int(math.Ceil((length+2)*size*r.scale))
	box := image.Rect(int(middle.X)-reach, int(middle.Y)-reach, int(middle.X)+reach, int(middle.Y)+reach).Intersect(r.image.Rect)
	if box.Empty() {
		return
	}
	var z vector.Rasterizer
	z.Reset(box.Dx(), box.Dy())
	z.DrawOp = draw.Over
	for _, g := range glyphs {
		trace(&z, letters()[face(t.Bold)], g.index, func(x, y float64) (float32, float32) {
			q := place(g.at-t.Align.shift()*length+x, y)
			return float32(q.X - float64(box.Min.X)), float32(q.Y - float64(box.Min.Y))
		})
	}
	z.Draw(r.image, box, image.NewUniform(t.Colour), image.Point{})
}

// trace draws a letter's outline, whose points are given in sizes, y up.
func trace(z *vector.Rasterizer, f *sfnt.Font, index sfnt.GlyphIndex, place func(x, y float64) (float32, float32)) {
	var buf sfnt.Buffer
	segments, err := f.LoadGlyph(&buf, index, fixed.I(unit), nil)
	if err != nil {
		return
	}
	point := func(p fixed.Point26_6) (float32, float32) { return place(float64(p.X)/64/unit, -float64(p.Y)/64/unit) }
	for _, s := range segments {
		ax, ay := point(s.Args[0])
		bx, by := point(s.Args[1])
		cx, cy := point(s.Args[2])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			z.ClosePath()
			z.MoveTo(ax, ay)
		case sfnt.SegmentOpLineTo:
			z.LineTo(ax, ay)
		case sfnt.SegmentOpQuadTo:
			z.QuadTo(ax, ay, bx, by)
		case sfnt.SegmentOpCubeTo:
			z.CubeTo(ax, ay, bx, by, cx, cy)
		}
	}
	z.ClosePath()
}
