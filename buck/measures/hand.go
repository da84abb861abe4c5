package measures

// Hand is how a sheath is carried.
type Hand string

// The hands: which hand draws the knife. Which face of it a boss is on follows from how the sheath is carried.
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

// Said is the hand in words, for titles.
func (h Hand) Said() string {
	switch h {
	case Both:
		return "both hands"
	case Plain:
		return "plain sheath"
	default: // "any" is said of a piece for all of them
		return string(h) + " hand"
	}
}

// Face is one side of the knife, named as for a knife held in use, tip away and edge down.
type Face string

// The faces: the right one looks along +z, the left one along -z.
const (
	RightFace Face = "right"
	LeftFace  Face = "left"
)

// Carry is how the sheath hangs on its wearer.
type Carry string

// The carries. In all of them the boss, whose clip goes over the belt, is on the face that looks to the body.
const (
	Hip        Carry = "hip"        // on the hand's own hip, tip down, edge to the rear
	Forward    Carry = "forward"    // the same with the edge to the front
	Horizontal Carry = "horizontal" // along the belt in front, handle to the hand's side, edge down
	Behind     Carry = "behind"     // along the belt at the back, handle to the hand's side, edge down
)

// Carries are all carries, the usual one first.
func Carries() []Carry { return []Carry{Hip, Forward, Horizontal, Behind} }

// Said is the carry in words.
func (c Carry) Said() string {
	switch c {
	case Forward:
		return "on the hip, tip down, edge to the front"
	case Horizontal:
		return "along the belt in front, handle to the hand's side, edge down"
	case Behind:
		return "along the belt at the back, handle to the hand's side, edge down"
	default:
		return "on the hip, tip down, edge to the rear"
	}
}

// over tells whether the carry lays the other face on the body than the usual one. With x to the tip, y to the spine and z out
// of the right face, on the right hip tip down is x down, edge to the rear y to the front, and z = x cross y comes out to the
// right, away from the body: the left face lies on it. The edge to the front turns that over, as does the body before the
// knife instead of behind it.
func (c Carry) over() bool { return c == Forward || c == Behind }

// Hand is the hand that has its boss on the face.
func (c Carry) Hand(f Face) Hand {
	if (f == LeftFace) != c.over() {
		return Right
	}
	return Left
}

// Faces are the faces that carry a boss for the hand, left first.
func (c Carry) Faces(h Hand) []Face {
	var faces []Face
	for _, f := range BothFaces() {
		if h.Includes(c.Hand(f)) {
			faces = append(faces, f)
		}
	}
	return faces
}

// BothFaces are both, left first.
func BothFaces() []Face { return []Face{LeftFace, RightFace} }

// Faces are the faces that carry a boss for the hand, left first, as the variant's sheath is carried.
func (s Spec) Faces(h Hand) []Face { return s.Carry.Faces(h) }
