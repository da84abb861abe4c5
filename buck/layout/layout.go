// Package layout lays out the sheath around a buck: where the two sheets come into flat contact, the
// eyelets at the least safe distance from the knife, the trim line, the blanks, the pins and the holes
// of the posts.
//
// Where flat contact begins depends on how high the buck is there, on the sheet and on what the press can
// form (measures.Fold). It is worked out for every section of the outline, so that the sheath is nowhere wider than
// the knife asks for there. Common practice is one margin for all of it.
//
// The plan is the blade's, in mm: x from the butt to the tip, y from the edge to the spine, seen on the right
// face. One list of eyelets serves both halves, which are drilled as one; the half of the left face,
// laid on its inside, is the mirror image.
package layout

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/fixture/plate"
	"formbuck/buck/fixture/way"
	"formbuck/buck/internal/offset"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Sheath is the layout of one variant's sheath. Eyelets, trim line and blank serve all of its hands, whose
// post holes differ.
type Sheath struct {
	Knife    *pieces.Buck
	Way      way.Way      // how the pair lies on the mill while it is drilled
	Gauge    float64      // thickness of the thickest sheet that it is laid out for
	Fold     profile.Loop // where the two sheets come into flat contact, the drain aside, round all of the knife
	Line     profile.Loop // of the eyelets' centres
	Runs     []Run
	Eyelets  []Eyelet // from the mouth along the edge to the tip, and along the spine back to the mouth
	Trim     profile.Loop
	Mouth    [2]r2.Vec // ends of the trim line's straight part at the mouth: edge, spine
	Outlet   [2]r2.Vec // where the trim line crosses the drain's sides; equal where it is not open
	Blank    Blank
	Screws   *pieces.Screws // nil: there is no boss, or no screw fits, which is warned of
	Height   float64        // of the buck's highest point over its middle plane
	Pins     []Pin
	Plate    *plate.Plate // that it is drilled and trimmed on; nil: none was made
	Posts    []Post
	Holes    []Hole // for other mounts, through both halves
	Warnings []string

	drain  *pieces.DrainPiece
	ground *ground
}

// Off is the most, in mm, by which an eyelet can be off as the pair lies; the margins hold it.
func (s *Sheath) Off() float64 {
	most := 0.0
	for _, e := range s.Eyelets {
		most = max(most, e.Error)
	}
	return most
}

// Run is a row of eyelets.
type Run struct {
	Side   string  // "edge" or "spine"
	Length float64 // along the eyelets' line, from the first centre to the last
	Pitch  float64
	Count  int
}

// Eyelet is one eyelet's centre and why it may not be nearer to the knife.
type Eyelet struct {
	At      r2.Vec
	Side    string
	Governs Demand  // that it is nearest to
	Fold    float64 // x_f there: from the knife or the piece to where the sheets lie flat; for a guard the guard itself
	Need    float64 // from the knife or the piece to its centre
	Error   float64 // by which it can be off, as the pair lies: part of the need
	Spare   float64 // by which it is farther off than it needs to be
	Edge    float64 // from its centre to the trim line
	Along   float64 // of its run, from the mouth for the edge, from the drain for the spine
}

// Post is a hole for a post of the plate.
type Post struct {
	At       r2.Vec
	Diameter float64
	Hand     measures.Hand // right or left; a sheath for both hands has both
	Face     measures.Face
	Roof     float64 // height of the sheet's inner face over the middle plane there, beside the nub's dimple
	Dimple   float64 // how deep the nub's dimple is
}

// New lays out the sheath of a knife for the hands named; for none, for all four. Where the knife's variant names a
// plate that was made, eyelets, pins, trim line and blank are the plate's. Its errors are Faults of the measures.
func New(k *pieces.Buck, hands []measures.Hand) (*Sheath, error) {
	g, err := groundOf(Member{k, hands}, way.Of)
	if err != nil {
		return nil, err
	}
	if k.Spec.Fixture.Made != nil {
		return onPlate(g)
	}
	return lay(g)
}

// lay lays a sheath out round its ground.
func lay(g *ground) (*Sheath, error) {
	s := &Sheath{Knife: g.knife, Way: g.way, drain: g.drain, ground: g, Gauge: g.sheet(), Height: g.tallest()}
	box := aligned(grown(g.knife.Plan.Outline.Bounds(), g.widest()))
	if err := s.checkMouth(); err != nil {
		return nil, err
	}
	if err := s.extraHoles(g); err != nil {
		return nil, err
	}
	box = aligned(s.beyond(box))
	var err error
	if s.Fold, err = traced(g.parts(), box, cell, window); err != nil {
		return nil, err
	}
	if s.Line, err = s.eyeletLine(g, box); err != nil {
		return nil, err
	}
	if err := s.spread(g); err != nil {
		return nil, err
	}
	if err := s.trim(g, box); err != nil {
		return nil, err
	}
	s.pin()
	s.posts(g)
	s.adviseOnFlare(g.bosses)
	s.Blank = g.blank(s.Trim)
	return s, nil
}

// eyeletLine is the line of the eyelets' centres, as far as the mouth. What lies behind it has no part in it, so that a
// thicker handle moves no eyelet.
func (s *Sheath) eyeletLine(g *ground, box r2.Box) (profile.Loop, error) {
	const beyond = 2 // mm behind the mouth at which the line is closed; our own, no source
	at, out := s.Knife.MouthLine()
	open := offset.Half(r2.Add(at, r2.Scale(beyond, out)), out)
	rings, err := offset.Rings(offset.Common(g.line().Gentle(g.steep()), open), box, cell)
	if err != nil {
		return nil, err
	}
	var loops []profile.Loop
	for _, r := range rings {
		loops = append(loops, offset.Fit(r.FromLeft(), offset.Options{Step: cell, Tolerance: fitted, Window: window}))
	}
	return offset.Largest(loops)
}

// aligned is a box whose corner lies on the cells' own grid: where lines are followed over a larger box, they are
// followed through the same points.
func aligned(b r2.Box) r2.Box {
	b.Min = r2.Vec{X: math.Floor(b.Min.X/(2*cell)) * 2 * cell, Y: math.Floor(b.Min.Y/(2*cell)) * 2 * cell}
	return b
}

const (
	fitted = 0.003 // by how much the arcs of a line may miss it, mm
	cell   = 0.4   // of the grids over which lines are followed, mm; every point of them is exact; our own, no source
	window = 2     // over which the direction of a line is taken where it follows short straight pieces, mm; our own, no source
)

// traced is the largest loop of a surface's level 0. A window over 0 smooths the directions of what was made of
// short pieces.
func traced(s offset.Surface, box r2.Box, step, window float64) (profile.Loop, error) {
	loops, err := offset.Level(s, box, offset.Options{Step: step, Tolerance: fitted, Window: window})
	if err != nil {
		return nil, err
	}
	return offset.Largest(loops)
}

func grown(b r2.Box, by float64) r2.Box {
	room := r2.Vec{X: by, Y: by}
	return r2.Box{Min: r2.Sub(b.Min, room), Max: r2.Add(b.Max, room)}
}

// posts are the holes of the plate's posts in the cold sheath, for each hand that carries one.
func (s *Sheath) posts(g *ground) {
	bosses, hands := g.bosses, g.hands
	if len(bosses) == 0 {
		return
	}
	var err error
	if s.Screws, err = screws(bosses); err != nil {
		s.warnOf(err)
	}
	s.adviseOnPosts()
	for _, hand := range []measures.Hand{measures.Right, measures.Left} {
		face := s.Knife.Spec.Faces(hand)[0]
		if !slices.ContainsFunc(hands, func(h measures.Hand) bool { return h.Includes(hand) }) {
			continue
		}
		for _, b := range bosses {
			for _, side := range []float64{-0.5, 0.5} {
				s.Posts = append(s.Posts, Post{
					At:       b.Top.At(r2.Vec{X: side * b.Plate.PostSpacing}),
					Diameter: s.Knife.Spec.Hole.Diameter, Hand: hand, Face: face,
					Roof: b.TopZ, Dimple: b.Nubs[0].Tall(),
				})
			}
		}
	}
}

// screws are those of the bosses' plates: how long they may be for the first, and which of those in stock fit all.
func screws(bosses []*pieces.StandoffPiece) (*pieces.Screws, error) {
	var first *pieces.Screws
	for _, b := range bosses {
		w, err := b.Screws()
		if err != nil {
			return nil, err
		}
		if first == nil {
			first = w
			continue
		}
		first.Fit = slices.DeleteFunc(first.Fit, func(l float64) bool { return !slices.Contains(w.Fit, l) })
		if len(first.Fit) == 0 {
			return nil, &measures.Fault{Key: "screw.lengths", What: "no screw in stock fits the plates of all bosses"}
		}
	}
	return first, nil
}

// adviseOnPosts warns of a nip that is not usual, and of a countersink that leaves the sheet a knife's edge.
func (s *Sheath) adviseOnPosts() {
	spec := s.Knife.Spec
	if w := s.Screws; w != nil && (w.Nip < pieces.NipLeast-1e-9 || w.Nip > pieces.NipMost+1e-9) {
		s.warn("screw.post_height: the screws draw sheet and clip together by %.2f mm; %.1f to %.1f mm are usual", w.Nip, pieces.NipLeast, pieces.NipMost)
	}
	switch sink := spec.Hole.Sink(); {
	case spec.Hole.SinkDiameter > 0 && sink == 0:
		s.warn("hole.sink: a countersink of %.4g mm is no wider than the hole of %.4g mm", spec.Hole.SinkDiameter, spec.Hole.Diameter)
	case sink > deepestSink*spec.Sheet.BossThickness:
		s.warn("hole.sink: a countersink %.2f mm deep leaves an edge like a knife's in sheet of %.4g mm: at most %.2f mm", sink, spec.Sheet.BossThickness, deepestSink*spec.Sheet.BossThickness)
	}
	if d := spec.Hole.Diameter - spec.Plate.PostDiameter; d < 0 {
		s.warn("hole.diameter: posts of %.4g mm do not pass a hole of %.4g mm", spec.Plate.PostDiameter, spec.Hole.Diameter)
	}
}

// deepestSink is how deep a countersink may be, as a share of the sheet's thickness; common practice, no source.
const deepestSink = 0.6

// TrimLength is the length of the trim line, in mm.
func (s *Sheath) TrimLength() float64 { return s.Trim.Perimeter() }

// within is the distance of p from a loop's line, below 0 inside.
func within(l profile.Loop, p r2.Vec) float64 {
	d := l.Distance(p)
	if l.Contains(p) {
		return -d
	}
	return math.Abs(d)
}

// Hollow is the least radius of the trim line's hollows, in mm: as asked for, or what the cutter reaches with what its
// rough pass leaves.
func (s *Sheath) Hollow() float64 {
	m := s.Knife.Spec.Mill
	const fit = 1.3 // arcs of the trim line are tighter in places by what lines are followed and fitted by; measured on the demos
	return max(s.Knife.Spec.Layout.Smooth, fit*(m.Cutter/2+m.Allowance))
}

// MouthWidth is the length of the trim line's straight part at the mouth, in mm.
func (s *Sheath) MouthWidth() float64 { return r2.Norm(r2.Sub(s.Mouth[1], s.Mouth[0])) }

// OutletWidth is how wide the drain is where the trim line crosses it, in mm; 0: it is shut.
func (s *Sheath) OutletWidth() float64 { return r2.Norm(r2.Sub(s.Outlet[1], s.Outlet[0])) }

// OutletSaid is how wide the drain is there, in words.
func (s *Sheath) OutletSaid() string {
	if w := s.OutletWidth(); w > 0 {
		return fmt.Sprintf("open, %.1f mm wide at the trim line", w)
	}
	return "shut"
}
