package sound

import (
	"math"

	"formbuck/buck/internal/formed"
	"formbuck/buck/pieces"
	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	flangeCell = 0.25 // mm, of the cells on which the sheet is formed beside the drain; our own, no source
	lying      = 0.02 // mm over the middle plane below which the sheet is taken to lie flat; our own, no source
)

// flanges looks at those of the eyelets beside the drain: none nearer to where the two sheets part than was asked for. The sheet is
// formed there over knife, ramps and plug together, so that what a ball bridges in the corner between them counts, too.
func (w Work) flanges() []Finding {
	s := w.Sheath
	if w.Drain == nil {
		return nil
	}
	spec := s.Knife.Spec
	half := max(spec.Eyelet.Flange, spec.Eyelet.Die) / 2
	asked := spec.Layout.Clearance
	room := half + asked
	cavity := w.besideDrain(room)
	var all []Finding
	for i, x := range s.Eyelets {
		free := math.Inf(1)
		for n, z := range cavity.Z {
			if p := cavity.At(n); z > lying && p.X >= 0 { // the sheath begins at the mouth
				free = min(free, r2.Norm(r2.Sub(p, x.At))-half)
			}
		}
		if free < asked-flangeCell/2-rounded {
			all = append(all, own("sheath: the flange of eyelet %d at %s is %.2f mm from where the sheets part beside the drain, and %.2f mm are asked for", i+1, at(x.At), free, asked))
		}
	}
	return all
}

// besideDrain is the inner side of the sheet, formed over the drain and what lies within a distance of it.
func (w Work) besideDrain(far float64) *formed.Map {
	d, k := w.Drain, w.Sheath.Knife
	radius := k.Spec.Sheet.Ball()
	var line []r2.Vec
	for _, x := range [2]float64{d.From, d.To} {
		for _, side := range [2]float64{-1, 1} {
			line = append(line, d.At(r2.Vec{X: x, Y: side * d.RadiusAt(x)}))
		}
	}
	box := bounds(line)
	by := r2.Vec{X: far + 2*radius, Y: far + 2*radius}
	g := formed.Over(r2.Box{Min: r2.Sub(box.Min, by), Max: r2.Add(box.Max, by)}, flangeCell, 0)
	m, half, tape := formed.NewMap(g), formed.NewMap(g), formed.NewMap(g)
	coat := pieces.Coat{Knife: k, Drain: d}
	if w.Ramps != nil {
		coat.Ramps = w.Ramps.On(len(w.Bosses) > 0)
	}
	crew.Each(g.NY, func(j int) {
		k.Steel(half, tape, j)
		coat.Fill(m, half, tape, j)
	})
	return formed.NewCloser(m, radius, 0).All()
}
