package layout

import (
	"fmt"
	"math"

	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Spread is how many even steps no longer than most a length takes, and how long each is. On a closed line that is as
// many holes; on an open one there is one more. A length of 0 takes none.
func Spread(length, most float64) (steps int, pitch float64) {
	if !(length > 0) || !(most > 0) {
		return 0, 0
	}
	const slack = 1e-9 // so that a length of whole steps takes no further one
	steps = max(1, int(math.Ceil(length/most-slack)))
	return steps, length / float64(steps)
}

// rail is a path that is walked by length.
type rail struct {
	path profile.Path
	ends []float64 // along it, of each segment
}

func newRail(p profile.Path) rail {
	r := rail{path: p}
	sum := 0.0
	for _, s := range p {
		sum += s.Length()
		r.ends = append(r.ends, sum)
	}
	return r
}

func (r rail) length() float64 { return r.ends[len(r.ends)-1] }

// at is the point that far along.
func (r rail) at(s float64) r2.Vec {
	low, high := 0, len(r.ends)-1
	for low < high {
		if mid := (low + high) / 2; r.ends[mid] < s {
			low = mid + 1
		} else {
			high = mid
		}
	}
	seg := r.path[low]
	n := seg.Length()
	if n == 0 {
		return seg.A
	}
	return seg.At(min(max(1-(r.ends[low]-s)/n, 0), 1))
}

// stretch is a part of the rail.
type stretch struct{ from, to float64 }

const look = 0.2 // mm between the places of the eyelets' line that are looked at; our own, no source

// free are the stretches of the rail over which free is true, their ends found to 1e-6 mm.
func (r rail) free(free func(p r2.Vec) bool) []stretch {
	var all []stretch
	was, last := free(r.at(0)), 0.0
	begin := 0.0
	n := int(math.Ceil(r.length() / look))
	for i := 1; i <= n; i++ {
		s := r.length() * float64(i) / float64(n)
		is := free(r.at(s))
		if is != was {
			low, high := last, s
			for high-low > 1e-6 {
				if mid := (low + high) / 2; free(r.at(mid)) == was {
					low = mid
				} else {
					high = mid
				}
			}
			if is {
				begin = high
			} else {
				all = append(all, stretch{begin, low})
			}
		}
		was, last = is, s
	}
	if was {
		all = append(all, stretch{begin, r.length()})
	}
	return all
}

// spread puts the eyelets on their line: evenly between the mouth and the drain on either side.
func (s *Sheath) spread(g *ground) error {
	if pitch, least := s.Knife.Spec.Layout.Pitch, s.least(); pitch < least {
		return &measures.Fault{Key: "layout.pitch", What: fmt.Sprintf("at %.4g mm from one to the next the flanges or dies of the eyelets touch: at least %.4g mm", pitch, least)}
	}
	r := newRail(s.fromButt())
	open := s.opening()
	room := g.mouthRoom()
	plug := g.plug.Surface()
	hard := func(p r2.Vec) bool {
		if v, _ := open(p); v > -room {
			return false
		}
		v, _ := plug(p)
		return v >= g.reach+g.off.Error(p)
	}
	line, free := g.line(), s.soft(g)
	safe := func(p r2.Vec) bool {
		v, _ := line(p)
		return v >= -onePlace
	}
	runs := r.free(hard)
	if len(runs) == 0 {
		return &measures.Fault{Key: "eyelet.flange", What: "there is no room for an eyelet between the mouth and the drain"}
	}
	for _, at := range runs {
		side := s.sideOf(r.at((at.from + at.to) / 2))
		if at.to-at.from < g.reach && len(runs) > 2 {
			continue // where the line only grazes what keeps it off
		}
		places, pitch := s.places(r, at, g)
		if len(places) == 0 {
			s.warn("the run of eyelets along the %s has no room for one", side)
			continue
		}
		s.Runs = append(s.Runs, Run{Side: side, Length: places[len(places)-1] - places[0], Pitch: pitch, Count: len(places)})
		for _, along := range places {
			p := s.rounded(r.at(along), func(q r2.Vec) bool { return safe(q) && hard(q) && free(q) })
			s.Eyelets = append(s.Eyelets, s.eyelet(g, p, side, along-at.from))
		}
	}
	if len(s.Eyelets) == 0 {
		return &measures.Fault{Key: "eyelet.flange", What: "there is no room for an eyelet between the mouth and the drain"}
	}
	return nil
}

// fromButt is the eyelets' line from its leftmost point, so that it begins and ends behind the mouth.
func (s *Sheath) fromButt() profile.Path {
	first := 0
	for i, seg := range s.Line {
		if seg.A.X < s.Line[first].A.X {
			first = i
		}
	}
	return append(append(profile.Path{}, s.Line[first:]...), s.Line[:first]...)
}

// sideOf tells which side of the blade p is on.
func (s *Sheath) sideOf(p r2.Vec) string {
	if s.Knife.Plan.Edge.Distance(p) < s.Knife.Plan.Spine.Distance(p) {
		return "edge"
	}
	return "spine"
}

// places are the places of a run's eyelets along the rail, and their pitch: even from end to end, with as
// few as the pitch allows and none where it is not wanted. Where none or a few more do not miss that, each
// free part of the run is filled by itself.
func (s *Sheath) places(r rail, run stretch, g *ground) ([]float64, float64) {
	free := s.soft(g)
	parts := r.within(run, free)
	if len(parts) == 0 {
		return nil, 0
	}
	whole := stretch{parts[0].from, parts[len(parts)-1].to}
	steps := s.steps(whole)
	const more = 4
	for n := steps; n <= steps+more; n++ {
		places, pitch := whole.even(n, s.least())
		ok := true
		for _, at := range places {
			ok = ok && free(r.at(at))
		}
		if ok {
			return places, pitch
		}
	}
	var all []float64
	most := 0.0
	for _, p := range parts {
		places, pitch := p.even(s.steps(p), s.least())
		most = max(most, pitch)
		all = append(all, places...)
	}
	return all, most
}

// steps is how many the pitch asks for; fewer where flanges or dies would touch.
func (s *Sheath) steps(p stretch) int {
	n, _ := Spread(p.to-p.from, s.Knife.Spec.Layout.Pitch)
	return min(n, int((p.to-p.from)/s.least()))
}

// within are the free stretches of a run.
func (r rail) within(run stretch, free func(r2.Vec) bool) []stretch {
	var all []stretch
	for _, p := range r.free(free) {
		p.from, p.to = max(p.from, run.from), min(p.to, run.to)
		if p.from < p.to {
			all = append(all, p)
		}
	}
	return all
}

// even are the ends of n even steps of the stretch; its middle where it is too short for two eyelets.
func (p stretch) even(n int, least float64) ([]float64, float64) {
	length := p.to - p.from
	if length < least || n == 0 {
		return []float64{(p.from + p.to) / 2}, 0
	}
	var all []float64
	for i := range n + 1 {
		all = append(all, p.from+length*float64(i)/float64(n))
	}
	return all, length / float64(n)
}

// least is the least pitch at which flanges and dies do not touch.
func (s *Sheath) least() float64 {
	e := s.Knife.Spec.Eyelet
	return max(e.Flange, e.Die) + 1
}

// soft tells whether an eyelet may stand at p: not under the clip, not beside another hole, and not where none is
// wanted.
func (s *Sheath) soft(g *ground) func(r2.Vec) bool {
	spec := s.Knife.Spec
	none, _ := measures.ParseNoEyelets(spec.Layout.NoEyelets)
	return func(p r2.Vec) bool {
		if !s.clear(p) || !s.wanted(p, none) {
			return false
		}
		room := spec.Eyelet.Flange / 2
		for _, m := range g.members {
			clip := m.knife.Spec.Clip
			for _, b := range m.bosses {
				if q := b.Top.Local(p); math.Abs(q.X) <= clip.Length/2+room && math.Abs(q.Y) <= clip.Width/2+room {
					return false
				}
			}
		}
		return true
	}
}

// Grid is what the coordinates of eyelets are round in, counted from the knife's tip, in mm. Our own, no source.
const Grid = 0.05

// rounded is the place on the grid that is nearest to p among those that do: never nearer to the knife than p has to be.
// Where none within a few steps does it is p itself.
func (s *Sheath) rounded(p r2.Vec, does func(q r2.Vec) bool) r2.Vec {
	const far = 4 // steps any way
	tip := s.Knife.Plan.Tip
	rel := r2.Sub(p, tip)
	i0, j0 := math.Round(rel.X/Grid), math.Round(rel.Y/Grid)
	best, found := math.Inf(1), p
	for i := -far; i <= far; i++ {
		for j := -far; j <= far; j++ {
			q := r2.Add(tip, r2.Vec{X: round(Grid * (i0 + float64(i))), Y: round(Grid * (j0 + float64(j)))})
			// Of two that are as near to within rounding, the first one is taken on every machine.
			if d := r2.Norm(r2.Sub(q, p)); d < best-onePlace && does(q) {
				best, found = d, q
			}
		}
	}
	return found
}

// round takes off what the product of two numbers is out by.
func round(v float64) float64 { return math.Round(v*100) / 100 }

// eyelet is what is to be said of an eyelet at p.
func (s *Sheath) eyelet(g *ground, p r2.Vec, side string, along float64) Eyelet {
	e := Eyelet{At: p, Side: side, Along: along}
	v, nearest, middle := g.kept.At(p)
	e.Governs = demands[nearest.Tag]
	radius := r2.Norm(r2.Sub(p, middle)) - v
	e.Error = g.off.Error(p)
	e.Need = radius + g.reach + e.Error
	e.Spare = v - g.reach - e.Error
	e.Fold = radius
	switch e.Governs {
	case Guard:
		e.Fold = s.Knife.Spec.Layout.EdgeGuard
	case Boss:
		for _, b := range g.bosses {
			if top := b.Top.Width / 2; b.Top.Distance(middle) < 0 {
				e.Fold, e.Need = e.Fold-top, e.Need-top
				break
			}
		}
	}
	return e
}
