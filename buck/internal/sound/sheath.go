package sound

import (
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// rounded is by how much, in mm, a place of the layout may miss what was asked for: the trim line is traced and fitted.
// Our own, no source.
const rounded = 0.03

// line looks at the trim line: one simple loop round every boss.
func (w Work) line() []Finding {
	s := w.Sheath
	if p, crosses := crossing(s.Trim.Flatten(0.02)); crosses {
		return []Finding{own("sheath: its trim line crosses itself at %s", at(p))}
	}
	var all []Finding
	for _, b := range w.Bosses {
		for _, p := range b.FootLine() {
			if !s.Trim.Contains(p) {
				all = append(all, own("sheath: the boss %s stands out of its trim line at %s", b.Title(), at(p)))
				break
			}
		}
	}
	return all
}

// eyelets looks at their holes: within the trim line, and off the fold, the cutting edge and each other, by what was asked for.
func (w Work) eyelets() []Finding {
	s := w.Sheath
	spec := s.Knife.Spec
	e, l := spec.Eyelet, spec.Layout
	var all []Finding
	for i, x := range s.Eyelets {
		check := func(what string, found, asked float64) {
			if !(found >= asked-rounded) {
				all = append(all, own("sheath: eyelet %d at %s is %.2f mm %s, and %.2f mm are asked for", i+1, at(x.At), found, what, asked))
			}
		}
		check("within the trim line", inside(s.Trim, x.At), spec.EdgeDistance())
		check("from where the sheets lie flat", -inside(s.Fold, x.At), max(e.Flange, e.Die)/2+l.Clearance)
		check("from the cutting edge", s.Knife.Plan.Edge.Distance(x.At)-e.Hole/2, l.EdgeGuard)
		for _, other := range s.Eyelets[:i] {
			check("from another", r2.Norm(r2.Sub(x.At, other.At)), max(e.Flange, e.Die))
		}
	}
	for _, p := range s.Pins {
		if p.Eyelet >= len(s.Eyelets) || s.Eyelets[p.Eyelet].At != p.At {
			all = append(all, own("sheath: the pin at %s stands in no eyelet's hole", at(p.At)))
		}
	}
	return all
}

// mounts looks at the posts' holes and at those of other mounts.
func (w Work) mounts() []Finding {
	s := w.Sheath
	rim := s.Knife.Spec.Layout.Rim
	var all []Finding
	for _, p := range s.Posts {
		if in := inside(s.Trim, p.At); in < p.Diameter/2+rim-rounded {
			all = append(all, own("sheath: the post hole at %s is %.2f mm within the trim line, and %.2f mm are wanted", at(p.At), in, p.Diameter/2+rim))
		}
	}
	for _, h := range s.Holes {
		if in := inside(s.Trim, h.At); in < h.Diameter/2+rim-rounded {
			all = append(all, own("sheath: the hole %s at %s is %.2f mm within the trim line, and %.2f mm are wanted", h.Name, at(h.At), in, h.Diameter/2+rim))
		}
	}
	return all
}

// short looks at the drain where no sheath is laid out; of one that is its layout tells.
func (w Work) short() []Finding {
	if w.Drain == nil || w.Drain.Short() == 0 {
		return nil
	}
	return []Finding{said("drain.length: the insert ends %.1f mm before the sheath's trimmed edge; the channel would stay shut", w.Drain.Short())}
}

// inside is how far p lies within a loop, in mm; below 0 outside.
func inside(l profile.Loop, p r2.Vec) float64 {
	d := math.Abs(l.Distance(p))
	if !l.Contains(p) {
		return -d
	}
	return d
}

// crossing is a place where a closed row of straight lines crosses itself.
func crossing(ring []r2.Vec) (r2.Vec, bool) {
	n := len(ring)
	for i := range n {
		a, b := ring[i], ring[(i+1)%n]
		for j := i + 2; j < n; j++ {
			if (j+1)%n == i {
				continue
			}
			c, d := ring[j], ring[(j+1)%n]
			if max(c.X, d.X) < min(a.X, b.X) || max(a.X, b.X) < min(c.X, d.X) {
				continue
			}
			if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
				return a, true
			}
		}
	}
	return r2.Vec{}, false
}

// side is above 0 where p lies to the left of the way from a to b.
func side(a, b, p r2.Vec) float64 { return r2.Cross(r2.Sub(b, a), r2.Sub(p, a)) }
