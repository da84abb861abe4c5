package anyknife

import (
	"math"

	"formbuck/buck/bucktest/sketch"
)

// joined are the nodes with those that lie in one place taken together.
func joined(nodes []sketch.Node) []sketch.Node {
	var out []sketch.Node
	for _, n := range nodes {
		if last := len(out) - 1; last >= 0 && math.Hypot(n.X-out[last].X, n.Y-out[last].Y) < 0.05 {
			out[last].Out = n.Out
			continue
		}
		out = append(out, n)
	}
	return out
}

// outline is the whole outline's nodes.
func (s *shape) outline() []sketch.Node {
	return append(append([]sketch.Node(nil), s.blade...), s.handle...)
}

// sound tells whether the outline, and the handle where it is drawn over it, is a plain loop, with some room between
// its lines, that has the holes inside.
func (s *shape) sound() bool {
	const room = 1.5 // mm
	ring := points(s.outline())
	if !plain(ring, room) {
		return false
	}
	if s.scales != nil && !plain(points(s.scales), room) {
		return false
	}
	for _, h := range s.holes {
		for i := range ring {
			if away(ring[i], ring[(i+1)%len(ring)], [2]float64{h.x, h.y}) < h.r+room {
				return false
			}
		}
	}
	return true
}

// points are points along the loop through the nodes.
func points(nodes []sketch.Node) [][2]float64 {
	var all [][2]float64
	for _, a := range sketch.Through(true, nodes...) {
		p := flat(a, 0.05)
		all = append(all, p[:len(p)-1]...)
	}
	return all
}

// plain tells whether a loop of points crosses itself nowhere, and comes no nearer to itself than the room but beside
// its own points.
func plain(ring [][2]float64, room float64) bool {
	along := make([]float64, len(ring)+1)
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		along[i+1] = along[i] + math.Hypot(q[0]-p[0], q[1]-p[1])
	}
	whole := along[len(ring)]
	if math.IsNaN(whole) || whole > 2000 {
		return false
	}
	for i, p := range ring {
		a, b := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
		back := math.Atan2(b[1]-p[1], b[0]-p[0]) - math.Atan2(p[1]-a[1], p[0]-a[0])
		if math.Abs(math.Remainder(back, 2*math.Pi)) > 3.05 { // it turns back on itself
			return false
		}
		for j := range ring {
			q, w := ring[j], ring[(j+1)%len(ring)]
			apart := math.Abs(along[i] - (along[j]+along[j+1])/2)
			apart = min(apart, whole-apart) - (along[j+1]-along[j])/2
			if apart > 2.5*room && away(q, w, p) < room {
				return false
			}
		}
	}
	return true
}

// away is how far a point lies from a straight line between two.
func away(a, b, p [2]float64) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	t := 0.0
	if n := dx*dx + dy*dy; n > 0 {
		t = min(1, max(0, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/n))
	}
	return math.Hypot(a[0]+t*dx-p[0], a[1]+t*dy-p[1])
}
