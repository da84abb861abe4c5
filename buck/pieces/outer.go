package pieces

import (
	"math"
	"sync"

	"formbuck/buck/internal/formed"
	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r2"
)

// The sides, in mm, of the cells on which the sheath under a clip is formed: first where it may be
// highest is looked for, and only there it is formed finely. A ball whose middle is over middles of
// cells comes off a foot by up to half a cell too early, so that the sheet there is a little too
// high.
const (
	outerCoarse = 0.2  // our own, no source
	outerFine   = 0.05 // our own, no source
	// outerMiss is by how much, in mm, heights of the coarse cells may be off where slopes are no
	// steeper than 4, and outerAside how far to the side, where they are. Our own, no source.
	outerMiss  = 0.6
	outerAside = 0.2 // our own, no source
)

// shell is what has been found of the highest places under clips.
type shell struct {
	sync.Mutex
	found map[laid]outermost
}

// laid is a clip laid on a boss, whose top plane is as high at the least.
type laid struct {
	clip       measures.Clip
	on         Pill
	gap, least float64
}

// outermost is the highest that lies under a clip, where, and what it is.
type outermost struct {
	z    float64
	at   r2.Vec
	what string
}

// form forms the sheet over the knife with its ramps and drain insert, all bosses left aside, on
// cells of a box: what the clip on a boss lies over does not depend on that boss, nor on how high
// it becomes. A ramp or drain that is at fault is left aside, too: whoever makes it is told.
func (k *Buck) form(box r2.Box, step float64) *formed.Closer {
	coat := Coat{Knife: k}
	if _, ramps, err := k.Ramps(); err == nil {
		coat.Ramps = ramps.Bossed
	}
	if drain, err := NewDrain(k); err == nil {
		coat.Drain = drain
	}
	radius := k.Spec.Sheet.Ball()
	g := formed.Over(grownBy(box, 2*radius), step, 0)
	m, half, tape := formed.NewMap(g), formed.NewMap(g), formed.NewMap(g)
	crew.Each(g.NY, func(j int) {
		k.Steel(half, tape, j)
		coat.Fill(m, half, tape, j)
	})
	return formed.NewCloser(m, radius, 0)
}

// grownBy is a box with room on every side.
func grownBy(b r2.Box, room float64) r2.Box {
	by := r2.Vec{X: room, Y: room}
	return r2.Box{Min: r2.Sub(b.Min, by), Max: r2.Add(b.Max, by)}
}

// clipped is the part of a convex area on one side of the mouth's line, the line's own part with
// it: beyond the mouth or within it.
func (k *Buck) clipped(area []r2.Vec, beyond bool) []r2.Vec {
	at, out := k.MouthLine()
	sign := 1.0
	if beyond {
		sign = -1
	}
	side := func(p r2.Vec) float64 { return sign * r2.Dot(r2.Sub(p, at), out) }
	var part []r2.Vec
	for i, p := range area {
		q := area[(i+1)%len(area)]
		a, b := side(p), side(q)
		if a <= 0 {
			part = append(part, p)
		}
		if a < 0 && b > 0 || a > 0 && b < 0 {
			part = append(part, r2.Add(p, r2.Scale(a/(a-b), r2.Sub(q, p))))
		}
	}
	return part
}

// footprint are the corners of the clip over a boss.
func footprint(c measures.Clip, on Pill) []r2.Vec {
	var area []r2.Vec
	for _, q := range [4]r2.Vec{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}} {
		area = append(area, on.At(r2.Vec{X: q.X * c.Length / 2, Y: q.Y * c.Width / 2}))
	}
	return area
}

// bareStep is how far apart, in mm, the points of the bare knife under a clip are, and bareBorder
// those on the borders of that area, where a surface that rises towards it is highest.
const (
	bareStep   = 0.25 // our own, no source
	bareBorder = 0.05 // our own, no source
)

// bare is the highest of the bare knife over a convex area, and where.
func (k *Buck) bare(area []r2.Vec) (z float64, at r2.Vec) {
	z = math.Inf(-1)
	look := func(p r2.Vec) {
		if h := k.WornHalf(p); h > z {
			z, at = h, p
		}
	}
	for i, p := range area {
		side := r2.Sub(area[(i+1)%len(area)], p)
		n := math.Ceil(r2.Norm(side) / bareBorder)
		for s := range int(n) + 1 {
			look(r2.Add(p, r2.Scale(float64(s)/max(n, 1), side)))
		}
	}
	in := knives.NewPatch(area)
	if len(in.Sides) == 0 {
		return z, at
	}
	box := boxOf(area)
	for x := math.Ceil(box.Min.X/bareStep) * bareStep; x < box.Max.X; x += bareStep {
		for y := math.Ceil(box.Min.Y/bareStep) * bareStep; y < box.Max.Y; y += bareStep {
			if p := (r2.Vec{X: x, Y: y}); in.Holds(p) {
				look(p)
			}
		}
	}
	return z, at
}

// under is the highest of what lies under a clip on the boss: the outer side of the formed sheath,
// and the bare knife beyond the mouth. Where the sheet leans on the boss itself, it is as high as
// it stands under a boss that just clears it.
func (s *StandoffPiece) under(clip measures.Clip) outermost {
	k := s.Knife
	k.shell.Lock()
	defer k.shell.Unlock()
	key := laid{clip, s.Top, s.Gap, s.Demands[0].TopZ}
	if o, ok := k.shell.found[key]; ok {
		return o
	}
	area := footprint(clip, s.Top)
	o := outermost{z: math.Inf(-1)}
	within := k.clipped(area, false)
	var rough *formed.Closer
	if len(within) > 0 {
		rough = k.form(k.roughly(within), outerCoarse)
		o.z, o.at = k.sheathed(within, rough)
		o.what = k.sheetOn(o.z, o.at)
	}
	// No more than the cells' rounding, in mm, so that it is the plain figure that is told.
	const same = 1e-3
	if h, p := k.bare(k.clipped(area, true)); h > o.z-same {
		o = outermost{max(h, o.z), p, "bare blade"}
		if k.onHandle(p) || k.Behind(p) {
			o.what = "bare handle"
		}
	}
	if len(within) > 0 {
		o = s.leant(clip, within, rough, o)
	}
	if k.shell.found == nil {
		k.shell.found = make(map[laid]outermost)
	}
	k.shell.found[key] = o
	return o
}

// leant is what lies under a clip where the sheet beside the boss leans on it, too, if that is
// higher than what is found without the boss.
func (s *StandoffPiece) leant(
	clip measures.Clip, within []r2.Vec, rough *formed.Closer, o outermost,
) outermost {
	spare := s.Knife.Spec.Sheet.BossThickness - clip.Clearance
	top := max(s.Demands[0].TopZ, o.z-spare)
	first := s.lean(rough, within, spare, top)
	if _, higher := first.holding(top - outerMiss); !higher {
		return o
	}
	first.raise(boxOf(within))
	box, higher := first.holding(first.top - outerMiss)
	if !higher {
		return o
	}
	l := s.lean(s.Knife.form(box, outerFine), within, spare, top)
	l.raise(box)
	if l.top > top {
		return outermost{l.top + spare, l.at, "sheath beside the boss"}
	}
	return o
}

// roughly is the box within which the sheath over an area is formed to see where it is high.
func (k *Buck) roughly(area []r2.Vec) r2.Box {
	return grownBy(boxOf(area), k.Spec.Sheet.Thickness+outerAside)
}

// sheathed is the highest of the formed sheath over a convex area within the mouth, and where.
func (k *Buck) sheathed(area []r2.Vec, coarse *formed.Closer) (z float64, at r2.Vec) {
	t := k.Spec.Sheet.Thickness
	rough := coarse.All()
	z, _ = rough.Highest(area, t, k.roughly(area))
	high := rough.Holding(area, t+outerAside, z-outerMiss)
	return k.form(high, outerFine).All().Highest(area, t, high)
}

// sheetOn names the sheath where its outer side stands at a height over p.
func (k *Buck) sheetOn(z float64, p r2.Vec) string {
	t := k.Spec.Sheet.Thickness
	flat := k.Spec.Blade.Thickness/2 + k.Spec.Tape.Total() + t
	switch {
	case k.Handle.Holds(p):
		return "sheathed handle"
	case z > flat+0.05 && len(k.Plan.Handle) > 0 && distance(&k.HandleRim, p) < 3*t:
		return "sheath before the handle"
	default:
		return "sheath"
	}
}
