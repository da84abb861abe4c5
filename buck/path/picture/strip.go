package picture

import (
	"fmt"
	"image"
	"image/color"

	"formbuck/buck/path"

	"gonum.org/v1/gonum/spatial/r2"
)

// Strip shows the knife leaving its sheath in five steps: without the ramps on the left, with them on the
// right; what collides is red.
func Strip(r *path.Report, title string) (image.Image, error) {
	studies := []*path.Study{r.Without, r.With}
	names := []string{"without the ramp", "with the ramp"}
	if r.Without == r.With {
		studies, names = studies[1:], []string{"the knife in its sheath"}
	}
	s := r.With
	box := extent(s)
	out := max(s.Knife.Draw(s.Buck.Knife.Plan.Tip).X, 10)
	left := s.Buck.Knife.Plan.Outline.Bounds().Min.X
	const gap, head = 36, 110
	column := (float64(wide-2*margin) - gap*float64(len(studies)-1)) / float64(len(studies))
	scale := column / (box.Max.X - left + 0.75*out)
	shares := []float64{0, 0.1, 0.25, 0.5, 0.75}
	high := (box.Max.Y-box.Min.Y)*scale + 34
	c, err := newCanvas(wide, head+int(high*float64(len(shares)))+60)
	if err != nil {
		return nil, err
	}
	c.text(title, margin, 54, 32, ink)
	on := worstFace(r)
	for n, s := range studies {
		x := margin + float64(n)*(column+gap)
		c.text(names[n], x, 96, 22, ink)
		for i, share := range shares {
			y := head + high*float64(i)
			f := frame{origin: r2.Vec{X: x + (0.75*out-left)*scale, Y: y + 26 + box.Max.Y*scale}, scale: scale}
			worst := c.leaving(s, s.Faces[on], share*out, f, box)
			said, k := fmt.Sprintf("drawn by %.0f mm", share*out), quiet
			if worst > path.Felt {
				said, k = fmt.Sprintf("%s: binds by %.2f mm", said, worst), conflict
			}
			c.text(said, x, y+22, 18, k)
		}
	}
	c.key(margin, float64(c.img.Rect.Dy()-26), []entry{
		{"room in the sheath", sheet, false},
		{"knife", steel, false},
		{"collides", conflict, false},
	})
	return c.img, nil
}

// leaving draws the knife drawn by a mm and gives the most that a half must open then.
func (c *canvas) leaving(s *path.Study, face *path.Face, a float64, f frame, box r2.Box) float64 {
	m := face.Cavity
	worst := 0.0
	var hits []image.Point
	lo, hi := f.at(box.Min), f.at(box.Max)
	play := r2.Sub(s.Knife.Blade(r2.Vec{Y: path.SidePlay}), r2.Vec{})
	for y := int(hi.Y); y <= int(lo.Y); y++ {
		for x := int(f.at(r2.Vec{}).X); x <= int(hi.X); x++ {
			p := f.mm(x, y)
			if s.Knife.Draw(p).X <= 0 {
				continue
			}
			z := m.Height(p)
			if z > 0.02 {
				c.img.Set(x, y, sheet)
			}
			q := s.Ahead(p, a)
			if !s.Covers(q) {
				continue
			}
			h := s.Knife.Height(q)
			if h <= 0 || h-z <= path.Felt {
				continue
			}
			z = max(z, m.Height(r2.Add(p, play)), m.Height(r2.Sub(p, play)))
			if h-z > path.Felt {
				worst = max(worst, h-z)
				hits = append(hits, image.Point{X: x, Y: y})
			}
		}
	}
	k := s.Buck.Knife
	c.knife(k, f, func(q r2.Vec) r2.Vec { return s.Ahead(q, -a) }, color.NRGBA{60, 66, 76, 255}, true)
	for _, p := range hits {
		c.img.Set(p.X, p.Y, conflict)
	}
	c.line(quiet, 2, f.at(r2.Vec{Y: box.Min.Y}), f.at(r2.Vec{Y: box.Max.Y}))
	return worst
}
