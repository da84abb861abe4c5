package job

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"formbuck/buck/layout"
	"formbuck/profile/dxf"
)

// layOut lays out the sheath beside other work, where all of the job is asked for, and gives what puts it into the set. A
// sheath that cannot be laid out does not keep the pieces from being made.
func (s *Set) layOut(r Request) (done func()) {
	if len(r.Kinds) > 0 {
		return func() {}
	}
	type answer struct {
		sheath *layout.Sheath
		err    error
	}
	found := make(chan answer, 1)
	go func() {
		sheath, err := layout.New(s.Knife, r.hands())
		found <- answer{sheath, err}
	}()
	return func() {
		a := <-found
		if a.err != nil {
			s.warn("sheath: %v; it was not laid out", a.err)
			return
		}
		s.Sheath = a.sheath
		for _, w := range a.sheath.Warnings {
			key, _, _ := strings.Cut(w, " ")
			said := func(other string) bool { return strings.HasPrefix(other, key) }
			if !strings.HasSuffix(key, ":") || !slices.ContainsFunc(s.Warnings, said) {
				s.warn("%s", w)
			}
		}
		for i, e := range a.sheath.Eyelets {
			s.note("sheath: eyelet %d at (%.2f, %.2f) is %.2f mm from the knife: %s", i+1, e.At.X, e.At.Y, e.Need, e.Governs)
		}
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

func (s *Set) sheathFile(kind string, data []byte, err error) (File, error) {
	if err != nil {
		return File{}, fmt.Errorf("sheath: %w", err)
	}
	return File{Name: s.Knife.Spec.Name + "-sheath." + kind, Data: data}, nil
}
