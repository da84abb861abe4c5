package program

import (
	"math"

	"formbuck/buck/program/ngc"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// leastRoom is the least that a tool's rim may keep from steel, in mm: a drill that wanders is out by less (common
// practice, no source).
const leastRoom = 0.5

// steel looks whether the tool comes nearer to the knife in the work than is stated.
func (v *prover) steel(m *ngc.Motion, path profile.Path) {
	s := &v.stated.Setup
	if len(s.Steel) == 0 {
		return
	}
	v.left -= len(s.Steel) * (1 + len(path))
	here := plan(m.To)
	if len(path) == 0 {
		path = profile.Path{{A: here, B: here}}
	}
	d := math.Inf(1)
	for _, g := range path {
		d = nearer(g, v.knife, d)
	}
	if s.Steel.Contains(here) || s.Steel.Contains(plan(m.From)) {
		d = -d
	}
	off := d - s.Tool.Radius()
	v.Steel = min(v.Steel, off)
	if off < s.Room-slack {
		v.refuse(m.Line, "the tool comes to %.3f mm from the knife in the work, and %.3f mm are stated", off, s.Room)
	}
}

// Room is what a tool that goes down at places keeps from a knife at the least, rounded down to a hundredth of a mm.
func Room(knife profile.Loop, at []r2.Vec, radius float64) float64 {
	least := math.Inf(1)
	near := profile.NewNear(knife.Path())
	for _, p := range at {
		_, d := near.Nearest(p)
		if knife.Contains(p) {
			d = -d
		}
		least = min(least, d-radius)
	}
	return math.Floor(least*100-1e-6) / 100
}
