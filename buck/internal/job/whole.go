package job

import (
	"fmt"

	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
)

// wholes are the knife and its pieces in one body for the first hand asked for that has a boss, else for a
// plain sheath; in two parts if it is longer than the bed.
func wholes(s *Set, r Request) ([]build, error) {
	hand := measures.Plain
	for _, h := range r.hands() {
		if len(s.Knife.Spec.Faces(h)) > 0 {
			hand = h
			break
		}
	}
	var bosses []*pieces.StandoffPiece
	if len(s.Knife.Spec.Faces(hand)) > 0 {
		var err error
		if bosses, err = pieces.NewStandoffs(s.Knife); err != nil {
			return nil, err
		}
	}
	_, ramps, err := s.Knife.Ramps()
	if err != nil {
		return nil, err
	}
	drain, err := pieces.NewDrain(s.Knife)
	if err != nil {
		return nil, err
	}
	w, err := pieces.NewWhole(bosses, ramps, drain, s.Knife.Spec.Faces(hand))
	if err != nil {
		return nil, err
	}
	var builds []build
	for part := range w.Parts {
		name, stand := fmt.Sprintf("%s-%s", Whole, hand), upright
		governed := fmt.Sprintf("%.1f mm long: in one part on a bed of %.4g mm", w.To-w.From, s.Knife.Spec.Whole.Bed)
		if w.Parts > 1 {
			name = fmt.Sprintf("%s-%s", name, halfNames[part])
			stand = onCut(part)
			governed = fmt.Sprintf("%.1f mm long: cut at x %.1f mm for a bed of %.4g mm", w.To-w.From, w.Cut, s.Knife.Spec.Whole.Bed)
		}
		builds = append(builds, build{
			piece: &Piece{
				Kind: Whole, Name: name, Hand: string(hand), Governed: governed, stand: stand,
				Figure:   Figure{"long", w.To - w.From},
				Measures: wholeMeasures(w),
			},
			mesh: func() (*mesh.Mesh, error) { return solid.Whole(w, part, r.Tolerance) },
		})
	}
	return builds, nil
}

func wholeMeasures(w *pieces.WholePiece) []string {
	m := []string{fmt.Sprintf("knife and pieces in one body, x %.1f to %.1f mm, without tape and glue", w.From, w.To)}
	for _, p := range w.Pins {
		m = append(m, fmt.Sprintf("square hole for a pin, %.2f mm wide, %.4g mm deep, at y %.1f mm", 2*p.Radius, p.Depth, p.Y))
	}
	return m
}

// onCut stands a part on its cut face: the one behind the cut with its butt up, the other with its tip up.
func onCut(part int) func(*mesh.Mesh) *mesh.Mesh {
	return func(m *mesh.Mesh) *mesh.Mesh {
		if part == 0 {
			return m.Turned(mesh.Y, 90)
		}
		return m.Turned(mesh.Y, -90)
	}
}
