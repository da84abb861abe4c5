package pieces

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// seat refuses a boss that does not stand on the blade, within the sheath, and says what would:
// what it says was tried.
func (s *StandoffPiece) seat(m measures.Mount) error {
	wrong := s.misplaced()
	if wrong == nil {
		return nil
	}
	wrong.Mend = s.mend(m, func(p *StandoffPiece) bool { return p.misplaced() == nil })
	return wrong
}

// misplaced is why a boss cannot be where it is: its foot stands on the handle or out of the mouth,
// or its plate beside the blade; nil where it can.
func (s *StandoffPiece) misplaced() *measures.Fault {
	k := s.Knife
	wrong := func(p r2.Vec, format string, args ...any) *measures.Fault {
		return &measures.Fault{Key: s.key("x"), At: &p, What: fmt.Sprintf(format, args...)}
	}
	if !k.Outline.Holds(s.Top.Centre) || k.Handle.Holds(s.Top.Centre) {
		return wrong(s.Top.Centre, "the boss's centre is not on the blade")
	}
	foot, flat := s.Foot(), s.Top.Grown(-s.EdgeInset())
	for i := range 360 {
		p := foot.rimAt(float64(i) / 360)
		if k.Handle.Holds(p) {
			return wrong(p, "the boss's foot stands on the handle, which begins at x = %.2f mm",
				k.Plan.HandleFront)
		}
		if k.beyondMouth(p) {
			return wrong(p, "the boss's foot stands out of the sheath's mouth")
		}
	}
	for i := range 360 {
		if p := flat.rimAt(float64(i) / 360); !k.Holds(p) {
			return wrong(p, "the boss runs off the knife")
		}
	}
	return nil
}

// Steadied is what would keep a boss's foot from standing out beside the blade, in words; "" where
// nothing that was tried does.
func (s *StandoffPiece) Steadied() string {
	return s.mend(s.mounted(), func(p *StandoffPiece) bool {
		if p.misplaced() != nil {
			return false
		}
		over, _ := p.Overhang()
		return over == 0
	})
}

// mounted is where the boss was asked for.
func (s *StandoffPiece) mounted() measures.Mount {
	for _, m := range s.Knife.Spec.Standoff.More {
		if m.Name == s.Name {
			return m
		}
	}
	return s.Knife.firstMount()
}

// mend says where the boss would stand as it has to, and the longest plate that does where it is.
func (s *StandoffPiece) mend(m measures.Mount, stands func(*StandoffPiece) bool) string {
	said := ""
	if x, y, ok := s.nearest(m, stands); ok {
		said = fmt.Sprintf("%s = %.4g with y = %.4g would hold it", s.key("x"), x, y)
	}
	plate, ok := s.longest(m, stands)
	switch {
	case ok && said != "":
		return fmt.Sprintf("%s, or %s there", said, plate)
	case ok:
		return fmt.Sprintf("the longest plate %.4g mm wide that fits there has %s", m.Plate.Width, plate)
	default:
		return said
	}
}

// The moves and lengths that are tried, in mm: no further than a boss may be moved without being
// another one.
const (
	moveStep  = 0.5 // our own, no source
	moveReach = 8   // our own, no source
)

// nearest is the placement nearest to the boss's own at which it stands.
func (s *StandoffPiece) nearest(m measures.Mount, stands func(*StandoffPiece) bool) (x, y float64, ok bool) {
	const n = int(moveReach / moveStep)
	var moves []r2.Vec
	for i := -n; i <= n; i++ {
		for j := -n; j <= n; j++ {
			moves = append(moves, r2.Vec{X: moveStep * float64(i), Y: moveStep * float64(j)})
		}
	}
	slices.SortStableFunc(moves, func(a, b r2.Vec) int {
		return int(math.Round((r2.Norm2(a) - r2.Norm2(b)) / (moveStep * moveStep)))
	})
	for _, by := range moves {
		near, to := *s, m
		near.Top.Centre = r2.Add(s.Top.Centre, by)
		if !stands(&near) {
			continue
		}
		to.X, to.Y = m.X+by.X, m.Y+by.Y
		if p, err := s.Knife.boss(to, near.Top); err == nil && stands(p) {
			return to.X, to.Y, true
		}
	}
	return 0, 0, false
}

// longest is the longest plate of its width whose boss stands, in words.
func (s *StandoffPiece) longest(m measures.Mount, stands func(*StandoffPiece) bool) (string, bool) {
	posts := m.Plate.PostSpacing
	least := max(m.Plate.Width, 2*m.Plate.PostDiameter)
	for l := math.Ceil(m.Plate.Length/moveStep)*moveStep - moveStep; l >= least; l -= moveStep {
		m.Plate.Length, m.Plate.PostSpacing = l, min(posts, l-m.Plate.PostDiameter)
		shorter := *s
		shorter.Top = s.Knife.topOf(m)
		if !stands(&shorter) {
			continue
		}
		if p, err := s.Knife.boss(m, shorter.Top); err != nil || !stands(p) {
			continue
		}
		said := fmt.Sprintf("%s = %.4g", s.plateKey("length"), l)
		if m.Plate.PostSpacing < posts {
			said += fmt.Sprintf(" and posts at most %.4g mm apart", m.Plate.PostSpacing)
		}
		return said, true
	}
	return "", false
}
