package picture_test

import (
	"image/color"
	"reflect"
	"testing"

	"formbuck/buck/picture"
	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestInputs changes all that a picture is made from, one after the other: each changes the digest, and nothing else does.
func TestInputs(t *testing.T) {
	tetra := func() *mesh.Mesh {
		return &mesh.Mesh{
			Vertices:  []r3.Vec{{}, {X: 1}, {Y: 1}, {Z: 1}},
			Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
		}
	}
	of := func(change func(*picture.Part, *picture.Options)) string {
		p, o := picture.Part{Name: "a", Mesh: tetra()}, picture.Options{Title: "t"}
		change(&p, &o)
		return picture.Inputs([]picture.Part{p, {Mesh: tetra()}}, o)
	}
	changes := map[string]func(*picture.Part, *picture.Options){
		"Name":      func(p *picture.Part, _ *picture.Options) { p.Name = "b" },
		"Colour":    func(p *picture.Part, _ *picture.Options) { p.Colour = color.NRGBA{R: 1, A: 255} },
		"Faint":     func(p *picture.Part, _ *picture.Options) { p.Faint = true },
		"Mesh":      func(p *picture.Part, _ *picture.Options) { p.Mesh.Vertices[3].Z += 1e-12 },
		"Width":     func(_ *picture.Part, o *picture.Options) { o.Width = 800 },
		"Height":    func(_ *picture.Part, o *picture.Options) { o.Height = 800 },
		"Title":     func(_ *picture.Part, o *picture.Options) { o.Title = "u" },
		"Caption":   func(_ *picture.Part, o *picture.Options) { o.Caption = "c" },
		"View":      func(_ *picture.Part, o *picture.Options) { o.View = picture.ThreeQuarterLeft() },
		"CreaseDeg": func(_ *picture.Part, o *picture.Options) { o.CreaseDeg = 22.0000001 },
		"Edge":      func(_ *picture.Part, o *picture.Options) { o.Edge = "first edge" },
		"Spine":     func(_ *picture.Part, o *picture.Options) { o.Spine = "second edge" },
		"NoSizes":   func(_ *picture.Part, o *picture.Options) { o.NoSizes = true },
		"Marks":     func(_ *picture.Part, o *picture.Options) { o.Marks = []picture.Mark{{Label: "m"}} },

		"the triangles": func(p *picture.Part, _ *picture.Options) { p.Mesh.Triangles[0] = [3]int32{2, 1, 0} },
		"a vertex less": func(p *picture.Part, _ *picture.Options) { p.Mesh.Vertices = p.Mesh.Vertices[:3] },
		"no mesh":       func(p *picture.Part, _ *picture.Options) { p.Mesh = nil },
	}
	for _, kind := range []reflect.Type{reflect.TypeFor[picture.Part](), reflect.TypeFor[picture.Options]()} {
		for i := range kind.NumField() {
			if name := kind.Field(i).Name; changes[name] == nil {
				t.Errorf("%s is not tried", name)
			}
		}
	}
	seen := map[string]string{}
	none := func(*picture.Part, *picture.Options) {}
	seen[of(none)] = "nothing"
	if seen[of(none)] == "" {
		t.Error("the same inputs have two digests")
	}
	for name, change := range changes {
		d := of(change)
		if other := seen[d]; other != "" {
			t.Errorf("%s changed and %s changed have the same digest", name, other)
		}
		seen[d] = name
	}
}
