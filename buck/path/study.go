// Package path computes the draw path of a knife out of its formed sheath: what of the knife passes
// where, how high the sheet's inner face is there, and where the two collide.
//
// Everything is a height over the plan, sampled on a grid of square cells: the bare knife h; the buck b,
// which is knife, tape and pieces; the formed cavity s, the grey closing of b by a ball of the sheet's
// thickness and the outer foot radius; the draw envelope E; and the interference I = E - s, by which the sheet must open
// where it is above 0. Heights are per face, from the middle plane, in mm; the knife and its way out are the same for
// both faces. Time and memory grow with the number of cells.
package path

import (
	"math"
	"slices"
	"sync"

	"formbuck/buck/internal/formed"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r2"
)

// Buck is a knife with the pieces that are on it when the sheet is formed. The zero value of a piece
// is that it is not there.
type Buck struct {
	Knife    *pieces.Buck
	Standoff *pieces.StandoffPiece   // on the faces named
	More     []*pieces.StandoffPiece // further ones on the same faces
	Faces    []measures.Face
	Ramps    []*pieces.RampPiece
	Bare     []*pieces.RampPiece // those of faces without a boss, where they are others; nil: Ramps
	Drain    *pieces.DrainPiece
}

// Bosses are all standoffs of the faces that carry them; none where there is no such face.
func (b Buck) Bosses() []*pieces.StandoffPiece {
	if b.Standoff == nil || len(b.Faces) == 0 {
		return nil
	}
	return append([]*pieces.StandoffPiece{b.Standoff}, b.More...)
}

// On are the ramps of a face.
func (b Buck) On(f measures.Face) []*pieces.RampPiece {
	if b.Bare != nil && !slices.Contains(b.Faces, f) {
		return b.Bare
	}
	return b.Ramps
}

// All are the ramps of both faces, each once.
func (b Buck) All() []*pieces.RampPiece {
	all := slices.Clone(b.On(measures.LeftFace))
	for _, r := range b.On(measures.RightFace) {
		if !slices.Contains(all, r) {
			all = append(all, r)
		}
	}
	return all
}

// Options say how the draw is studied. The zero value works.
type Options struct {
	Step   float64 // of the cells, mm; 0: 0.1
	Foot   float64 // outer foot radius that the press can form, mm; 0: the sheet's thickness
	Centre *r2.Vec // of the arc along which the knife is drawn, in the blade's axes; nil: straight
	Box    *r2.Box // on the draw's axes; nil: what the sheath covers and the ball's room around it
}

// Study is all heights of one knife on its way out.
type Study struct {
	Buck     Buck
	Knife    *Map // h
	Tape     *Map // thickness of the tape
	Envelope *Map // E
	Faces    []*Face
	Radius   float64 // of the ball, mm
	Centre   *r2.Vec // of the arc along which the knife is drawn, in the blade's axes; nil: straight

	freeArc func() (centre r2.Vec, left []Bind)
}

// Face is one face's heights.
type Face struct {
	Face         measures.Face
	Buck         *Map // b
	Cavity       *Map // s
	Interference *Map // I: -Inf where nothing passes and outside the sheath
}

// New studies a buck.
func New(b Buck, o Options) *Study {
	k := b.Knife
	if o.Step == 0 {
		o.Step = 0.1
	}
	if o.Foot == 0 {
		o.Foot = k.Spec.Sheet.Thickness
	}
	s := &Study{Buck: b, Centre: o.Centre, Radius: o.Foot + k.Spec.Sheet.Thickness}
	turn := k.Spec.Ramp.CantDeg
	if o.Centre != nil {
		turn = 0
	}
	g := s.grid(o, turn)
	s.Knife, s.Tape = formed.NewMap(g), formed.NewMap(g)
	crew.Each(g.NY, func(j int) { k.Steel(s.Knife, s.Tape, j) })
	if o.Centre == nil {
		s.Envelope = Straight(s.Knife)
	} else {
		s.Envelope = Arc(g, g.Draw(*o.Centre), k.Half)
	}
	s.form()
	s.freeArc = sync.OnceValues(s.findArc)
	return s
}

// form makes the two faces. Without a boss they are alike; a boss changes the cavity within the ball's
// reach of it only.
func (s *Study) form() {
	g := s.Knife.Grid
	plain := &Face{Buck: formed.NewMap(g)}
	both := pieces.Coat{Knife: s.Buck.Knife, Ramps: s.Buck.Ramps, Drain: s.Buck.Drain}
	if s.Buck.Bare != nil {
		both.Ramps = s.Buck.Bare
	}
	crew.Each(g.NY, func(j int) { both.Fill(plain.Buck, s.Knife, s.Tape, j) })
	c := formed.NewCloser(plain.Buck, s.Radius, s.mouth())
	plain.Cavity = c.All()
	boss := plain
	if s.Buck.Bare != nil {
		boss = &Face{Buck: formed.NewMap(g)}
		both.Ramps = s.Buck.Ramps
		crew.Each(g.NY, func(j int) { both.Fill(boss.Buck, s.Knife, s.Tape, j) })
		c = formed.NewCloser(boss.Buck, s.Radius, s.mouth())
		boss.Cavity = c.All()
	}
	if bosses := s.Buck.Bosses(); len(bosses) > 0 {
		boss = &Face{Buck: boss.Buck.Clone()}
		var raised []formed.Window
		for _, b := range bosses {
			raised = append(raised, lifted(boss.Buck, b))
		}
		boss.Cavity = c.Again(boss.Buck, raised)
	}
	for _, on := range []measures.Face{measures.LeftFace, measures.RightFace} {
		f := *plain
		if slices.Contains(s.Buck.Faces, on) {
			f = *boss
		}
		f.Face = on
		f.Interference = formed.NewMap(g)
		crew.Each(g.NY, func(j int) { s.collide(&f, j) })
		s.Faces = append(s.Faces, &f)
	}
}

// mouth is the first column of the sheath; the number of columns where none is in it.
func (s *Study) mouth() int {
	i, _ := s.Knife.Cell(r2.Vec{X: s.Knife.Step / 2})
	if s.Knife.Middle(i, 0).X <= 0 {
		i++
	}
	return i
}

// grid covers the sheath and, beyond it, the room that the ball needs.
func (s *Study) grid(o Options, turn float64) Grid {
	if o.Box != nil {
		return formed.Over(*o.Box, o.Step, turn)
	}
	g := Grid{TurnDeg: turn}
	box := r2.Box{Min: r2.Vec{X: -2*s.Radius - 1, Y: math.Inf(1)}, Max: r2.Vec{X: 0, Y: math.Inf(-1)}}
	take := func(p r2.Vec) {
		if q := g.Draw(p); q.X >= box.Min.X {
			box.Max.X = max(box.Max.X, q.X)
			box.Min.Y, box.Max.Y = min(box.Min.Y, q.Y), max(box.Max.Y, q.Y)
		}
	}
	for _, p := range s.Buck.Knife.Plan.Outline.Flatten(0.1) {
		take(p)
	}
	if d := s.Buck.Drain; d != nil {
		take(d.At(r2.Vec{X: d.To, Y: d.RadiusAt(d.To)}))
		take(d.At(r2.Vec{X: d.To, Y: -d.RadiusAt(d.To)}))
	}
	room := r2.Vec{X: s.Radius + 1, Y: s.Radius + 1}
	box.Max = r2.Add(box.Max, room)
	box.Min.Y -= room.Y
	return formed.Over(box, o.Step, turn)
}

// collide fills row j of the interference.
func (s *Study) collide(f *Face, j int) {
	e, c, row := s.Envelope.Row(j), f.Cavity.Row(j), f.Interference.Row(j)
	none, first := math.Inf(-1), s.mouth()
	for i := range row {
		row[i] = none
		if i >= first && e[i] > 0 {
			row[i] = e[i] - c[i]
		}
	}
}
