package layout

import (
	"fmt"

	"formbuck/buck/internal/offset"
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// Hole is a hole through the flat rim of both halves, for another mount.
type Hole struct {
	Name     string
	At       r2.Vec
	Diameter float64
}

func fault(key, format string, args ...any) error {
	return &measures.Fault{Key: key, What: fmt.Sprintf(format, args...)}
}

// rim is the least from a hole's centre to the trim line: as for an eyelet without a flange.
func (h Hole) rim(l measures.Layout) float64 { return max(h.Diameter/2+l.Rim, 1.25*h.Diameter) }

// extraHoles takes the holes for other mounts, and refuses those that are not in the flat rim.
func (s *Sheath) extraHoles(g *ground) error {
	const key = "layout.holes"
	l := s.Knife.Spec.Layout
	named, err := measures.ParseHoles(l.Holes)
	if err != nil {
		return fault(key, "%v", err)
	}
	flat := offset.Union(g.parts(), g.plug.Surface())
	open := s.opening()
	for i, n := range named {
		h := Hole{Name: n.Name, At: n.At, Diameter: n.Diameter}
		out, _ := flat(h.At)
		in, _ := open(h.At)
		edge := min(s.Knife.Plan.Edge.Distance(h.At), s.Knife.Plan.Back.Distance(h.At)) - h.Diameter/2
		off := g.off.Error(h.At)
		switch want := h.Diameter/2 + l.Clearance + off; {
		case out < want:
			return fault(key, "%s is not in the flat rim: its middle is %.2f mm from where the sheets part, and %.2f mm are wanted", h.Name, out, want)
		case edge < l.EdgeGuard+off:
			return fault(key, "%s is %.2f mm from the cutting edge, and %.4g mm of sheet are wanted between them", h.Name, edge, l.EdgeGuard+off)
		case -in < h.rim(l):
			return fault(key, "%s is %.2f mm from the mouth, and %.2f mm are wanted", h.Name, -in, h.rim(l))
		case out > farthest:
			return fault(key, "%s is %.0f mm from the knife: at most %d mm", h.Name, out, farthest)
		}
		for _, other := range s.Holes[:i] {
			if d := r2.Norm(r2.Sub(h.At, other.At)); d < (h.Diameter+other.Diameter)/2+l.Rim {
				return fault(key, "%s and %s are %.2f mm apart, middle to middle", h.Name, other.Name, d)
			}
		}
		s.Holes = append(s.Holes, h)
	}
	return nil
}

// farthest is how far from where the sheets part a hole for another mount may be, in mm. Common practice, no source.
const farthest = 60

// beyond is how far the holes for other mounts reach beyond the knife's box, with their rim.
func (s *Sheath) beyond(box r2.Box) r2.Box {
	for _, h := range s.Holes {
		box = box.Union(grown(r2.Box{Min: h.At, Max: h.At}, h.rim(s.Knife.Spec.Layout)+2))
	}
	return box
}

// clear tells whether an eyelet at p keeps off the holes for other mounts.
func (s *Sheath) clear(p r2.Vec) bool {
	e := s.Knife.Spec.Eyelet
	for _, h := range s.Holes {
		if r2.Norm(r2.Sub(p, h.At)) < h.Diameter/2+max(e.Flange, e.Die)/2+1 {
			return false
		}
	}
	return true
}

// wanted tells whether an eyelet may stand at p as far as layout.no_eyelets goes.
func (s *Sheath) wanted(p r2.Vec, none []measures.NoEyelet) bool {
	room := s.Knife.Spec.Eyelet.Flange / 2
	for _, z := range none {
		if z.Side == s.sideOf(p) && p.X > z.From-room && p.X < z.To+room {
			return false
		}
	}
	return true
}
