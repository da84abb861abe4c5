package job

import (
	"errors"
	"fmt"
	"slices"
	"sync"

	"formbuck/buck/internal/twin"
	"formbuck/buck/pieces"

	"github.com/deadsy/sdfx/sdf"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// reference is something that a piece's mesh is measured against.
type reference struct {
	to   string // what it is, as a phrase
	body func() (sdf.SDF3, error)
	skip func(p r3.Vec) bool // where the two are meant to differ; nil: nowhere
}

// Measured is how far a piece's mesh lies from something, mm: the greatest distance that was found from the one
// and from the other.
type Measured struct {
	Piece    string
	To       string // what it was measured against, as a phrase
	FromMesh float64
	ToMesh   float64
	Places   int // looked at
}

// String is what was measured, in one line.
func (m Measured) String() string {
	return fmt.Sprintf("%s: at %d places no more than %.4f mm off %s, seen from it %.4f mm", m.Piece, m.Places, m.FromMesh, m.To, m.ToMesh)
}

// measureStep is how far apart, in mm, lines through a piece are along which it is measured.
const measureStep = 1

// Measure measures every piece's mesh, as it sits on the knife, both ways against distances that were built apart
// from it: in the order of the pieces. A whole buck has none. It takes its time.
func (s *Set) Measure() ([]Measured, error) {
	found, errs := make([][]Measured, len(s.Pieces)), make([]error, len(s.Pieces))
	var wait sync.WaitGroup
	for i, p := range s.Pieces {
		wait.Go(func() {
			for _, r := range p.references {
				m, err := r.measure(p)
				found[i], errs[i] = append(found[i], m), errors.Join(errs[i], err)
			}
		})
	}
	wait.Wait()
	return slices.Concat(found...), errors.Join(errs...)
}

func (r reference) measure(p *Piece) (Measured, error) {
	m := p.Mesh
	if p.mirrored {
		m = m.Mirrored()
	}
	body, err := r.body()
	if err != nil {
		return Measured{}, fmt.Errorf("%s: %w", p.Name, err)
	}
	d, err := twin.Measure(m, body, twin.Options{Step: measureStep, Skip: r.skip})
	if err != nil {
		return Measured{}, fmt.Errorf("%s: %w", p.Name, err)
	}
	return Measured{p.Name, r.to, d.FromMesh.Distance, d.FromTwin.Distance, d.OnMesh + d.OnTwin}, nil
}

// ofBody is the reference of a piece that has a twin of standard bodies.
func ofBody(body func() (sdf.SDF3, error), skip func(p r3.Vec) bool) []reference {
	return []reference{{to: "its twin of standard bodies", body: body, skip: skip}}
}

// ofStandoff leaves the mark out, which the twin does not have.
func ofStandoff(p *pieces.StandoffPiece) []reference {
	marked := around(p.Mark)
	refs := ofBody(func() (sdf.SDF3, error) { return twin.Standoff(p) }, func(v r3.Vec) bool {
		q := r2.Vec{X: v.X, Y: v.Y}
		return marked(q) && v.Z < p.Underside(p.Knife.Blade(q), q)+p.MarkDepth+0.1
	})
	if len(p.Mark) > 0 {
		refs[0].to += ", its mark left out"
	}
	return refs
}

// ofLocator leaves the letters out.
func ofLocator(l *pieces.LocatorPiece) []reference {
	lettered := around(l.Letters)
	refs := ofBody(func() (sdf.SDF3, error) { return twin.Locator(l) }, func(v r3.Vec) bool {
		return lettered(r2.Vec{X: v.X, Y: v.Y}) && v.Z > l.TopZ-l.TextDepth-0.1
	})
	refs[0].to += ", its letters left out"
	return refs
}

// ofRamp are the surface that the ramp is to have, and what passes by brute force. The pocket of a lock and the mark are
// left out.
func ofRamp(p *pieces.RampPiece) []reference {
	marked := around(p.Mark)
	differs := func(v r3.Vec) bool {
		q := r2.Vec{X: v.X, Y: v.Y}
		if marked(q) && v.Z > 0 && v.Z < p.Underside(p.On(q), q)+p.MarkDepth+0.1 {
			return true
		}
		return p.Lock != nil && r2.Norm(r2.Sub(q, p.Lock.Centre)) < p.Lock.Radius+0.1
	}
	return []reference{
		{"its own surface", func() (sdf.SDF3, error) { return twin.RampUnder(p, p.Passes) }, differs},
		{"what passes by brute force, let down sharply beside cliffs", func() (sdf.SDF3, error) { return twin.Ramp(p) }, differs},
	}
}

// around tells what lies in the box of loops, or within a tenth of a millimetre of it.
func around(loops [][]r2.Vec) func(p r2.Vec) bool {
	if len(loops) == 0 {
		return func(r2.Vec) bool { return false }
	}
	box := r2.Box{Min: loops[0][0], Max: loops[0][0]}
	for _, l := range loops {
		for _, p := range l {
			box.Min = r2.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y)}
			box.Max = r2.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y)}
		}
	}
	return func(p r2.Vec) bool {
		return p.X > box.Min.X-0.1 && p.X < box.Max.X+0.1 && p.Y > box.Min.Y-0.1 && p.Y < box.Max.Y+0.1
	}
}
