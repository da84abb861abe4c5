package picture

import (
	"image"
	"image/color"
	"math"
	"strings"

	"formbuck/buck/internal/lettering"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
	"gonum.org/v1/gonum/spatial/r2"
)

// face is the font at a size in pixels.
func (s *sheet) face(size float64) font.Face {
	size = math.Round(size*4) / 4
	f, ok := s.faces[size]
	if !ok {
		var err error
		f, err = opentype.NewFace(s.font, &opentype.FaceOptions{Size: size, DPI: 72})
		if err != nil { // not with these options; a picture without words is better than none
			return nil
		}
		s.faces[size] = f
	}
	return f
}

// width of a text in pixels.
func (s *sheet) width(t string, size float64) float64 {
	return float64(font.MeasureString(s.face(size), lettering.Legible(t))) / 64
}

// text writes from x on, on the base line y, as lettering.Legible has it.
func (s *sheet) text(t string, x, y, size float64, c color.NRGBA) {
	d := font.Drawer{Dst: s.img, Src: image.NewUniform(c), Face: s.face(size)}
	d.Dot = fixed.Point26_6{X: fixed.Int26_6(math.Round(x * 64)), Y: fixed.Int26_6(math.Round(y) * 64)}
	d.DrawString(lettering.Legible(t))
}

// textAt writes with its middle at (x, y), where the middle is half the height of a capital.
func (s *sheet) textAt(t string, x, y, size float64, c color.NRGBA) {
	s.text(t, x-s.width(t, size)/2, y+0.36*size, size, c)
}

// cut shortens a text with an ellipsis until it is no wider than given.
func (s *sheet) cut(t string, wide, size float64) string {
	if s.width(t, size) <= wide {
		return t
	}
	r := []rune(t)
	for len(r) > 0 && s.width(string(r)+"…", size) > wide {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "…"
}

// wrap breaks a text into lines no wider than given, between words where it can.
func (s *sheet) wrap(t string, wide, size float64) []string {
	var lines []string
	for _, para := range strings.Split(strings.TrimSpace(t), "\n") {
		line := ""
		for _, word := range strings.Fields(para) {
			if line == "" {
				line = s.cut(word, wide, size)
				continue
			}
			if s.width(line+" "+word, size) <= wide {
				line += " " + word
				continue
			}
			lines = append(lines, line)
			line = s.cut(word, wide, size)
		}
		lines = append(lines, line)
	}
	if len(lines) == 1 && lines[0] == "" {
		return nil
	}
	return lines
}

// line draws a line with round ends; width in units of the sheet.
func (s *sheet) line(a, b r2.Vec, width float64, c color.NRGBA) {
	w := width * max(s.u, 0.9)
	area := image.Rect(int(min(a.X, b.X)-w)-2, int(min(a.Y, b.Y)-w)-2, int(max(a.X, b.X)+w)+3, int(max(a.Y, b.Y)+w)+3)
	if area = area.Intersect(s.img.Rect); area.Empty() {
		return
	}
	k := newCoverage(area)
	k.stroke(a.X, a.Y, b.X, b.Y, w, 1)
	k.lay(s.img, c)
}

// arrow draws a filled head with its point at a, pointing along the unit vector.
func (s *sheet) arrow(a, along r2.Vec, length float64, c color.NRGBA) {
	back := r2.Sub(a, r2.Scale(length, along))
	side := r2.Scale(length*0.17, r2.Vec{X: -along.Y, Y: along.X})
	s.polygon(c, a, r2.Add(back, side), r2.Sub(back, side))
}

// polygon fills a simple polygon.
func (s *sheet) polygon(c color.NRGBA, pts ...r2.Vec) {
	lo, hi := pts[0], pts[0]
	for _, p := range pts {
		lo = r2.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}
		hi = r2.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
	}
	area := image.Rect(int(lo.X)-1, int(lo.Y)-1, int(hi.X)+2, int(hi.Y)+2)
	if !area.In(s.img.Rect) {
		return
	}
	var z vector.Rasterizer
	z.Reset(area.Dx(), area.Dy())
	for i, p := range pts {
		x, y := float32(p.X-float64(area.Min.X)), float32(p.Y-float64(area.Min.Y))
		if i == 0 {
			z.MoveTo(x, y)
		} else {
			z.LineTo(x, y)
		}
	}
	z.ClosePath()
	z.Draw(s.img, area, image.NewUniform(c), image.Point{})
}

// ring draws a circle of a radius and line width in pixels, as so many dashes, or whole where that is 0.
func (s *sheet) ring(x, y, radius, width float64, dashes int, c color.NRGBA) {
	r := radius + width
	area := image.Rect(int(x-r)-1, int(y-r)-1, int(x+r)+2, int(y+r)+2).Intersect(s.img.Rect)
	for j := area.Min.Y; j < area.Max.Y; j++ {
		for i := area.Min.X; i < area.Max.X; i++ {
			dx, dy := float64(i)+0.5-x, float64(j)+0.5-y
			if turn := (math.Atan2(dy, dx)/math.Pi + 1) * float64(dashes); int(turn)%2 == 1 {
				continue
			}
			off := math.Abs(math.Hypot(dx, dy) - radius)
			if part := min(width/2+0.5-off, 1); part > 0 {
				at := s.img.PixOffset(i, j)
				blend(s.img.Pix[at:at+3], c, int(255*part+0.5))
			}
		}
	}
}
