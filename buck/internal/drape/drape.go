// Package drape tells how thin a sheet gets that is pressed over a boss.
//
// Foam touches the boss's top first and holds the hot sheet there, and a sheet sticks where it
// touches what is cold ("Corners", Thermoforming Quarterly, SPE, for the principle). So the top keeps
// its gauge, and what comes down the wall is fed from the wall's own span and from a ring round the
// foot. Two stages: the free span is drawn evenly until it is an arc tangent to wall and base over
// all of the wall's height; from there the arc gets smaller, and what it lays on wall and base stays
// as thick as it is laid. On the flanks of a long boss that is plane strain; round its ends the same
// section turns about the end's axis.
//
// Lengths are mm. The measures of a section are those of the boss: what the sheet's own thickness
// adds is left out.
package drape

import "math"

// Wall is the section of a boss's wall and of what the sheet comes from beside it.
type Wall struct {
	Height   float64 // over the base, above 0
	DraftDeg float64 // from the upright, 0 to under 90
	Ring     float64 // width of the base beside the foot that feeds the wall; less than the least counts as that
	Foot     float64 // radius of the arc that is left at the foot
	Round    bool    // the section turns about an axis; else it is a flank's, straight
	Top      float64 // of a round one: the radius of the top's edge, 0 or more
}

// Sheet is how thick the sheet comes out, in shares of its gauge.
type Sheet struct {
	Drawn float64 // of the free span when it is tangent all down the wall
	Mean  float64 // of the wall above the foot's arc, by area
	Foot  float64 // of the foot's arc, which is the least of all
}

// angle is the angle that the arc turns by from the wall to the base.
func (w Wall) angle() float64 { return math.Pi/2 - w.DraftDeg*math.Pi/180 }

// slant is the length of the wall.
func (w Wall) slant() float64 { return w.Height / math.Sin(w.angle()) }

// tangent is how far from where wall and base meet an arc of a radius touches them.
func (w Wall) tangent(radius float64) float64 { return radius * math.Tan(w.angle()/2) }

// widest is the radius of the arc that touches the wall at its top.
func (w Wall) widest() float64 { return w.slant() / math.Tan(w.angle()/2) }

// LeastRing is the width of a ring that the widest arc just touches: nothing feeds it.
func (w Wall) LeastRing() float64 { return w.slant() }

// strip is the area of a strip that runs out level or sloping: from a radius, over a length, its
// radius growing by so much a length. Areas are for one mm of a flank and for one radian of an end.
func (w Wall) strip(from, long, slope float64) float64 {
	if !w.Round {
		return long
	}
	return long * (from + slope*long/2)
}

// corner is the radius at which wall and base meet.
func (w Wall) corner() float64 { return w.Top + w.slant()*math.Cos(w.angle()) }

// free is the area of an arc.
func (w Wall) free(radius float64) float64 {
	a := w.angle()
	if !w.Round {
		return radius * a
	}
	return radius * ((w.corner()+w.tangent(radius))*a - radius*(1-math.Cos(a)))
}

// wall is the area of the wall above where an arc touches it.
func (w Wall) wall(radius float64) float64 {
	return w.strip(w.Top, w.slant()-w.tangent(radius), math.Cos(w.angle()))
}

// base is the area of the base from where an arc touches it out to the ring's end.
func (w Wall) base(radius float64) float64 {
	from := w.tangent(radius)
	return w.strip(w.corner()+from, w.ring()-from, 1)
}

// ring is the ring's width.
func (w Wall) ring() float64 { return max(w.Ring, w.LeastRing()) }

// Formed returns how thick the sheet comes out, worked out in so many steps of the arc's radius;
// what is left out falls with the square of their number.
func (w Wall) Formed(steps int) Sheet {
	wide := w.widest()
	flat := w.strip(w.Top, w.corner()-w.Top+w.ring(), 1)
	drawn := flat / (w.free(wide) + w.base(wide))
	radii := make([]float64, steps+1)
	for i := range radii {
		radii[i] = wide + (min(w.Foot, wide)-wide)*float64(i)/float64(steps)
	}
	thick := fill(drawn, radii, w.free, func(r float64) float64 { return w.wall(r) + w.base(r) })
	out := Sheet{Drawn: drawn, Mean: drawn, Foot: thick[steps]}
	volume := 0.0
	for i := range steps {
		volume += (thick[i] + thick[i+1]) / 2 * (w.wall(radii[i+1]) - w.wall(radii[i]))
	}
	if area := w.wall(radii[steps]); area > 0 {
		out.Mean = volume / area
	}
	return out
}

// fill lays a free sheet down as a parameter goes through values, and returns its thickness at each.
// free is the area that hangs free, laid what has been laid down. A step lays what it lays at the
// mean of its two thicknesses, so that laid and free hold what there was, to rounding.
func fill(thick float64, at []float64, free, laid func(float64) float64) []float64 {
	all := []float64{thick}
	for i := 1; i < len(at); i++ {
		down := laid(at[i]) - laid(at[i-1])
		thick *= (free(at[i-1]) - down/2) / (free(at[i]) + down/2)
		all = append(all, thick)
	}
	return all
}
