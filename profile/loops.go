package profile

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// openReach is how far apart, in mm, ends that do not meet are still taken to belong together.
const openReach = 0.5

// ring is a closed chain and the layer it came from.
type ring struct {
	*chain
	from *joined
	area float64 // without sign
}

// entity is what drew a segment of the ring.
func (g ring) entity(seg int) *dxf.Entity { return g.from.strands[g.strandAt(seg)].from }

// loops finds the outline among the loops of its layer, and the holes there and on the layers for
// holes.
func (r *reader) loops(b *bucket, holes []*bucket) {
	rings, chains := r.rings(nil, nil, b, true)
	own := len(rings)
	for _, h := range holes {
		rings, chains = r.rings(rings, chains, h, false)
	}
	if own == 0 {
		if len(r.faults) == 0 {
			r.fault(dxf.NoOutline, nil, nil, fmt.Sprintf("layer %s has no closed loop", b.name))
		}
		return
	}
	outline := 0
	for i, g := range rings[:own] {
		if g.area > rings[outline].area {
			outline = i
		}
	}
	if r.tooLarge(rings, outline) {
		return
	}
	crossed := r.crossingFaults(rings, chains, outline)
	r.profile.Outline = counterClockwise(rings[outline].path)
	for i := range rings {
		if i != outline {
			r.hole(rings, outline, i, i < own, crossed[i])
		}
	}
	r.strayFaults(b, rings[outline])
}

// maxLoops is how many loops the layers of outline and holes may hold.
const maxLoops = 1000

// tooLarge refuses more loops than any knife has.
func (r *reader) tooLarge(rings []ring, outline int) bool {
	if len(rings) <= maxLoops {
		return false
	}
	r.fault(dxf.TooLarge, rings[outline].entity(0), nil, fmt.Sprintf("%d closed loops beside it on the layers of outline and holes; at most %d are read", len(rings)-1, maxLoops))
	return true
}

// rings adds a layer's loops, and its open chains after them for the crossing test; its branches and
// gaps become faults.
func (r *reader) rings(rings []ring, chains []ring, b *bucket, shape bool) ([]ring, []ring) {
	j := r.join(b)
	for i := range j.loops {
		c := &j.loops[i]
		rings = append(rings, ring{chain: c, from: j, area: math.Abs(Loop(c.path).Area())})
	}
	for i := range j.open {
		chains = append(chains, ring{chain: &j.open[i], from: j})
	}
	r.branchFaults(j)
	r.gapFaults(j, shape && len(j.loops) == 0)
	return rings, chains
}

// branchFaults refuses places where more than two ends meet, each at the last piece that was drawn
// there.
func (r *reader) branchFaults(j *joined) {
	first := len(r.branches)
	var last []int32
	for _, b := range j.branches {
		at := slices.IndexFunc(r.branches[first:], func(q r2.Vec) bool { return r2.Norm(r2.Sub(q, b.at)) <= r.options.Gap })
		if at < 0 {
			at = len(last)
			r.branches, last = append(r.branches, b.at), append(last, b.strand)
		}
		last[at] = max(last[at], b.strand)
		if len(last) > maxFaults {
			break
		}
	}
	for i, strand := range last {
		r.faultAt(dxf.Branch, j.strands[strand].from, r.branches[first+i], "more than two ends meet")
	}
}

// branched reports whether a place is one where more than two ends meet, and so is told already.
func (r *reader) branched(at r2.Vec) bool {
	return slices.ContainsFunc(r.branches, func(q r2.Vec) bool { return r2.Norm(r2.Sub(q, at)) <= r.options.Gap })
}

// faultAt is fault with a point.
func (r *reader) faultAt(class dxf.Class, e *dxf.Entity, at r2.Vec, what string) {
	r.fault(class, e, &at, fmt.Sprintf("%s at (%.3f, %.3f) mm", what, at.X, at.Y))
}

// gapFaults refuses ends that nearly meet; with strict set, every end that is free.
func (r *reader) gapFaults(j *joined, strict bool) {
	if len(j.open) == 0 {
		return
	}
	var at []r2.Vec
	var free []int
	for i, c := range j.open {
		at = append(at, c.path.Start(), c.path.End())
		free = append(free, 2*i, 2*i+1)
	}
	nearest, dist := nearestFree(at, free, openReach)
	var gaps []gap
	for e, n := range nearest {
		switch {
		case r.branched(at[e]):
		case n >= 0 && n < e && nearest[n] == e: // told at the other end
		case n >= 0:
			gaps = append(gaps, gap{end: e, at: at[e], to: at[n], wide: dist[e]})
		case strict:
			r.faultAt(dxf.OpenOutline, j.freeEnd(e), at[e], "open: no other end near the one")
		}
	}
	r.tellGaps(j, gaps)
}

// gap is a free end with another near it.
type gap struct {
	end    int // 2i the start of open chain i, 2i+1 its end
	at, to r2.Vec
	wide   float64 // mm
}

// maxGaps is how many gaps are told one by one.
const maxGaps = 10

// tellGaps refuses gaps: of several it says first what closes all of them, as a variant file takes it.
func (r *reader) tellGaps(j *joined, gaps []gap) {
	widest := 0.0
	for _, g := range gaps {
		widest = max(widest, g.wide)
	}
	if n := len(gaps); n > 1 {
		r.fault(dxf.OpenOutline, nil, nil, fmt.Sprintf("%d gaps up to %.3f mm: drawing.join_gap = %.4g", n, widest, closing(widest)))
	}
	for i, g := range gaps {
		if i == maxGaps {
			r.fault(dxf.TooMany, j.freeEnd(g.end), nil, fmt.Sprintf("%d more gaps", len(gaps)-i))
			return
		}
		r.faultAt(dxf.OpenOutline, j.freeEnd(g.end), g.at,
			fmt.Sprintf("open: ends %.3f mm short of (%.3f, %.3f); close the gap, or allow a join gap of %.2f mm; this end lies", g.wide, g.to.X, g.to.Y, closing(g.wide)))
	}
}

// closing is the join gap, in whole hundredths of a mm, that closes a gap.
func closing(wide float64) float64 { return math.Ceil(wide*100-1e-6) / 100 }

// freeEnd is what drew the end of an open chain: 2i is the start of chain i, 2i+1 its end.
func (j *joined) freeEnd(e int) *dxf.Entity {
	c := &j.open[e/2]
	seg := 0
	if e&1 == 1 {
		seg = len(c.path) - 1
	}
	return j.strands[c.strandAt(seg)].from
}

// crossingFaults refuses loops that cross or touch; it tells which rings are concerned.
func (r *reader) crossingFaults(rings, chains []ring, outline int) map[int]bool {
	all := slices.Concat(rings, chains)
	list := make([]*chain, len(all))
	for i, g := range all {
		list[i] = g.chain
	}
	crossed := map[int]bool{}
	var told []r2.Vec
	found, ok := crossings(list, maxFaults+1)
	if !ok {
		r.fault(dxf.TooLarge, rings[outline].entity(0), nil, "its layer has too many lines over each other to be checked; leave out of it what is not the knife")
	}
	for _, k := range found {
		a, b := all[k.chainA], all[k.chainB]
		e, o := a.entity(k.segA), b.entity(k.segB)
		if k.chainA == outline {
			e, o = o, e // the fault is the hole's
		}
		with := fmt.Sprintf("%s handle %X of line %d", o.Kind, o.Handle, o.Line)
		if e == o {
			with = "itself"
		}
		class, what := dxf.SelfIntersection, "crosses or touches "+with
		switch {
		case k.shared:
			class, what = dxf.Overlap, "lies in part on "+with
		case k.chainA == k.chainB:
		case k.chainA == outline || k.chainB == outline:
			class, what = dxf.HoleCrossesOut, "crosses or touches the outline, "+with
		default:
			class, what = dxf.HolesCross, "two holes meet: crosses or touches "+with
		}
		crossed[k.chainA], crossed[k.chainB] = true, true
		if r.branched(k.at) || slices.ContainsFunc(told, func(q r2.Vec) bool { return r2.Norm(r2.Sub(q, k.at)) <= sameWithin }) {
			continue // one place is one fault, whatever the number of pieces that end there
		}
		told = append(told, k.at)
		r.faultAt(class, e, k.at, what)
	}
	return crossed
}

// hole adds ring i as a hole, where it lies in the outline and in no other ring.
func (r *reader) hole(rings []ring, outline, i int, shape, crossed bool) {
	g := rings[i]
	at := g.path[0].At(0.5)
	if !Loop(rings[outline].path).Contains(at) {
		switch {
		case crossed:
		case shape && r.besideKnife(g.path, rings[outline].path):
			r.leaveLoop(g, whyAside)
		case shape:
			r.faultAt(dxf.TwoOutlines, g.entity(0), at,
				fmt.Sprintf("a second loop (%.4g mm2) outside the outline (%.4g mm2); only one can be the outline; second loop", g.area, rings[outline].area))
		default:
			r.faultAt(dxf.HoleCrossesOut, g.entity(0), at, "a hole outside the outline")
		}
		return
	}
	for k, other := range rings {
		if k != i && k != outline && other.area > g.area && !crossed && Loop(other.path).Contains(at) {
			r.leaveLoop(g, "within a hole")
			return
		}
	}
	if !crossed && noHole(g, rings[outline]) {
		r.faultAt(dxf.TwoOutlines, g.entity(0), at,
			fmt.Sprintf("a loop (%.4g mm2) fills much of the outline (%.4g mm2) around it, more than a hole does: which of them is the knife? put the other on a layer of its own, the handle's outline on layer HANDLE; inner loop", g.area, rings[outline].area))
		return
	}
	r.profile.Holes = append(r.profile.Holes, counterClockwise(g.path))
}

// What a loop within the outline is that is no hole, but a handle's outline, or the knife in a sheet's; common practice,
// no source.
const (
	holeShare = 1. / 3 // most of the outline's area that a hole takes up
	hugShare  = 0.1    // the same for a loop that runs along the outline
	hugWithin = 2.0    // mm: a skeleton's walls are no thinner, for most of a hole's length
)

// noHole reports whether a loop within the outline is larger than a hole, or runs along it as a handle's outline does.
func noHole(g, outline ring) bool {
	if g.area > holeShare*outline.area || g.area < hugShare*outline.area {
		return g.area > holeShare*outline.area
	}
	const looks = 60
	near := NewNear(outline.path)
	n := 0
	for i := range looks {
		if near.Within(g.path.At((float64(i)+0.5)/looks), hugWithin) < hugWithin {
			n++
		}
	}
	return 2*n > looks
}

// leaveLoop leaves a loop out, for a reason.
func (r *reader) leaveLoop(g ring, why string) {
	e := g.entity(0)
	r.profile.Left = append(r.profile.Left, g.path)
	r.skip(Skipped{Kind: e.Kind, Layer: g.from.strands[g.strandAt(0)].layer.name, Why: why, Count: 1})
}

// counterClockwise is the closed path as a loop with positive area.
func counterClockwise(p Path) Loop {
	if l := Loop(p); l.Area() >= 0 {
		return l
	}
	return Loop(p).Reversed()
}

// maxStray is how many open paths are warned of one by one.
const maxStray = 10

// strayFaults refuses open paths on the outline's layer that look like an outline of their own or go on from it, and
// warns of the others.
func (r *reader) strayFaults(b *bucket, outline ring) {
	j := r.join(b)
	along := Frame{AngleDeg: Loop(outline.path).longAxisDeg()}
	room := func(p Path) float64 {
		size := along.path(p).Bounds().Size()
		return size.X * size.Y
	}
	whole := room(outline.path)
	near := NewNear(outline.path)
	for i := range j.open {
		c := &j.open[i]
		r.profile.Left = append(r.profile.Left, c.path)
		e := j.strands[c.strandAt(0)].from
		if leaves(c.path, outline.path, near) {
			r.faultAt(dxf.Branch, e, c.path.Start(), fmt.Sprintf("more than two ways meet: an open path of %.4g mm outside the outline begins and ends on its side; draw it as part of the outline", c.path.Length()))
			continue
		}
		if room(c.path) > 0.5*whole || c.path.Length() > 0.6*outline.path.Length() {
			r.faultAt(dxf.OpenOutline, e, c.path.Start(), fmt.Sprintf("an open path of %.4g mm, too much to be left out beside the largest closed loop; open", c.path.Length()))
			continue
		}
		if i == maxStray {
			r.warn(e.Line, "%d more open paths on the outline's layer were left out", len(j.open)-i)
		}
		if i >= maxStray {
			continue
		}
		r.warn(e.Line, "%s handle %X layer %s: an open path of %.4g mm on the outline's layer was left out", e.Kind, e.Handle, e.Layer, c.path.Length())
	}
}

// leaves reports whether an open path begins and ends on the side of a loop and lies outside it, as a guard does that was
// drawn onto a finished outline.
func leaves(p, loop Path, near *Near) bool {
	if near.Within(p.Start(), openReach) >= openReach || near.Within(p.End(), openReach) >= openReach {
		return false
	}
	const looks = 50
	for i := 0; i < len(p); i += len(p)/looks + 1 {
		if at := p[i].At(0.5); near.Within(at, openReach) >= openReach && !Loop(loop).Contains(at) {
			return true
		}
	}
	return false
}
