package anyknife

import (
	"slices"

	"formbuck/buck/bucktest/sketch"
)

// shape is a knife's outline in its own axes: x towards the tip, y towards the spine, the handle's front at x = 0, mm.
// The blade runs from the front's edge side by the tip to its spine side, the handle from there round the butt.
type shape struct {
	kind   string
	words  []string
	blade  []sketch.Node
	handle []sketch.Node
	scales []sketch.Node // hidden tang: the handle drawn over it, from the front's spine side; none: the handle
	holes  []hole
	edges  int

	start      float64 // where the blade begins: 0, or before a guard
	heel       sketch.Node
	tip        sketch.Node
	spine      float64 // y of the spine at the start
	long, wide float64 // of the blade
	grip       float64 // length of the handle
	symmetric  bool
	guard      float64 // length of the guard; 0: none
	half       float64 // half the width of the handle at its front
	alone      bool    // the blade alone is drawn
}

// hole is a round hole.
type hole struct{ x, y, r float64 }

// kinds are the shapes of a blade.
var kinds = []string{"drop", "clip", "sheepsfoot", "tanto", "recurve", "chef", "dagger", "trailing", "hooked"}

// Kinds returns the kinds of blade that are drawn.
func Kinds() []string { return slices.Clone(kinds) }

// newShape draws a shape; one that no maker could draw, since its outline would cross itself, is drawn again.
func newShape(r random) *shape {
	for {
		if s := tryShape(r); s.sound() {
			return s
		}
	}
}

func tryShape(r random) *shape {
	s := &shape{kind: kinds[r.IntN(len(kinds))], edges: 1}
	s.wide = r.in(18, 42)
	s.long = s.wide * r.in(2.2, 5)
	switch s.kind {
	case "chef":
		s.wide = r.in(32, 52)
		s.long = r.in(120, 240)
	case "hooked":
		s.wide, s.long = r.in(20, 30), r.in(55, 90)
	case "dagger":
		s.edges, s.symmetric = 2, true
		s.wide, s.long = r.in(20, 34), r.in(90, 170)
	}
	s.grip = r.in(85, 135)
	if r.share(0.2) {
		s.guard = r.in(3, 9)
		s.words = append(s.words, "guard")
	}
	s.start = s.guard
	s.drawBlade(r)
	if s.guard == 0 && r.share(0.06) {
		s.alone = true
		s.words = append(s.words, "blade-alone")
		s.handle = []sketch.Node{sketch.Corner(0, s.half, s.blade[len(s.blade)-1].Out, -90)}
		if s.blade[len(s.blade)-1].X != 0 {
			s.handle[0].In = 180
		}
		s.blade[0].In = -90
	} else {
		s.drawHandle(r)
	}
	s.blade, s.handle = joined(s.blade), joined(s.handle)
	return s
}

// drawBlade goes from the front's edge side to its spine side.
func (s *shape) drawBlade(r random) {
	b := s.wide * r.in(0.45, 0.6) // the edge below the axis
	if s.symmetric {
		b = s.wide / 2
	}
	s.spine = s.wide - b
	s.half = min(b, s.spine) + r.in(-2, 1)
	nodes := s.ricasso(r, b)
	s.heel = nodes[len(nodes)-1]
	nodes = append(nodes, s.edge(r)...)
	nodes = append(nodes, s.back(r)...)
	s.blade = nodes
}

// ricasso is what lies between the handle's front and the heel, the heel included.
func (s *shape) ricasso(r random, b float64) []sketch.Node {
	var nodes []sketch.Node
	low := -s.half
	if s.guard > 0 {
		out := max(b, s.half) + r.in(3, 9)
		nodes = append(nodes, sketch.Corner(0, low, 0, -90), sketch.Corner(0, -out, -90, 0), sketch.Corner(s.guard, -out, 0, 90))
		low = -out
	}
	x := s.start
	c := x + r.in(3, 22)
	switch {
	case s.kind == "chef":
		s.words = append(s.words, "dropped-heel")
		nodes = append(nodes, shoulder(x, low, -s.half)...)
		c = x + r.in(6, 20)
		return append(nodes, sketch.Corner(c, -s.half, 0, -88), sketch.Corner(c+r.in(0, 1.5), -b-r.in(4, 12), -88, r.in(0, 3)))
	case s.symmetric:
		s.words = append(s.words, "ricasso")
		return append(nodes, append(shoulder(x, low, -b+2), sketch.Corner(c, -b+2, 0, -40), sketch.Corner(c+2, -b, -40, 1))...)
	case r.one(3):
		s.words = append(s.words, "notch")
		c = x + r.in(9, 20)
		notch := -b + r.in(4, 7)
		nodes = append(nodes, shoulder(x, low, min(notch, low))...)
		nodes[len(nodes)-1].Out = 62
		return append(nodes, sketch.Smooth(x+0.45*(c-x), notch+1, 0), sketch.Corner(c, -b, -60, r.in(-8, 2)))
	case r.one(2):
		s.words = append(s.words, "ricasso")
		return append(nodes, append(shoulder(x, low, -b), sketch.Corner(c, -b, 0, r.in(-6, 1)))...)
	default:
		s.words = append(s.words, "no-ricasso")
		c = x + r.in(0.5, 2)
		return append(nodes, append(shoulder(x, low, -b), sketch.Corner(c, -b, 0, r.in(-4, 1)))...)
	}
}

// shoulder goes straight across at x, from where the outline is to where the blade begins.
func shoulder(x, from, to float64) []sketch.Node {
	switch {
	case to < from:
		return []sketch.Node{sketch.Corner(x, from, 0, -90), sketch.Corner(x, to, -90, 0)}
	case to > from:
		return []sketch.Node{sketch.Corner(x, from, 0, 90), sketch.Corner(x, to, 90, 0)}
	default:
		return []sketch.Node{sketch.Corner(x, from, 0, 0)}
	}
}

// edge is the edge behind the heel, to the tip and with it.
func (s *shape) edge(r random) []sketch.Node {
	l, x := s.long, s.heel.X
	run := l - x
	low := s.heel.Y
	tip := func(y, in, out float64) sketch.Node {
		s.tip = sketch.Corner(l, y, in, out)
		return s.tip
	}
	belly := sketch.Smooth(x+run*r.in(0.4, 0.6), low-r.in(0, 3), r.in(-1, 3))
	switch s.kind {
	case "sheepsfoot":
		return []sketch.Node{tip(low+r.in(0, 1), r.in(0, 3), r.in(95, 115))}
	case "tanto":
		return []sketch.Node{sketch.Corner(l-s.wide*r.in(0.6, 1), low, 0, 35), tip(s.spine-r.in(0, 2), 48, 180)}
	case "recurve":
		return []sketch.Node{sketch.Smooth(x+0.35*run, low+r.in(3, 6), -2), sketch.Smooth(x+0.7*run, low-r.in(0, 2), 3), tip(r.in(-2, 5), 50, 160)}
	case "chef":
		return []sketch.Node{sketch.Smooth(x+0.5*run, low+r.in(0, 2), 2), tip(low*r.in(0.1, 0.5), r.in(15, 30), r.in(165, 176))}
	case "dagger":
		return []sketch.Node{sketch.Smooth(x+0.5*run, low+1, 2), tip(0, 25, 155)}
	case "trailing":
		return []sketch.Node{belly, tip(s.spine+r.in(4, 14), r.in(50, 70), r.in(196, 206))}
	case "hooked":
		return []sketch.Node{sketch.Smooth(x+0.5*run, low-r.in(0, 3), -14), tip(low-0.35*run, -45, r.in(112, 122))}
	default: // drop and clip
		y := r.in(-0.3, 0.45) * s.spine
		if s.kind == "clip" {
			return []sketch.Node{belly, tip(y, r.in(40, 55), r.in(164, 172))}
		}
		return []sketch.Node{belly, tip(y, r.in(40, 60), r.in(146, 160))}
	}
}

// back is the spine from before the tip to the handle's front.
func (s *shape) back(r random) []sketch.Node {
	l, y := s.long, s.spine
	var nodes []sketch.Node
	switch s.kind {
	case "sheepsfoot":
		nodes = append(nodes, sketch.Smooth(l-s.wide*r.in(0.5, 0.9), y, 180))
	case "tanto":
	case "clip":
		nodes = append(nodes, sketch.Corner(l*r.in(0.55, 0.72), y, r.in(148, 158), 180))
	case "chef":
		nodes = append(nodes, sketch.Smooth(0.45*l, y, 180))
	case "dagger":
		h := s.heel
		nodes = append(nodes, sketch.Smooth(h.X+0.5*(l-h.X), -h.Y-1, 178),
			sketch.Corner(h.X, -h.Y, 179, 220), sketch.Corner(h.X-2, -h.Y-2, 220, 180))
		y = -h.Y - 2
	case "trailing":
		nodes = append(nodes, sketch.Smooth(0.6*l, y-1, 181))
	case "hooked":
		nodes = append(nodes, sketch.Smooth(0.5*l, y-2, 165))
	default:
		nodes = append(nodes, sketch.Smooth(l*r.in(0.4, 0.6), y, 178))
	}
	x := s.start
	if s.guard > 0 {
		out := max(y, s.half) + r.in(2, 7)
		return append(nodes, sketch.Corner(x, y, 180, 90), sketch.Corner(x, out, 90, 180), sketch.Corner(0, out, 180, -90))
	}
	if s.half > y+0.3 {
		return append(nodes, sketch.Corner(x, y, 180, 90))
	}
	if s.half < y-0.3 {
		return append(nodes, sketch.Corner(x, y, 180, -90))
	}
	s.half = y
	return nodes
}
