package job

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"formbuck/buck/layout"
	"formbuck/buck/mill"
	"formbuck/profile/dxf"
)

// layOut lays out the sheath beside other work, where all of the job is asked for, and gives what puts it into the set. A
// sheath that cannot be laid out does not keep the pieces from being made, but for one that the plate it names does not serve:
// that is an error.
func (s *Set) layOut(r Request) (done func() error) {
	if len(r.Kinds) > 0 {
		return func() error { return nil }
	}
	type answer struct {
		sheath   *layout.Sheath
		programs []mill.Program
		err      error
	}
	found := make(chan answer, 1)
	go func() {
		sheath, err := layout.New(s.Knife, r.hands())
		if err != nil {
			found <- answer{err: err}
			return
		}
		found <- answer{sheath: sheath, programs: mill.Programs(sheath)}
	}()
	return func() error {
		a := <-found
		switch {
		case a.err != nil && s.Knife.Spec.Fixture.Made != nil:
			return a.err
		case a.err != nil:
			s.warn("sheath: %v; it was not laid out", a.err)
			return nil
		}
		s.Sheath, s.Programs = a.sheath, a.programs
		for _, w := range a.sheath.Warnings {
			key, _, _ := strings.Cut(w, " ")
			said := func(other string) bool { return strings.HasPrefix(other, key) }
			if !strings.HasSuffix(key, ":") || !slices.ContainsFunc(s.Warnings, said) {
				s.warn("%s", w)
			}
		}
		for _, w := range mill.Warnings(a.programs) {
			s.warn("%s", w)
		}
		for i, e := range a.sheath.Eyelets {
			s.note("sheath: eyelet %d at (%.2f, %.2f) is %.2f mm from the knife: %s", i+1, e.At.X, e.At.Y, e.Need, s.Knife.Spec.Blade.Told(string(e.Governs)))
		}
		return nil
	}
}

// SheathDXF is the sheath's layout as a drawing for other programs.
func (s *Set) SheathDXF() (File, error) {
	var b bytes.Buffer
	err := dxf.Encode(&b, s.Sheath.Drawing())
	return s.sheathFile("dxf", b.Bytes(), err)
}

// SheathSVG is the sheath's layout at its true size.
func (s *Set) SheathSVG() (File, error) {
	var b bytes.Buffer
	err := s.Sheath.Sheet().SVG(&b)
	return s.sheathFile("svg", b.Bytes(), err)
}

// programs are what is to be done for the sheath's programs: those that could be written.
func (s *Set) programs() []func() (File, error) {
	var work []func() (File, error)
	for _, p := range s.Programs {
		if p.Err == nil {
			work = append(work, func() (File, error) {
				return File{Name: p.File(s.Sheath), Data: p.Text}, nil
			})
		}
	}
	return work
}

func (s *Set) sheathFile(kind string, data []byte, err error) (File, error) {
	if err != nil {
		return File{}, fmt.Errorf("sheath: %w", err)
	}
	return File{Name: s.Knife.Spec.Name + "-sheath." + kind, Data: data}, nil
}
