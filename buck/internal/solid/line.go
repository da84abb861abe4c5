package solid

import (
	"math"

	"formbuck/buck/pieces"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// chords is how many chords an arc needs so that none is further than tol from it:
// the sagitta of a chord over an angle a is r (1 - cos(a/2)).
func chords(radius, sweep, tol float64) int {
	if radius <= tol {
		return 1
	}
	widest := 2 * math.Acos(1-tol/radius)
	return max(1, int(math.Ceil(sweep/widest-1e-9)))
}

// pill is the outline of a pill as a closed polyline with n chords on each half circle.
func pill(s pieces.Pill, n int) relief.Line {
	var points []r2.Vec
	reach, r := (s.Length-s.Width)/2, s.Width/2
	for _, end := range []float64{1, -1} {
		for i := range n + 1 {
			a := math.Pi * (float64(i)/float64(n) - 0.5)
			points = append(points, s.At(r2.Vec{X: end * (reach + r*math.Cos(a)), Y: end * r * math.Sin(a)}))
		}
	}
	return relief.Line{Points: points, Closed: true}
}

// clipped are the parts of a polyline that lie within the box.
func clipped(points []r2.Vec, closed bool, box r2.Box) []relief.Line {
	var lines []relief.Line
	sides := len(points) - 1
	if closed {
		sides++
	}
	joined := false
	for i := range sides {
		from, to := points[i], points[(i+1)%len(points)]
		a, b, ok := clip(from, to, box)
		if !ok {
			joined = false
			continue
		}
		if !joined {
			lines = append(lines, relief.Line{Points: []r2.Vec{a}})
		}
		l := &lines[len(lines)-1]
		l.Points = append(l.Points, b)
		joined = b == to
	}
	return lines
}

// clip is the part of the side from a to b within the box (Liang and Barsky, "A new concept and
// method for line clipping", ACM Transactions on Graphics 3(1), 1984, from memory).
func clip(a, b r2.Vec, box r2.Box) (from, to r2.Vec, ok bool) {
	t0, t1 := 0.0, 1.0
	d := r2.Sub(b, a)
	for _, edge := range [4][2]float64{
		{-d.X, a.X - box.Min.X},
		{d.X, box.Max.X - a.X},
		{-d.Y, a.Y - box.Min.Y},
		{d.Y, box.Max.Y - a.Y},
	} {
		p, q := edge[0], edge[1]
		switch {
		case p == 0 && q < 0:
			return a, b, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	if t0 >= t1 {
		return a, b, false
	}
	from, to = a, b
	if t0 > 0 {
		from = r2.Add(a, r2.Scale(t0, d))
	}
	if t1 < 1 {
		to = r2.Add(a, r2.Scale(t1, d))
	}
	return from, to, true
}
