package measures

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// NoEyelet is a part of a sheath's rim where no eyelet may stand: on one side, from one x to another.
type NoEyelet struct {
	Side     string // EdgeSide or SpineSide
	From, To float64
}

// The sides of a sheath.
const (
	EdgeSide  = "edge"
	SpineSide = "spine"
)

// ParseNoEyelets reads places without eyelets as "SIDE FROM TO", x in mm in the blade's frame, with semicolons between
// them. No text is none. The error says what is wrong.
func ParseNoEyelets(text string) (all []NoEyelet, err error) {
	if text == "" {
		return nil, nil
	}
	for part := range strings.SplitSeq(text, ";") {
		words := strings.Fields(part)
		if len(words) != 3 || words[0] != EdgeSide && words[0] != SpineSide {
			return nil, fmt.Errorf("%q is not edge or spine and two places along the blade", strings.Join(words, " "))
		}
		z := NoEyelet{Side: words[0]}
		for i, into := range []*float64{&z.From, &z.To} {
			v, err := strconv.ParseFloat(words[1+i], 64)
			if err != nil || !(math.Abs(v) <= 1000) {
				return nil, fmt.Errorf("%q is no place in mm", words[1+i])
			}
			*into = v
		}
		if !(z.To > z.From) {
			return nil, fmt.Errorf("from %g to %g mm is no stretch", z.From, z.To)
		}
		if all = append(all, z); len(all) > maxHoles {
			return nil, fmt.Errorf("more than %d places", maxHoles)
		}
	}
	return all, nil
}
