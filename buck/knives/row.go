package knives

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Row puts what the knife is at the points from + i step, and its half thickness there in mm, into
// zone and half, which are of one length. It is ZoneAt and Half for a whole row: where the row enters
// and leaves each zone is looked for once. A point that lies on the border of two zones to within
// rounding may be taken for the other one.
func (k *Knife) Row(from, step r2.Vec, zone []Zone, half []float64) {
	n := len(half)
	clear(zone)
	for _, s := range k.Outline.along(from, step, n) {
		fill(zone, s, OnFlat)
	}
	for _, s := range k.front.region.along(from, step, n) {
		turn(zone, s, OnFlat, OnBevel)
	}
	if k.back != nil {
		for _, s := range k.back.region.along(from, step, n) {
			turn(zone, s, OnFlat, OnBack)
			turn(zone, s, OnBevel, OnBoth)
		}
	}
	for _, s := range k.Handle.along(from, step, n) {
		fill(zone, s, OnHandle)
	}
	for _, s := range k.Guard.along(from, step, n) {
		fill(zone, s, OnGuard)
	}
	clear(half)
	for i := 0; i < n; {
		to := i + 1
		for to < n && zone[to] == zone[i] {
			to++
		}
		k.halves(zone[i], from, step, half, span{i, to})
		i = to
	}
}

// halves sets the half thickness of a stretch of a row that lies in one zone; beside the knife it leaves 0.
func (k *Knife) halves(z Zone, from, step r2.Vec, half []float64, s span) {
	at := func(i int) r2.Vec { return r2.Add(from, r2.Scale(float64(i), step)) }
	switch z {
	case OnFlat:
		for i := s.from; i < s.to; i++ {
			half[i] = k.stock(at(i).X) / 2
		}
	case OnBevel:
		k.ramped(k.front, at, half, s)
	case OnBack, OnBoth:
		k.ramped(k.back, at, half, s)
		for i := s.from; z == OnBoth && i < s.to; i++ {
			half[i] = min(half[i], k.half(k.front, at(i)))
		}
	case OnGuard:
		for i := s.from; i < s.to; i++ {
			half[i] = k.Spec.Guard.Thickness / 2
		}
	case OnHandle:
		rim, last, far := k.HandleRim.Walk(), 0, 0.0 // far: how far from the outline the last point that was asked is
		each := r2.Norm(step)
		for i := s.from; i < s.to; i++ {
			if deep := far - float64(i-last)*each; deep > k.Spec.Handle.Rounding+1e-9 {
				half[i] = k.HandleIn(deep)
				continue
			}
			last, far = i, rim.Distance(at(i))
			half[i] = k.HandleIn(far)
		}
	}
}

// ramped sets the half thickness of a stretch that lies in one bevel.
func (k *Knife) ramped(b *bevel, at func(int) r2.Vec, half []float64, s span) {
	edge, grind := b.edge.Walk(), b.grind.Walk()
	for i := s.from; i < s.to; i++ {
		p := at(i)
		half[i] = k.halfIn(b, p, edge.Distance(p), grind.Distance(p))
	}
}

// turn makes one zone another over a stretch.
func turn(zone []Zone, s span, from, to Zone) {
	for i := s.from; i < s.to; i++ {
		if zone[i] == from {
			zone[i] = to
		}
	}
}

func fill(zone []Zone, s span, z Zone) {
	for i := s.from; i < s.to; i++ {
		zone[i] = z
	}
}

// span are the points of a row from one up to, but not with, another.
type span struct{ from, to int }

type spans []span

// along are the stretches of a row of n points that lie in the polygon.
func (p *Patch) along(from, step r2.Vec, n int) spans {
	var cuts []float64
	add := func(s side) {
		// On the row's own axes: x along it in steps, y across.
		ay, by := r2.Cross(step, r2.Sub(s.A, from)), r2.Cross(step, r2.Sub(s.B, from))
		if (ay > 0) == (by > 0) {
			return
		}
		q := r2.Add(s.A, r2.Scale(ay/(ay-by), r2.Sub(s.B, s.A)))
		cuts = append(cuts, r2.Dot(r2.Sub(q, from), step)/r2.Norm2(step))
	}
	if step.Y == 0 {
		if len(p.bands) == 0 {
			return nil
		}
		if y := (from.Y - p.low) / p.step; y >= 0 && y <= float64(len(p.bands)) {
			for _, s := range p.bands[p.band(from.Y)] {
				add(s)
			}
		}
	} else {
		for _, s := range p.Sides {
			add(s)
		}
	}
	slices.Sort(cuts)
	var all spans
	for i := 0; i+1 < len(cuts); i += 2 {
		s := span{first(cuts[i], n), first(cuts[i+1], n)}
		if s.from < s.to {
			all = append(all, s)
		}
	}
	return all
}

// first is the first of n points that lies at or beyond t.
func first(t float64, n int) int {
	if t <= 0 {
		return 0
	}
	if t >= float64(n) {
		return n
	}
	i := int(t)
	if float64(i) < t {
		i++
	}
	return min(i, n)
}
