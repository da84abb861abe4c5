package path

import (
	"fmt"
	"math"

	"formbuck/buck/internal/formed"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// shelfWide is how far, in mm, a ramp may stand beside the steel and be told without a word on a draw along an arc; common
// practice, no source.
const shelfWide = 10

// shelf is the ramp that stands furthest beside the steel, and how far across the draw, mm.
func (b Buck) shelf() (on *pieces.RampPiece, wide float64) {
	const step = 0.5 // our own, no source
	for _, r := range b.All() {
		for x := r.Head.Min.X + step/2; x < r.Head.Max.X; x += 4 * step {
			far := 0.0
			for y := r.Head.Min.Y + step/2; y < r.Head.Max.Y; y += step {
				if r.BaseAt(r.Blade(r2.Vec{X: x, Y: y})) == pieces.Gap {
					far += step
				}
			}
			if far > wide {
				on, wide = r, far
			}
		}
	}
	return on, wide
}

// shelf tells of a ramp that stands far beside the blade, with what was found of a draw along an arc,
// which may spare it; "" where there is nothing to tell. It is a warning where the arc is free.
func (s *Study) shelf() (said string, warns bool) {
	on, wide := s.Buck.shelf()
	if s.Centre != nil || wide < shelfWide {
		return "", false
	}
	said = fmt.Sprintf("the ramp at the %s stands %.0f mm beside the blade, since a straight draw takes the blade over that", on.Place(), wide)
	centre, left := s.freeArc()
	if left == nil {
		return said + fmt.Sprintf("; along circles about (%.0f, %.0f) the knife draws freely without any ramp, as draw --arc %.0f,%.0f shows: leave the ramps off and draw it so",
			centre.X, centre.Y, centre.X, centre.Y), true
	}
	return said + fmt.Sprintf("; along an arc it would bind without ramps too: the best that was found, about (%.0f, %.0f), binds %s",
		centre.X, centre.Y, Paired(left)[0]), false
}

// arcRadii and arcPlaces are what is tried at first of an arc: its radius, and its centre along the blade, as shares of the
// blade's length; the best is then improved to half a millimetre.
var (
	arcRadii  = []float64{0.5, 0.7, 1, 1.4, 2, 3, 5}
	arcPlaces = []float64{-0.3, 0, 0.2, 0.4, 0.6, 0.8}
)

const arcCells = 1.0 // mm: of the maps on which arcs are tried; our own, no source

// findArc looks for the centre of an arc along which the knife draws freely without ramps, and gives what still binds along
// the best one, nil where it is free. Centres are whole millimetres.
func (s *Study) findArc() (centre r2.Vec, left []Bind) {
	k := s.Buck.Knife
	plain := *k
	plain.Spec.Ramp.CantDeg = 0
	bare := Buck{Knife: &plain, Drain: s.Buck.Drain}
	coarse := New(bare, Options{Step: arcCells})
	long := max(k.Plan.Tip.X, 1)
	best, most := r2.Vec{}, math.Inf(1)
	try := func(c r2.Vec) bool {
		if cost := coarse.arcCost(c); cost < most {
			best, most = c, cost
			return true
		}
		return false
	}
	for _, side := range []float64{1, -1} {
		for _, r := range arcRadii {
			for _, x := range arcPlaces {
				try(r2.Vec{X: x * long, Y: side * r * long})
			}
		}
	}
	for step := 0.15 * long; step >= 0.5; {
		at, better := best, false
		for _, by := range []r2.Vec{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}, {X: 1, Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}} {
			better = try(r2.Add(at, r2.Scale(step, by))) || better
		}
		if !better {
			step /= 2
		}
	}
	centre = r2.Vec{X: math.Round(best.X), Y: math.Round(best.Y)}
	return centre, New(bare, Options{Step: 0.2, Centre: &centre}).Verdict().Binds
}

// arcCost is how much binds along circles about a centre: by how much more than is felt, over the area, mm3.
func (s *Study) arcCost(centre r2.Vec) float64 {
	if math.Abs(centre.Y) < 20 {
		return math.Inf(1) // the blade would turn about itself
	}
	e := Arc(s.Knife.Grid, s.Knife.Draw(centre), func(q r2.Vec) float64 { return level(s.Knife, q) })
	first, sum := s.mouth(), 0.0
	c := s.Faces[0].Cavity
	for j := range e.NY {
		row, under := e.Row(j), c.Row(j)
		for i := first; i < e.NX; i++ {
			sum += max(0, row[i]-under[i]-Felt)
		}
	}
	return sum * s.Knife.Step * s.Knife.Step
}

// level is the height of the cell in which a point of the map's axes lies; 0 outside.
func level(m *formed.Map, q r2.Vec) float64 {
	i, j := int(math.Floor((q.X-m.Min.X)/m.Step)), int(math.Floor((q.Y-m.Min.Y)/m.Step))
	if i < 0 || j < 0 || i >= m.NX || j >= m.NY {
		return 0
	}
	return m.Z[j*m.NX+i]
}
