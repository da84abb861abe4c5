package job

import (
	"strings"

	"formbuck/buck/internal/lettering"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// Constants of the marks in glue faces; common practice, no source.
const (
	markDepth  = 0.3 // mm
	markHeight = 4   // mm, of capitals: strokes of 0.8 mm
	markMargin = 1   // mm to the sides
)

// letters warns of letters in names that papers, pictures and marks cannot show.
func (s *Set) letters() {
	spec := s.Knife.Spec
	names := []string{spec.Name, spec.Nub.Holes}
	for _, m := range spec.Standoff.More {
		names = append(names, m.Name)
	}
	if said := lettering.Missing(lettering.Lacking(names...)); said != "" {
		s.warn("name: %s", said)
	}
}

// markedRamp is the ramp with its mark, the variant's name, shortened where it has to be: for each face that a half of it is
// for, or for no face, where it is in one piece, which has its mark in the cheek of the right face. Seen on the glue face it is
// nowhere mirrored.
func (s *Set) markedRamp(p *pieces.RampPiece, title string) (map[measures.Face]*pieces.RampPiece, error) {
	all := map[measures.Face]*pieces.RampPiece{"": p, measures.LeftFace: p, measures.RightFace: p}
	name := []rune(s.Knife.Spec.Name)
	for n := len(name); n > 0 && s.Knife.Spec.Ramp.Mark == "yes"; n-- {
		text, err := lettering.Lay([]string{strings.TrimRight(string(name[:n]), " -_.")}, markHeight, textChord)
		if err != nil {
			return nil, err
		}
		at, room := p.MarkRoom(text.Size, markMargin, markDepth)
		if !room {
			continue
		}
		for f := range all {
			loops := text.At(at, f != measures.LeftFace)
			for _, l := range loops {
				for i := range l {
					l[i] = p.Blade(l[i])
				}
			}
			all[f] = p.Marked(loops, markDepth)
		}
		return all, nil
	}
	if s.Knife.Spec.Ramp.Mark == "yes" {
		s.note("%s: its cheeks have no room for a mark", title)
	}
	return all, nil
}

// marked is the standoff with its mark: the variant's name, shortened where it has to be, and below it the hand's first
// letter and the face; where there is no room for these, name and letter. It depends on nothing but these and on whether there is room. Seen on the glue face it is not
// mirrored on either hand, so that a marked piece and that of the other hand are mirrors but for the mark.
func (s *Set) marked(p *pieces.StandoffPiece, f measures.Face, hand string) (*pieces.StandoffPiece, error) {
	name := []rune(s.Knife.Spec.Name)
	letter := strings.ToUpper(hand[:1])
	var tries [][]string
	for n := len(name); n > 0; n-- {
		tries = append(tries, []string{strings.TrimRight(string(name[:n]), " -_."), letter + ", " + string(f) + " face"})
	}
	for n := len(name); n > 0; n-- {
		tries = append(tries, []string{strings.TrimRight(string(name[:n]), " -_.") + " " + letter})
	}
	for _, lines := range tries {
		text, err := lettering.Lay(lines, markHeight, textChord)
		if err != nil {
			return nil, err
		}
		if !p.MarkRoom(text.Size, markMargin) {
			continue
		}
		loops := text.At(r2.Vec{}, f == measures.RightFace)
		for _, l := range loops {
			for i := range l {
				l[i] = p.Top.At(l[i])
			}
		}
		cut := *p
		cut.Engrave(loops, markDepth)
		return &cut, nil
	}
	s.note("%s: its underside has no room for a mark", pieceName(p))
	return p, nil
}
