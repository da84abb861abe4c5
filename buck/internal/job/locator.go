package job

import (
	"fmt"

	"formbuck/buck/internal/lettering"
	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
)

// Constants of engraved text; common practice, no source.
const (
	textDepth  = 0.4 // mm: two layers of 0.2 mm
	textMargin = 1   // mm round it
	textChord  = 0.02
)

// locators are a template for each face that carries a boss. It is made whether or not the pieces
// themselves are.
func locators(s *Set, r Request) ([]build, error) {
	faces := s.faces(r)
	if len(faces) == 0 {
		return nil, nil
	}
	bosses, err := pieces.NewStandoffs(s.Knife)
	if err != nil {
		return nil, err
	}
	_, ramps, err := s.Knife.Ramps()
	if err != nil {
		return nil, err
	}
	drain, err := pieces.NewDrain(s.Knife)
	if err != nil {
		return nil, err
	}
	var builds []build
	for _, f := range faces {
		parts, err := pieces.NewLocators(bosses, ramps.Bossed, drain)
		if err != nil {
			s.NoLocator = fmt.Sprintf("locator: %v; none was made: the drawings at 1:1 show where the pieces go", err)
			s.note("%s", s.NoLocator)
			return nil, nil
		}
		if f == faces[0] && !parts[0].Exact() {
			s.note("locator: %s", parts[0].Stop())
		}
		for _, l := range parts {
			b, err := s.locator(l, f, r)
			if err != nil {
				return nil, err
			}
			builds = append(builds, b)
		}
	}
	return builds, nil
}

// halfNames name the two parts of what is too long for the printer's bed.
var halfNames = []string{"handle", "blade"}

// locator is a template, or one of its two parts, for a face.
func (s *Set) locator(l *pieces.LocatorPiece, f measures.Face, r Request) (build, error) {
	hand, stand := s.Knife.Spec.Carry.Hand(f), overturned
	if f == measures.LeftFace {
		stand = upright
	}
	name, said := fmt.Sprintf("%s-%s", Locator, hand), string(hand)
	if l.Parts > 1 {
		name, said = name+"-"+halfNames[l.Part], said+" "+halfNames[l.Part]
	}
	if err := engrave(s, l, f, said); err != nil {
		return build{}, err
	}
	return build{
		piece: &Piece{
			Kind: Locator, Name: name, Hand: string(hand), Face: f,
			Governed: fmt.Sprintf("%.3g mm round each piece", l.Clearance),
			Figure:   Figure{"round each piece", l.Clearance},
			Measures: locatorMeasures(l), stand: stand, references: ofLocator(l),
		},
		mesh:   func() (*mesh.Mesh, error) { return solid.Locator(l, r.Tolerance) },
		mirror: f == measures.LeftFace,
	}, nil
}

func locatorMeasures(l *pieces.LocatorPiece) []string {
	return []string{
		fmt.Sprintf("windows %.3g mm wider than the pieces, all round", l.Clearance),
		l.Held(),
		l.Stop(),
	}
}

// engrave cuts what the template is, its hand and the variant's name into its outer face, so that it is
// read from outside on either face. The plate is made wider beyond the spine if there is no room.
func engrave(s *Set, l *pieces.LocatorPiece, f measures.Face, hand string) error {
	name, face := s.Knife.Spec.Name, string(f)+" face"
	const widest = 20 // steps of 2 mm; our own, no source
	for range widest {
		for _, lines := range [][]string{
			{string(Locator) + " " + hand + ", " + face, name},
			{string(Locator) + " " + hand, face, name},
			{string(Locator), hand, face, name},
			{hand + ", " + face, name},
			{hand, face, name},
			// Without the face rather than on a larger template.
			{string(Locator) + " " + hand, name},
			{string(Locator), hand, name},
			{string(Locator) + " " + hand + " " + name},
		} {
			text, err := lettering.Lay(lines, l.Knife.Spec.Locator.Text, textChord)
			if err != nil {
				return err
			}
			if at, ok := l.Room(text.Size, textMargin); ok {
				l.Engrave(text.At(at, f == measures.LeftFace), textDepth)
				return nil
			}
		}
		l.Widen(2)
	}
	s.note("locator: it has no room for its text")
	return nil
}
