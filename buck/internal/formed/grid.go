package formed

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Grid is a field of square cells on the draw's axes, which are the blade's turned by TurnDeg. What
// is said of a cell holds at its middle.
type Grid struct {
	Min     r2.Vec  // outer corner of the first cell, on the draw's axes, mm
	Step    float64 // of the cells, mm
	NX, NY  int     // cells along the draw and across
	TurnDeg float64 // from the blade's axes, from +x towards +y
}

// Cells is how many cells there are.
func (g Grid) Cells() int { return g.NX * g.NY }

// Middle is the middle of cell (i, j) on the draw's axes.
func (g Grid) Middle(i, j int) r2.Vec {
	return r2.Vec{X: g.Min.X + (float64(i)+0.5)*g.Step, Y: g.Min.Y + (float64(j)+0.5)*g.Step}
}

// Blade is a point of the draw's axes on the blade's.
func (g Grid) Blade(q r2.Vec) r2.Vec {
	if g.TurnDeg == 0 {
		return q
	}
	return r2.Rotate(q, g.TurnDeg*math.Pi/180, r2.Vec{})
}

// Draw is a point of the blade's axes on the draw's.
func (g Grid) Draw(p r2.Vec) r2.Vec {
	if g.TurnDeg == 0 {
		return p
	}
	return r2.Rotate(p, -g.TurnDeg*math.Pi/180, r2.Vec{})
}

// At is the middle of cell n in the blade's axes.
func (g Grid) At(n int) r2.Vec { return g.Blade(g.Middle(n%g.NX, n/g.NX)) }

// Cell is the cell that q of the draw's axes lies in, or the one nearest to it.
func (g Grid) Cell(q r2.Vec) (i, j int) {
	i = int(math.Floor((q.X - g.Min.X) / g.Step))
	j = int(math.Floor((q.Y - g.Min.Y) / g.Step))
	return min(max(i, 0), g.NX-1), min(max(j, 0), g.NY-1)
}

// Over is the grid of the given step that covers a box of the draw's axes; its cells begin at a
// whole number of steps from the origin, so that the mouth lies between two of them.
func Over(box r2.Box, step, turnDeg float64) Grid {
	x, y := math.Floor(box.Min.X/step), math.Floor(box.Min.Y/step)
	return Grid{
		Min:  r2.Vec{X: x * step, Y: y * step},
		Step: step,
		NX:   max(1, int(math.Ceil(box.Max.X/step)-x)),
		NY:   max(1, int(math.Ceil(box.Max.Y/step)-y)),

		TurnDeg: turnDeg,
	}
}

// Map is a height, in mm, for every cell of a grid, row by row from the lowest y.
type Map struct {
	Grid
	Z []float64
}

// NewMap is a map of heights 0.
func NewMap(g Grid) *Map { return &Map{Grid: g, Z: make([]float64, g.Cells())} }

// Row is the row j of the map.
func (m *Map) Row(j int) []float64 { return m.Z[j*m.NX : (j+1)*m.NX] }

// Height is that of the cell that p of the blade's axes lies in, or of the cell nearest to it.
func (m *Map) Height(p r2.Vec) float64 {
	i, j := m.Cell(m.Draw(p))
	return m.Z[j*m.NX+i]
}

// Level is the height at p of the blade's axes, straight between the middles of the four cells
// around it.
func (m *Map) Level(p r2.Vec) float64 {
	q := r2.Scale(1/m.Step, r2.Sub(m.Draw(p), m.Min))
	u := min(max(q.X-0.5, 0), float64(m.NX-1))
	v := min(max(q.Y-0.5, 0), float64(m.NY-1))
	i, j := min(int(u), max(m.NX-2, 0)), min(int(v), max(m.NY-2, 0))
	u, v = u-float64(i), v-float64(j)
	right, up := min(1, m.NX-1), min(1, m.NY-1)*m.NX
	n := j*m.NX + i
	low := m.Z[n] + (m.Z[n+right]-m.Z[n])*u
	high := m.Z[n+up] + (m.Z[n+up+right]-m.Z[n+up])*u
	return low + (high-low)*v
}

// Clone is a copy of the map.
func (m *Map) Clone() *Map {
	return &Map{Grid: m.Grid, Z: append([]float64(nil), m.Z...)}
}
