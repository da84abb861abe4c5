package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// manySegments is from how many lines and arcs on an outline is thinned before it is planned on. A
// drawn knife has some hundreds; a trace of a scan has tens of thousands, each shorter than any tool
// or printer follows.
const manySegments = 2000

// thinned returns a loop of many segments with the vertices left out that lie within CurveTolerance
// of the line that then stands for them. Arcs and corners stay; a loop of few segments stays as it is.
func (l Loop) thinned() Loop {
	if len(l) <= manySegments {
		return l
	}
	var out Loop
	for i := 0; i < len(l); {
		n := 1
		if l[i].Bulge == 0 {
			n = straightRun(l[i:])
		}
		s := l[i]
		s.B = l[i+n-1].B
		out = append(out, s)
		i += n
	}
	if len(out) < 3 {
		return l
	}
	return out
}

// straightRun returns how many of the straight segments from the first on one line stands for: its
// end goes away from the start all the time, and passes each vertex within CurveTolerance. The
// directions in which it does are a wedge, which each vertex narrows (the sleeve of Imai and Iri's
// polygonal approximation, from memory).
func straightRun(l Loop) int {
	a := l[0].A
	along := r2.Sub(l[0].B, a)
	far := r2.Norm(along)
	if far == 0 {
		return 1
	}
	low, high := math.Inf(-1), math.Inf(1)
	for n, s := range l {
		v := r2.Sub(s.B, a)
		d := r2.Norm(v)
		at := math.Atan2(r2.Cross(along, v), r2.Dot(along, v))
		if s.Bulge != 0 || n > 0 && (d <= far || at < low || at > high) {
			return max(n, 1)
		}
		far = d
		half := math.Asin(min(1, CurveTolerance/d))
		low, high = max(low, at-half), min(high, at+half)
	}
	return len(l)
}
