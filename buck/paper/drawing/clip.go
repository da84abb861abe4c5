package drawing

import (
	"math"
	"slices"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// clipped is what of lines or areas lies within a box, moved. Lines are cut where they leave it, areas along it.
func clipped(it item, box r2.Box, by r2.Vec) []item {
	if it.filled {
		it.paths = clipAreas(it.paths, box, by)
	} else {
		it.paths = clipLines(it.paths, box, by)
	}
	if len(it.paths) == 0 {
		return nil
	}
	return []item{it}
}

func holds(b r2.Box, p r2.Vec) bool {
	const slack = 1e-6
	return p.X >= b.Min.X-slack && p.X <= b.Max.X+slack && p.Y >= b.Min.Y-slack && p.Y <= b.Max.Y+slack
}

// clipLines cuts paths at the box: each stretch within is a path.
func clipLines(paths []profile.Path, box r2.Box, by r2.Vec) []profile.Path {
	var out []profile.Path
	for _, p := range paths {
		if b := p.Bounds(); holds(box, b.Min) && holds(box, b.Max) {
			out = append(out, Placed(p, 0, by))
			continue
		}
		var run profile.Path
		for _, s := range p {
			cuts := crossings(s, box)
			for i := 1; i < len(cuts); i++ {
				part := s.Part(cuts[i-1], cuts[i])
				if holds(box, part.At(0.5)) {
					run = append(run, part)
					continue
				}
				if len(run) > 0 {
					out, run = append(out, Placed(run, 0, by)), nil
				}
			}
		}
		if len(run) > 0 {
			out = append(out, Placed(run, 0, by))
		}
	}
	return out
}

// crossings are the shares of a segment at which it may cross the lines of the box's sides, with its ends.
func crossings(s profile.Segment, box r2.Box) []float64 {
	cuts := []float64{0, 1}
	add := func(t float64) {
		if t > 1e-9 && t < 1-1e-9 {
			cuts = append(cuts, t)
		}
	}
	for _, side := range []struct {
		at   float64
		of   func(r2.Vec) float64
		turn float64 // direction in which the coordinate is greatest
	}{
		{box.Min.X, func(p r2.Vec) float64 { return p.X }, 0},
		{box.Max.X, func(p r2.Vec) float64 { return p.X }, 0},
		{box.Min.Y, func(p r2.Vec) float64 { return p.Y }, math.Pi / 2},
		{box.Max.Y, func(p r2.Vec) float64 { return p.Y }, math.Pi / 2},
	} {
		if s.Bulge == 0 {
			a, b := side.of(s.A), side.of(s.B)
			if a != b {
				add((side.at - a) / (b - a))
			}
			continue
		}
		centre, r, start, sweep := s.Arc()
		c := (side.at - side.of(centre)) / r
		if math.Abs(c) > 1 {
			continue
		}
		for _, a := range []float64{side.turn + math.Acos(c), side.turn - math.Acos(c)} {
			t := math.Mod((a-start)/sweep, 2*math.Pi/math.Abs(sweep))
			if t < 0 {
				t += 2 * math.Pi / math.Abs(sweep)
			}
			add(t)
		}
	}
	slices.Sort(cuts)
	return cuts
}

// clipAreas cuts areas along the box, as polygons of chords (Sutherland & Hodgman, "Reentrant Polygon
// Clipping", Communications of the ACM 17, 1974).
func clipAreas(paths []profile.Path, box r2.Box, by r2.Vec) []profile.Path {
	var out []profile.Path
	for _, p := range paths {
		if b := p.Bounds(); holds(box, b.Min) && holds(box, b.Max) {
			out = append(out, Placed(p, 0, by))
			continue
		}
		points := p.Flatten(0.01)
		for _, inside := range []func(r2.Vec) float64{
			func(q r2.Vec) float64 { return q.X - box.Min.X },
			func(q r2.Vec) float64 { return box.Max.X - q.X },
			func(q r2.Vec) float64 { return q.Y - box.Min.Y },
			func(q r2.Vec) float64 { return box.Max.Y - q.Y },
		} {
			points = cutAlong(points, inside)
		}
		if len(points) > 2 {
			out = append(out, Placed(profile.Polygon(points...), 0, by))
		}
	}
	return out
}

// cutAlong keeps what of a polygon lies where a distance is not negative.
func cutAlong(points []r2.Vec, inside func(r2.Vec) float64) []r2.Vec {
	var out []r2.Vec
	for i, b := range points {
		a := points[(i+len(points)-1)%len(points)]
		da, db := inside(a), inside(b)
		if (da < 0) != (db < 0) {
			out = append(out, r2.Add(a, r2.Scale(da/(da-db), r2.Sub(b, a))))
		}
		if db >= 0 {
			out = append(out, b)
		}
	}
	return out
}
