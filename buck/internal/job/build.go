package job

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"

	"github.com/deadsy/sdfx/sdf"
)

func standoffs(s *Set, r Request) ([]build, error) {
	faces := s.faces(r)
	if len(faces) == 0 {
		return nil, nil
	}
	all, err := pieces.NewStandoffs(s.Knife)
	if err != nil {
		return nil, err
	}
	var builds []build
	for _, p := range all {
		b, err := s.standoff(p, faces, r)
		if err != nil {
			return nil, err
		}
		builds = append(builds, b...)
		for _, other := range all {
			if low := p.Under(other); p != other && low > 0.005 {
				s.warn("%s: the clip on the boss %s lies %.1f mm too low over the boss %s; give it that much more height, or set them further apart", pieceName(p), p.Title(), low, other.Title())
			}
		}
	}
	return builds, nil
}

// pieceName is the name of a boss's piece without the hand.
func pieceName(p *pieces.StandoffPiece) string {
	if p.Name == "" {
		return string(Standoff)
	}
	return string(Standoff) + "-" + p.Name
}

// standoff is a boss for each of the faces.
func (s *Set) standoff(p *pieces.StandoffPiece, faces []measures.Face, r Request) ([]build, error) {
	title := pieceName(p)
	for _, d := range p.Demands {
		s.note("%s: %s asks for its top at %.2f mm: %s", title, d.What, d.TopZ, d.Sum)
	}
	s.warnStandoff(p)
	meshed := sync.OnceValues(func() (*mesh.Mesh, error) { return solid.Standoff(p, r.Tolerance) })
	var builds []build
	for _, f := range faces {
		hand, stand := s.Knife.Spec.Carry.Hand(f), upright
		if f == measures.LeftFace {
			stand = overturned
		}
		meshed, made := meshed, p
		if s.Knife.Spec.Standoff.Mark == "yes" {
			marked, err := s.marked(p, f, string(hand))
			if err != nil {
				return nil, err
			}
			made, meshed = marked, func() (*mesh.Mesh, error) { return solid.Standoff(marked, r.Tolerance) }
		}
		builds = append(builds, build{
			piece: &Piece{
				Kind: Standoff, Name: fmt.Sprintf("%s-%s", title, hand), Hand: string(hand), Face: f, carry: p.Knife.Spec.Carry,
				Governed: fmt.Sprintf("%.2f mm over the face: %s", p.Height(), p.Governing().What),
				Figure:   Figure{"over the face", p.Height()},
				Measures: standoffMeasures(p),
				stand:    stand, references: ofStandoff(made),
				marks: standoffMarks(p, f),
			},
			mesh:   meshed,
			mirror: f == measures.LeftFace,
		})
	}
	return builds, nil
}

// lowDraft is the draft, in degrees, below which a shrinking sheet grips a male form; guides of trade
// thermoformers ask for 3 to 5. Source: public design guides of trade thermoformers, 3 degrees and 4 to 5.
const lowDraft = 3

func (s *Set) warnStandoff(p *pieces.StandoffPiece) {
	title := pieceName(p)
	if p.DraftDeg < lowDraft && p.Name == "" {
		s.warn("standoff.draft: %.3g deg is less than %d: the sheet grips the boss", p.DraftDeg, lowDraft)
	}
	if over, at := p.Overhang(); over > 0 {
		mend := p.Steadied()
		if mend != "" {
			mend = "; " + mend
		}
		s.grave("%s: its foot stands out by %.1f mm beside the blade at (%.1f, %.1f) mm%s", title, over, at.X, at.Y, mend)
	}
	if spare := p.Spared(); spare != nil {
		s.warn("%s: %s", title, spare)
	}
}

func standoffMeasures(p *pieces.StandoffPiece) []string {
	n := p.Nubs[0]
	sheet := p.Knife.Spec.Sheet.ShrinkPercent
	under := "underside after the blade"
	if p.Flat {
		under = fmt.Sprintf("underside flat: the wedge over the bevel, %.2f mm high at the rim, is filled with glue", p.Wedge+p.Gap)
		if p.Wedge < 0.005 {
			under = "underside flat"
		}
	}
	return []string{
		fmt.Sprintf("top plane %.2f mm over the blade's face, %.2f mm over the middle plane", p.Height(), p.TopZ),
		fmt.Sprintf("set by the %s: %s", p.Governing().What, p.Governing().Sum),
		fmt.Sprintf("edge radius %.3g mm, draft %.3g°, cant %.3g°, gap under it %.3g mm", p.EdgeRadius, p.DraftDeg, p.Top.AngleDeg, p.Gap),
		under,
		fmt.Sprintf("nubs %.4g mm apart, Ø %.4g mm, %.4g° included", p.Apart, n.Base, n.AngleDeg),
		fmt.Sprintf("cavity formed %.5f times as long and wide, for a sheet that shrinks by %.3g %%", measures.MadeUp(sheet), sheet),
	}
}

func ramps(s *Set, r Request) ([]build, error) {
	_, freed, err := s.Knife.Ramps()
	if err != nil {
		return nil, err
	}
	if len(freed.Bossed) == 0 {
		s.note("ramp: none is needed")
	}
	var builds []build
	named := make(map[string]int)
	for _, p := range freed.Bossed {
		b, err := s.ramp(p, r, named)
		if err != nil {
			return nil, err
		}
		builds = append(builds, b...)
	}
	for _, p := range freed.Bare {
		if p.For == pieces.AllFaces {
			continue
		}
		b, err := s.ramp(p, r, named)
		if err != nil {
			return nil, err
		}
		builds = append(builds, b...)
	}
	return builds, nil
}

// ramp is a ramp in as many pieces as the hands asked for need of it.
func (s *Set) ramp(p *pieces.RampPiece, r Request, named map[string]int) ([]build, error) {
	name := string(Ramp)
	if p.Grip {
		name = "filler"
	}
	if p.Side != "edge" {
		name += "-" + strings.ReplaceAll(p.Where(), " ", "-")
	}
	if p.For != pieces.AllFaces {
		name += "-" + string(p.For)
	}
	if named[name]++; named[name] > 1 {
		name += fmt.Sprintf("-%d", named[name])
	}
	if l := p.Lock; l != nil {
		s.note("%s: keeps a lock of %.3g mm at (%.1f, %.1f): a pocket %.1f mm wide, its floor %.2f mm over the middle plane", name, l.Total, l.Centre.X, l.Centre.Y, 2*l.Radius, l.Floor)
	}
	s.note("%s: fills an undercut of %.2f mm at (%.1f, %.1f)", name, p.Deepest, p.DeepAt.X, p.DeepAt.Y)
	marked, err := s.markedRamp(p, name)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(rampBuilds(p, marked, name, r), func(b build) bool {
		return !slices.ContainsFunc(r.hands(), b.piece.Serves)
	}), nil
}

// rampBuilds are the ramp in one piece, or its two halves; marked is it with its mark for each of the faces.
func rampBuilds(p *pieces.RampPiece, marked map[measures.Face]*pieces.RampPiece, name string, r Request) []build {
	to := "blade"
	if p.Grip {
		to = "handle"
	}
	told := []string{
		fmt.Sprintf("fills an undercut of %.2f mm at x %.1f, y %.1f mm", p.Deepest, p.DeepAt.X, p.DeepAt.Y),
		fmt.Sprintf("stands %.3g mm over what passes: %s", p.Rise, p.Governs),
		fmt.Sprintf("from x %.1f to %.1f mm, draft %.3g°, gap to the %s %.3g mm", p.Head.Min.X, p.Ends(), p.DraftDeg, to, p.Gap),
	}
	switch p.For {
	case pieces.BossedFaces:
		told = append(told, "for a face with a boss: leaves room to it")
	case pieces.BareFaces:
		told = append(told, "for a face without a boss")
	}
	if l := p.Lock; l != nil {
		told = append(told, fmt.Sprintf("keeps a lock of %.3g mm at x %.1f, y %.1f mm: pocket Ø %.1f mm, floor at %.2f mm", l.Total, l.Centre.X, l.Centre.Y, 2*l.Radius, l.Floor))
	}
	one := func(name string, face measures.Face, stand func(*mesh.Mesh) *mesh.Mesh) build {
		return build{
			piece: &Piece{
				Kind: Ramp, Name: name, Hand: AnyHand, Face: face, For: p.For, carry: p.Knife.Spec.Carry, stand: stand,
				Governed: fmt.Sprintf("frees %.2f mm at the %s", p.Deepest, p.Place()),
				Figure:   Figure{"freed at the " + p.Place(), p.Deepest},
				Measures: slices.Clone(told), references: ofRamp(marked[face]),
			},
			mesh:   func() (*mesh.Mesh, error) { return solid.Ramp(marked[face], r.Tolerance) },
			mirror: face == measures.LeftFace,
		}
	}
	if !p.Split {
		return []build{one(name+"-"+AnyHand, "", upright)}
	}
	return []build{
		one(name+"-"+AnyHand+"-left-face", measures.LeftFace, overturned),
		one(name+"-"+AnyHand+"-right-face", measures.RightFace, upright),
	}
}

func drains(s *Set, r Request) ([]build, error) {
	p, err := pieces.NewDrain(s.Knife)
	if err != nil {
		return nil, err
	}
	s.note("drain: carries no mark: its jaws are %.2f mm thick at the most", p.RadiusAt(0)-p.Slit)
	return []build{{
		piece: &Piece{
			Kind: Drain, Name: fmt.Sprintf("%s-%s", Drain, AnyHand), Hand: AnyHand, stand: onEnd(p.AxisDeg),
			Governed: fmt.Sprintf("Ø %.2f mm: %s", 2*p.Radius, p.Governs),
			Figure:   Figure{"across", 2 * p.Radius},
			Measures: []string{
				fmt.Sprintf("Ø %.2f mm at the blade, %.2f mm at the outlet, %.1f mm beyond the tip", 2*p.Radius, 2*p.RadiusAt(p.To), p.To),
				fmt.Sprintf("slit %.2f mm, %.1f mm deep, play %.3g mm on every side", 2*p.Slit, -p.From, p.Play),
			},
			references: ofBody(func() (sdf.SDF3, error) { return twin.Drain(p) }, nil),
			marks:      drainMarks(p),
			level:      func(m *mesh.Mesh) *mesh.Mesh { return m.Turned(mesh.Z, -p.AxisDeg) },
		},
		mesh: func() (*mesh.Mesh, error) { return solid.Drain(p, r.Tolerance) },
	}}, nil
}

func nubs(s *Set, r Request) ([]build, error) {
	holes, err := measures.ParseHoles(s.Knife.Spec.Nub.Holes)
	if err != nil {
		return nil, &measures.Fault{Key: "nub.holes", What: err.Error()}
	}
	var builds []build
	if len(s.faces(r)) > 0 {
		p, err := pieces.NewNub(s.Knife)
		if err != nil {
			return nil, err
		}
		builds = append(builds, nubBuild(p, string(Nub), s.Knife.Spec.Hole.Diameter, r, s))
	}
	for _, h := range holes {
		p, err := pieces.NewHoleNub(s.Knife, h)
		if err != nil {
			return nil, err
		}
		b := nubBuild(p, fmt.Sprintf("%s-%s", Nub, h.Name), h.Diameter, r, s)
		if h.Face == measures.LeftFace {
			b.mirror, b.piece.Face, b.piece.stand = true, h.Face, overturned
		}
		builds = append(builds, b)
	}
	return builds, nil
}

// nubBuild is a loose nub for a hole of the diameter.
func nubBuild(p *pieces.NubPiece, name string, hole float64, r Request, s *Set) build {
	return build{
		piece: &Piece{
			Kind: Nub, Name: fmt.Sprintf("%s-%s", name, AnyHand), Hand: AnyHand, stand: upright,
			Governed: fmt.Sprintf("Ø %.4g mm: hole of %.4g mm", p.Base, hole),
			Figure:   Figure{"across", p.Base},
			Measures: []string{
				fmt.Sprintf("Ø %.4g mm, %.3f mm high, %.4g° included", p.Base, p.Tall(), p.AngleDeg),
				fmt.Sprintf("for a drill of %.4g mm with a %.4g° point", hole, s.Knife.Spec.Hole.PointAngleDeg),
			},
			references: ofBody(func() (sdf.SDF3, error) { return twin.Nub(p) }, nil),
		},
		mesh: func() (*mesh.Mesh, error) { return solid.Nub(p, r.Tolerance) },
	}
}
