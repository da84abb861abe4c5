package program

import (
	"math"

	"formbuck/buck/program/ngc"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// drilling looks at a motion of a drill below the safe height: down in a hole, or up again.
func (v *prover) drilling(m *ngc.Motion, path profile.Path) {
	s := &v.stated.Setup
	if len(path) > 0 {
		if m.Kind != ngc.Rapid {
			v.refuse(m.Line, "feeds a drill sideways, below the safe height")
		}
		return
	}
	if m.To.Z >= m.From.Z || m.Kind == ngc.Rapid && m.To.Z >= v.surface(plan(m.To))-level {
		return
	}
	at := plan(m.To)
	hole, off := -1, math.Inf(1)
	for i, h := range s.Holes {
		if d := r2.Norm(r2.Sub(h.At, at)); d < off {
			hole, off = i, d
		}
	}
	switch {
	case hole < 0:
		v.refuse(m.Line, "drills at (%.3f, %.3f) mm, and the set-up states no hole", at.X, at.Y)
	case off > onHole:
		v.refuse(m.Line, "drills at (%.3f, %.3f) mm, %.3f mm beside the nearest hole", at.X, at.Y, off)
	case math.Abs(s.Holes[hole].Diameter-s.Tool.Diameter) > sameHole:
		v.refuse(m.Line, "drills a hole of %.4g mm with a drill of %.4g mm", s.Holes[hole].Diameter, s.Tool.Diameter)
	default:
		through := m.Kind != ngc.Rapid && m.To.Z+s.Tool.Point() <= s.Holes[hole].Bottom+level
		v.drilled[hole] = v.drilled[hole] || through
	}
}

// cutting looks at a motion of a cutter that is lower than the work is high.
func (v *prover) cutting(m *ngc.Motion, path profile.Path, low float64) {
	s := &v.stated.Setup
	if low >= s.Stock.Top-level {
		return
	}
	if len(s.Line) == 0 {
		v.refuse(m.Line, "cuts, and the set-up states no line of the sheath to keep off")
		return
	}
	here := plan(m.To)
	d := v.fromLine(m, path)
	if d < v.Closest {
		v.Closest, v.ClosestLine = d, m.Line
	}
	if r := s.Tool.Radius(); d < r-slack {
		v.refuse(m.Line, "cuts %.3f mm into the sheath: the middle of the cutter is %.3f mm from its line, and the radius is %.3f mm", r-d, d, r)
	}
	for i, h := range s.Holes {
		if e := distance(path, here, h.At); e < s.Tool.Radius()+h.Diameter/2-level {
			v.refuse(m.Line, "runs %.3f mm into the hole at (%.3f, %.3f) mm, stated in line %d", s.Tool.Radius()+h.Diameter/2-e, h.At.X, h.At.Y, v.holeLine[i])
		}
	}
	if m.Kind == ngc.Rapid {
		return
	}
	if max(m.From.Z, m.To.Z) <= level {
		v.cut = append(v.cut, path...)
	}
	v.bite(m, path, low)
}

// fromLine is how far the tool's middle is from the sheath's line, exact where that is less than its radius or than
// ever before; under 0 within it.
func (v *prover) fromLine(m *ngc.Motion, path profile.Path) float64 {
	line := &v.stated.Line
	if len(path) == 0 {
		path = profile.Path{{A: plan(m.To), B: plan(m.To)}}
	}
	enough := max(v.Closest, v.stated.Tool.Radius())
	d := math.Inf(1)
	if !math.IsInf(enough, 0) {
		d = 2 * enough
	}
	for _, g := range path {
		v.left -= len(v.sheath)
		d = nearer(g, v.sheath, d)
	}
	v.left -= 2 * len(v.sheath)
	if line.Contains(plan(m.To)) || line.Contains(plan(m.From)) {
		return min(-d, 0)
	}
	return d
}

// end looks at what the program leaves behind.
func (v *prover) end() {
	s, p := &v.stated.Setup, v.program
	if len(p.Motions) == 0 {
		v.refuse(p.Lines, "the program moves nothing")
		return
	}
	if last := p.Motions[len(p.Motions)-1]; !(last.To.Z >= s.Safe-level) {
		v.refuse(last.Line, "the program ends at Z %.4g mm, below the safe height", last.To.Z)
	}
	for i, done := range v.drilled {
		if done {
			v.Drilled++
		} else if s.Tool.Drill() {
			v.refuse(v.holeLine[i], "the hole at (%.3f, %.3f) mm is not drilled through", s.Holes[i].At.X, s.Holes[i].At.Y)
		}
	}
	if s.Tool.Drill() || len(s.Line) == 0 {
		return
	}
	// Every place along the line, a mm apart at most, has to be reached by the cutter's rim.
	n := math.Ceil(s.Line.Perimeter())
	for i := range int(n) {
		if v.left -= len(s.Line) + len(v.cut); v.left < 0 {
			return
		}
		at := s.Line.Path().At(float64(i) / n)
		if left := v.cut.Distance(at) - s.Tool.Radius(); left > uncut {
			v.refuse(v.first, "the sheath's line is not cut all round: %.3f mm are left standing at (%.3f, %.3f) mm", left, at.X, at.Y)
			return
		}
	}
}
