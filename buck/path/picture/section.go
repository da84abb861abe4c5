package picture

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"formbuck/buck/measures"
	"formbuck/buck/path"

	"gonum.org/v1/gonum/spatial/r2"
)

// Sections shows sections across the blade at the x given, in mm, each with knife, tape, pieces, sheet and
// what passes on the way out, and a small plan that says where they are. Where there are ramps every
// section is shown without them on the left and with them on the right. Without x the telling ones are chosen.
func Sections(r *path.Report, title string, at []float64) (image.Image, error) {
	if len(at) == 0 {
		at = telling(r)
	}
	box := extent(r.With)
	const columns, gap, head, name = 2, 40, 128, 44
	wideOf := float64(wide-2*margin-gap) / columns
	panels, rows := layPanels(r, at, columns)
	keyScale := (wide - 2*margin) * 0.6 / (box.Max.X - box.Min.X)
	scale := wideOf / (box.Max.Y - box.Min.Y + 4)
	top := head + (box.Max.Y-box.Min.Y)*keyScale + 30
	high := top
	for _, row := range rows {
		high += (row.up+row.down)*scale + name
	}
	c, err := newCanvas(wide, int(high)+margin)
	if err != nil {
		return nil, err
	}
	c.text(title, margin, 54, 32, ink)
	c.key(margin, 94, []entry{
		{"knife", steel, false},
		{"tape", tape, false},
		{"pieces", piece, false},
		{"sheet", sheet, false},
		{"what passes on the way out", passing, true},
		{"binds", conflict, false},
	})
	c.sectionPlan(r, at, box, frame{origin: r2.Vec{X: margin - box.Min.X*keyScale, Y: head + box.Max.Y*keyScale}, scale: keyScale})
	c.text("right face up, left face down, to scale", margin+float64(wide-2*margin)*0.64, head+30, 18, quiet)
	y := top
	for i, p := range panels {
		row := rows[i/columns]
		left := margin + float64(i%columns)*(wideOf+gap)
		f := frame{origin: r2.Vec{X: left - (box.Min.Y-2)*scale, Y: y + name - 12 + row.up*scale}, scale: scale}
		c.text(p.name, left, y+20, 20, ink)
		c.section(p.study, p.x, f)
		if i%columns == columns-1 {
			y += (row.up+row.down)*scale + name
		}
	}
	return c.img, nil
}

// panel is one section in the picture.
type panel struct {
	study *path.Study
	x     float64
	name  string
}

// row is how far, in mm, the sections of a row reach up and down.
type row struct{ up, down float64 }

// layPanels says what is shown and how high its rows are.
func layPanels(r *path.Report, at []float64, columns int) ([]panel, []row) {
	var panels []panel
	for i, x := range at {
		name := fmt.Sprintf("%c   x = %.1f mm", 'A'+i, x)
		if r.Without == r.With {
			panels = append(panels, panel{r.With, x, name})
			continue
		}
		panels = append(panels, panel{r.Without, x, name + ", without the ramp"}, panel{r.With, x, name + ", with the ramp"})
	}
	rows := make([]row, (len(panels)+columns-1)/columns)
	spare := 1.3 * r.With.Buck.Knife.Spec.Sheet.Thickness
	for i, p := range panels {
		w := &rows[i/columns]
		for _, f := range p.study.Faces {
			reach := &w.up
			if f.Face == measures.LeftFace {
				reach = &w.down
			}
			for _, q := range across(p.study, p.x) {
				*reach = max(*reach, f.Cavity.Height(q)+spare)
			}
		}
	}
	return panels, rows
}

// telling are the x of the sections that say most: where it binds with the ramps and without them, in the mouth,
// under the boss, and before the tip.
func telling(r *path.Report) []float64 {
	k := r.With.Buck.Knife
	var xs []float64
	add := func(x float64, most int) {
		for _, is := range xs {
			if math.Abs(is-x) < 4 {
				return
			}
		}
		if len(xs) < most && x > 0.5 {
			xs = append(xs, x)
		}
	}
	for _, binds := range [][]path.Bind{r.Binds, r.Bare} {
		for _, b := range binds {
			add(b.At.X, 3)
		}
	}
	add(k.Plan.Tip.X-k.Spec.Tape.TipGap+2, 5)
	for _, st := range r.With.Buck.Bosses() {
		add(st.Top.Centre.X, 5)
	}
	add(1, 5)
	if len(xs) < 5 {
		add(k.Plan.Heel.X+2, 5)
		add((k.Plan.Heel.X+k.Plan.Tip.X)/2, 5)
	}
	slices.Sort(xs)
	return xs
}

// across are the points of the blade's plan at x, half a cell apart, from the lowest y.
func across(s *path.Study, x float64) []r2.Vec {
	box := extent(s)
	var points []r2.Vec
	for y := box.Min.Y; y <= box.Max.Y; y += s.Knife.Step / 2 {
		points = append(points, r2.Vec{X: x, Y: y})
	}
	return points
}

// sectionPlan shows where the sections are.
func (c *canvas) sectionPlan(r *path.Report, at []float64, box r2.Box, f frame) {
	s := r.With
	c.knife(s.Buck.Knife, frame{origin: f.origin, scale: f.scale}, func(p r2.Vec) r2.Vec {
		return r2.Vec{X: max(p.X, box.Min.X), Y: p.Y}
	}, ink, true)
	c.pieces(s.Buck, s.Faces[worstFace(r)].Face, f)
	for i, x := range at {
		a, b := f.at(r2.Vec{X: x, Y: box.Min.Y}), f.at(r2.Vec{X: x, Y: box.Max.Y})
		c.line(conflict, 1.6, a, b)
		name := string(rune('A' + i))
		c.text(name, b.X-c.width(name, 18)/2, b.Y-4, 18, conflict)
	}
}

// section draws one section: the right face up, the left face down.
func (c *canvas) section(s *path.Study, x float64, f frame) {
	points := across(s, x)
	for _, face := range s.Faces {
		sign := 1.0
		if face.Face == measures.LeftFace {
			sign = -1
		}
		curve := func(z func(p r2.Vec) float64) []r2.Vec {
			out := make([]r2.Vec, len(points))
			for i, p := range points {
				out[i] = f.at(r2.Vec{X: p.Y, Y: sign * z(p)})
			}
			return out
		}
		level := curve(func(r2.Vec) float64 { return 0 })
		under := func(k color.NRGBA, upper, lower []r2.Vec) {
			back := slices.Clone(lower)
			slices.Reverse(back)
			c.fill(k, append(slices.Clone(upper), back...))
		}
		inner := curve(face.Cavity.Level)
		outer := curve(outerFace(s, face, points))
		knife := curve(s.Knife.Height)
		taped := curve(func(p r2.Vec) float64 { return s.Knife.Height(p) + s.Tape.Height(p) })
		under(sheet, outer, inner)
		under(piece, curve(face.Buck.Level), level)
		under(tape, taped, level)
		under(steel, knife, level)
		c.conflicts(s, face, points, f, sign)
		c.line(rim, 1.4, inner...)
		c.line(rim, 1.4, outer...)
		c.envelope(s, points, f, sign)
	}
	last := f.at(r2.Vec{X: points[len(points)-1].Y})
	first := f.at(r2.Vec{X: points[0].Y})
	c.dashed(hair, 1, 5, first, last)
	edge, spine := s.Buck.Knife.Spec.Blade.Told("edge"), s.Buck.Knife.Spec.Blade.Told("spine")
	c.text(edge, first.X, f.origin.Y+6+16, 15, quiet)
	c.text(spine, last.X-c.width(spine, 15), f.origin.Y+6+16, 15, quiet)
}

// outerFace is the outer surface of the sheet: its inner one rolled over by a ball of its thickness.
func outerFace(s *path.Study, face *path.Face, points []r2.Vec) func(r2.Vec) float64 {
	t := s.Buck.Knife.Spec.Sheet.Thickness
	step := points[1].Y - points[0].Y
	far := int(t / step)
	z := make([]float64, len(points))
	for i, p := range points {
		z[i] = face.Cavity.Level(p)
	}
	return func(p r2.Vec) float64 {
		i := int(math.Round((p.Y - points[0].Y) / step))
		best := 0.0
		for j := max(0, i-far); j <= min(len(z)-1, i+far); j++ {
			d := float64(j-i) * step
			best = max(best, z[j]+math.Sqrt(max(t*t-d*d, 0)))
		}
		return best
	}
}

// envelope draws what passes, where anything does.
func (c *canvas) envelope(s *path.Study, points []r2.Vec, f frame, sign float64) {
	var run []r2.Vec
	flush := func() {
		c.dashed(passing, 2.2, 7, run...)
		run = nil
	}
	for _, p := range points {
		e := s.Envelope.Height(p)
		if e <= 0 {
			if run != nil {
				run = append(run, r2.Vec{X: run[len(run)-1].X, Y: f.origin.Y})
			}
			flush()
			continue
		}
		if run == nil {
			run = append(run, f.at(r2.Vec{X: p.Y}))
		}
		run = append(run, f.at(r2.Vec{X: p.Y, Y: sign * e}))
	}
	flush()
}

// conflicts fills what passes above the sheet's inner face.
func (c *canvas) conflicts(s *path.Study, face *path.Face, points []r2.Vec, f frame, sign float64) {
	var up, down []r2.Vec
	flush := func() {
		if len(up) > 1 {
			slices.Reverse(down)
			c.fill(conflict, append(up, down...))
		}
		up, down = nil, nil
	}
	for _, p := range points {
		e, z := s.Envelope.Height(p), face.Cavity.Level(p)
		if e <= z+path.Felt || e <= 0 {
			flush()
			continue
		}
		up = append(up, f.at(r2.Vec{X: p.Y, Y: sign * e}))
		down = append(down, f.at(r2.Vec{X: p.Y, Y: sign * z}))
	}
	flush()
}
