package path

import (
	"math"

	"formbuck/buck"
	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r2"
)

// common fills row j of what both faces have: knife, tape, ramps and drain.
func (s *Study) common(m *Map, j int) {
	h, tape, row := s.Knife.Row(j), s.Tape.Row(j), m.Row(j)
	for i := range row {
		row[i] = h[i] + tape[i]
	}
	for _, r := range s.Buck.Ramps {
		b := r.Head
		skirt := r.Skirt()
		b.Min.Y, b.Max.Y, b.Max.X = b.Min.Y-skirt, b.Max.Y+skirt, b.Max.X+skirt
		s.raise(m, j, turned(b, m.TurnDeg, r), func(p r2.Vec) float64 { return ramp(r, p) })
	}
	if d := s.Buck.Drain; d != nil {
		wide := d.RadiusAt(d.To)
		box := around(m.Grid, d.At(r2.Vec{X: d.From, Y: wide}), d.At(r2.Vec{X: d.From, Y: -wide}),
			d.At(r2.Vec{X: d.To, Y: wide}), d.At(r2.Vec{X: d.To, Y: -wide}))
		s.raise(m, j, box, func(p r2.Vec) float64 {
			if q := d.Local(p); q.X < d.From || q.X > d.To {
				return 0
			}
			return d.Half(p)
		})
	}
}

// turned is the box of a ramp, given on its axes, on the draw's.
func turned(b r2.Box, turnDeg float64, r *buck.RampPiece) r2.Box {
	return around(Grid{TurnDeg: turnDeg}, r.Blade(b.Min), r.Blade(b.Max),
		r.Blade(r2.Vec{X: b.Min.X, Y: b.Max.Y}), r.Blade(r2.Vec{X: b.Max.X, Y: b.Min.Y}))
}

// around is the box, on the draw's axes, around points in the blade's.
func around(g Grid, points ...r2.Vec) r2.Box {
	box := r2.Box{
		Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)},
		Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)},
	}
	for _, p := range points {
		q := g.Draw(p)
		box.Min = r2.Vec{X: min(box.Min.X, q.X), Y: min(box.Min.Y, q.Y)}
		box.Max = r2.Vec{X: max(box.Max.X, q.X), Y: max(box.Max.Y, q.Y)}
	}
	return box
}

// ramp is the height of a ramp's surface at p; 0 where there is none of it.
func ramp(r *buck.RampPiece, p r2.Vec) float64 {
	base := r.BaseAt(p)
	if base == buck.NoBase {
		return 0
	}
	z := r.Height(p)
	if base == buck.Steel && z < r.Underside(r.Knife.Blade(r.Across(p)), p) {
		return 0
	}
	return z
}

// boss adds a boss and gives a window that holds all cells that it raises.
func (s *Study) boss(m *Map, b *buck.StandoffPiece) window {
	foot := b.Foot()
	half := r2.Rotate(r2.Vec{X: (foot.Length - foot.Width) / 2}, (foot.AngleDeg-m.TurnDeg)*math.Pi/180, r2.Vec{})
	c, round := m.Draw(foot.Centre), foot.Width/2+m.Step
	far := r2.Vec{X: math.Abs(half.X) + round, Y: math.Abs(half.Y) + round}
	box := r2.Box{Min: r2.Sub(c, far), Max: r2.Add(c, far)}
	crew.Each(m.NY, func(j int) {
		s.raise(m, j, box, func(p r2.Vec) float64 {
			if foot.Distance(p) > 0 {
				return 0
			}
			return b.Plane(p)
		})
	})
	i0, j0 := m.cell(box.Min)
	i1, j1 := m.cell(box.Max)
	return window{i0, i1 + 1, max(j0-1, 0), min(j1+2, m.NY)}
}

// raise lifts row j, within a box of the draw's axes, to a height given over the blade's.
func (s *Study) raise(m *Map, j int, box r2.Box, height func(r2.Vec) float64) {
	if y := m.Middle(0, j).Y; y < box.Min.Y-m.Step || y > box.Max.Y+m.Step {
		return
	}
	from, _ := m.cell(box.Min)
	to, _ := m.cell(box.Max)
	row := m.Row(j)
	for i := from; i <= to; i++ {
		row[i] = max(row[i], height(m.Blade(m.Middle(i, j))))
	}
}

// Made is the buck of a knife with the pieces that are made for a hand. Its errors are Faults of the
// pieces.
func Made(k *buck.Knife, hand buck.Hand) (Buck, error) {
	b := Buck{Knife: k, Faces: hand.Faces()}
	var err error
	if len(b.Faces) > 0 {
		all, err := buck.NewStandoffs(k)
		if err != nil {
			return b, err
		}
		b.Standoff, b.More = all[0], all[1:]
	}
	if _, b.Ramps, err = k.Ramps(); err != nil {
		return b, err
	}
	b.Drain, err = buck.NewDrain(k)
	return b, err
}
