package paper

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// cut is a section across the blade at an x, seen from the mouth towards the tip: the spine up, the right face
// to the right.
type cut struct {
	x     float64
	what  string
	study *path.Study
	low   float64 // of what is shown, along y
	high  float64
	wide  float64 // half of it, along z
}

// cuts are sections side by side.
type cuts []cut

// sectionStep is twice how far the points of a section lie apart, mm: it is drawn with lines 0.2 mm wide, from cells
// as wide.
const sectionStep = 0.2

// sections are those that tell: through the boss's middle, through every ramp where it is deepest,
// and halfway to the tip.
func sections(study *path.Study, f measures.Face) cuts {
	b := study.Buck
	k := b.Knife
	var all cuts
	add := func(x float64, what string) {
		near := func(c cut) bool { return math.Abs(c.x-x) < 3 }
		if x < 1 || x > k.Plan.Tip.X-2 || slices.ContainsFunc(all, near) {
			return
		}
		c := cut{x: x, what: what, study: study}
		c.measure()
		all = append(all, c)
	}
	if carries(b, f) {
		for _, s := range b.Bosses() {
			add(s.Top.Centre.X, "boss")
		}
	}
	for _, r := range b.On(f) {
		add(r.DeepAt.X, "ramp")
	}
	add(k.Plan.Tip.X*0.6, "blade")
	slices.SortFunc(all, func(a, b cut) int {
		if a.x < b.x {
			return -1
		}
		return 1
	})
	return all
}

// measure finds how much there is to be seen.
func (c *cut) measure() {
	m := c.study.Faces[0].Cavity
	c.low, c.high = math.Inf(1), math.Inf(-1)
	for y := m.Min.Y; y < m.Min.Y+float64(m.NY)*m.Step; y += m.Step {
		p := r2.Vec{X: c.x, Y: y}
		for _, f := range c.study.Faces {
			if z := f.Cavity.Level(p); z > 0 {
				c.low, c.high = min(c.low, y), max(c.high, y)
				c.wide = max(c.wide, z)
			}
		}
	}
	c.low, c.high, c.wide = c.low-2, c.high+2, c.wide+2
}

func (c cuts) height() float64 {
	tall := 0.0
	for _, one := range c {
		tall = max(tall, one.high-one.low)
	}
	return tall + 8
}

// draw draws the sections side by side, their lower edges on a line, and marks on the view where they are.
func (c cuts) draw(v *view) *drawing.Drawing {
	d, x := drawing.New("sections", r2.Vec{}), 0.0
	for _, one := range c {
		wide := max(2*one.wide, 26)
		one.draw(d, r2.Vec{X: x + wide/2, Y: 6 - one.low})
		d.Text(r2.Vec{X: x + wide/2}, drawing.Type{Size: 3, Align: drawing.Centre}, fmt.Sprintf("%s: x %.1f mm", one.what, one.x))
		p := v.at(r2.Vec{X: one.x})
		mark := v.at(r2.Vec{X: one.x, Y: one.high + 1})
		v.Line(axis, r2.Vec{X: p.X, Y: mark.Y}, r2.Vec{X: p.X, Y: v.at(r2.Vec{X: one.x, Y: one.low - 1}).Y})
		x += wide + 8
	}
	d.Text(r2.Vec{X: x, Y: 12}, drawing.Type{Size: 3, Colour: drawing.Quiet}, "sections from the mouth to the tip, right face right:")
	d.Text(r2.Vec{X: x, Y: 8}, drawing.Type{Size: 3, Colour: drawing.Quiet}, "steel grey, tape and pieces tinted, the sheet's inner face brown")
	return d
}

// steel is the border of the steel where there is any.
func (c *cut) steel(at r2.Vec) []profile.Path {
	var right, left []r2.Vec
	for y := c.low; y <= c.high; y += sectionStep / 2 {
		if h := c.study.Knife.Level(r2.Vec{X: c.x, Y: y}); h > 0 {
			right = append(right, r2.Add(at, r2.Vec{X: h, Y: y}))
			left = append(left, r2.Add(at, r2.Vec{X: -h, Y: y}))
		}
	}
	if len(right) < 2 {
		return nil
	}
	slices.Reverse(left)
	return []profile.Path{profile.Polygon(append(right, left...)...)}
}

// draw draws one section with z = 0, y = 0 at a place.
func (c *cut) draw(d *drawing.Drawing, at r2.Vec) {
	both := func(height func(f *path.Face, p r2.Vec) float64) profile.Path {
		var right, left []r2.Vec
		for y := c.low; y <= c.high; y += sectionStep / 2 {
			p := r2.Vec{X: c.x, Y: y}
			for _, f := range c.study.Faces {
				z := max(0, height(f, p))
				if f.Face == measures.LeftFace {
					left = append(left, r2.Add(at, r2.Vec{X: -z, Y: y}))
				} else {
					right = append(right, r2.Add(at, r2.Vec{X: z, Y: y}))
				}
			}
		}
		slices.Reverse(left)
		return profile.Polygon(append(right, left...)...)
	}
	d.Fill(boss, both(func(f *path.Face, p r2.Vec) float64 { return f.Buck.Level(p) }))
	d.Fill(steel, both(func(_ *path.Face, p r2.Vec) float64 { return c.study.Knife.Level(p) }))
	d.Stroke(fine, c.steel(at)...)
	d.Stroke(wall, both(func(f *path.Face, p r2.Vec) float64 { return f.Cavity.Level(p) }))
}
