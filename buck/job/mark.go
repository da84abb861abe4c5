package job

import (
	"strings"

	"formbuck/buck"
	"formbuck/buck/lettering"

	"gonum.org/v1/gonum/spatial/r2"
)

// Constants of the marks in glue faces; common practice, no source.
const (
	markDepth  = 0.3 // mm
	markHeight = 4   // mm, of capitals: strokes of 0.8 mm
	markMargin = 1   // mm to the sides
)

// marked is the standoff with its mark: the variant's name, shortened where it has to be, and the hand's first
// letter. It depends on nothing but these and on whether there is room. Seen on the glue face it is not
// mirrored on either hand, so that a marked piece and that of the other hand are mirrors but for the mark.
func (s *Set) marked(p *buck.StandoffPiece, f buck.Face, hand string) (*buck.StandoffPiece, error) {
	name := []rune(s.Knife.Spec.Name)
	letter := strings.ToUpper(hand[:1])
	for n := len(name); n > 0; n-- {
		text, err := lettering.Lay([]string{strings.TrimRight(string(name[:n]), " -_.") + " " + letter}, markHeight, textChord)
		if err != nil {
			return nil, err
		}
		if !p.MarkRoom(text.Size, markMargin) {
			continue
		}
		loops := text.At(r2.Vec{}, f == buck.RightFace)
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
