package pieces

import (
	"fmt"
	"math"

	"formbuck/buck/knives"
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// StandoffPiece is the mount boss as made, on the right face; the other face's is its mirror.
type StandoffPiece struct {
	Knife      *Buck
	Name       string         // of a further boss; empty: the first
	Plate      measures.Plate // that lies in the boss
	Apart      float64        // its posts as the hot sheet is formed over them, centre to centre
	Top        Pill           // where walls and top plane would meet without the edge radius
	TopZ       float64        // of the top plane
	DraftDeg   float64
	EdgeRadius float64
	Gap        float64 // between underside and blade: glue and fit
	Flat       bool    // the underside goes on as on the blade's flat, over the bevel too
	Wedge      float64 // the most that a flat underside stands over the blade, glue aside
	Chamfer    float64 // round the underside, at 45 degrees
	Nubs       []NubPiece
	Demands    []Demand // in the order in which they were looked at
	Face       float64  // half thickness of the blade under the plate: the face that Height counts from

	Mark      [][]r2.Vec // engraved in the underside, in the plan; nil: nothing
	MarkDepth float64
	mark      []knives.Patch
}

// Engrave cuts a mark into the underside.
func (s *StandoffPiece) Engrave(loops [][]r2.Vec, depth float64) {
	s.Mark, s.MarkDepth, s.mark = loops, depth, nil
	for _, c := range loops {
		s.mark = append(s.mark, knives.NewPatch(c))
	}
}

// Engraved is the depth of the mark at p: nothing beside its strokes.
func (s *StandoffPiece) Engraved(p r2.Vec) float64 {
	in := false
	for _, c := range s.mark {
		in = in != c.Holds(p)
	}
	if in {
		return s.MarkDepth
	}
	return 0
}

// MarkRoom tells whether a mark of the size, in the middle of the underside and a margin from its sides, is
// within the piece's head and leaves it whole.
func (s *StandoffPiece) MarkRoom(size r2.Vec, margin float64) bool {
	corner := r2.Add(s.Top.Centre, r2.Rotate(r2.Scale(0.5, size), measures.Radians(s.Top.AngleDeg), r2.Vec{}))
	return s.Top.Distance(corner) <= -margin && s.Height() > 2
}

// Demand is one thing that asks for height: what, how that comes to the figure, and the top plane it
// needs above z = 0.
type Demand struct {
	What, Sum string
	TopZ      float64
}

// Height is the height of the top plane above the blade's face under it.
func (s *StandoffPiece) Height() float64 { return s.TopZ - s.Face }

// Governing is the demand that set the height: the highest, the first where two are equal.
func (s *StandoffPiece) Governing() Demand {
	best := s.Demands[0]
	for _, d := range s.Demands[1:] {
		if d.TopZ > best.TopZ {
			best = d
		}
	}
	return best
}

// Plane is the height of the piece's upper surface at p, as far down as its walls may reach: the top
// plane, the arc of the edge radius, and the drafted wall, which are tangent to one another.
func (s *StandoffPiece) Plane(p r2.Vec) float64 {
	z := s.profile(s.Top.Distance(p))
	for _, n := range s.Nubs {
		if r2.Norm(r2.Sub(p, n.Centre)) < n.Base/2 {
			z = n.Height(p)
		}
	}
	return z
}

// profile is the height of top, edge and wall at a signed distance from the top pill.
func (s *StandoffPiece) profile(d float64) float64 {
	r, inset := s.EdgeRadius, s.EdgeInset()
	switch {
	case d <= -inset:
		return s.TopZ
	case d < -inset+r*math.Cos(measures.Radians(s.DraftDeg)):
		return s.TopZ - r + math.Sqrt(r*r-(d+inset)*(d+inset))
	case s.DraftDeg == 0:
		return s.TopZ - r - d // never reached inside the walls; slopes so that a wall can be felt
	default:
		return s.TopZ - d/measures.TanDeg(s.DraftDeg)
	}
}

// EdgeInset is what the edge radius takes from the top plane on every side: rho tan(45 - draft/2).
func (s *StandoffPiece) EdgeInset() float64 { return s.EdgeRadius * measures.TanDeg(45-s.DraftDeg/2) }

// Underside is the height of the piece's underside at p, as if p lay in the zone: it follows the
// blade's face at the gap, or its flat where it is flat, and goes on as it is where the piece stands
// out beside the blade.
func (s *StandoffPiece) Underside(on knives.Zone, p r2.Vec) float64 {
	if s.Flat {
		on = knives.OnFlat
	}
	return s.Knife.HalfOn(on, p) + s.Gap
}

// Drawn is how much higher the underside is at p for the chamfer round it, as if p lay in the zone, far being p's
// distance from the top pill: it rises as p comes nearer to where the walls would meet the underside without it.
func (s *StandoffPiece) Drawn(on knives.Zone, p r2.Vec, far float64) float64 {
	if s.Chamfer == 0 {
		return 0
	}
	within := (s.TopZ-s.Underside(on, p))*measures.TanDeg(s.DraftDeg) - far
	return max(0, s.Chamfer-within)
}

// NewStandoff computes the mount boss of a knife, the first if there are more. It sits on the blade before the handle
// or, where that lies further forward, within the mouth, its long axis along the blade; the placement moves and turns it
// from there. Its errors are Faults.
func NewStandoff(k *Buck) (*StandoffPiece, error) { return k.standoff(k.firstMount()) }

// firstMount is the first boss as it is asked for: its x and y count from where it sits by itself.
func (k *Buck) firstMount() measures.Mount {
	s := k.Spec.Standoff
	return measures.Mount{Placement: s.Placement, Height: s.Height, Plate: k.Spec.Plate}
}

// topOf is the top pill of a boss at its place.
func (k *Buck) topOf(m measures.Mount) Pill {
	top := topOver(k.Spec, m.Plate)
	top.AngleDeg, top.Centre = m.CantDeg, r2.Vec{X: m.X, Y: m.Y}
	if m.Name == "" {
		top.Centre = k.mount(top.Length / 2)
	}
	return top
}

// standoff computes a boss, and refuses one that does not stand where it has to.
func (k *Buck) standoff(m measures.Mount) (*StandoffPiece, error) {
	p, err := k.boss(m, k.topOf(m))
	if err != nil {
		return nil, err
	}
	return p, p.seat(m)
}

// boss computes a boss whose top lies at a place, wherever that is.
func (k *Buck) boss(m measures.Mount, top Pill) (*StandoffPiece, error) {
	s := k.Spec
	p := &StandoffPiece{
		Knife: k, Name: m.Name, Plate: m.Plate, Apart: s.Sheet.ShrinkFactor() * m.Plate.PostSpacing,
		DraftDeg:   s.Standoff.DraftDeg,
		EdgeRadius: s.Standoff.EdgeRadius,
		Gap:        s.Standoff.Glue + m.Fit,
		Chamfer:    s.Print.BedChamfer,
		Top:        top,
	}
	if !drafts(s.Standoff.DraftDeg) {
		return nil, measures.Faultf("standoff.draft", "walls %.3g deg from upright: 0, or %d deg and more", s.Standoff.DraftDeg, leastDraft)
	}
	if m.Plate.PostSpacing+m.Plate.PostDiameter > m.Plate.Length {
		return nil, measures.Faultf(p.plateKey("post_spacing"), "posts %.4g mm thick and %.4g mm apart do not stand on a plate %.4g mm long",
			m.Plate.PostDiameter, m.Plate.PostSpacing, m.Plate.Length)
	}
	p.demand()
	if err := p.setHeight(m.Height); err != nil {
		return nil, err
	}
	if wall := p.Height() - p.Gap - p.EdgeRadius; p.Chamfer > 0 && p.Chamfer > wall-leastWall {
		return nil, measures.Faultf("print.bed_chamfer", "%.4g mm of chamfer leave nothing of a wall %.4g mm high", p.Chamfer, wall)
	}
	p.flatten()
	for _, side := range []float64{-0.5, 0.5} {
		n, err := newNub(s, p.Top.At(r2.Vec{X: side * p.Apart}), p.TopZ)
		if err != nil {
			return nil, err
		}
		p.Nubs = append(p.Nubs, n)
	}
	return p, nil
}

// leastWall is what is left of a wall over the chamfer round the underside, mm; common practice, no source.
const leastWall = 0.2

// leastDraft is the least draft, in degrees, of a wall that is not upright. Less frees nothing: guides
// for male forms ask for 3 to 5. Source: public design guides of trade thermoformers.
const leastDraft = 1

// drafts tells whether an angle from upright is one that walls can have.
func drafts(deg float64) bool { return deg == 0 || deg >= leastDraft && deg <= 45 }

// bossTop is the first boss's top pill, at its place.
func (k *Buck) bossTop() Pill { return k.topOf(k.firstMount()) }

// topOver is the top pill of a boss over a plate: the plate and its side clearance, as large as the hot sheet
// has to be formed to shrink to them, and what the edge radius takes.
func topOver(s measures.Spec, p measures.Plate) Pill {
	grow, hot := s.Standoff.SideClearance, s.Sheet.ShrinkFactor()
	edge := 2 * s.Standoff.EdgeRadius * measures.TanDeg(45-s.Standoff.DraftDeg/2)
	return Pill{Length: hot*(p.Length+2*grow) + edge, Width: hot*(p.Width+2*grow) + edge}
}

// bossHeight is the height of a boss, in mm, that other pieces leave room for at its foot; they must
// not change with the boss, which changes with the handle. One that is higher may meet them. Our own, no source.
const bossHeight = 12

// bossRoom is the room that other pieces leave to the boss: its foot and what pieces leave each other.
func (k *Buck) bossRoom() Pill {
	return k.bossTop().Grown(bossHeight*measures.TanDeg(k.Spec.Standoff.DraftDeg) + piecesApart)
}

// mountRoom is what is left between the handle's front, or the mouth, and the boss's foot, in mm, so that the sheet
// can come down between them; common practice, no source.
const mountRoom = 4

// mount is the centre of the first boss: half its length and some room before the handle's front or the mouth, whichever
// lies further forward, in the middle of what the blade leaves free along all of it, moved by the placement.
func (k *Buck) mount(half float64) r2.Vec {
	x := max(k.Plan.HandleFront, k.Plan.ThroatEdge.X, k.Plan.ThroatSpine.X) + mountRoom + half
	low, high := k.Chord(x)
	const looks = 8 // to either side
	for i := -looks; i <= looks; i++ {
		l, h := k.Chord(x + half*float64(i)/looks)
		low, high = max(low, l), min(high, h)
	}
	return r2.Vec{X: x + k.Spec.Standoff.X, Y: (low+high)/2 + k.Spec.Standoff.Y}
}

// demand gathers what asks for height: the plate with its clearance over the blade, and the clip
// over the highest part of the formed sheath and of the bare knife under it.
func (s *StandoffPiece) demand() {
	k, spec := s.Knife, s.Knife.Spec
	flat := s.Top.Grown(-s.EdgeInset())
	s.Face, _ = highest(flat.Length, flat.Width, s.Top, func(p r2.Vec) float64 { return k.Half(p) })
	plate := s.Face + s.Plate.Thickness + spec.Standoff.Clearance
	s.Demands = append(s.Demands, Demand{
		What: "plate over the blade",
		Sum:  fmt.Sprintf("blade %.4g + plate %.4g + clearance %.4g", s.Face, s.Plate.Thickness, spec.Standoff.Clearance),
		TopZ: plate,
	})
	under := s.under(spec.Clip)
	s.Demands = append(s.Demands, Demand{
		What: "clip over the " + under.what,
		Sum: fmt.Sprintf("%s %.4g + clearance %.4g - sheet over the boss %.4g",
			under.what, under.z, spec.Clip.Clearance, spec.Sheet.BossThickness),
		TopZ: under.z + spec.Clip.Clearance - spec.Sheet.BossThickness,
	})
}

// setHeight takes the governing demand, or the height stated, which may not be less.
func (s *StandoffPiece) setHeight(stated float64) error {
	need := s.Governing()
	if stated == 0 {
		s.TopZ = need.TopZ
		return nil
	}
	if plate := s.Demands[0]; stated < plate.TopZ-1e-9 {
		return measures.Faultf(s.key("height"), "%.4g mm above the middle plane is below the %.4g mm that the plate needs", stated, plate.TopZ)
	}
	s.TopZ = stated
	s.Demands = append(s.Demands, Demand{What: "height stated", Sum: s.key("height"), TopZ: max(stated, need.TopZ)})
	return nil
}

// overhangLeast is by how much a foot may stand out beside the blade, in mm: as much an outline is rounded by.
// Our own, no source.
const overhangLeast = 0.05

// Overhang is how far the foot stands out beside the blade, in mm, and where; 0 where it is no more than nothing.
func (s *StandoffPiece) Overhang() (float64, r2.Vec) {
	foot := s.Top.Grown((s.TopZ - s.Face - s.Gap) * measures.TanDeg(s.DraftDeg))
	most, at := 0.0, r2.Vec{}
	for i := range 360 {
		p := foot.rimAt(float64(i) / 360)
		if s.Knife.Holds(p) {
			continue
		}
		if _, far := s.Knife.Rim.Nearest(p); far > most {
			most, at = far, p
		}
	}
	if most <= overhangLeast {
		return 0, r2.Vec{}
	}
	return most, at
}

// Foot is the pill that the walls reach at the lowest point of the underside.
func (s *StandoffPiece) Foot() Pill {
	return s.Top.Grown((s.TopZ - s.Knife.Spec.Blade.EdgeThickness/2 - s.Gap) * measures.TanDeg(s.DraftDeg))
}
