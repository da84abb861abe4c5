package anyknife

import (
	"fmt"
	"math"
	"strconv"

	"formbuck/buck/bucktest/sketch"
)

// measures draws what the variant file states, and what the maker would answer.
func (k *Knife) measures(r random) {
	s, m := k.shape, k.marks
	mm := func(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
	stock := r.in(2, 5.5)
	thick := r.in(14, 28)
	k.stated = []setting{{"blade.thickness", mm(stock)}, {"handle.thickness", mm(thick)}}
	k.further = append(k.direction(),
		setting{"drawing.units", map[int]string{sketch.Millimetres: `"mm"`, sketch.Centimetres: `"cm"`, sketch.Inches: `"in"`}[k.units]},
		setting{"drawing.layers.outline", strconv.Quote(m.layer)},
		setting{"handle.front", mm(s.tip.X)},
		setting{"blade.grind_width", mm(m.share * s.wide)},
		setting{"blade.plunge", mm(s.tip.X - m.plunge)},
		setting{"handle.drawn", map[bool]string{true: `"no"`, false: `"yes"`}[s.alone]},
		setting{"blade.edges", strconv.Itoa(s.edges)},
		setting{"guard.thickness", mm(max(thick, 18))},
		setting{"guard.length", mm(s.guard)},
	)
	if k.Bare {
		return
	}
	state := func(share float64, key, value string) {
		if r.share(share) {
			k.stated = append(k.stated, setting{key, value})
		}
	}
	grind := r.IntN(3)
	state(1, "blade.grind", strconv.Quote([]string{"flat", "hollow", "convex"}[grind]))
	if grind == 1 {
		state(1, "blade.wheel_radius", mm(r.in(80, 250)))
	}
	if grind == 2 {
		state(1, "blade.bulge", mm(r.in(0.05, 0.3)))
	}
	if !m.grind {
		state(0.5, "blade.grind_width", mm(m.share*s.wide))
	}
	if !m.throat {
		state(0.6, "throat.depth", mm(-m.mouth))
	}
	if m.handle == "none" {
		state(0.5, "handle.front", mm(s.tip.X))
	}
	k.pieces(r, state, mm)
}

// pieces are measures of what is put on the knife and round it.
func (k *Knife) pieces(r random, state func(float64, string, string), mm func(float64) string) {
	state(0.4, "hands", []string{`["right"]`, `["left"]`, `["both", "plain"]`, `["plain"]`}[r.IntN(4)])
	state(0.3, "blade.tip_thickness", mm(r.in(1, 2)))
	state(0.3, "handle.rounding", mm(r.in(0.5, 6)))
	state(0.5, "sheet.thickness", []string{"1.5", "2", `"0.080 in"`, `"0.093 in"`, `"1/8 in"`}[r.IntN(5)])
	state(0.3, "tape.layers", strconv.Itoa(r.IntN(4)))
	if r.share(0.5) {
		long := r.in(22, 46)
		state(1, "plate.length", mm(long))
		state(1, "plate.post_spacing", mm(long-r.in(11, 13)))
		state(1, "plate.width", mm(r.in(9.5, 13)))
		state(1, "clip.length", mm(long+r.in(4, 34)))
	}
	state(0.3, "clip.thickness", mm(r.in(1, 2.4)))
	state(0.2, "clip.clearance", mm(r.in(0.3, 2)))
	state(0.3, "eyelet.hole", []string{`"1/4 in"`, `"3/16 in"`, "5"}[r.IntN(3)])
	state(0.3, "eyelet.flange", mm(r.in(8.5, 11)))
	state(0.2, "standoff.x", mm(r.in(-3, 12)))
	state(0.2, "standoff.y", mm(r.in(-3, 3)))
	state(0.2, "standoff.cant", mm(r.in(-12, 12)))
	state(0.15, "ramp.cant", mm(r.in(-4, 4)))
	state(0.15, "ramp.lock", mm(r.in(0.2, 0.6)))
	state(0.1, "ramp.split", `"always"`)
	state(0.2, "drain.diameter", mm(r.in(4, 7)))
	state(0.15, "drain.lap", mm(r.in(3, 12)))
	state(0.15, "layout.pitch", mm(r.in(18, 45)))
	state(0.1, "layout.thumb", mm(r.in(8, 14)))
	state(0.1, "layout.flare", mm(r.in(5, 12)))
	state(0.1, "layout.extrusion", `"across"`)
	state(0.1, "mill.units", `"inch"`)
	state(0.1, "whole.bed", mm(r.in(120, 300)))
}

// direction is where tip and edge lie in the drawing, as the maker would say it.
func (k *Knife) direction() []setting {
	edge := k.pose.Deg - 90
	if k.pose.Mirror {
		edge = k.pose.Deg + 90
	}
	deg := func(a float64) string { return fmt.Sprintf(`"%.3f deg"`, math.Remainder(a, 360)) }
	return []setting{{"drawing.tip", deg(k.pose.Deg)}, {"drawing.edge", deg(edge)}}
}
