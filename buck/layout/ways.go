package layout

import (
	"math"

	"formbuck/buck/fixture/register"
	"formbuck/buck/fixture/way"
	"formbuck/buck/internal/offset"
	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Cost is what a way to lay the pair on the mill costs.
type Cost struct {
	Way     way.Way
	Error   float64 // the most that an eyelet can be off, mm
	Area    float64 // within the trim line, mm2
	More    float64 // of it what would not be there if nothing were off
	Why     string  // that it cannot be done; "": it can
	Governs bool    // the sheath is laid out for it
	Eyelets int
	Trimmed [2]float64 // length and width, mm
	Exact   bool       // nothing is off: what the others are compared with
}

// Ways lays the sheath out anew for each way in which the pair can lie on the mill, the best first, and before
// these for none that is off. What a plate states has no part in it.
func (s *Sheath) Ways() ([]Cost, error) {
	exact := Cost{Exact: true, Way: way.Way{Register: register.Register{At: s.Way.Register.At}}}
	all := []Cost{exact}
	for _, name := range measures.Registers() {
		w, err := way.Named(s.Knife, name)
		c := Cost{Way: w, Governs: name == s.Way.Name && s.Plate == nil}
		if err != nil {
			c.Why = err.Error()
		}
		all = append(all, c)
	}
	for i := range all {
		c := &all[i]
		if c.Why != "" {
			continue
		}
		other, err := s.lying(c.Way)
		if err != nil {
			return nil, err
		}
		size := other.Trim.Bounds().Size()
		c.Area, c.Eyelets, c.Trimmed = other.Trim.Area(), len(other.Eyelets), [2]float64{size.X, size.Y}
		for _, e := range other.Eyelets {
			c.Error = max(c.Error, c.Way.Register.Error(e.At))
		}
		c.More = c.Area - all[0].Area
	}
	return all, nil
}

// lying is the sheath laid out for another way.
func (s *Sheath) lying(w way.Way) (*Sheath, error) {
	g := *s.ground
	g.way, g.off = w, s.ground.field(w)
	return lay(&g)
}

// field is by how much holes can be off, as the pair lies.
func (g *ground) field(w way.Way) *register.Field {
	const room = 60 // mm round the knife: no eyelet is farther off; our own, no source
	return register.NewField(w.Register, grown(g.knife.Plan.Outline.Bounds(), room))
}

// Alone is the same sheath without the plate that it is laid out on, as its variant's register asks.
func (s *Sheath) Alone() (*Sheath, error) {
	w, err := way.Own(s.Knife)
	if err != nil {
		return nil, err
	}
	return s.lying(w)
}

// Spare is the least by which an eyelet is farther off than it needs to be, in mm.
func (s *Sheath) Spare() float64 {
	least := math.Inf(1)
	for _, e := range s.Eyelets {
		least = min(least, e.Spare)
	}
	return least
}

// Apart is how far p lies beyond where the two sheets part, over the drain as over the knife and its pieces; below 0:
// they are apart there.
func (s *Sheath) Apart(p r2.Vec) float64 {
	v, _ := s.ground.parts()(p)
	plug, _ := s.ground.plug.Surface()(p)
	return min(v, plug)
}

// TrimMoved is the trim line moved outwards by a distance, or inwards where that is below 0.
func (s *Sheath) TrimMoved(by float64) (profile.Loop, error) {
	if by == 0 {
		return s.Trim, nil
	}
	loops, err := offset.Constant(s.Trim, by, offset.Options{})
	if err != nil {
		return nil, err
	}
	return offset.Largest(loops)
}

// FormedMoved is the outline of all over which the two sheets are apart, the drain with it, moved outwards by a distance.
func (s *Sheath) FormedMoved(by float64) (profile.Loop, error) {
	g := s.ground
	all := offset.Union(g.parts(), g.plug.Surface()).Less(by)
	return traced(all, aligned(grown(g.knife.Plan.Outline.Bounds(), g.widest()+by)), cell, 0)
}
