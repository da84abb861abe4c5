package buck

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// parting is where beside the blade what lies beside the bevel meets what lies beside the flat: a ray from an
// end of the grind line straight out of the outline, where that has a corner half way between its sides.
type parting struct {
	from  r2.Vec
	bevel r2.Vec // square to the ray, towards the bevel's side
}

// partedBy is how near, in mm, to an end of the grind line the outline's nearest point to a place is, for the
// ray to tell what that lies beside; elsewhere the outline's nearest point tells.
const partedBy = 0.2

// partings are the rays from the ends of the grind line; none from an end that is not on the outline.
func (k *Knife) partings() []parting {
	var all []parting
	ends := k.GrindLine(outlineTolerance, 0)
	if len(ends) == 0 {
		return nil
	}
	for _, end := range []r2.Vec{ends[0], ends[len(ends)-1]} {
		if p, ok := k.partingAt(end); ok {
			all = append(all, p)
		}
	}
	return all
}

// partingAt looks round a point of the outline: from where the outline is left to where it is met again.
func (k *Knife) partingAt(end r2.Vec) (parting, bool) {
	const steps, around, inwards = 360, 0.1, 0.1 // a circle in degrees, its radius in mm, radians
	way := func(angle float64) r2.Vec { return r2.Rotate(r2.Vec{X: 1}, angle, r2.Vec{}) }
	at := func(angle float64) r2.Vec { return r2.Add(end, r2.Scale(around, way(angle))) }
	leaves, meets, times := 0.0, 0.0, 0
	for i := range steps {
		a, b := 2*math.Pi*float64(i)/steps, 2*math.Pi*float64(i+1)/steps
		switch in, next := k.outline.holds(at(a)), k.outline.holds(at(b)); {
		case in && !next:
			leaves = b
			times++
		case !in && next:
			meets = a
		}
	}
	if times != 1 {
		return parting{}, false
	}
	if meets < leaves {
		meets += 2 * math.Pi
	}
	before, after := k.bevel.holds(at(leaves-inwards)), k.bevel.holds(at(meets+inwards))
	if before == after {
		return parting{}, false
	}
	side := way((leaves+meets)/2 + math.Pi/2)
	if before {
		side = r2.Scale(-1, side)
	}
	return parting{from: end, bevel: side}, true
}

// besideBlade is the zone that p, outside the outline, lies beside.
func (k *Knife) besideBlade(p r2.Vec) Zone {
	foot, far := k.rim.Nearest(p)
	for _, l := range k.parted {
		if r2.Norm(r2.Sub(foot, l.from)) < partedBy {
			return bevelIf(r2.Dot(l.bevel, r2.Sub(p, l.from)) > 0)
		}
	}
	const inside = 0.02 // mm
	if far > inside {
		return bevelIf(k.bevel.holds(r2.Add(foot, r2.Scale(inside/far, r2.Sub(foot, p)))))
	}
	for i := range 8 { // so near that the way to the foot says little
		if k.bevel.holds(r2.Add(foot, r2.Rotate(r2.Vec{X: inside}, float64(i)*math.Pi/4, r2.Vec{}))) {
			return OnBevel
		}
	}
	return OnFlat
}

// bevelIf is one of the blade's two zones.
func bevelIf(bevel bool) Zone {
	if bevel {
		return OnBevel
	}
	return OnFlat
}
