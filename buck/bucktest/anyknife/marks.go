package anyknife

import (
	"math"
	"slices"

	"formbuck/buck/bucktest/sketch"
)

// marks are the optional layers of a drawing, and what else lies on the sheet.
type marks struct {
	handle   string // line, loop or none
	grind    bool
	throat   bool
	edge     bool
	tip      bool
	note     bool
	frame    string // none, own or outline: whose layer a border round the knife lies on
	layer    string // of the outline
	mouth    float64
	share    float64 // of the blade's width that is ground
	plunge   float64 // where the grind begins, along x
	unitless bool
}

// newMarks draws what is shown.
func newMarks(r random, s *shape) marks {
	m := marks{
		handle: []string{"line", "loop", "none"}[min(r.IntN(5), 4)/2],
		grind:  r.share(0.6), throat: r.share(0.5), edge: r.share(0.3), tip: r.share(0.2), note: r.one(4),
		frame: "none", layer: []string{"OUTLINE", "OUTLINE", "0", "Knife"}[r.IntN(4)],
		mouth: r.in(-25, min(25, 0.4*s.long)), share: r.in(0.4, 0.9), plunge: s.heel.X + r.in(0.3, 2),
	}
	if s.scales != nil {
		m.handle = "loop"
	}
	if s.alone {
		m.handle = "none"
		m.mouth = r.in(1, 0.2*s.long)
	}
	if s.symmetric {
		m.share = min(m.share/2+0.02, 0.44)
	}
	if r.share(0.08) {
		m.frame = []string{"own", "outline"}[r.IntN(2)]
	}
	m.unitless = r.share(0.1)
	return m
}

func (m marks) words() []string {
	words := []string{"handle-" + m.handle}
	for _, w := range []struct {
		on   bool
		name string
	}{
		{m.grind, "grind"},
		{m.throat, "throat"},
		{m.edge, "edge"},
		{m.tip, "tip"},
		{m.frame != "none", "frame-" + m.frame},
		{m.unitless, "unitless"},
	} {
		if w.on {
			words = append(words, w.name)
		}
	}
	return words
}

// line is the grind line of one edge as points from the plunge to the tip: a share of the way from the edge to the
// spine, reached within a few millimetres of the plunge. The other edge's is the mirror.
func (s *shape) line(plunge, share float64, other bool) [][2]float64 {
	var low, high [][2]float64
	to := &low
	for _, a := range sketch.Through(false, append(slices.Clone(s.blade), s.handle[0])...) {
		if a.AX == s.tip.X && a.AY == s.tip.Y {
			to = &high
		}
		*to = append(*to, flat(a, 0.2)...)
	}
	var points [][2]float64
	from, until := plunge, s.tip.X-3
	const n = 14
	for i := range n + 1 {
		t := float64(i) / n
		x := from + (until-from)*t*t*(3-2*t)*0.5 + (until-from)*t*0.5
		e, b := at(low, x), at(high, x)
		up := share * min(1, 0.03+(x-from)/7)
		y := e + up*(b-e)
		if other {
			y = b - up*(b-e)
		}
		points = append(points, [2]float64{x, y})
	}
	return points
}

// at is the height of a chain of points at x: of several the last.
func at(points [][2]float64, x float64) float64 {
	y := math.NaN()
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if (a[0]-x)*(b[0]-x) <= 0 && a[0] != b[0] {
			y = a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
		}
	}
	return y
}

// flat are points along an arc, its ends among them, no further from it than the sagitta.
func flat(a sketch.Arc, sagitta float64) [][2]float64 {
	out := [][2]float64{{a.AX, a.AY}}
	if a.Bulge != 0 {
		chord := math.Hypot(a.BX-a.AX, a.BY-a.AY)
		radius := chord * (1 + a.Bulge*a.Bulge) / (4 * math.Abs(a.Bulge))
		angle := 4 * math.Atan(a.Bulge)
		n := max(1, int(math.Ceil(math.Abs(angle)/(2*math.Acos(max(0, 1-sagitta/radius))))))
		k := (1 - a.Bulge*a.Bulge) / (4 * a.Bulge)
		cx, cy := (a.AX+a.BX)/2-k*(a.BY-a.AY), (a.AY+a.BY)/2+k*(a.BX-a.AX)
		start := math.Atan2(a.AY-cy, a.AX-cx)
		for i := 1; i < n; i++ {
			s, c := math.Sincos(start + angle*float64(i)/float64(n))
			out = append(out, [2]float64{cx + radius*c, cy + radius*s})
		}
	}
	return append(out, [2]float64{a.BX, a.BY})
}
