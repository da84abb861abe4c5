package job

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/sound"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/pieces"
	"formbuck/mesh"
)

// Request says what to make of a knife.
type Request struct {
	Hands     []measures.Hand // empty: all
	Kinds     []Kind          // empty: all
	Tolerance float64         // of the meshes, mm; 0: solid.Tolerance
}

// Wants tells whether pieces of the kind are asked for. A whole buck has to be named.
func (r Request) Wants(k Kind) bool {
	return len(r.Kinds) == 0 && k != Whole || slices.Contains(r.Kinds, k)
}

// hands are the hands asked for.
func (r Request) hands() []measures.Hand {
	if len(r.Hands) == 0 {
		return measures.Hands()
	}
	return r.Hands
}

// faces are the faces that carry a boss for one of the hands, each once.
func (s *Set) faces(r Request) []measures.Face {
	var faces []measures.Face
	for _, f := range measures.BothFaces() {
		if slices.ContainsFunc(r.hands(), func(h measures.Hand) bool { return slices.Contains(s.Knife.Spec.Faces(h), f) }) {
			faces = append(faces, f)
		}
	}
	return faces
}

// Set is what was made.
type Set struct {
	Knife    *pieces.Buck
	Pieces   []*Piece
	Warnings []string
	Grave    []string // those of Warnings of what spoils the sheath: pieces in one place, a foot off the blade
	Notes    []string // what was decided and measured, a line each
	// NoLocator is why there is no locator; empty where there is one or none was asked for. It is among the notes.
	NoLocator string
	Sheath    *layout.Sheath // nil: not all of the job was asked for, or it cannot be laid out
	Programs  []mill.Program // of the sheath

	steel func() (*mesh.Mesh, error) // the knife, for pictures
}

// pictured is how close the knife's mesh comes to it in pictures, mm. Our own, no source.
const pictured = 0.04

// build is one piece still to be meshed.
type build struct {
	piece  *Piece
	mesh   func() (*mesh.Mesh, error)
	mirror bool
}

// Make computes the pieces asked for and meshes them. Errors of the measures are *measures.Fault; of what
// no measures may lead to, as a mesh that is not fit for a file, a sound.Fault.
func Make(ctx context.Context, k *pieces.Buck, r Request) (*Set, error) {
	s := &Set{Knife: k, steel: sync.OnceValues(func() (*mesh.Mesh, error) { return solid.Knife(k, pictured) })}
	s.letters()
	sheath := s.layOut(r)
	var builds []build
	for _, plan := range []struct {
		kind Kind
		list func(*Set, Request) ([]build, error)
	}{{Standoff, standoffs}, {Ramp, ramps}, {Drain, drains}, {Nub, nubs}, {Locator, locators}, {Whole, wholes}} {
		if !r.Wants(plan.kind) {
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
		p := b.piece
		p.stood = sync.OnceValue(p.stance)
		p.bed = sync.OnceValues(func() (*mesh.Mesh, error) { return mesh.GateBody(p.Printed()) })
		s.Pieces = append(s.Pieces, p)
	}
	s.shrink()
	if err := sheath(); err != nil {
		return nil, err
	}
	return s, s.judge(r)
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
	b.piece.mirrored = b.mirror
	if b.mirror {
		m = m.Mirrored()
	}
	if b.piece.Mesh, err = mesh.GateBody(m); err != nil {
		return sound.Fault{{What: fmt.Sprintf("%s: %v", b.piece.Name, err), Own: true}}
	}
	return nil
}

// warn says what a maker should know.
func (s *Set) warn(format string, args ...any) {
	s.Warnings = append(s.Warnings, fmt.Sprintf(format, args...))
}

// grave warns of what spoils the sheath.
func (s *Set) grave(format string, args ...any) {
	s.warn(format, args...)
	s.Grave = append(s.Grave, s.Warnings[len(s.Warnings)-1])
}

// note says what was decided.
func (s *Set) note(format string, args ...any) {
	s.Notes = append(s.Notes, fmt.Sprintf(format, args...))
}
