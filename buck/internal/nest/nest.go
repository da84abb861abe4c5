// Package nest lays rectangular blanks out on stock sheets so that a saw or a shear can part them:
// every cut goes straight through one piece, from edge to edge.
//
// Lengths are mm. A sheet lies with its lower left corner at the origin, x along its width. Blanks
// are packed into the free rectangles that the cuts leave: the one that fits best by some rule
// takes the blank in its lower left corner and is cut in two beside it (the guillotine method;
// Jylänki, "A Thousand Ways to Pack the Bin", 2010). No one rule is best for every list, so all
// of them are tried, with the list in several orders, and the plan that uses least is taken. It is
// not the best there is: that would take trying everything.
package nest

import (
	"fmt"
	"math"
)

// Size is a width and a height.
type Size struct{ Width, Height float64 }

// Area is the size's area, in mm2.
func (s Size) Area() float64 { return s.Width * s.Height }

// Rect is a rectangle: its lower left corner and its size.
type Rect struct {
	X, Y float64
	Size
}

// Blank is one rectangle to be cut. Turned is its size, on the sheet's axes, when it is cut a
// quarter turn from Size; it need not be the same size turned, since what is allowed for shrink
// depends on the direction in which the sheet was extruded. Zero: it may not be turned.
//
// Blanks with the same Like lie the same way, all turned or none, on whatever sheets: the two that are pressed into one
// sheath shrink alike only so. 0: by itself.
type Blank struct {
	Size
	Turned Size
	Like   int
}

// way is whether a blank is turned.
type way int

const (
	anyWay way = iota
	straight
	turned
)

// sizes are the sizes that the blank may have on a sheet when it lies a way; none where it may not.
func (b Blank) sizes(w way) [2]Size {
	sizes := [2]Size{b.Size, b.Turned}
	if w == straight {
		sizes[1] = Size{}
	}
	if w == turned {
		sizes[0] = Size{}
	}
	return sizes
}

// Stock is a kind of sheet to cut from.
type Stock struct {
	Name  string
	Size      // of the whole sheet
	Count int // how many there are; 0: as many as it takes
}

// Saw parts sheets.
type Saw struct {
	Kerf float64 // mm
	Keep float64 // rests that are this wide both ways go back on the shelf, mm; 0: 80
}

// keep is common practice, no source: a narrower strip is in the way more often than it is of use.
func (s Saw) keep() float64 {
	if s.Keep > 0 {
		return s.Keep
	}
	return 80
}

// Cut is one pass of the saw, edge to edge through one piece: its kerf's lower left corner and
// size. The piece falls apart on either side of it.
type Cut struct {
	Rect
	Upright bool // along y; else along x
}

// Placed is a blank on a sheet.
type Placed struct {
	Blank int // its index
	Rect
	Turned bool
}

// Sheet is one sheet with what is cut from it, the cuts in the order in which they are made.
type Sheet struct {
	Stock  Stock
	Saw    Saw
	Placed []Placed
	Cuts   []Cut
	Rest   []Rect // what is left over, the largest first; together with the blanks and the kerfs it is the sheet
}

// Yield is the blanks' share of the sheet.
func (s *Sheet) Yield() float64 {
	sum := 0.0
	for _, p := range s.Placed {
		sum += p.Area()
	}
	return sum / s.Stock.Area()
}

// Kept are the rests that go back on the shelf: those that are nowhere narrower than what is kept.
func (s *Sheet) Kept() []Rect {
	var kept []Rect
	for _, r := range s.Rest {
		if min(r.Width, r.Height) >= s.Saw.keep()-slack {
			kept = append(kept, r)
		}
	}
	return kept
}

// Used is the area of the sheet less the rests that are kept, in mm2.
func (s *Sheet) Used() float64 {
	used := s.Stock.Area()
	for _, r := range s.Kept() {
		used -= r.Area()
	}
	return used
}

// Short is the error that a blank found no place: it is larger than every sheet, or the sheets of
// limited count are used up.
type Short struct {
	Blank int
	Size  Size
	Large bool // larger than every kind of sheet
}

// Error is one line without the blank's name.
func (s *Short) Error() string {
	if s.Large {
		return fmt.Sprintf("a blank of %.1f x %.1f mm is larger than every sheet", s.Size.Width, s.Size.Height)
	}
	return fmt.Sprintf("no sheet is left for a blank of %.1f x %.1f mm", s.Size.Width, s.Size.Height)
}

// Grid is how many blanks of one size can be cut from a sheet side by side in rows, all one way:
// floor((S+k)/(b+k)) each way, the better of the two ways. The kerf is k.
func Grid(sheet, blank Size, kerf float64) int {
	count := func(b Size) int { return fits(sheet.Width, b.Width, kerf) * fits(sheet.Height, b.Height, kerf) }
	return max(count(blank), count(Size{Width: blank.Height, Height: blank.Width}))
}

// slack is by how much, in mm, a blank may be over its place: rounding, no more.
const slack = 1e-9

func fits(sheet, blank, kerf float64) int {
	if blank <= 0 {
		return 0
	}
	return max(0, int(math.Floor((sheet+kerf+slack)/(blank+kerf))))
}
