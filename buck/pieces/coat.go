package pieces

import (
	"math"

	"formbuck/buck/internal/formed"
	"formbuck/buck/knives"

	"gonum.org/v1/gonum/spatial/r2"
)

// Coat is what the sheet is formed over on either face, bosses aside: the knife with its tape, its
// ramps and its drain insert. The zero value of a piece is that it is not there.
type Coat struct {
	Knife *Buck
	Ramps []*RampPiece
	Drain *DrainPiece
}

// Steel fills row j of two maps on one grid with the knife's half thickness and with the tape's
// thickness, which is on the blade only.
func (k *Buck) Steel(half, tape *formed.Map, j int) {
	g := half.Grid
	from := g.Blade(g.Middle(0, j))
	step := r2.Sub(g.Blade(g.Middle(1, j)), from)
	zone := make([]knives.Zone, g.NX)
	k.Row(from, step, zone, half.Row(j))
	row := tape.Row(j)
	for i, z := range zone {
		if z.OfBlade() {
			row[i] = k.TapeAt(r2.Add(from, r2.Scale(float64(i), step)))
		}
	}
}

// Fill fills row j of a map with the coat's height over the middle plane; knife and tape are maps
// on the same grid, as Steel fills them.
func (c Coat) Fill(m, knife, tape *formed.Map, j int) {
	h, t, row := knife.Row(j), tape.Row(j), m.Row(j)
	for i := range row {
		row[i] = h[i] + t[i]
	}
	for _, r := range c.Ramps {
		b := r.Head
		skirt := r.Skirt()
		b.Min.Y, b.Max.Y, b.Max.X = b.Min.Y-skirt, b.Max.Y+skirt, b.Max.X+skirt
		box := around(m.Grid, r.Blade(b.Min), r.Blade(b.Max),
			r.Blade(r2.Vec{X: b.Min.X, Y: b.Max.Y}), r.Blade(r2.Vec{X: b.Max.X, Y: b.Min.Y}))
		Raise(m, j, box, r.formed)
	}
	if d := c.Drain; d != nil {
		wide := d.RadiusAt(d.To)
		box := around(m.Grid, d.At(r2.Vec{X: d.From, Y: wide}), d.At(r2.Vec{X: d.From, Y: -wide}),
			d.At(r2.Vec{X: d.To, Y: wide}), d.At(r2.Vec{X: d.To, Y: -wide}))
		Raise(m, j, box, func(p r2.Vec) float64 {
			if q := d.Local(p); q.X < d.From || q.X > d.To {
				return 0
			}
			return d.Half(p)
		})
	}
}

// formed is the height of a ramp's surface at p; 0 where there is none of it.
func (r *RampPiece) formed(p r2.Vec) float64 {
	base := r.BaseAt(p)
	if base == NoBase {
		return 0
	}
	z := r.Height(p)
	if base == Steel && z < r.Underside(r.On(p), p) {
		return 0
	}
	return z
}

// around is the box, on the draw's axes, around points in the blade's.
func around(g formed.Grid, points ...r2.Vec) r2.Box {
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

// Raise lifts row j of a map, within a box of the draw's axes, to a height given over the blade's.
func Raise(m *formed.Map, j int, box r2.Box, height func(r2.Vec) float64) {
	if y := m.Middle(0, j).Y; y < box.Min.Y-m.Step || y > box.Max.Y+m.Step {
		return
	}
	from, _ := m.Cell(box.Min)
	to, _ := m.Cell(box.Max)
	row := m.Row(j)
	for i := from; i <= to; i++ {
		row[i] = max(row[i], height(m.Blade(m.Middle(i, j))))
	}
}
