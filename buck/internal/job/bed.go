package job

import (
	"bytes"
	"fmt"
	"image/color"

	"formbuck/mesh/threemf"
)

// ThreeMF is all pieces of the set, named and coloured by their kind: side by side on the printer's bed, in a file for each
// plate where one is not enough, or, as the format asks, in one file where they sit on the knife.
func (s *Set) ThreeMF(f Format) ([]File, error) {
	name := s.Knife.Spec.Name
	p := &threemf.Package{
		Title: name, Description: "pieces of the forming buck of " + name, Application: "formbuck",
		Assembled: f.Place == OnKnife, Bed: s.Knife.Spec.Whole.Bed,
	}
	for _, piece := range s.Pieces {
		m, err := f.InFile(piece)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", piece.Name, err)
		}
		p.Objects = append(p.Objects, threemf.Object{Name: name + "-" + piece.Name, Colour: piece.Kind.colour(), Mesh: m})
	}
	plates := []*threemf.Package{p}
	if !p.Assembled {
		plates = p.Plates()
	}
	var files []File
	for i, plate := range plates {
		file := name
		if len(plates) > 1 {
			file = fmt.Sprintf("%s-plate-%d", name, i+1)
			plate.Title = fmt.Sprintf("%s, plate %d of %d", name, i+1, len(plates))
		}
		var b bytes.Buffer
		if err := threemf.Encode(&b, plate); err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		files = append(files, File{Name: file + ".3mf", Data: b.Bytes()})
	}
	return files, nil
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
