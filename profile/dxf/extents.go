package dxf

import "math"

// extents returns the corners of the least box along the axes that holds the entities that Encode writes, and
// reports whether there are any. Of a text its place counts.
func extents(all []Entity) (low, high []float64, any bool) {
	b := box{
		low:  []float64{math.Inf(1), math.Inf(1), math.Inf(1)},
		high: []float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)},
	}
	for i := range all {
		switch s := all[i].Shape.(type) {
		case *Line:
			b.add(s.A.X, s.A.Y, s.A.Z)
			b.add(s.B.X, s.B.Y, s.B.Z)
		case *Arc:
			b.arc(s)
		case *Circle:
			b.add(s.Centre.X-s.Radius, s.Centre.Y-s.Radius, s.Centre.Z)
			b.add(s.Centre.X+s.Radius, s.Centre.Y+s.Radius, s.Centre.Z)
		case *Text:
			b.add(s.At.X, s.At.Y, s.At.Z)
		case *Polyline:
			b.polyline(s)
		}
	}
	return b.low, b.high, b.low[0] <= b.high[0]
}

// box is a box that grows.
type box struct{ low, high []float64 }

func (b *box) add(p ...float64) {
	for i, v := range p {
		b.low[i], b.high[i] = min(b.low[i], v), max(b.high[i], v)
	}
}

// arc adds an arc: its ends, and where it crosses the axes through its centre.
func (b *box) arc(a *Arc) {
	at := func(deg float64) {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		b.add(a.Centre.X+a.Radius*cos, a.Centre.Y+a.Radius*sin, a.Centre.Z)
	}
	end := a.EndDeg
	for end < a.StartDeg {
		end += 360
	}
	at(a.StartDeg)
	at(end)
	for deg := 90 * math.Ceil(a.StartDeg/90); deg < end; deg += 90 {
		at(deg)
	}
}

func (b *box) polyline(p *Polyline) {
	n := len(p.Vertices)
	for i, v := range p.Vertices {
		b.add(v.X, v.Y, p.Elevation)
		if next := p.Vertices[(i+1)%n]; v.Bulge != 0 && (p.Closed || i < n-1) && (v.X != next.X || v.Y != next.Y) {
			b.arc(bulgeArc(v, next, p.Elevation))
		}
	}
}
