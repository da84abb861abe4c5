package program

import (
	"fmt"
	"math"
	"slices"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// TrimOptions say how the sheath is cut out. The zero value works.
type TrimOptions struct {
	Material  Material
	Rates     Rates
	Allowance float64 // what roughing leaves for the finishing pass, mm; 0: 0.4, under 0: none, and no finishing pass
	Depth     float64 // most that one pass takes down, mm; 0: half of the cutter's diameter
	Through   float64 // how far the cutter goes into the board, mm; 0: 0.3
	Clear     float64 // least distance of the cutter from a clamp, mm; 0: 2 (common practice, no source)
}

// fill fills in what is 0.
func (o *TrimOptions) fill(t Tool) {
	for _, d := range []struct {
		into  *float64
		usual float64
	}{{&o.Allowance, 0.4}, {&o.Depth, t.Radius()}, {&o.Through, 0.3}, {&o.Clear, 2}} {
		if *d.into == 0 {
			*d.into = d.usual
		}
	}
	o.Allowance = max(o.Allowance, 0)
	if o.Material.Name == "" {
		o.Material = Materials()[0]
	}
}

// Trim writes a program that cuts along the sheath's line, and proves it: rough passes that leave the
// allowance, then a finishing pass, clockwise outside the line, so that the cutter climbs; in and out along
// arcs in the waste. The error is a *Fault, or ngc.Faults where the program does not prove.
func Trim(s Setup, o TrimOptions) (*Program, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if s.Tool.Drill() {
		return nil, fault("trimming wants a cutter, and tool %d is a drill", s.Tool.Number)
	}
	if len(s.Line) == 0 {
		return nil, fault("there is no line to trim along")
	}
	o.fill(s.Tool)
	p := &Program{}
	var err error
	if p.Rates, p.Warnings, err = s.Tool.Cutting(o.Material, s.Machine, o.Rates, o.Allowance); err != nil {
		return nil, err
	}
	s.Rates, s.Pass = p.Rates, Pass{Depth: o.Depth, Side: o.Allowance}
	if err := s.checkPass(); err != nil {
		return nil, err
	}
	if err := s.reach(o.Through); err != nil {
		return nil, err
	}
	rough, finish, err := passes(&s, o)
	if err != nil {
		return nil, err
	}
	formed, err := s.formed(rough.round)
	if err != nil {
		return nil, err
	}
	warn, err := bed(&s, o.Through)
	if err != nil {
		return nil, err
	}
	p.Warnings = append(p.Warnings, warn...)
	if o.Depth > s.Tool.Radius()+1e-9 {
		p.Warnings = append(p.Warnings, fmt.Sprintf("passes of %g mm pack the slot with chips: at most half of the cutter's diameter is advised (common practice, no source)", o.Depth))
	}
	w := &writer{numbers: numbers{s.Inch}}
	w.head(&s, o.what(w.numbers, &s, p))
	w.spin(&s, p.Rates.Speed)
	whole := s.Stock.Sheet + o.Through
	steps := math.Ceil(whole/o.Depth - 1e-9)
	w.formed(&s, formed, s.Stock.Sheet-whole/steps, p.Rates)
	for k := 1.0; k <= steps; k++ {
		w.comment(fmt.Sprintf("%s, pass %g of %g", o.first(), k, steps))
		w.pass(&s, rough, s.Stock.Sheet-whole*k/steps, p.Rates)
	}
	if o.Allowance > 0 {
		w.comment("finish")
		w.pass(&s, finish, -o.Through, p.Rates)
	}
	w.foot(&s)
	p.Text = []byte(w.text.String())
	return p, p.prove(&s)
}

// first is what the passes are that go down step by step.
func (o *TrimOptions) first() string {
	if o.Allowance > 0 {
		return "rough"
	}
	return "trim"
}

// what is said of a trimming program in its head.
func (o *TrimOptions) what(n numbers, s *Setup, p *Program) []string {
	t := s.Tool
	chips, _ := o.Material.chips(t)
	what := []string{
		fmt.Sprintf("RATES for %s: %g rpm, %s at the rim, at most %s; feed %s/min, %s per tooth, %s to %s; plunge %s/min. Source: %s",
			o.Material.Name, p.Rates.Speed, n.rim(t.Surface(p.Rates.Speed)), n.rim(o.Material.CutSpeed), n.said(p.Rates.Feed),
			n.said(p.Rates.Feed/p.Rates.Speed/t.flutes()), n.said(chips.Least), n.said(chips.Most), n.said(p.Rates.Plunge), o.Material.Source),
		"PASSES: " + o.plan(n) + "; the cutter climbs, clockwise round the sheath, and goes " + n.said(o.Through) + " into the board",
		fmt.Sprintf("FLUTES: at least %s long, with nothing wider above them: where the sheet is formed the cutter goes through walls up to %s high, in passes of at most %s", n.said(s.Tall()+o.Through), n.said(s.Tall()), n.said(o.Depth)),
		"The rim of waste comes free in the last pass: sheath and waste both have to be held.",
	}
	for _, text := range p.Warnings {
		what = append(what, "WARNING: "+text)
	}
	return what
}

func (o *TrimOptions) plan(n numbers) string {
	if o.Allowance > 0 {
		return fmt.Sprintf("rough leaving %s, then finish", n.said(o.Allowance))
	}
	return "straight to the line, with nothing left for a finishing pass"
}

// turn is one time round with the way in and out.
type turn struct{ in, round, out profile.Path }

// passes are the tool's paths for roughing and finishing, clockwise, both begun beside the same place.
func passes(s *Setup, o TrimOptions) (rough, finish turn, err error) {
	r := s.Tool.Radius()
	near, err := Centre(s.Line, r)
	if err != nil {
		return rough, finish, err
	}
	far, err := Centre(s.Line, r+o.Allowance)
	if err != nil {
		return rough, finish, err
	}
	if at, ok := blocked(s, o, near.Path(), far.Path()); ok {
		return rough, finish, faultAt(at, "a pin or a clamp stands in the cutter's way or closer to it than %g mm", o.Clear)
	}
	near, far = near.Reversed(), far.Reversed()
	for _, i := range byLength(near) {
		at := near[i].At(0.5)
		finish = enter(near, at, r)
		rough = enter(far, nearest(far, at), r)
		ways := slices.Concat(finish.in, finish.out, rough.in, rough.out)
		_, hit := blocked(s, o, ways)
		if !hit && s.flat(ways) && gapTo(ways, s.Line.Path()) >= r-1e-6 && !s.Line.Contains(finish.in.Start()) && !s.Line.Contains(finish.out.End()) {
			return rough, finish, nil
		}
	}
	return rough, finish, fault("there is no room beside the sheath's line for the cutter to come in")
}

// flat tells whether the work is no higher than its rim wherever the tool comes in or goes out.
func (s *Setup) flat(ways profile.Path) bool {
	for _, w := range ways {
		if s.rim(w.A) > s.Stock.Sheet || s.rim(w.B) > s.Stock.Sheet {
			return false
		}
	}
	return true
}

// byLength are the numbers of a loop's segments, straight ones first, then the longest.
func byLength(l profile.Loop) []int {
	order := make([]int, len(l))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if sa, sb := l[a].Straight(), l[b].Straight(); sa != sb {
			if sa {
				return -1
			}
			return 1
		}
		switch la, lb := l[a].Length(), l[b].Length(); {
		case la > lb:
			return -1
		case la < lb:
			return 1
		}
		return 0
	})
	return order
}

func nearest(l profile.Loop, q r2.Vec) r2.Vec {
	best := l[0].A
	for _, s := range l {
		if p := s.Nearest(q); r2.Norm(r2.Sub(p, q)) < r2.Norm(r2.Sub(best, q)) {
			best = p
		}
	}
	return best
}

// enter opens a clockwise loop at a point on it, and leads in and out there along quarters of a circle on
// its left, in the waste.
func enter(l profile.Loop, at r2.Vec, radius float64) turn {
	cut, share := 0, 0.5
	for i, s := range l {
		if s.Distance(at) < l[cut].Distance(at) {
			cut = i
		}
	}
	if n := l[cut].Length(); n > 0 {
		share = min(max(profile.Path{partTo(l[cut], at)}.Length()/n, 0), 1)
	}
	along := l[cut].Tangent(share)
	left := r2.Vec{X: -along.Y, Y: along.X}
	at = l[cut].At(share)
	round := profile.Path{l[cut].Part(share, 1)}
	round = append(round, l[cut+1:]...)
	round = append(round, l[:cut]...)
	round = append(round, l[cut].Part(0, share))
	centre := r2.Add(at, r2.Scale(radius, left))
	quarter := math.Tan(math.Pi / 8)
	return turn{
		in:    profile.Path{{A: r2.Sub(centre, r2.Scale(radius, along)), B: at, Bulge: quarter}},
		round: round,
		out:   profile.Path{{A: at, B: r2.Add(centre, r2.Scale(radius, along)), Bulge: quarter}},
	}
}

// partTo is the part of a segment from its beginning to a point on it.
func partTo(s profile.Segment, at r2.Vec) profile.Segment {
	if s.Straight() {
		return profile.Segment{A: s.A, B: at}
	}
	c, _, _, _ := s.Arc()
	u, v := r2.Sub(s.A, c), r2.Sub(at, c)
	sweep := math.Atan2(r2.Cross(u, v), r2.Dot(u, v))
	if sweep*s.Bulge < 0 {
		sweep += math.Copysign(2*math.Pi, s.Bulge)
	}
	return profile.Segment{A: s.A, B: at, Bulge: math.Tan(sweep / 4)}
}

// blocked tells where a pin stands in the way of the cutter's paths, or a clamp is closer to it than asked.
func blocked(s *Setup, o TrimOptions, paths ...profile.Path) (r2.Vec, bool) {
	for _, path := range paths {
		for _, p := range s.Pins {
			if path.Distance(p.At) < p.width()/2+s.Tool.Radius() {
				return p.At, true
			}
		}
		for _, c := range s.Clamps {
			if gapTo(path, profile.Rectangle(c.Box)) < s.Tool.Radius()+o.Clear || len(path) > 0 && inBox(c.Box, path[0].A) {
				return c.Box.Min, true
			}
		}
	}
	return r2.Vec{}, false
}

func grownBox(b r2.Box, by float64) r2.Box {
	room := r2.Vec{X: by, Y: by}
	return r2.Box{Min: r2.Sub(b.Min, room), Max: r2.Add(b.Max, room)}
}

func inBox(b r2.Box, p r2.Vec) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// pass cuts one time round at a height.
func (w *writer) pass(s *Setup, t turn, z float64, r Rates) {
	path := slices.Concat(t.in, t.round, t.out)
	w.cross(path.Start())
	above := min(max(s.Stock.Sheet+2, z), s.Safe)
	w.line("G0 Z%s", w.length(above))
	if z < above {
		w.line("G1 Z%s %s", w.length(z), w.feed(r.Plunge))
	}
	w.line("%s", w.feed(r.Feed))
	w.follow(path)
	w.line("G0 Z%s", w.length(s.Safe))
}
