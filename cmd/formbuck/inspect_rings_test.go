package main

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/picture"

	"gonum.org/v1/gonum/spatial/r3"
)

// The directions from which inspect looks: problems from above, the rest from below.
var (
	threeQuarter = r3.Vec{X: 0.33, Y: -0.76, Z: 0.56}
	fromBelow    = r3.Vec{X: 0.33, Y: -0.76, Z: -0.56}
)

// A mark is a ring about its place and a number beside it, in pixels.
const (
	ringRadius = 9.0
	ringReach  = 12.0 // with half of its line
	numberWide = 40.0 // from the place to the far end of the number's ground
	numberHigh = 12.5 // half of it
)

// ringed wants rings at the places that are told of, each with its number, and every other pixel to be
// as it is without marks. Where a place lies in the picture is worked out from the part's outline in a
// picture without marks, not asked of what drew it.
func (a *answered) ringed(t *testing.T, marks []string, from r3.Vec) {
	t.Helper()
	plain := a.plain(t, marks, from)
	l := lieOf(t, a, plain, from)
	var spots []pixel
	for _, m := range marks {
		spots = append(spots, l.at(toldPlace(t, m)))
	}
	stray := 0
	for y := range plain.Rect.Dy() {
		for x := range plain.Rect.Dx() {
			if at(a.marked, x, y) != at(plain, x, y) && !nearOne(spots, float64(x)+0.5, float64(y)+0.5) {
				if stray++; stray == 1 {
					t.Errorf("pixel %d, %d is drawn over, and no mark is there", x, y)
				}
			}
		}
	}
	for i, s := range spots {
		least, most := 0.75, 1.0
		if strings.HasSuffix(marks[i], ", hidden") { // is drawn dashed
			least, most = 0.3, 0.74
		}
		if part := s.circle(a.marked); part < least || part > most {
			t.Errorf("%q: %.0f %% of the circle about pixel %.0f, %.0f is of the mark's colour", marks[i], 100*part, s.x, s.y)
		}
		if s.number(a.marked) < 8 {
			t.Errorf("%q: there is no number beside pixel %.0f, %.0f", marks[i], s.x, s.y)
		}
	}
}

// plain is the picture that inspect draws, without its marks, and with the caption that is wanted.
func (a *answered) plain(t *testing.T, marks []string, from r3.Vec) *image.NRGBA {
	t.Helper()
	o := picture.Options{Title: "part.stl", Caption: "nothing to mark", View: picture.View{From: from, Up: r3.Vec{Z: 1}}}
	var caption []string
	var places []r3.Vec
	for _, m := range marks {
		at := toldPlace(t, m)
		i := slices.Index(places, at)
		if i < 0 {
			i = len(places)
			places = append(places, at)
		}
		caption = append(caption, fmt.Sprintf("%d  %s", i+1, m))
	}
	if len(marks) > 0 {
		o.Caption = strings.Join(caption, "\n")
	}
	im, err := picture.Draw([]picture.Part{{Mesh: a.body.mesh}}, o)
	if err != nil {
		t.Fatal(err)
	}
	return im
}

// toldPlace is the place that a line tells, in mm.
func toldPlace(t *testing.T, line string) r3.Vec {
	t.Helper()
	var p r3.Vec
	if _, err := fmt.Sscanf(line[strings.LastIndex(line, "("):], "(%g, %g, %g) mm", &p.X, &p.Y, &p.Z); err != nil {
		t.Fatalf("%q: %v", line, err)
	}
	return p
}

// lie is how a part lies in a picture of parallel projection: pixels = origin + scale mm.
type lie struct {
	right, up r3.Vec
	scale     float64
	x, y      float64 // of the origin
}

// lieOf finds a part in a picture: its pixels are the coloured ones, the rest is grey.
func lieOf(t *testing.T, a *answered, plain *image.NRGBA, from r3.Vec) lie {
	t.Helper()
	l := lie{right: r3.Unit(r3.Cross(r3.Vec{Z: 1}, from))}
	l.up = r3.Unit(r3.Cross(from, l.right))
	lo, hi := r3.Vec{X: math.Inf(1), Y: math.Inf(1)}, r3.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, v := range a.body.mesh.Vertices {
		x, y := r3.Dot(v, l.right), r3.Dot(v, l.up)
		lo, hi = r3.Vec{X: min(lo.X, x), Y: min(lo.Y, y)}, r3.Vec{X: max(hi.X, x), Y: max(hi.Y, y)}
	}
	var found image.Rectangle
	for y := range plain.Rect.Dy() {
		for x := range plain.Rect.Dx() {
			if coloured(plain.NRGBAAt(x, y)) {
				found = found.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	const line = 2 // pixels of a part's breadth that its outline covers
	wide, high := float64(found.Dx()+line), float64(found.Dy()+line)
	l.scale = wide / (hi.X - lo.X)
	if other := high / (hi.Y - lo.Y); math.Abs(l.scale/other-1) > 0.01 {
		t.Fatalf("%.4g pixels a mm across and %.4g upright", l.scale, other)
	}
	l.x = float64(found.Min.X+found.Max.X)/2 - l.scale*(lo.X+hi.X)/2
	l.y = float64(found.Min.Y+found.Max.Y)/2 + l.scale*(lo.Y+hi.Y)/2
	return l
}

// coloured tells the pixels of a part from paper, ink and shadow.
func coloured(c color.NRGBA) bool {
	return int(max(c.R, c.G, c.B))-int(min(c.R, c.G, c.B)) > 40
}

// pixel is a place in the picture, in pixels.
type pixel struct{ x, y float64 }

func (l lie) at(v r3.Vec) pixel {
	return pixel{l.x + l.scale*r3.Dot(v, l.right), l.y - l.scale*r3.Dot(v, l.up)}
}

// nearOne tells whether a pixel belongs to the mark of one of the spots.
func nearOne(spots []pixel, x, y float64) bool {
	for _, s := range spots {
		dx, dy := math.Abs(x-s.x), math.Abs(y-s.y)
		if math.Hypot(dx, dy) < ringReach || dx < numberWide && dy < numberHigh {
			return true
		}
	}
	return false
}

// ofMark tells whether a colour is that of marks, a strong red.
func ofMark(c color.NRGBA) bool {
	return c.R > 150 && int(c.R) > 2*int(c.G) && int(c.R) > 2*int(c.B)
}

// circle is how much of the ring about the pixel is there.
func (s pixel) circle(im image.Image) float64 {
	const steps = 72
	there := 0
	for i := range steps {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / steps)
		for _, r := range [3]float64{ringRadius - 1, ringRadius, ringRadius + 1} {
			if ofMark(at(im, int(s.x+r*cos), int(s.y+r*sin))) {
				there++
				break
			}
		}
	}
	return float64(there) / steps
}

// number is how many pixels of the number beside the pixel there are, on its right or its left.
func (s pixel) number(im image.Image) int {
	right, left := 0, 0
	for y := int(s.y - numberHigh); y < int(s.y+numberHigh); y++ {
		for x := int(ringReach) + 1; x < numberWide; x++ {
			if ofMark(at(im, int(s.x)+x, y)) {
				right++
			}
			if ofMark(at(im, int(s.x)-x, y)) {
				left++
			}
		}
	}
	return max(right, left)
}
