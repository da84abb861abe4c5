package picture

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// scene is all parts, ready to be seen from anywhere.
type scene struct {
	bodies []*body
	box    box
}

func newScene(parts []Part, creaseDeg float64) (*scene, error) {
	if len(parts) == 0 {
		return nil, &Error{Fault: NoParts}
	}
	s := &scene{box: nothing()}
	for i, p := range parts {
		name := p.Name
		if name == "" {
			name = fmt.Sprintf("part %d", i+1)
		}
		if p.Colour == (color.NRGBA{}) {
			p.Colour = Colour(i)
		}
		b, err := newBody(p, name, creaseDeg*math.Pi/180)
		if err != nil {
			return nil, err
		}
		s.bodies = append(s.bodies, b)
		if len(b.tris) > 0 {
			s.box = s.box.with(b.box.lo).with(b.box.hi)
		}
	}
	if s.box.lo.X > s.box.hi.X || r3.Norm(s.box.size()) < 1e-6 {
		return nil, &Error{Fault: NoExtent}
	}
	return s, nil
}

// checkMarks refuses marks that lie nowhere.
func checkMarks(marks []Mark) error {
	for i, m := range marks {
		where := fmt.Sprintf("mark %d at %s", i+1, fmtVec(m.At))
		if !finite(m.At) {
			return &Error{Fault: NotFinite, Detail: where}
		}
		if r3.Norm(m.At) > 2*reach {
			return &Error{Fault: TooFar, Detail: where}
		}
	}
	return nil
}
