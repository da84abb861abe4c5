// Package offset moves outlines by a distance that is the same all round, or that varies.
//
// What is moved is looked at as a surface over the plan: a signed distance, in mm, below 0 inside. The
// moved outline is a level of that surface. It is followed over a grid of square cells, and every point
// of it is a root on a grid line, so that the outline lies on the level however wide the cells are; where
// a cell is ambiguous its middle decides. Rings that come out neither cross themselves nor one another,
// whatever goes in. Arcs and lines are then fitted to them.
//
// All lengths are mm. Loops run counter-clockwise round what is inside, and clockwise round holes in it.
package offset

import (
	"fmt"
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Surface is a signed distance over the plan or a lower bound of one: its slope is nowhere over 1. It
// gives the value at p and the unit vector in which it rises; the zero vector where that is not known.
type Surface func(p r2.Vec) (value float64, up r2.Vec)

// Options say how finely an outline is followed. The zero value works.
type Options struct {
	Step      float64 // of the cells, mm; 0: a quarter of the distance, 0.05 to 0.2
	Tolerance float64 // by which arcs may miss the level, mm; 0: 0.002
	Window    float64 // see Fit
}

// Constant moves a loop outwards by the distance, or inwards where it is negative: all points at that
// distance from the loop. Moved outwards convex corners become arcs, moved inwards they stay sharp. It
// gives no loop where nothing is left, and several where a neck closes. Holes that close up are gone.
func Constant(loop profile.Loop, by float64, o Options) ([]profile.Loop, error) {
	signed := Outside(loop)
	return Level(signed.Less(by), grown(loop.Bounds(), by), o.near(math.Abs(by)))
}

// Varying moves a loop outwards by a distance that is asked for at points all along it, no further apart
// than every, and taken as even between them: the outline of everything within reach of a point of the
// loop, and of what is within the loop. Distances below 0 count as 0.
func Varying(loop profile.Loop, every float64, by func(p r2.Vec) float64, o Options) ([]profile.Loop, error) {
	var reach []Sweep
	most := 0.0
	for _, s := range Split(loop.Path(), every) {
		w := Sweep{A: s.A, B: s.B, RA: max(by(s.A), 0), RB: max(by(s.B), 0)}
		most = max(most, w.RA, w.RB)
		reach = append(reach, w)
	}
	return Level(Union(Outside(loop), NewSwept(reach).Surface()), grown(loop.Bounds(), most), o.near(most))
}

// near fills in a step that suits a distance.
func (o Options) near(by float64) Options {
	if o.Step == 0 {
		o.Step = min(max(by/4, 0.05), 0.2)
	}
	return o
}

// Level is the level 0 of a surface within the box, as loops of arcs and lines. A level that leaves the
// box is an error.
func Level(s Surface, box r2.Box, o Options) ([]profile.Loop, error) {
	rings, err := Rings(s, box, o.near(1).Step)
	if err != nil {
		return nil, err
	}
	loops := make([]profile.Loop, 0, len(rings))
	for _, r := range rings {
		loops = append(loops, Fit(r, o))
	}
	return loops, nil
}

// Less is the surface lowered by a distance: its level 0 lies that far outside.
func (s Surface) Less(by float64) Surface {
	return func(p r2.Vec) (float64, r2.Vec) {
		v, up := s(p)
		return v - by, up
	}
}

// Lowered is the surface lowered by what is asked for at each place. It slopes by as much more as that does, which
// Gentle makes up for.
func (s Surface) Lowered(by func(p r2.Vec) float64) Surface {
	return func(p r2.Vec) (float64, r2.Vec) {
		v, up := s(p)
		return v - by(p), up
	}
}

// Gentle is a surface whose slope is up to 1 + by, made so flat that it is up to 1 again. Its level 0 stays where it is,
// and no other does.
func (s Surface) Gentle(by float64) Surface {
	return func(p r2.Vec) (float64, r2.Vec) {
		v, up := s(p)
		return v / (1 + by), up
	}
}

// Inverse is the surface upside down: inside becomes outside.
func (s Surface) Inverse() Surface {
	return func(p r2.Vec) (float64, r2.Vec) {
		v, up := s(p)
		return -v, r2.Scale(-1, up)
	}
}

// Union is what is inside any of the surfaces.
func Union(all ...Surface) Surface {
	return func(p r2.Vec) (float64, r2.Vec) {
		best, up := math.Inf(1), r2.Vec{}
		for _, s := range all {
			if v, u := s(p); v < best {
				best, up = v, u
			}
		}
		return best, up
	}
}

// Common is what is inside all of the surfaces.
func Common(all ...Surface) Surface {
	return func(p r2.Vec) (float64, r2.Vec) {
		best, up := math.Inf(-1), r2.Vec{}
		for _, s := range all {
			if v, u := s(p); v > best {
				best, up = v, u
			}
		}
		return best, up
	}
}

// Half is the half plane behind the line through at, square to the unit vector out.
func Half(at, out r2.Vec) Surface {
	return func(p r2.Vec) (float64, r2.Vec) { return r2.Dot(r2.Sub(p, at), out), out }
}

// Disc is the inside of a circle.
func Disc(centre r2.Vec, radius float64) Surface {
	return Sweep{A: centre, B: centre, RA: radius, RB: radius}.surface
}

// Split is the path as straight pieces no longer than every, whose ends lie on it; arcs are taken apart
// so finely that no piece misses them by more than 0.002 mm.
func Split(p profile.Path, every float64) profile.Path {
	var out profile.Path
	for _, s := range p {
		n := int(math.Ceil(s.Length() / every))
		if !s.Straight() {
			_, r, _, sweep := s.Arc()
			n = max(n, int(math.Ceil(math.Abs(sweep)/math.Sqrt(8*0.002/r))))
		}
		n = max(n, 1)
		for i := range n {
			out = append(out, profile.Segment{A: s.At(float64(i) / float64(n)), B: s.At(float64(i+1) / float64(n))})
		}
	}
	return out
}

// grown is the box with room for an outline moved by a distance.
func grown(b r2.Box, by float64) r2.Box {
	room := r2.Vec{X: 1, Y: 1}
	room = r2.Add(room, r2.Scale(max(by, 0), r2.Vec{X: 1, Y: 1}))
	return r2.Box{Min: r2.Sub(b.Min, room), Max: r2.Add(b.Max, room)}
}

// Area is the area within loops, in mm2: holes, which run clockwise, count against it.
func Area(loops []profile.Loop) float64 {
	sum := 0.0
	for _, l := range loops {
		sum += l.Area()
	}
	return sum
}

// Largest is the loop that holds most; an error where there is none.
func Largest(loops []profile.Loop) (profile.Loop, error) {
	var best profile.Loop
	for _, l := range loops {
		if best == nil || l.Area() > best.Area() {
			best = l
		}
	}
	if best == nil {
		return nil, fmt.Errorf("nothing is left of the outline")
	}
	return best, nil
}
