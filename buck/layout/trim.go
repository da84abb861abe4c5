package layout

import (
	"errors"
	"fmt"
	"math"

	"formbuck/buck/internal/offset"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// trim works out the trim line: everything within an edge distance of where an eyelet may be, its hollows
// filled to a smooth line that the cutter reaches, cut straight at the mouth and rounded there. It does not go
// round the drain, so that the channel opens at it. What lies behind the mouth does not widen it.
func (s *Sheath) trim(g *ground, box r2.Box) error {
	spec := s.Knife.Spec
	wide, err := s.covered(g, box)
	if err != nil {
		return err
	}
	if s.Trim, err = s.finish(wide, min(spec.Layout.Corner, spec.EdgeDistance()), box); err != nil {
		return err
	}
	for i := range s.Eyelets {
		s.Eyelets[i].Edge = s.Trim.Distance(s.Eyelets[i].At)
	}
	s.findMouth()
	s.findOutlet(g.drain)
	return nil
}

// finish fills the hollows of what has to be covered, cuts it at the mouth and rounds its corners.
func (s *Sheath) finish(wide offset.Surface, round float64, box r2.Box) (profile.Loop, error) {
	fill := s.Hollow()
	// A hollow is filled by moving the line out and back again. Where the mouth cannot be cut exactly, a corner is
	// rounded by moving the line in and out.
	out, err := traced(wide.Less(fill).Gentle(s.ground.steep()), aligned(grown(box, fill)), 2*cell, window)
	if err != nil {
		return nil, err
	}
	whole := offset.Outside(out).Less(-fill)
	smooth, err := traced(whole, aligned(grown(box, fill/4)), cell, 0)
	if err != nil {
		return nil, err
	}
	if trim := s.cutter(round).cut(s.eased(smooth)); trim != nil {
		return trim, nil
	}
	cut := offset.Common(whole, s.opening())
	trim, err := traced(cut.Less(-round), box, cell, 0)
	if err != nil {
		return nil, &measures.Fault{Key: "layout.corner", What: err.Error()}
	}
	if round > 0 {
		return traced(offset.Outside(trim).Less(round), box, cell, 0)
	}
	return trim, nil
}

// eased is a loop whose short arcs inwards that are tighter than the cutter reaches are straight, where that is within
// what lines are fitted to.
func (s *Sheath) eased(l profile.Loop) profile.Loop {
	m := s.Knife.Spec.Mill
	for i, seg := range l {
		if seg.Bulge >= 0 || seg.Straight() {
			continue
		}
		if _, r, _, _ := seg.Arc(); r < m.Cutter/2+m.Allowance && -seg.Bulge*r2.Norm(r2.Sub(seg.B, seg.A))/2 < fitted {
			l[i].Bulge = 0
		}
	}
	return l
}

// covered is what the sheath has to cover: an edge distance round every place of an eyelet's centre beside
// what of the buck is within the mouth, and round the eyelets and the other holes themselves.
func (s *Sheath) covered(g *ground, box r2.Box) (offset.Surface, error) {
	const lines = 3 // are fitted on the way
	room := s.Knife.Spec.EdgeDistance() + lines*fitted
	open := mouth(s.Knife)
	knife, err := traced(offset.Common(g.interior, open), box, cell, 0)
	if err != nil {
		return nil, &measures.Fault{Key: "throat.depth", What: "nothing of the knife is within the mouth"}
	}
	within := g.kept.Where(func(w offset.Sweep) bool {
		a, _ := open(w.A)
		b, _ := open(w.B)
		return a <= 0 && b <= 0
	})
	var eyelets []offset.Sweep
	for _, e := range s.Eyelets {
		eyelets = append(eyelets, offset.Sweep{A: e.At, B: e.At, RA: room, RB: room})
	}
	for _, h := range s.Holes {
		r := h.rim(s.Knife.Spec.Layout) + lines*fitted
		eyelets = append(eyelets, offset.Sweep{A: h.At, B: h.At, RA: r, RB: r})
	}
	return offset.Union(
		offset.Union(offset.Outside(knife), within.Surface()).Less(g.reach+room).Lowered(g.off.Error),
		offset.NewSwept(eyelets).Surface(),
	), nil
}

// findMouth looks for the straight part of the trim line at the mouth.
func (s *Sheath) findMouth() {
	open := mouth(s.Knife)
	longest := 0.0
	for _, seg := range s.Trim {
		va, _ := open(seg.A)
		vb, _ := open(seg.B)
		if math.Abs(va) < 0.01 && math.Abs(vb) < 0.01 && seg.Length() > longest {
			longest = seg.Length()
			// The trim line runs counter-clockwise: at the mouth from the spine to the edge.
			s.Mouth = [2]r2.Vec{seg.B, seg.A}
		}
	}
}

// findOutlet looks for where the trim line crosses the drain's two sides, and warns where the plug does not
// reach it.
func (s *Sheath) findOutlet(d *pieces.DrainPiece) {
	for i, side := range []float64{-1, 1} {
		low, high := 0.0, d.To
		on := func(x float64) r2.Vec { return d.At(r2.Vec{X: x, Y: side * d.RadiusAt(x)}) }
		if within(s.Trim, on(high)) <= 0 {
			s.Outlet = [2]r2.Vec{}
			s.warn("drain.length: the drain ends before the sheath's trim line, so that its channel stays shut; %.1f mm and more would pass it",
				d.To+s.short(d))
			return
		}
		for range 50 {
			if mid := (low + high) / 2; within(s.Trim, on(mid)) < 0 {
				low = mid
			} else {
				high = mid
			}
		}
		s.Outlet[i] = on(high)
	}
}

// short is how much longer the drain has to be to pass the trim line, in mm.
func (s *Sheath) short(d *pieces.DrainPiece) float64 {
	more := 0.0
	for within(s.Trim, d.At(r2.Vec{X: d.To + more, Y: d.RadiusAt(d.To + more)})) <= 0 && more < 100 {
		more += 0.5
	}
	return more
}

func (s *Sheath) warn(format string, args ...any) {
	s.Warnings = append(s.Warnings, fmt.Sprintf(format, args...))
}

// warnOf warns of a Fault that keeps nothing from being laid out.
func (s *Sheath) warnOf(err error) {
	var f *measures.Fault
	if errors.As(err, &f) {
		s.warn("%s: %v", f.Key, f)
		return
	}
	s.warn("%v", err)
}

// Plug is a box round what the sheet is formed over at the drain, from the tip to the plug's end; of no size where
// there is no drain.
func (s *Sheath) Plug() r2.Box {
	d := s.drain
	if d == nil {
		return r2.Box{}
	}
	var box r2.Box
	for i, x := range [2]float64{0, d.To} {
		r := d.RadiusAt(x) + measures.Fold{Half: d.RadiusAt(x), Sheet: s.Gauge, Edge: d.RadiusAt(x), DraftDeg: draftDeg}.Contact()
		at := grown(r2.Box{Min: d.At(r2.Vec{X: x}), Max: d.At(r2.Vec{X: x})}, r)
		if i == 0 {
			box = at
		} else {
			box = box.Union(at)
		}
	}
	return box
}

// Open are the lines within which the two sheets do not lie flat on each other, as far as the blank goes: of the
// knife with its pieces, and of the drain.
func (s *Sheath) Open() []profile.Path {
	return append(rightOf(s.Fold.Path(), s.Blank.Box.Min.X), s.Channel()...)
}

// Channel are the drain's two sides, from the tip to the trim line.
func (s *Sheath) Channel() []profile.Path {
	d := s.drain
	if d == nil || s.Outlet == [2]r2.Vec{} {
		return nil
	}
	var sides []profile.Path
	for i, side := range []float64{-1, 1} {
		sides = append(sides, profile.Path{{A: d.At(r2.Vec{Y: side * d.RadiusAt(0)}), B: s.Outlet[i]}})
	}
	return sides
}
