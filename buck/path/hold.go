package path

import "math"

// Material is what the sheet and what it is pressed on are made of, as far as it decides how a sheath holds.
type Material struct {
	Modulus  float64 // of elasticity, N/mm2
	Yield    float64 // strain at yield
	Friction float64 // on steel
	Shrink   float64 // linear, from the hot sheet to the cold one
}

// Alloy is PVC/acrylic alloy sheet: 330 to 335 kpsi in tension (Lange's Handbook of Chemistry, 15th
// edition, table 10.2), yield taken from rigid PVC at 3.5 % (published data of rigid PVC; from memory), friction
// 0.2 to 0.4 and shrink 0.3 to 0.5 % (from memory).
func Alloy() Material { return Material{Modulus: 2300, Yield: 0.035, Friction: 0.3, Shrink: 0.004} }

// material is the alloy with the shrink that the variant states.
func (s *Study) material() Material {
	m := Alloy()
	m.Shrink = s.Buck.Knife.Spec.Sheet.ShrinkPercent / 100
	return m
}

// Once and Often are the strains that an amorphous plastic may be given once, and again and again: 70 %
// of the strain at yield, and 60 % of that (a guide on snap-fit joints for plastics; from memory).
func (m Material) Once() float64 { return 0.7 * m.Yield }

// Often is the strain that the sheet bears again and again.
func (m Material) Often() float64 { return 0.6 * m.Once() }

// Strip is a strip of sheet across the sheath, held on both sides and pushed open in its middle.
type Strip struct {
	Sheet float64 // thickness, mm
	Span  float64 // from where it is held to where it is held, mm
	Along float64 // its width, along the blade, mm
}

// Range is a figure between that of a strip whose ends are pinned and that of one whose ends are
// clamped; a sheath's are in between.
type Range struct{ Pinned, Clamped float64 }

// Force is what it takes to open one half by d mm, in N: 48 and 192 E I d / L^3, line load at mid-span.
func (m Material) Force(s Strip, d float64) Range {
	i := s.Along * s.Sheet * s.Sheet * s.Sheet / 12
	f := m.Modulus * i * d / (s.Span * s.Span * s.Span)
	return Range{Pinned: 48 * f, Clamped: 192 * f}
}

// Strain is that of the half's surface when it is opened by d mm: 6 and 12 t d / L^2.
func (m Material) Strain(s Strip, d float64) Range {
	e := s.Sheet * d / (s.Span * s.Span)
	return Range{Pinned: 6 * e, Clamped: 12 * e}
}

// Draw is the pull, in N, that draws a knife out of both halves, each pressed on with a force, over a
// slope of the tangent given: 2 F (mu + tan a) / (1 - mu tan a). It is infinite where the slope locks by itself.
func (m Material) Draw(force Range, slope float64) Range {
	if m.Friction*slope >= 1 {
		return Range{Pinned: math.Inf(1), Clamped: math.Inf(1)}
	}
	k := 2 * (m.Friction + slope) / (1 - m.Friction*slope)
	return Range{Pinned: k * force.Pinned, Clamped: k * force.Clamped}
}

// ArealRatio is the areal draw ratio of a boss: of the sheet's area after forming to that before. The
// boss has a base of some area and perimeter, stands straight to a height, and is fed from a ring round
// its base: [A + P w + pi w^2 + P H] / [A + P w + pi w^2]. The sheet's mean thickness is what it was,
// divided by that (SPE Thermoforming Quarterly 24(4), 2005, "The Ubiquitous Draw Ratio").
func ArealRatio(area, perimeter, height, ring float64) float64 {
	fed := area + perimeter*ring + math.Pi*ring*ring
	return (fed + perimeter*height) / fed
}

// Head is the height of water, in mm, that surface tension holds in a round hole of a diameter in mm:
// 4 gamma / (rho g d), for water at 20 C.
func Head(diameter float64) float64 {
	const tension, density, gravity = 0.0728, 998, 9.807 // N/m, kg/m3, m/s2; water at 20 °C, from memory; standard gravity is 9.80665 m/s2 (ISO 80000-3)
	return 4 * tension / (density * gravity * diameter * 1e-3) * 1e3
}

// TapeRun is how far the sheet takes to come down from the tape to the bare blade beside it: the ball
// that rests on the tape's end and on the blade touches this far from the tape.
func TapeRun(tape, radius float64) float64 {
	tape = min(tape, radius)
	return math.Sqrt(tape * (2*radius - tape))
}
