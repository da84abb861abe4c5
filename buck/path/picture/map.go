// Package picture draws the draw path of a knife: a plan of where it binds, sections through knife,
// sheet and what passes, and a strip of the knife leaving its sheath. x goes to the right, to the tip,
// y up, to the spine, as one looks at the right face.
//
// The same report gives the same bytes.
package picture

import (
	"fmt"
	"image"
	"math"

	"formbuck/buck/measures"
	"formbuck/buck/path"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	wide   = 1600 // pixels
	margin = 48
)

// Map is a plan of the interference: without the ramps above, with them below; one panel where there are
// no ramps. It shows the face that binds most.
func Map(r *path.Report, title string) (image.Image, error) {
	studies := []*path.Study{r.Without, r.With}
	if r.Without == r.With {
		studies = studies[:1]
	}
	on := worstFace(r)
	g := r.With.Knife.Grid
	box := extent(r.With)
	scale := (wide - 2*margin) / (box.Max.X - box.Min.X)
	high := (box.Max.Y - box.Min.Y) * scale
	const head, gap, foot = 96, 64, 110
	c, err := newCanvas(wide, head+len(studies)*int(high+gap)+foot)
	if err != nil {
		return nil, err
	}
	c.text(title, margin, 54, 32, ink)
	c.text(verdict(r), margin, 84, 20, quiet)
	most := mostOf(r)
	y := float64(head)
	var f frame
	for n, s := range studies {
		f = frame{origin: r2.Vec{X: margin - box.Min.X*scale, Y: y + gap - 14 + box.Max.Y*scale}, scale: scale}
		c.text(panelTitle(r, n, len(studies), on), margin, y+30, 22, ink)
		c.heat(s.Faces[on], f, g, most)
		c.line(quiet, 2, f.at(r2.Vec{X: 0, Y: box.Min.Y}), f.at(r2.Vec{X: 0, Y: box.Max.Y}))
		c.text("mouth", f.at(r2.Vec{X: 0}).X+6, f.at(r2.Vec{Y: box.Min.Y}).Y-6, 16, quiet)
		c.knife(s.Buck.Knife, f, still, ink, false)
		b := s.Buck
		c.pieces(b, s.Faces[on].Face, f)
		c.marks(r, s, on, f)
		y += high + gap
	}
	c.scaleBar(margin, y+40, 620, most)
	c.rule(f, margin+690, y+52)
	way := margin + 690 + 20*f.scale + 80
	c.arrow(ink, r2.Vec{X: way + 80, Y: y + 56}, r2.Vec{X: way, Y: y + 56})
	c.text("the knife is drawn this way", way+94, y+62, 18, ink)
	c.text("dashed: pieces on the buck", way+94, y+86, 16, quiet)
	return c.img, nil
}

// panelTitle names a panel.
func panelTitle(r *path.Report, n, of, on int) string {
	face := fmt.Sprintf(" (%s face)", r.With.Faces[on].Face)
	switch {
	case of == 1:
		return "the knife in its sheath" + face
	case n == 0:
		return "without the ramp" + face
	default:
		return "with the ramp" + face
	}
}

// verdict is the report in a line.
func verdict(r *path.Report) string {
	switch {
	case r.Free() && len(r.Bare) > 0:
		return fmt.Sprintf("binds by %.2f mm without the ramp; with it the knife draws freely", r.Bare[0].Depth)
	case r.Free():
		return "the knife draws freely"
	}
	b := r.Binds[0]
	return fmt.Sprintf("binds at (%.1f, %.1f) by %.2f mm on the %s face, at the %s", b.At.X, b.At.Y, b.Depth, b.Face, b.Place)
}

// worstFace is the face with the deepest bind that is left; else the one without a boss, on which there is more to see.
func worstFace(r *path.Report) int {
	deepest := -1.0
	on := 0
	for i, f := range r.With.Faces {
		if len(r.With.Buck.Faces) > 0 && f.Face != r.With.Buck.Faces[0] {
			on = i
		}
	}
	for _, b := range r.Binds {
		if b.Depth > deepest {
			deepest = b.Depth
			on = faceIndex(r, b.Face)
		}
	}
	return on
}

func faceIndex(r *path.Report, face measures.Face) int {
	for i, f := range r.With.Faces {
		if f.Face == face {
			return i
		}
	}
	return 0
}

// mostOf is the end of the colour scale: what the deepest bind takes, at least 0.5 mm.
func mostOf(r *path.Report) float64 {
	most := 0.5
	for _, b := range append(append([]path.Bind(nil), r.Bare...), r.Binds...) {
		most = max(most, b.Depth)
	}
	return math.Ceil(most*2) / 2
}

// extent is the part of the plan that is shown, in the blade's axes.
func extent(s *path.Study) r2.Box {
	k := s.Buck.Knife
	box := r2.Box{Min: r2.Vec{X: -12, Y: math.Inf(1)}, Max: r2.Vec{X: k.Plan.Tip.X + 4, Y: math.Inf(-1)}}
	for _, p := range k.Plan.Outline.Flatten(0.5) {
		if p.X > -12 {
			box.Min.Y, box.Max.Y = min(box.Min.Y, p.Y), max(box.Max.Y, p.Y)
		}
	}
	if d := s.Buck.Drain; d != nil {
		box.Max.X = max(box.Max.X, d.At(r2.Vec{X: d.To}).X+2)
	}
	box.Min.Y -= 5
	box.Max.Y += 5
	return box
}

// heat colours every pixel over which something passes.
func (c *canvas) heat(face *path.Face, f frame, g path.Grid, most float64) {
	lo, hi := f.at(g.Blade(g.Min)), f.at(g.Blade(r2.Vec{X: g.Min.X + float64(g.NX)*g.Step, Y: g.Min.Y + float64(g.NY)*g.Step}))
	for y := int(hi.Y) - 20; y < int(lo.Y)+20; y++ {
		for x := int(lo.X) - 20; x < int(hi.X)+20; x++ {
			p := f.mm(x, y)
			if !(image.Point{X: x, Y: y}).In(c.img.Rect) || p.X < 0 {
				continue
			}
			if i := face.Interference.Height(p); !math.IsInf(i, 0) {
				c.img.Set(x, y, tint(i, most))
			}
		}
	}
}

// marks rings the deepest binds of a panel and says how much.
func (c *canvas) marks(r *path.Report, s *path.Study, on int, f frame) {
	binds := r.Binds
	if s == r.Without && s != r.With {
		binds = r.Bare
	}
	said := 0
	for _, b := range binds {
		if b.Face != s.Faces[on].Face || said == 3 {
			continue
		}
		said++
		at := f.at(b.At)
		c.ring(ink, 2.2, at, 11)
		dy := -20.0
		if b.At.Y < 0 {
			dy = 34
		}
		c.label(fmt.Sprintf("binds %.2f mm", b.Depth), at.X+10, at.Y+dy, 18, conflict)
	}
	if said == 0 {
		free := "draws freely"
		if r.Lock != nil {
			free = fmt.Sprintf("draws freely; locks by %.2f mm in total", r.Lock.Total)
			c.ring(passing, 2.2, f.at(r.Lock.At), 11)
		}
		k := s.Buck.Knife.Plan
		at := f.at(r2.Vec{X: k.Tip.X * 0.6})
		c.label(free, at.X, at.Y, 22, ink)
	}
}
