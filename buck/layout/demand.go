package layout

import (
	"math"
	"slices"

	"formbuck/buck/fixture/register"
	"formbuck/buck/fixture/way"
	"formbuck/buck/internal/offset"
	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Demand is what keeps an eyelet off: the sheet that still falls from some part of the buck, or the cutting
// edge, which must not reach metal.
type Demand string

// The demands.
const (
	Spine   Demand = "fold at the spine"
	Edge    Demand = "fold at the edge"
	Guard   Demand = "guard of the edge"
	Handle  Demand = "fold at the handle"
	Ramp    Demand = "fold at the ramp"
	Boss    Demand = "fold at the boss"
	Outlet  Demand = "fold at the drain"
	Outline Demand = "fold at the blade" // neither edge nor spine: a choil, the butt
)

// demands are all of them; a sweep's tag is the index.
var demands = []Demand{Spine, Edge, Guard, Handle, Ramp, Boss, Outlet, Outline}

const (
	step       = 0.5 // mm between the points of an outline that are looked at; our own, no source
	bladeEdge  = 0.2 // radius of the blade's own edges, mm; common practice, no source
	draftDeg   = 5   // steepest that a sheet falls from the knife itself: 90 degrees less this; common practice, no source; 5 degrees is the middle of what guides for male forms ask for
	deepest    = 8   // how far inside the outline the blade is looked at, mm; our own, no source
	rampRows   = 2   // between the rows of a ramp that are looked at, mm; our own, no source
	behind     = -40 // x from which the knife counts, mm: the sheath begins at the mouth; our own, no source
	onePlace   = 1e-9
	insideLine = 0.02 // mm from the outline that is safely inside; our own, no source
)

// ground is all that the sheet has to come down from.
type ground struct {
	knife    *pieces.Buck
	bosses   []*pieces.StandoffPiece
	ramps    []*pieces.RampPiece
	drain    *pieces.DrainPiece
	hands    []measures.Hand
	way      way.Way
	reach    float64         // from where the sheets lie flat to an eyelet's centre: half its flange or die, and the clearance
	off      *register.Field // by how much a hole can be off on top of that, as the pair lies
	folds    []offset.Sweep
	plugs    []offset.Sweep
	members  []*ground // that it serves, itself alone where it is of one knife
	edge     *profile.Near
	spine    *profile.Near
	contact  *offset.Swept // where the sheets do not lie flat, the drain aside
	kept     *offset.Swept // the same less what the guard of the edge asks beyond the reach
	plug     *offset.Swept // the same of the drain
	interior offset.Surface
}

// newGround works out where the two sheets come into flat contact all round the knife and its pieces.
func newGround(k *pieces.Buck, bosses []*pieces.StandoffPiece, ramps []*pieces.RampPiece, drain *pieces.DrainPiece) *ground {
	s := k.Spec
	g := &ground{
		knife: k, bosses: bosses, ramps: ramps, drain: drain,
		reach: max(s.Eyelet.Flange, s.Eyelet.Die)/2 + s.Layout.Clearance,
		edge:  profile.NewNear(k.Plan.Edge), spine: profile.NewNear(k.Plan.Spine),
	}
	g.interior = offset.Outside(k.Plan.Outline)
	if len(k.Plan.Handle) > 0 {
		g.interior = offset.Union(g.interior, offset.Outside(k.Plan.Handle))
	}
	return g
}

// sweep fills in what the sheets are apart over.
func (g *ground) sweep() {
	g.folds = append(append(g.blade(), g.handle()...), g.pieces()...)
	g.plugs = g.outlet()
	g.settle()
}

// settle makes surfaces of the sweeps.
func (g *ground) settle() {
	g.contact = offset.NewSwept(g.folds)
	g.kept = offset.NewSwept(append(slices.Clone(g.folds), g.guard()...))
	g.plug = offset.NewSwept(g.plugs)
}

// widest is how far beyond the knife the sheath may reach, at the most.
func (g *ground) widest() float64 {
	most := 0.0
	for _, m := range g.members {
		most = max(most, m.wide())
	}
	return most
}

// wide is the same of one member.
func (g *ground) wide() float64 {
	const room = 5
	s := g.knife.Spec
	most := max(s.Handle.Thickness, 2*g.drain.RadiusAt(g.drain.To))/2 + 3*s.Sheet.Thickness
	for _, b := range g.bosses {
		most = max(most, b.Foot().Length/2+3*s.Sheet.Thickness+b.TopZ*math.Tan(draftDeg*math.Pi/180))
	}
	return max(most+g.reach, s.Layout.EdgeGuard+s.Eyelet.Hole/2) + g.farthest() + s.EdgeDistance() + room
}

// height is that of the buck's highest point over its middle plane, in mm.
func (g *ground) height() float64 {
	s := g.knife.Spec
	blade := s.Blade.Thickness / 2
	most := max(s.Handle.Thickness/2, blade+s.Tape.Total())
	for _, r := range g.ramps {
		most = max(most, blade+r.Rise)
	}
	if g.drain != nil {
		most = max(most, g.drain.RadiusAt(g.drain.To))
	}
	for _, b := range g.bosses {
		most = max(most, b.TopZ+b.Nubs[0].Tall())
	}
	return most
}

// parts is the surface of what the sheets are apart over, the drain aside.
func (g *ground) parts() offset.Surface { return offset.Union(g.interior, g.contact.Surface()) }

// line is the surface whose level 0 is the eyelets' line: no centre may lie within it.
func (g *ground) line() offset.Surface {
	return offset.Union(g.interior, g.kept.Surface()).Less(g.reach).Lowered(g.off.Error)
}

// fold is the distance of flat contact from an upright edge.
func (g *ground) fold(half, edge, draft float64) float64 {
	return measures.Fold{Half: half, Sheet: g.knife.Spec.Sheet.Thickness, Edge: edge, DraftDeg: draft}.Contact()
}

// blade are the sweeps round the blade's outline, from where it leaves the handle.
func (g *ground) blade() []offset.Sweep {
	var all []offset.Sweep
	for _, s := range offset.Split(g.knife.Plan.Outline.Path(), step) {
		if s.A.X < behind && s.B.X < behind || r2.Norm(r2.Sub(s.B, s.A)) < onePlace {
			continue
		}
		along := r2.Unit(r2.Sub(s.B, s.A))
		in := r2.Vec{X: -along.Y, Y: along.X} // the outline runs counter-clockwise
		mid := r2.Add(s.At(0.5), r2.Scale(insideLine, in))
		if g.knife.ZoneAt(mid).OfHandle() {
			continue
		}
		all = append(all, offset.Sweep{
			A: s.A, B: s.B, RA: g.bladeFold(s.A, in), RB: g.bladeFold(s.B, in),
			Tag: tag(g.side(s.At(0.5))),
		})
	}
	return all
}

// bladeFold is how far outside a point of the outline the sheets lie flat. What the blade is further in may
// ask for more than its edge does: then the sheet spans the edge.
func (g *ground) bladeFold(p, in r2.Vec) float64 {
	most := g.fold(g.knife.BladeHalf(p)+g.knife.TapeAt(p), bladeEdge, draftDeg)
	for d := 0.25; d <= deepest; d *= 2 {
		q := r2.Add(p, r2.Scale(d, in))
		on := g.knife.ZoneAt(q)
		if !on.OfBlade() {
			break
		}
		most = max(most, g.fold(g.knife.HalfOn(on, q)+g.knife.TapeAt(q), bladeEdge, draftDeg)-d)
	}
	return most
}

// side is what of the blade the outline is at p.
func (g *ground) side(p r2.Vec) Demand {
	_, edge := g.edge.Nearest(p)
	_, spine := g.spine.Nearest(p)
	switch {
	case edge < insideLine && edge <= spine:
		return Edge
	case spine < insideLine:
		return Spine
	default:
		return Outline
	}
}

// handle are the sweeps round the handle, whose edge is rounded.
func (g *ground) handle() []offset.Sweep {
	h := g.knife.Spec.Handle
	r := g.fold(h.Thickness/2, max(h.Rounding, bladeEdge), draftDeg)
	guard := g.fold(g.knife.Spec.Guard.Thickness/2, bladeEdge, draftDeg)
	var all []offset.Sweep
	for _, s := range offset.Split(g.knife.Plan.Handle.Path(), 4*step) {
		if s.A.X >= behind || s.B.X >= behind {
			far := r
			if g.knife.ZoneAt(inside(s)) == knives.OnGuard {
				far = guard
			}
			all = append(all, offset.Sweep{A: s.A, B: s.B, RA: far, RB: far, Tag: tag(Handle)})
		}
	}
	return all
}

// guard are the sweeps along the cutting edge that keep an eyelet's hole off it.
func (g *ground) guard() []offset.Sweep {
	s := g.knife.Spec
	r := s.Layout.EdgeGuard + s.Eyelet.Hole/2 - g.reach
	var all []offset.Sweep
	for _, edge := range []profile.Path{g.knife.Plan.Edge, g.knife.Plan.Back} {
		for _, e := range offset.Split(edge, 2*step) {
			all = append(all, offset.Sweep{A: e.A, B: e.B, RA: r, RB: r, Tag: tag(Guard)})
		}
	}
	return all
}

// pieces are the sweeps of boss and ramps.
func (g *ground) pieces() []offset.Sweep {
	var all []offset.Sweep
	for _, b := range g.bosses {
		// From the rim of the flat top: what the edge radius takes in is part of the fold.
		top := b.Top.Grown(-b.EdgeInset())
		r := top.Width/2 + b.EdgeRadius + g.fold(b.TopZ, b.EdgeRadius, max(b.DraftDeg, draftDeg))
		half := r2.Vec{X: (top.Length - top.Width) / 2}
		all = append(all, offset.Sweep{A: top.At(r2.Scale(-1, half)), B: top.At(half), RA: r, RB: r, Tag: tag(Boss)})
	}
	for _, r := range g.ramps {
		all = append(all, g.ramp(r)...)
	}
	return all
}

// ramp are sweeps round a ramp's head and, further apart, across it. What of it lies over the blade asks for
// no more than what is beside.
func (g *ground) ramp(r *pieces.RampPiece) []offset.Sweep {
	h := r.Head
	var all []offset.Sweep
	row := func(a, b r2.Vec) {
		n := math.Ceil(r2.Norm(r2.Sub(b, a)) / step)
		var last r2.Vec
		far, was := 0.0, false
		for i := range int(n) + 1 {
			p := r.Blade(r2.Add(a, r2.Scale(float64(i)/n, r2.Sub(b, a))))
			on := r.BaseAt(p) != pieces.NoBase
			to := 0.0
			if on {
				to = g.fold(r.Height(p), 0, max(r.DraftDeg, draftDeg))
			}
			if on && was {
				all = append(all, offset.Sweep{A: last, B: p, RA: far, RB: to, Tag: tag(Ramp)})
			}
			last, far, was = p, to, on
		}
	}
	for _, x := range [2]float64{h.Min.X, h.Max.X} {
		row(r2.Vec{X: x, Y: h.Min.Y}, r2.Vec{X: x, Y: h.Max.Y})
	}
	rows := math.Ceil((h.Max.Y - h.Min.Y) / rampRows)
	for j := range int(rows) + 1 {
		y := h.Min.Y + (h.Max.Y-h.Min.Y)*float64(j)/rows
		row(r2.Vec{X: h.Min.X, Y: y}, r2.Vec{X: h.Max.X, Y: y})
	}
	return append(all, g.cut(r)...)
}

// outlet are the sweeps of the drain's plug, which is round: ahead of the tip one along its axis, its edge radius its own. Beside
// the tip, where it laps over the blade, its end is no edge of its own but a flat face: there they run along its surface.
func (g *ground) outlet() []offset.Sweep {
	d := g.drain
	if d == nil {
		return nil
	}
	at := func(x float64) (r2.Vec, float64) {
		r := d.RadiusAt(x)
		return d.At(r2.Vec{X: x}), r + g.fold(r, r, draftDeg)
	}
	a, ra := at(0)
	b, rb := at(d.To)
	all := []offset.Sweep{{A: a, B: b, RA: ra, RB: rb, Tag: tag(Outlet)}}
	for i := range plugRows + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / plugRows)
		along := func(x float64) (r2.Vec, float64) {
			r := d.RadiusAt(x)
			return d.At(r2.Vec{X: x, Y: r * cos}), g.fold(r*sin, 0, draftDeg)
		}
		a, ra := along(d.From)
		b, rb := along(0)
		all = append(all, offset.Sweep{A: a, B: b, RA: ra, RB: rb, Tag: tag(Outlet)})
	}
	return all
}

// plugRows is how many rows of its surface the plug is parted into: of a radius r, in a fold of s, it is r(s+r)/s (1 - cos(a/2))
// short between two an angle a apart, 0.02 mm for 3 and 4 mm. Derived.
const plugRows = 24

// tag is a demand's index.
func tag(d Demand) int {
	for i, e := range demands {
		if d == e {
			return i
		}
	}
	return -1
}
