package knives

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r2"
)

// parting is where beside the blade what lies beside the bevel meets what lies beside the flat: a ray from an
// end of the grind line straight out of the outline, where that has a corner half way between its sides.
type parting struct {
	from   r2.Vec
	square r2.Vec  // to the ray
	zones  [2]Zone // beside which a point lies, behind the ray and where square points
}

// partedBy is how near, in mm, to an end of the grind line the outline's nearest point to a place is, for the
// ray to tell what that lies beside; elsewhere the outline's nearest point tells. Our own, no source.
const partedBy = 0.2

// partings are the rays from the ends of the grind line; none from an end that is not on the outline.
func (k *Knife) partings() []parting {
	var all []parting
	for _, end := range k.ends() {
		if p, ok := k.partingAt(end); ok {
			all = append(all, p)
		}
	}
	return all
}

// ends are those of the grind lines.
func (k *Knife) ends() (ends []r2.Vec) {
	for _, l := range k.GrindLines(OutlineTolerance, 0) {
		ends = append(ends, l[0], l[len(l)-1])
	}
	return ends
}

// partingAt looks round a point of the outline: from where the outline is left to where it is met again.
func (k *Knife) partingAt(end r2.Vec) (parting, bool) {
	const steps, around, inwards = 360, 0.1, 0.1 // a circle in degrees, its radius in mm, radians; our own, no source
	way := func(angle float64) r2.Vec { return r2.Rotate(r2.Vec{X: 1}, angle, r2.Vec{}) }
	at := func(angle float64) r2.Vec { return r2.Add(end, r2.Scale(around, way(angle))) }
	leaves, meets, times := 0.0, 0.0, 0
	for i := range steps {
		a, b := 2*math.Pi*float64(i)/steps, 2*math.Pi*float64(i+1)/steps
		switch in, next := k.Outline.Holds(at(a)), k.Outline.Holds(at(b)); {
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
	before, after := k.onSteel(at(leaves-inwards)), k.onSteel(at(meets+inwards))
	if before == after {
		return parting{}, false
	}
	return parting{from: end, square: way((leaves+meets)/2 + math.Pi/2), zones: [2]Zone{before, after}}, true
}

// besideBlade is the zone that p, outside the outline, lies beside.
func (k *Knife) besideBlade(p r2.Vec) Zone {
	foot, far := k.Rim.Nearest(p)
	for _, l := range k.parted {
		if r2.Norm(r2.Sub(foot, l.from)) < partedBy {
			if r2.Dot(l.square, r2.Sub(p, l.from)) > 0 {
				return l.zones[1]
			}
			return l.zones[0]
		}
	}
	const inside = 0.02 // mm; our own, no source
	if far > inside {
		return k.onSteel(r2.Add(foot, r2.Scale(inside/far, r2.Sub(foot, p))))
	}
	for i := range 8 { // so near that the way to the foot says little
		if on := k.onSteel(r2.Add(foot, r2.Rotate(r2.Vec{X: inside}, float64(i)*math.Pi/4, r2.Vec{}))); on != OnFlat {
			return on
		}
	}
	return OnFlat
}

// PartingLines are the lines from the ends of the grind line outwards along which what lies beside the bevel meets what lies
// beside the flat, as far as reach, in mm, from the end, and no further than the outline is long.
func (k *Knife) PartingLines(reach float64) [][]r2.Vec {
	var lines [][]r2.Vec
	for _, l := range k.beside() {
		lines = append(lines, upTo(l, reach))
	}
	return lines
}

// besideOnce finds those lines when they are first asked for.
func (k *Knife) besideOnce() func() [][]r2.Vec {
	return sync.OnceValue(func() [][]r2.Vec {
		reach := r2.Norm(k.Plan.Outline.Path().Bounds().Size())
		var lines [][]r2.Vec
		for _, end := range k.ends() {
			lines = append(lines, k.besideFrom(end, reach))
		}
		return lines
	})
}

// upTo is a line that goes away from its beginning, as far as reach from there.
func upTo(line []r2.Vec, reach float64) []r2.Vec {
	far := 0.0
	for i, p := range line {
		before := far
		if far = r2.Norm(r2.Sub(p, line[0])); far > reach {
			u := (reach - before) / (far - before)
			return append(slices.Clone(line[:i]), r2.Add(r2.Scale(1-u, line[i-1]), r2.Scale(u, p)))
		}
	}
	return line
}

// besideFrom is the line from an end of the grind line outwards, as far as reach, along which what lies
// beside the bevel meets what lies beside the flat. It is straight but for its beginning, and found
// on circles round the end, each of three times the radius of the one before.
func (k *Knife) besideFrom(end r2.Vec, reach float64) []r2.Vec {
	line := []r2.Vec{end}
	var towards r2.Vec
	for radius := 0.03; ; radius *= 3 {
		p, ok := k.changing(end, min(radius, reach), towards)
		if ok {
			line = append(line, p)
			towards = r2.Sub(p, end)
		}
		if radius >= reach {
			return line
		}
	}
}

// changing is the point of a circle, beside the knife, at which the zone that the blade would be in
// changes: of several the one that is the nearest to a direction.
func (k *Knife) changing(centre r2.Vec, radius float64, towards r2.Vec) (best r2.Vec, found bool) {
	const steps = 48
	at := func(turn float64) r2.Vec {
		sin, cos := math.Sincos(2 * math.Pi * turn / steps)
		return r2.Add(centre, r2.Scale(radius, r2.Vec{X: cos, Y: sin}))
	}
	look := func(turn float64) (on Zone, beside bool) {
		if p := at(turn); !k.Holds(p) {
			return k.Blade(p), true
		}
		return on, false
	}
	last, wasBeside := look(0)
	for i := range steps {
		low, high, on, from := float64(i), float64(i+1), last, wasBeside
		if last, wasBeside = look(high); !from || !wasBeside || last == on {
			continue
		}
		for range 30 {
			if mid := (low + high) / 2; k.Blade(at(mid)) == on {
				low = mid
			} else {
				high = mid
			}
		}
		p := at(low)
		if !found || r2.Dot(towards, r2.Sub(p, best)) > 0 {
			best, found = p, true
		}
	}
	return best, found
}
