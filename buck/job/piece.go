// Package job makes all of a variant: which pieces for which hands, their meshes, files, pictures
// and what governed them. It reads and writes nothing itself.
package job

import (
	"context"
	"fmt"
	"sync"

	"formbuck/buck"
	"formbuck/buck/solid"
	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Kind is one of the four kinds of piece.
type Kind string

// The kinds, in the order in which they are listed.
const (
	Standoff Kind = "standoff"
	Ramp     Kind = "ramp"
	Drain    Kind = "drain"
	Nub      Kind = "nub"
)

// Kinds are all kinds.
func Kinds() []Kind { return []Kind{Standoff, Ramp, Drain, Nub} }

// AnyHand marks a piece that serves every hand that needs it.
const AnyHand = "any"

// Piece is one printable piece.
type Piece struct {
	Kind     Kind
	Name     string    // of its files, without the variant's
	Hand     string    // the hand that it is made for, or AnyHand
	Face     buck.Face // that it is glued to; empty: it serves both
	Mesh     *mesh.Mesh
	Governed string   // what set its governing measure, with figures
	Measures []string // what a maker checks on the print, one each

	print func(*mesh.Mesh) *mesh.Mesh // stands it as it is printed
}

// Printed is the mesh as it is printed: its glue face or its broadest end on the bed, at z = 0, its
// bounds centred on the origin, so that a piece and its mirror stay each other's mirror.
func (p *Piece) Printed() *mesh.Mesh {
	m := p.print(p.Mesh)
	b := m.Bounds()
	return m.Moved(r3.Vec{X: -(b.Min.X + b.Max.X) / 2, Y: -(b.Min.Y + b.Max.Y) / 2, Z: -b.Min.Z})
}

// upright is for a piece that lies on the right face.
func upright(m *mesh.Mesh) *mesh.Mesh { return m }

// overturned is for a piece that lies on the left face.
func overturned(m *mesh.Mesh) *mesh.Mesh { return m.Turned(mesh.X, 180) }

// onEnd stands a plug whose axis is turned by deg from x on its outer end.
func onEnd(deg float64) func(*mesh.Mesh) *mesh.Mesh {
	return func(m *mesh.Mesh) *mesh.Mesh { return m.Turned(mesh.Z, -deg).Turned(mesh.Y, 90) }
}

// Request says what to make of a knife.
type Request struct {
	Hands     []buck.Hand // empty: all
	Kinds     []Kind      // empty: all
	Tolerance float64     // of the meshes, mm; 0: solid.Tolerance
}

func (r Request) wants(k Kind) bool {
	for _, w := range r.Kinds {
		if w == k {
			return true
		}
	}
	return len(r.Kinds) == 0
}

// hands are the hands asked for.
func (r Request) hands() []buck.Hand {
	if len(r.Hands) == 0 {
		return buck.Hands()
	}
	return r.Hands
}

// faces are the faces that carry a boss for one of the hands, each once, with the single hand that is named for it.
func (r Request) faces() []buck.Face {
	seen := make(map[buck.Face]bool)
	for _, h := range r.hands() {
		for _, f := range h.Faces() {
			seen[f] = true
		}
	}
	var faces []buck.Face
	for _, f := range []buck.Face{buck.LeftFace, buck.RightFace} {
		if seen[f] {
			faces = append(faces, f)
		}
	}
	return faces
}

// Set is what was made.
type Set struct {
	Knife    *buck.Knife
	Pieces   []*Piece
	Warnings []string
	Notes    []string // what was decided and measured, a line each
}

// build is one piece still to be meshed.
type build struct {
	piece  *Piece
	mesh   func() (*mesh.Mesh, error)
	mirror bool
}

// Make computes the pieces asked for and meshes them. Errors of the measures are *buck.Fault; one
// of a mesh that is not fit for a file, a *mesh.FaultError.
func Make(ctx context.Context, k *buck.Knife, r Request) (*Set, error) {
	s := &Set{Knife: k}
	var builds []build
	for _, plan := range []struct {
		kind Kind
		list func(*Set, Request) ([]build, error)
	}{{Standoff, standoffs}, {Ramp, ramps}, {Drain, drains}, {Nub, nubs}} {
		if !r.wants(plan.kind) {
			continue
		}
		b, err := plan.list(s, r)
		if err != nil {
			return nil, err
		}
		builds = append(builds, b...)
	}
	if err := meshAll(ctx, builds); err != nil {
		return nil, err
	}
	for _, b := range builds {
		s.Pieces = append(s.Pieces, b.piece)
	}
	return s, nil
}

// meshAll meshes every build once, side by side, and lets through only what is fit for a file.
func meshAll(ctx context.Context, builds []build) error {
	errs := make([]error, len(builds))
	var wait sync.WaitGroup
	for i := range builds {
		wait.Go(func() {
			if errs[i] = ctx.Err(); errs[i] == nil {
				errs[i] = builds[i].make()
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func (b *build) make() error {
	m, err := b.mesh()
	if err != nil {
		return fmt.Errorf("%s: %w", b.piece.Name, err)
	}
	if b.mirror {
		m = m.Mirrored()
	}
	if b.piece.Mesh, err = mesh.Gate(m); err != nil {
		return fmt.Errorf("%s: %w", b.piece.Name, err)
	}
	return nil
}

func standoffs(s *Set, r Request) ([]build, error) {
	faces := r.faces()
	if len(faces) == 0 {
		return nil, nil
	}
	p, err := buck.NewStandoff(s.Knife)
	if err != nil {
		return nil, err
	}
	for _, d := range p.Demands {
		s.note("standoff: %s asks for its top at %.2f mm: %s", d.What, d.TopZ, d.Sum)
	}
	s.warnStandoff(p)
	var builds []build
	for _, f := range faces {
		hand, print := buck.Left, upright
		if f == buck.LeftFace {
			hand, print = buck.Right, overturned
		}
		builds = append(builds, build{
			piece: &Piece{
				Kind: Standoff, Name: fmt.Sprintf("%s-%s", Standoff, hand), Hand: string(hand), Face: f,
				Governed: fmt.Sprintf("%.2f mm over the face: %s", p.Height(), p.Governing().What),
				Measures: standoffMeasures(p),
				print:    print,
			},
			mesh:   func() (*mesh.Mesh, error) { return solid.Standoff(p, r.Tolerance) },
			mirror: f == buck.LeftFace,
		})
	}
	return builds, nil
}

// lowDraft is the draft, in degrees, below which a shrinking sheet grips a male form; guides of trade
// thermoformers ask for 3 to 5.
const lowDraft = 3

func (s *Set) warnStandoff(p *buck.StandoffPiece) {
	if p.DraftDeg < lowDraft {
		s.warn("standoff.draft: %.3g deg is less than %d: the sheet grips the boss", p.DraftDeg, lowDraft)
	}
	if over, at := p.Overhang(); over > 0.05 {
		s.warn("standoff: its foot stands out by %.1f mm beside the blade at (%.1f, %.1f) mm; standoff.x and standoff.y move it", over, at.X, at.Y)
	}
	if p.Crowds() {
		s.warn("standoff: it is so high that its foot reaches into the ramp; move either, or lower the boss")
	}
}

func standoffMeasures(p *buck.StandoffPiece) []string {
	n := p.Nubs[0]
	return []string{
		fmt.Sprintf("top plane %.2f mm over the blade's face, %.2f mm over the middle plane", p.Height(), p.TopZ),
		fmt.Sprintf("set by the %s: %s", p.Governing().What, p.Governing().Sum),
		fmt.Sprintf("edge radius %.3g mm, draft %.3g°, cant %.3g°, gap under it %.3g mm", p.EdgeRadius, p.DraftDeg, p.Top.AngleDeg, p.Gap),
		fmt.Sprintf("nubs %.4g mm apart, Ø %.4g mm, %.4g° included", p.Knife.Spec.Plate.PostSpacing, n.Base, n.AngleDeg),
	}
}

func ramps(s *Set, r Request) ([]build, error) {
	draw := buck.NewDraw(s.Knife)
	pieces, err := buck.NewRamps(draw)
	if err != nil {
		return nil, err
	}
	if len(pieces) == 0 {
		s.note("ramp: the knife draws freely, so none is needed")
	}
	var builds []build
	named := make(map[string]int)
	for _, p := range pieces {
		name := string(Ramp)
		if p.Side != "edge" {
			name += "-" + p.Side
		}
		if named[name]++; named[name] > 1 {
			name += fmt.Sprintf("-%d", named[name])
		}
		s.note("%s: without it the draw binds by %.2f mm at (%.1f, %.1f)", name, p.Deepest, p.DeepAt.X, p.DeepAt.Y)
		builds = append(builds, rampBuilds(p, name, r)...)
	}
	return builds, nil
}

// rampBuilds are the ramp in one piece, or its two halves.
func rampBuilds(p *buck.RampPiece, name string, r Request) []build {
	one := func(name string, face buck.Face, print func(*mesh.Mesh) *mesh.Mesh) build {
		return build{
			piece: &Piece{
				Kind: Ramp, Name: name, Hand: AnyHand, Face: face, print: print,
				Governed: fmt.Sprintf("frees %.2f mm at the %s", p.Deepest, p.Side),
				Measures: []string{
					fmt.Sprintf("fills what would bind by %.2f mm at x %.1f, y %.1f mm", p.Deepest, p.DeepAt.X, p.DeepAt.Y),
					fmt.Sprintf("stands %.3g mm over what passes: %s", p.Rise, p.Governs),
					fmt.Sprintf("from x %.1f to %.1f mm, draft %.3g°, gap to the blade %.3g mm", p.Head.Min.X, p.Head.Max.X, p.DraftDeg, p.Gap),
				},
			},
			mesh:   func() (*mesh.Mesh, error) { return solid.Ramp(p, r.Tolerance) },
			mirror: face == buck.LeftFace,
		}
	}
	if !p.Split {
		return []build{one(name+"-"+AnyHand, "", upright)}
	}
	return []build{
		one(name+"-"+AnyHand+"-left-face", buck.LeftFace, overturned),
		one(name+"-"+AnyHand+"-right-face", buck.RightFace, upright),
	}
}

func drains(s *Set, r Request) ([]build, error) {
	p, err := buck.NewDrain(s.Knife)
	if err != nil {
		return nil, err
	}
	return []build{{
		piece: &Piece{
			Kind: Drain, Name: fmt.Sprintf("%s-%s", Drain, AnyHand), Hand: AnyHand, print: onEnd(p.AxisDeg),
			Governed: fmt.Sprintf("Ø %.2f mm: %s", 2*p.Radius, p.Governs),
			Measures: []string{
				fmt.Sprintf("Ø %.2f mm at the blade, %.2f mm at the outlet, %.1f mm beyond the tip", 2*p.Radius, 2*p.RadiusAt(p.To), p.To),
				fmt.Sprintf("slit %.2f mm, %.1f mm deep, play %.3g mm on every side", 2*p.Slit, -p.From, p.Play),
			},
		},
		mesh: func() (*mesh.Mesh, error) { return solid.Drain(p, r.Tolerance) },
	}}, nil
}

func nubs(s *Set, r Request) ([]build, error) {
	if len(r.faces()) == 0 {
		return nil, nil
	}
	p, err := buck.NewNub(s.Knife)
	if err != nil {
		return nil, err
	}
	drill := s.Knife.Spec.Hole
	return []build{{
		piece: &Piece{
			Kind: Nub, Name: fmt.Sprintf("%s-%s", Nub, AnyHand), Hand: AnyHand, print: upright,
			Governed: fmt.Sprintf("Ø %.4g mm: hole of %.4g mm", p.Base, drill.Diameter),
			Measures: []string{
				fmt.Sprintf("Ø %.4g mm, %.3f mm high, %.4g° included", p.Base, p.Tall(), p.AngleDeg),
				fmt.Sprintf("for a drill of %.4g mm with a %.4g° point", drill.Diameter, drill.PointAngleDeg),
			},
		},
		mesh: func() (*mesh.Mesh, error) { return solid.Nub(p, r.Tolerance) },
	}}, nil
}

func (s *Set) warn(format string, args ...any) {
	s.Warnings = append(s.Warnings, fmt.Sprintf(format, args...))
}

func (s *Set) note(format string, args ...any) {
	s.Notes = append(s.Notes, fmt.Sprintf(format, args...))
}
