package path

import (
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// LockWithin is how close, in mm over both halves, a kept lock comes to the one asked for. Our own, no source.
const LockWithin = 0.02

// lock is what it takes to open both halves by a total, mm, on the box of the draw's axes.
func (s *Study) lock(on *Face, at r2.Vec, box r2.Box, total float64) *Lock {
	m := s.material()
	l := &Lock{At: at, Box: box, Total: total, Strip: s.strip(at, box.Max.X-box.Min.X), Slope: s.slope(on, box)}
	l.Force = m.Force(l.Strip, total/2)
	l.Strain = m.Strain(l.Strip, total/2)
	l.Draw = m.Draw(l.Force, l.Slope)
	return l
}

// pocket is the lock that a ramp of the buck was asked for, or nil.
func (s *Study) pocket() *pieces.LockPocket {
	for _, r := range s.Buck.All() {
		if r.Lock != nil {
			return r.Lock
		}
	}
	return nil
}

// pocketBox is the box around a pocket on the draw's axes.
func (s *Study) pocketBox(p *pieces.LockPocket) r2.Box {
	c, r := s.Knife.Draw(p.Centre), r2.Vec{X: p.Radius, Y: p.Radius}
	return r2.Box{Min: r2.Sub(c, r), Max: r2.Add(c, r)}
}

// each calls do with every cell of a pocket.
func (s *Study) each(p *pieces.LockPocket, do func(n int)) {
	box, g := s.pocketBox(p), s.Knife.Grid
	i0, j0 := g.Cell(box.Min)
	i1, j1 := g.Cell(box.Max)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			if n := j*g.NX + i; p.Holds(g.At(n)) {
				do(n)
			}
		}
	}
}

// kept measures the lock that was asked for: the greatest interference in its pocket, on both halves together.
// It is nil where none was asked for.
func (s *Study) kept() *Lock {
	p := s.pocket()
	if p == nil {
		return nil
	}
	total, at, deepest := 0.0, p.Centre, 0.0
	on := s.Faces[0]
	for _, f := range s.Faces {
		most := 0.0
		s.each(p, func(n int) {
			z := f.Interference.Z[n]
			most = max(most, z)
			if z > deepest {
				deepest, at, on = z, s.Knife.At(n), f
			}
		})
		total += most
	}
	l := s.lock(on, at, s.pocketBox(p), total)
	l.Asked = p.Total
	return l
}

// spare takes the lock that was asked for from what is felt in its pocket: what is more than that binds.
func (s *Study) spare(felt *Map) {
	if p := s.pocket(); p != nil {
		s.each(p, func(n int) { felt.Z[n] -= p.Total / 2 })
	}
}

// removed finds the deepest undercut that the ramps take away.
func (r *Report) removed() {
	for i, f := range r.With.Faces {
		bare := r.Without.Faces[i].Interference.Z
		for n, z := range f.Interference.Z {
			if z <= 0 {
				r.Removed = max(r.Removed, bare[n])
			}
		}
	}
}
