package layout

import (
	"formbuck/buck/internal/offset"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Rule is what the sheath would be by the rule of thumb, and how it compares: one edge distance all round, from the
// knife's outline to the eyelets' centres and from there to the trim line.
type Rule struct {
	Diameters float64 // of the hole, that the edge distance is
	Distance  float64
	Size      r2.Vec
	Area      float64
	Saved     r2.Vec  // by which the sheath is shorter and narrower than that; under 0: the rule's is smaller
	SavedArea float64 // mm2
	Near      float64 // share of its eyelets' line within the mouth that is nearer to the knife than is safe
	Worst     float64 // by how much, at the most; 0: nowhere
}

// ruleDiameters are the edge distances of the rule of thumb, in diameters of the hole: common practice for sheaths,
// and what sheet metal takes for rivets (FAA AC 43.13-1B, from secondary pages).
var ruleDiameters = [2]float64{1.25, 2}

// Rules compares the sheath with those of the rule of thumb.
func (s *Sheath) Rules() ([]Rule, error) {
	var all []Rule
	for _, k := range ruleDiameters {
		r, err := s.rule(k)
		if err != nil {
			return nil, err
		}
		all = append(all, r)
	}
	return all, nil
}

// rule lays out the trim line of the rule of thumb as the sheath's own is laid out: the same mouth, the same hollows
// and corners.
func (s *Sheath) rule(diameters float64) (Rule, error) {
	spec := s.Knife.Spec
	r := Rule{Diameters: diameters, Distance: diameters * spec.Eyelet.Hole}
	box := grown(s.Knife.Plan.Outline.Bounds(), 2*r.Distance+max(s.ground.widest(), 0))
	knife, err := s.within(box)
	if err != nil {
		return r, err
	}
	trim, err := s.finish(knife.Less(2*r.Distance), min(spec.Layout.Corner, r.Distance), box)
	if err != nil {
		return r, err
	}
	r.Size, r.Area = trim.Bounds().Size(), trim.Area()
	r.Saved = r2.Sub(r.Size, s.Trim.Bounds().Size())
	r.SavedArea = r.Area - s.Trim.Area()
	return r, s.tooNear(&r, box)
}

// within is the surface of what of the knife is within the mouth, its corners as sharp as they are.
func (s *Sheath) within(box r2.Box) (offset.Surface, error) {
	open := mouth(s.Knife)
	knife, err := traced(offset.Common(s.ground.interior, open), box, cell, 0)
	if err != nil {
		return nil, err
	}
	var lines []offset.Sweep
	for _, path := range []profile.Path{s.Knife.Plan.Outline.Path(), s.Knife.Plan.Handle.Path()} {
		for _, l := range offset.Split(path, step) {
			a, _ := open(l.A)
			b, _ := open(l.B)
			if a <= 0 && b <= 0 {
				lines = append(lines, offset.Sweep{A: l.A, B: l.B})
			}
		}
	}
	return offset.Union(offset.Outside(knife), offset.NewSwept(lines).Surface()), nil
}

// tooNear looks where an eyelet on the rule's line would be nearer to the knife than it may be.
func (s *Sheath) tooNear(r *Rule, box r2.Box) error {
	line, err := traced(s.ground.interior.Less(r.Distance), box, cell, window)
	if err != nil {
		return err
	}
	rail := newRail(line.Path())
	open, safe := mouth(s.Knife), s.ground.line()
	looked, near := 0, 0
	for at := 0.0; at < rail.length(); at++ {
		p := rail.at(at)
		if v, _ := open(p); v > -r.Distance {
			continue
		}
		looked++
		if v, _ := safe(p); v < -0.01 {
			near++
			r.Worst = max(r.Worst, -v)
		}
	}
	if looked > 0 {
		r.Near = float64(near) / float64(looked)
	}
	return nil
}
