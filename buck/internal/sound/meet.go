package sound

import (
	"math"

	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// body is a piece as heights over the plan, on the right face; on the left one it is the same.
type body struct {
	name string
	foot []r2.Vec
	span func(p r2.Vec) (low, high float64)
}

func bossBody(s *pieces.StandoffPiece) body {
	name := "standoff"
	if s.Name != "" {
		name += "-" + s.Name
	}
	foot := s.Foot()
	return body{name, s.FootLine(), func(p r2.Vec) (low, high float64) {
		if foot.Distance(p) > 0 {
			return 0, 0
		}
		return s.Underside(s.Knife.Blade(p), p), s.Plane(p)
	}}
}

func rampBody(r *pieces.RampPiece) body {
	return body{"ramp at the " + r.Place(), r.FootLine(), func(p r2.Vec) (low, high float64) {
		switch r.BaseAt(p) {
		case pieces.NoBase:
			return 0, 0
		case pieces.Steel:
			low = r.Underside(r.On(p), p)
		}
		return low, r.Height(p)
	}}
}

func drainBody(d *pieces.DrainPiece) body {
	return body{"drain", d.FootLine(), func(p r2.Vec) (low, high float64) {
		if q := d.Local(p); q.X < d.From || q.X > d.To {
			return 0, 0
		}
		if d.InSlit(p) {
			low = d.Slit
		}
		return low, d.Half(p)
	}}
}

const (
	meetStep  = 0.25 // mm between the places that are looked at; our own, no source
	meetLeast = 0.1  // mm3 on one face: less is a file stroke away; our own, no source
)

// shared is how much two pieces have in common, mm3 on one face, and the middle of it.
func shared(a, b body) (volume float64, middle r2.Vec) {
	box := bounds(a.foot)
	other := bounds(b.foot)
	box.Min = r2.Vec{X: max(box.Min.X, other.Min.X), Y: max(box.Min.Y, other.Min.Y)}
	box.Max = r2.Vec{X: min(box.Max.X, other.Max.X), Y: min(box.Max.Y, other.Max.Y)}
	for x := box.Min.X + meetStep/2; x < box.Max.X; x += meetStep {
		for y := box.Min.Y + meetStep/2; y < box.Max.Y; y += meetStep {
			p := r2.Vec{X: x, Y: y}
			lowA, highA := a.span(p)
			lowB, highB := b.span(p)
			if high := min(highA, highB) - max(lowA, lowB); high > 0 {
				volume += high
				middle = r2.Add(middle, r2.Scale(high, p))
			}
		}
	}
	if volume == 0 {
		return 0, r2.Vec{}
	}
	return volume * meetStep * meetStep, r2.Scale(1/volume, middle)
}

func bounds(points []r2.Vec) r2.Box {
	box := r2.Box{Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, p := range points {
		box.Min = r2.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y)}
		box.Max = r2.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y)}
	}
	return box
}

// meetings are the pieces that have a place in common. That of bosses among each other, and of a further one with what
// it stands beside, is refused before.
func (w Work) meetings() []Finding {
	var all []Finding
	meet := func(a, b body, mend string) {
		if volume, middle := shared(a, b); volume > meetLeast {
			all = append(all, said("%s: it and the %s are in one place, about %s, %.1f mm3: they cannot both be glued on; %s", a.name, b.name, at(middle), volume, mend))
		}
	}
	for _, boss := range [2]bool{true, false} {
		ramps := w.Ramps.On(boss)
		for i, r := range ramps {
			all = append(all, w.crossing(r, ramps[:i], boss)...)
			if r.For == pieces.AllFaces && !boss {
				continue // looked at already
			}
			if w.Drain != nil {
				meet(drainBody(w.Drain), rampBody(r), "lower drain.lap, or draw the ramp's end back with ramp.x less than 0, or leave one out")
			}
			for _, b := range w.Bosses {
				if r.For != pieces.BareFaces {
					meet(bossBody(b), rampBody(r), "move either, or lower the boss")
				}
			}
		}
	}
	for i, b := range w.Bosses {
		if w.Drain != nil {
			meet(drainBody(w.Drain), bossBody(b), "lower drain.lap, take a shorter plate, or move the boss with standoff.x, or leave one out")
		}
		for _, other := range w.Bosses[:i] {
			meet(bossBody(b), bossBody(other), "set them further apart")
		}
	}
	return all
}

// crossing are the ramps of a face that are in one place with another, which is the program's own fault. Those for all faces
// are looked at with the boss.
func (w Work) crossing(r *pieces.RampPiece, others []*pieces.RampPiece, boss bool) []Finding {
	var all []Finding
	for _, other := range others {
		if !boss && r.For == pieces.AllFaces && other.For == pieces.AllFaces {
			continue
		}
		if volume, middle := shared(rampBody(r), rampBody(other)); volume > meetLeast {
			all = append(all, own("two ramps, at the %s and at the %s, are in one place, about %s, %.1f mm3", other.Where(), r.Where(), at(middle), volume))
		}
	}
	return all
}
