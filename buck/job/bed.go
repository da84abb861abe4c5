package job

import (
	"bytes"
	"fmt"
	"image/color"

	"formbuck/mesh/threemf"
)

// ThreeMF is one file with all pieces of the set: named, coloured by their kind and side by side on
// the bed, or, as the format asks, where they sit on the knife.
func (s *Set) ThreeMF(f Format) (File, error) {
	name := s.Knife.Spec.Name
	p := &threemf.Package{
		Title: name, Description: "pieces of the forming buck of " + name, Application: "formbuck",
		Assembled: f.Place == OnKnife,
	}
	for _, piece := range s.Pieces {
		m, err := f.InFile(piece)
		if err != nil {
			return File{}, fmt.Errorf("%s: %w", piece.Name, err)
		}
		p.Objects = append(p.Objects, threemf.Object{Name: name + "-" + piece.Name, Colour: piece.Kind.colour(), Mesh: m})
	}
	var b bytes.Buffer
	if err := threemf.Encode(&b, p); err != nil {
		return File{}, fmt.Errorf("%s: %w", name, err)
	}
	return File{Name: name + ".3mf", Data: b.Bytes()}, nil
}

// colour is that of a kind's pieces in a print file.
func (k Kind) colour() color.NRGBA {
	switch k {
	case Standoff:
		return color.NRGBA{R: 226, G: 164, B: 84, A: 255} // amber
	case Ramp:
		return color.NRGBA{R: 96, G: 150, B: 176, A: 255} // slate blue
	case Drain:
		return color.NRGBA{R: 150, G: 172, B: 96, A: 255} // olive
	case Whole:
		return color.NRGBA{R: 206, G: 196, B: 178, A: 255} // sand
	case Locator:
		return color.NRGBA{R: 172, G: 172, B: 164, A: 255} // grey
	default:
		return color.NRGBA{R: 200, G: 112, B: 92, A: 255} // brick
	}
}
