package measures

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"formbuck/buck/fixture/plate"
)

// How the pair lies on the mill while it is drilled, the buck in it.
const (
	ByHoles   = "holes"   // on pins through two of the knife's own holes
	ByCradle  = "cradle"  // the handle in a printed cradle
	ByDrawing = "drawing" // laid out by the drawing at 1:1
	ByGuide   = "guide"   // on the same pins, drilled by hand through a printed guide
	FromPunch = "hand"    // from a punched mark, by hand
)

// Registers are the ways in which the pair can lie, the best first.
func Registers() []string { return []string{ByHoles, ByGuide, ByCradle, ByDrawing, FromPunch} }

// What a plate is made of.
const (
	Aluminium = "aluminium"
	Acetal    = "acetal"
	MDF       = "mdf"
)

// Fixture is how the pair lies on the mill, and the plate that it lies on.
type Fixture struct {
	Register      string       // one of Registers; "": where it is to lie, exactly
	Holes         string       // the two that take pins, see ParsePair; "": the two farthest apart behind the mouth
	HoleFit       string       // class of tolerance of the knife's holes, ISO 286
	PinFit        string       // of the pins
	Pin           float64      // nominal diameter of the pins; 0: that of the hole each goes into
	CradleFit     float64      // gap between handle and cradle
	DrawingFit    float64      // by which a work laid out by its drawing may lie off at either end
	HandFit       float64      // the same from a punched mark
	GuideFit      float64      // gap between a drill, or a pin, and its hole in a printed guide, all round
	Bushing       float64      // diameter of the bushings pressed into the guide; 0: none, the drill runs in the print
	PatternOffset float64      // by which a printed trim pattern is smaller than the trim line
	Stock         string       // length, width and thickness of the plate, see ParseStock; "": as needed
	Material      string       // of the plate
	Support       float64      // diameter of the supports under the pair's rim
	Margin        float64      // least distance of every hole from the outline of the supports
	Plate         string       // file of the plate that was made; "": none
	Made          *plate.Plate // what it states; nil: none
}

// ParsePair reads the numbers of two holes, as "1 3", from 1 in the drawing's order.
func ParsePair(text string) (pair [2]int, err error) {
	words := strings.Fields(text)
	if len(words) != 2 {
		return pair, fmt.Errorf("%q is not the numbers of two holes, as 1 3", text)
	}
	for i, word := range words {
		n, err := strconv.Atoi(word)
		if err != nil || n < 1 || n > 1000 {
			return pair, fmt.Errorf("%q is no number of a hole", word)
		}
		pair[i] = n
	}
	if pair[0] == pair[1] {
		return pair, errors.New("two holes are wanted, and one is named twice")
	}
	return pair, nil
}

// ParseStock reads a plate's length, width and thickness in mm, as "300 x 200 x 12".
func ParseStock(text string) (size [3]float64, err error) {
	words := slices.DeleteFunc(strings.Fields(strings.ReplaceAll(text, "x", " x ")), func(w string) bool { return w == "x" })
	if len(words) != 3 {
		return size, fmt.Errorf("%q is not a length, a width and a thickness in mm, as 300 x 200 x 12", text)
	}
	for i, word := range words {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil || !(v > 0) || v > 2000 {
			return size, fmt.Errorf("%q is no length in mm over 0, up to 2000", word)
		}
		size[i] = v
	}
	if size[2] > 60 {
		return size, fmt.Errorf("a plate %.4g mm thick: up to 60 mm", size[2])
	}
	return size, nil
}
