package knives

import (
	"math"
	"slices"
	"sync"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// A ridge begins at a corner of the grind line or the edge and runs into the bevel, as far from the one
// segment at the corner as from the other. The bevel bends along it.
const (
	ridgeStep = 1.    // mm from point to point; our own, no source
	ridgeTurn = 0.035 // rad; at less of a corner the bevel is taken to be smooth; our own, no source
)

// RidgeLines are the ridges of the bevel.
func (k *Knife) RidgeLines() [][]r2.Vec { return k.ridged() }

// ridgeOnce finds the ridges when they are first asked for.
func (k *Knife) ridgeOnce() func() [][]r2.Vec {
	return sync.OnceValue(func() (lines [][]r2.Vec) {
		for _, b := range k.bevels() {
			lines = append(lines, b.ridges()...)
		}
		return lines
	})
}

// ridges are those of one bevel.
func (b *bevel) ridges() (lines [][]r2.Vec) {
	for _, p := range []profile.Path{b.line, b.along} {
		p = slices.DeleteFunc(slices.Clone(p), func(s profile.Segment) bool { return s.Length() < ridgeStep/10 })
		near := profile.NewNear(p)
		for i := 1; i < len(p); i++ {
			if line := b.ridge(near, p[i-1], p[i]); len(line) > 1 {
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// ridge is the ridge from the corner between two segments of a path, only its corner where there is none.
func (b *bevel) ridge(near *profile.Near, s, t profile.Segment) []r2.Vec {
	line := []r2.Vec{t.A}
	back, on := r2.Scale(-1, r2.Unit(s.Tangent(1))), r2.Unit(t.Tangent(0))
	if math.Abs(r2.Cross(back, on)) < ridgeTurn && r2.Dot(back, on) < 0 {
		return line
	}
	for along := r2.Unit(r2.Add(back, on)); ; {
		last := line[len(line)-1]
		p, ok := evenly(s, t, r2.Add(last, r2.Scale(ridgeStep, along)), along)
		if _, d := near.Nearest(p); !ok || d < min(s.Distance(p), t.Distance(p))-1e-6 || !b.region.Holds(p) {
			return line
		}
		along = r2.Unit(r2.Sub(p, last))
		line = append(line, p)
	}
}

// evenly is the point as far from one segment as from the other, to a micrometre, on the line through p
// square to a direction, within half a step of p.
func evenly(s, t profile.Segment, p, along r2.Vec) (r2.Vec, bool) {
	at := func(off float64) r2.Vec { return r2.Add(p, r2.Scale(off, r2.Vec{X: -along.Y, Y: along.X})) }
	nearer := func(off float64) float64 { q := at(off); return s.Distance(q) - t.Distance(q) }
	low, high := -ridgeStep/2, ridgeStep/2
	from := nearer(low)
	if from*nearer(high) > 0 {
		return p, false
	}
	for high-low > 1e-3 {
		if mid := (low + high) / 2; from*nearer(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return at(low), true
}
