package anyknife

import (
	"formbuck/buck/bucktest/sketch"
)

// drawHandle goes from the front's spine side round the butt to its edge side.
func (s *shape) drawHandle(r random) {
	g, h := s.grip, s.half
	top := sketch.Corner(0, h, 180, 180)
	if s.guard > 0 || s.blade[len(s.blade)-1].X == s.start {
		top.In = -90
	}
	switch {
	case s.symmetric:
		s.scalesOf(r, []sketch.Node{
			top, sketch.Smooth(-0.5*g, h+1.5, 180), sketch.Smooth(-g, 0, 270), sketch.Smooth(-0.5*g, -h-1.5, 0),
		})
	case s.kind == "hooked" || r.share(0.08):
		s.ring(r, top)
	default:
		nodes := []sketch.Node{
			top, sketch.Smooth(-0.4*g, h+r.in(0, 3), r.in(179, 184)), sketch.Smooth(-0.82*g, h-r.in(0, 3), 188),
			sketch.Smooth(-g, -2, r.in(262, 275)), sketch.Smooth(-0.87*g, -h-r.in(0, 4), r.in(340, 358)),
			sketch.Smooth(-0.5*g, -h-r.in(0, 3), 0),
		}
		if r.one(2) {
			s.words = append(s.words, "groove")
			nodes = append(nodes, sketch.Smooth(-r.in(14, 24), -h+r.in(1, 4), 4))
		}
		s.scalesOf(r, nodes)
	}
	s.drill(r)
}

// scalesOf takes nodes for the handle: with a full tang they are the outline, with a hidden one they lie over a tang.
func (s *shape) scalesOf(r random, nodes []sketch.Node) {
	if s.kind != "chef" && !s.symmetric && r.share(0.12) {
		s.words = append(s.words, "hidden-tang")
		s.scales = nodes
		t, g := r.in(3.5, 6), s.grip*r.in(0.6, 0.9)
		s.handle = []sketch.Node{
			sketch.Corner(0, s.half, nodes[0].In, -90), sketch.Corner(0, t, -90, 180), sketch.Corner(-g, t-1, 180, -90),
			sketch.Corner(-g, 1-t, -90, 0), sketch.Corner(0, -t, 0, -90),
		}
		front := s.blade[0]
		s.blade[0].In = -90
		if s.half <= t+1 {
			s.handle, s.scales, s.blade[0] = nodes, nil, front
		}
		return
	}
	s.handle = nodes
}

// ring is a handle with a ring at the butt for a finger.
func (s *shape) ring(r random, top sketch.Node) {
	s.words = append(s.words, "ring")
	g, h := s.grip, s.half
	out := r.in(15, 19)
	y := -r.in(0, 8)
	s.handle = []sketch.Node{
		top, sketch.Smooth(-0.5*g, h+1, 183),
		sketch.Smooth(-g+out, y+out, 180), sketch.Smooth(-g, y, 270), sketch.Smooth(-g+out, y-out, 0),
		sketch.Smooth(-0.5*g, -h-1, 3),
	}
	s.holes = append(s.holes, hole{-g + out, y, out - r.in(4, 6)})
}

// drill puts holes into the handle: pins, a thong hole, or the windows of a skeleton.
func (s *shape) drill(r random) {
	if s.scales != nil {
		return
	}
	switch {
	case r.share(0.15):
		s.words = append(s.words, "skeleton")
		for i := range r.IntN(3) + 2 {
			s.holes = append(s.holes, hole{-14 - 0.17*s.grip*float64(i), 0, r.in(3, 0.55*s.half)})
		}
	case r.one(2):
		for _, x := range []float64{-0.2, -0.65} {
			s.holes = append(s.holes, hole{x * s.grip, 0, 3})
			if r.one(5) {
				s.words = append(s.words, "concentric")
				s.holes = append(s.holes, hole{x * s.grip, 0, 1.6})
			}
		}
	}
}
