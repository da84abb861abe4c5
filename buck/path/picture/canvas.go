package picture

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"formbuck/buck/internal/lettering"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
	"gonum.org/v1/gonum/spatial/r2"
)

// The colours of everything.
var (
	paper    = color.NRGBA{250, 249, 246, 255}
	ink      = color.NRGBA{34, 38, 46, 255}
	quiet    = color.NRGBA{84, 90, 100, 255}
	hair     = color.NRGBA{206, 205, 200, 255}
	steel    = color.NRGBA{140, 148, 158, 255}
	tape     = color.NRGBA{214, 186, 104, 255}
	piece    = color.NRGBA{150, 172, 96, 255}
	sheet    = color.NRGBA{222, 204, 178, 255}
	rim      = color.NRGBA{150, 124, 88, 255}
	passing  = color.NRGBA{36, 92, 160, 255}
	conflict = color.NRGBA{206, 40, 44, 255}
)

// canvas is a picture being drawn, in pixels, y down.
type canvas struct {
	img   *image.RGBA
	font  *opentype.Font
	faces map[float64]font.Face
}

func newCanvas(w, h int) (*canvas, error) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		return nil, err
	}
	c := &canvas{img: image.NewRGBA(image.Rect(0, 0, w, h)), font: f, faces: map[float64]font.Face{}}
	draw.Draw(c.img, c.img.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	return c, nil
}

// fill fills closed polygons, wound alike.
func (c *canvas) fill(k color.NRGBA, polygons ...[]r2.Vec) {
	box := image.Rectangle{}
	for _, points := range polygons {
		for _, p := range points {
			x, y := int(math.Floor(p.X)), int(math.Floor(p.Y))
			box = box.Union(image.Rect(x-1, y-1, x+2, y+2))
		}
	}
	box = box.Intersect(c.img.Rect)
	if box.Empty() {
		return
	}
	var z vector.Rasterizer
	z.Reset(box.Dx(), box.Dy())
	z.DrawOp = draw.Over
	off := r2.Vec{X: float64(box.Min.X), Y: float64(box.Min.Y)}
	for _, points := range polygons {
		for i, p := range points {
			q := r2.Sub(p, off)
			if i == 0 {
				z.MoveTo(float32(q.X), float32(q.Y))
			} else {
				z.LineTo(float32(q.X), float32(q.Y))
			}
		}
		z.ClosePath()
	}
	z.Draw(c.img, box, image.NewUniform(k), image.Point{})
}

// line draws a polyline of the width.
func (c *canvas) line(k color.NRGBA, width float64, points ...r2.Vec) {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		d := r2.Sub(b, a)
		l := r2.Norm(d)
		if l < 1e-9 {
			continue
		}
		along := r2.Scale(width/4/l, d)
		side := r2.Vec{X: -d.Y / l * width / 2, Y: d.X / l * width / 2}
		a, b = r2.Sub(a, along), r2.Add(b, along)
		c.fill(k, []r2.Vec{r2.Add(a, side), r2.Add(b, side), r2.Sub(b, side), r2.Sub(a, side)})
	}
}

// dashed draws a polyline in dashes of so many pixels with gaps as long.
func (c *canvas) dashed(k color.NRGBA, width, dash float64, points ...r2.Vec) {
	on, left := true, dash
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		for {
			l := r2.Norm(r2.Sub(b, a))
			if l < 1e-9 {
				break
			}
			to := b
			if l > left {
				to = r2.Add(a, r2.Scale(left/l, r2.Sub(b, a)))
			}
			if on {
				c.line(k, width, a, to)
			}
			if l <= left {
				left -= l
				break
			}
			a, on, left = to, !on, dash
		}
	}
}

// arrow draws a line with a head at b.
func (c *canvas) arrow(k color.NRGBA, a, b r2.Vec) {
	d := r2.Unit(r2.Sub(b, a))
	side := r2.Vec{X: -d.Y, Y: d.X}
	foot := r2.Sub(b, r2.Scale(12, d))
	c.line(k, 2, a, foot)
	c.fill(k, []r2.Vec{b, r2.Add(foot, r2.Scale(5, side)), r2.Sub(foot, r2.Scale(5, side))})
}

// ring draws a circle.
func (c *canvas) ring(k color.NRGBA, width float64, at r2.Vec, radius float64) {
	points := make([]r2.Vec, 41)
	for i := range points {
		a := 2 * math.Pi * float64(i) / 40
		points[i] = r2.Add(at, r2.Vec{X: radius * math.Cos(a), Y: radius * math.Sin(a)})
	}
	c.line(k, width, points...)
}

func (c *canvas) face(size float64) font.Face {
	f, ok := c.faces[size]
	if !ok {
		// Size and hinting are fixed, so nothing can go wrong here that did not in parsing.
		f, _ = opentype.NewFace(c.font, &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
		c.faces[size] = f
	}
	return f
}

// width is how wide a text is.
func (c *canvas) width(s string, size float64) float64 {
	return float64(font.MeasureString(c.face(size), lettering.Legible(s))) / 64
}

// text writes with its base line's left end at (x, y).
func (c *canvas) text(s string, x, y, size float64, k color.NRGBA) {
	d := font.Drawer{
		Dst: c.img, Src: image.NewUniform(k), Face: c.face(size),
		Dot: fixed.Point26_6{X: fixed.Int26_6(x*64 + 0.5), Y: fixed.Int26_6(y*64 + 0.5)},
	}
	d.DrawString(lettering.Legible(s))
}

// label writes on a patch of paper, centred on x, within the picture.
func (c *canvas) label(s string, x, y, size float64, k color.NRGBA) {
	w := c.width(s, size)
	x = min(max(x-w/2, 8), float64(c.img.Rect.Dx())-w-8)
	c.fill(color.NRGBA{250, 249, 246, 225}, []r2.Vec{
		{X: x - 5, Y: y - size},
		{X: x + w + 5, Y: y - size},
		{X: x + w + 5, Y: y + size*0.35},
		{X: x - 5, Y: y + size*0.35},
	})
	c.text(s, x, y, size, k)
}

// box fills a rectangle.
func (c *canvas) box(k color.NRGBA, x, y, w, h float64) {
	c.fill(k, []r2.Vec{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}})
}

// key writes a line of coloured boxes with their names.
func (c *canvas) key(x, y float64, entries []entry) {
	for _, e := range entries {
		if e.line {
			c.line(e.colour, 2.5, r2.Vec{X: x, Y: y - 6}, r2.Vec{X: x + 22, Y: y - 6})
		} else {
			c.box(e.colour, x, y-14, 22, 15)
		}
		c.text(e.name, x+30, y, 18, ink)
		x += 30 + c.width(e.name, 18) + 30
	}
}

type entry struct {
	name   string
	colour color.NRGBA
	line   bool
}

// frame turns millimetres of the plan, or of a section, into pixels.
type frame struct {
	origin r2.Vec // pixel of (0, 0)
	scale  float64
}

func (f frame) at(p r2.Vec) r2.Vec {
	return r2.Vec{X: f.origin.X + p.X*f.scale, Y: f.origin.Y - p.Y*f.scale}
}

func (f frame) all(points []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(points))
	for i, p := range points {
		out[i] = f.at(p)
	}
	return out
}

// mm is the place of the middle of a pixel.
func (f frame) mm(x, y int) r2.Vec {
	return r2.Vec{X: (float64(x) + 0.5 - f.origin.X) / f.scale, Y: (f.origin.Y - float64(y) - 0.5) / f.scale}
}

// closed is a polygon as a closed polyline.
func closed(points []r2.Vec) []r2.Vec {
	if len(points) == 0 {
		return nil
	}
	return append(append([]r2.Vec(nil), points...), points[0])
}
