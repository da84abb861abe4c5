package path

import (
	"math"

	"formbuck/buck/internal/formed"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r2"
)

// lifted adds a boss and gives a window that holds all cells that it raises.
func lifted(m *Map, b *pieces.StandoffPiece) formed.Window {
	foot := b.Foot()
	half := r2.Rotate(r2.Vec{X: (foot.Length - foot.Width) / 2}, (foot.AngleDeg-m.TurnDeg)*math.Pi/180, r2.Vec{})
	c, round := m.Draw(foot.Centre), foot.Width/2+m.Step
	far := r2.Vec{X: math.Abs(half.X) + round, Y: math.Abs(half.Y) + round}
	box := r2.Box{Min: r2.Sub(c, far), Max: r2.Add(c, far)}
	crew.Each(m.NY, func(j int) {
		pieces.Raise(m, j, box, func(p r2.Vec) float64 {
			if foot.Distance(p) > 0 {
				return 0
			}
			return b.Plane(p)
		})
	})
	i0, j0 := m.Cell(box.Min)
	i1, j1 := m.Cell(box.Max)
	return m.Window(i0, i1+1, j0-1, j1+2)
}

// Made is the buck of a knife with the pieces that are made for a hand. Its errors are Faults of the
// pieces.
func Made(k *pieces.Buck, hand measures.Hand) (Buck, error) {
	b := Buck{Knife: k, Faces: k.Spec.Faces(hand)}
	if len(b.Faces) > 0 {
		all, err := pieces.NewStandoffs(k)
		if err != nil {
			return b, err
		}
		b.Standoff, b.More = all[0], all[1:]
	}
	_, ramps, err := k.Ramps()
	if err != nil {
		return b, err
	}
	b.Ramps = ramps.On(len(b.Faces) > 0)
	if len(b.Faces) == 1 && ramps.Differ() {
		b.Bare = ramps.Bare
	}
	b.Drain, err = pieces.NewDrain(k)
	return b, err
}
