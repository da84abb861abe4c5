package path

import (
	"cmp"
	"math"
	"slices"

	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/mesh/crew"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// Felt is by how much, in mm, each half of a sheath may be opened without being felt; common
	// practice, no source.
	Felt = 0.05
	// SidePlay is how far, in mm, a wall of the sheath gives way to either side without being felt; common
	// practice, no source. Beside an upright wall a collision of a hair's width would else count with all of the wall's
	// height.
	SidePlay = 0.2
)

// Side is where on the knife something is.
type Side string

// The sides: in front of the edge, behind the spine, on a face of the blade, at the handle.
const (
	AtEdge   Side = "edge"
	AtSpine  Side = "spine"
	AtFace   Side = "face"
	AtHandle Side = "handle"
)

// Bind is one place of a face where the sheath must open by more than is felt.
type Bind struct {
	Face   measures.Face
	Side   Side
	Place  string  // the side in words: of a blade with two edges, which of them
	At     r2.Vec  // where it is deepest, in the blade's axes
	Depth  float64 // by how much this half must open there, mm
	Area   float64 // of the place in the plan, mm2
	Box    r2.Box  // around the place, on the draw's axes
	Passes r2.Vec  // what of the knife passes there: the point of it at rest
}

// A rub is no larger than this, mm2, and on one half no deeper, mm: each half of a lock opens by no more. Common practice, no
// source.
const (
	MostRubArea = 2
	MostRub     = MostLock / 2
)

// Slight reports whether a bind is so small and so shallow that finishing the mouth or one stroke of a file takes it away: it rubs.
// In front of the edge nothing is slight that could be seen.
func (b Bind) Slight() bool {
	if b.Side == AtEdge || b.Depth > MostRub {
		return b.Area < leastShown
	}
	return b.Area < MostRubArea
}

// Binds are the places of one face that bind, the deepest first.
func (s *Study) Binds(f *Face) []Bind {
	felt := s.felt(f)
	var found []Bind
	var stack []int
	nx, ny := felt.NX, felt.NY
	for n := range felt.Z {
		if felt.Z[n] <= Felt {
			continue
		}
		at := felt.Middle(n%nx, n/nx)
		b, deepest, cells := Bind{Face: f.Face, Box: r2.Box{Min: at, Max: at}}, n, 0
		for stack = append(stack[:0], n); len(stack) > 0; {
			n := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			z := felt.Z[n]
			if z <= Felt {
				continue
			}
			felt.Z[n] = math.Inf(-1)
			cells++
			b.Box = joined(b.Box, felt.Middle(n%nx, n/nx))
			if z > b.Depth {
				b.Depth, deepest = z, n
			}
			for y := max(n/nx-1, 0); y <= min(n/nx+1, ny-1); y++ {
				for x := max(n%nx-1, 0); x <= min(n%nx+1, nx-1); x++ {
					stack = append(stack, y*nx+x)
				}
			}
		}
		b.Area = float64(cells) * felt.Step * felt.Step
		b.At = felt.At(deepest)
		b.Side = s.side(b.At)
		b.Place = s.Buck.Knife.Spec.Blade.Told(string(b.Side))
		b.Passes = s.passing(b.At)
		found = append(found, b)
	}
	slices.SortStableFunc(found, func(a, b Bind) int { return cmp.Compare(b.Depth, a.Depth) })
	return found
}

func joined(b r2.Box, q r2.Vec) r2.Box {
	return r2.Box{
		Min: r2.Vec{X: min(b.Min.X, q.X), Y: min(b.Min.Y, q.Y)},
		Max: r2.Vec{X: max(b.Max.X, q.X), Y: max(b.Max.Y, q.Y)},
	}
}

// felt is the interference less what the walls' side play takes from it, and less the lock that was asked for.
func (s *Study) felt(f *Face) *Map {
	out := f.Interference.Clone()
	far := int(SidePlay/out.Step + 0.5)
	crew.Each(out.NY, func(j int) {
		row, e := out.Row(j), s.Envelope.Row(j)
		for i, z := range row {
			for v := max(0, j-far); z > 0 && v <= min(out.NY-1, j+far); v++ {
				z = min(z, e[i]-f.Cavity.Z[v*out.NX+i])
			}
			row[i] = z
		}
	})
	s.spare(out)
	return out
}

// side is where on the knife p of the blade's axes is.
func (s *Study) side(p r2.Vec) Side {
	k := s.Buck.Knife
	switch k.ZoneAt(p) {
	case knives.OnHandle, knives.OnGuard:
		return AtHandle
	case knives.OnBevel, knives.OnFlat, knives.OnBack, knives.OnBoth:
		return AtFace
	}
	foot, _ := profile.NewNear(k.Plan.Outline.Path()).Nearest(p)
	in := r2.Add(foot, r2.Scale(0.1/max(r2.Norm(r2.Sub(foot, p)), 1e-9), r2.Sub(foot, p)))
	switch {
	case k.ZoneAt(in).OfHandle():
		return AtHandle
	case s.Knife.Draw(foot).Y > s.Knife.Draw(p).Y:
		return AtEdge
	default:
		return AtSpine
	}
}

// passing is the point of the knife at rest that is highest of all that pass over p on the way out.
func (s *Study) passing(p r2.Vec) r2.Vec {
	k, best, at := s.Buck.Knife, -1.0, p
	step := s.Knife.Step / 2
	long := float64(s.Knife.NX+s.Knife.NY) * s.Knife.Step
	for a := 0.0; a < long; a += step {
		q := s.Ahead(p, a)
		if h := k.Half(q); h > best+1e-9 {
			best, at = h, q
		}
	}
	return at
}

// Ahead is the point of the knife at rest that is over p when the knife has been drawn by a mm. With -a it is where that point of it is then.
func (s *Study) Ahead(p r2.Vec, a float64) r2.Vec {
	if s.Centre == nil {
		return r2.Add(p, s.Knife.Blade(r2.Vec{X: a}))
	}
	arm := r2.Sub(p, *s.Centre)
	turn := a / max(r2.Norm(arm), 1e-9)
	if arm.Y > 0 { // above the centre the way to the tip is clockwise
		turn = -turn
	}
	return r2.Add(*s.Centre, r2.Rotate(arm, turn, r2.Vec{}))
}

// Covers tells whether p of the blade's axes lies on the study's grid.
func (s *Study) Covers(p r2.Vec) bool {
	g := s.Knife.Grid
	q := r2.Sub(g.Draw(p), g.Min)
	return q.X >= 0 && q.Y >= 0 && q.X < float64(g.NX)*g.Step && q.Y < float64(g.NY)*g.Step
}
