package measures

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// NamedHole is a hole beside those of the posts, for another mount: a loose nub leaves a dimple there.
type NamedHole struct {
	Name     string
	At       r2.Vec  // in the blade's frame
	Diameter float64 // of the hole and its drill
	Face     Face
}

// maxHoles is how many holes may be named.
const maxHoles = 32

// ParseHoles reads holes as "NAME X Y DIAMETER FACE", in mm, with semicolons between them; without FACE a hole
// is on the right. No text is no holes. The error says what is wrong.
func ParseHoles(text string) (holes []NamedHole, err error) {
	if text == "" {
		return nil, nil
	}
	named := make(map[string]bool)
	for part := range strings.SplitSeq(text, ";") {
		h, err := parseHole(strings.Fields(part))
		switch {
		case err != nil:
			return nil, err
		case named[h.Name]:
			return nil, fmt.Errorf("two holes are named %q", h.Name)
		case len(holes) == maxHoles:
			return nil, fmt.Errorf("more than %d holes", maxHoles)
		}
		named[h.Name] = true
		holes = append(holes, h)
	}
	return holes, nil
}

func parseHole(words []string) (h NamedHole, err error) {
	if len(words) < 4 || len(words) > 5 {
		return h, fmt.Errorf("%q is not a name, x, y, a diameter and perhaps a face", strings.Join(words, " "))
	}
	plain := func(r rune) bool { return r >= 'a' && r <= 'z' || r >= '0' && r <= '9' }
	if h.Name = words[0]; strings.ContainsFunc(h.Name, func(r rune) bool { return !plain(r) }) || len(h.Name) > 20 {
		return h, fmt.Errorf("%q is no name of a hole: small letters and digits, at most 20", h.Name)
	}
	for i, into := range []*float64{&h.At.X, &h.At.Y, &h.Diameter} {
		v, err := strconv.ParseFloat(words[1+i], 64)
		if err != nil || !(math.Abs(v) <= 1000) {
			return h, fmt.Errorf("%q is no length in mm", words[1+i])
		}
		*into = v
	}
	if h.Diameter <= 0 || h.Diameter > 25 {
		return h, fmt.Errorf("a hole %.4g mm wide is not between 0 and 25 mm", h.Diameter)
	}
	h.Face = RightFace
	if len(words) == 5 {
		if h.Face = Face(words[4]); h.Face != RightFace && h.Face != LeftFace {
			return h, fmt.Errorf("%q is neither right nor left", words[4])
		}
	}
	return h, nil
}
