package measures

// Hand is how a sheath is carried.
type Hand string

// The hands. Common practice, no source: right-hand carry puts the boss on the left face.
const (
	Right Hand = "right"
	Left  Hand = "left"
	Both  Hand = "both"
	Plain Hand = "plain"
)

// Hands are all hands, in the order in which they are listed.
func Hands() []Hand { return []Hand{Right, Left, Both, Plain} }

// Includes tells whether a sheath for the hand has the boss of one, which is right or left: both has both.
func (h Hand) Includes(one Hand) bool { return h == one || h == Both }

// Face is one side of the knife, named as for a knife held in use, tip away and edge down.
type Face string

// The faces: the right one looks along +z, the left one along -z.
const (
	RightFace Face = "right"
	LeftFace  Face = "left"
)

// Faces are the faces that carry a boss for the hand, left first.
func (h Hand) Faces() []Face {
	switch h {
	case Right:
		return []Face{LeftFace}
	case Left:
		return []Face{RightFace}
	case Both:
		return []Face{LeftFace, RightFace}
	default:
		return nil
	}
}
