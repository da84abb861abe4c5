package layout

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
)

// Pin is an eyelet's hole that takes a pin while a half is trimmed.
type Pin struct {
	At       r2.Vec
	Eyelet   int // its index
	Diameter float64
	Check    bool // the third pin, by which a half that lies turned or overturned does not go on
}

// String is the number of its eyelet, from 1, and whether it is the check pin.
func (p Pin) String() string {
	if p.Check {
		return fmt.Sprintf("%d (check)", p.Eyelet+1)
	}
	return strconv.Itoa(p.Eyelet + 1)
}

// PinFit is by how much a pin is thinner than its hole, in mm; common practice, no source.
const PinFit = 0.05

// pin chooses the holes for the pins: the two that are furthest apart, and the one that is furthest from where a turned
// or overturned half would have a hole.
func (s *Sheath) pin() {
	a, b := 0, 0
	for i := range s.Eyelets {
		for j := range i {
			if s.apart(i, j) > s.apart(a, b) {
				a, b = j, i
			}
		}
	}
	d := s.Knife.Spec.Eyelet.Hole - PinFit
	add := func(i int, check bool) {
		s.Pins = append(s.Pins, Pin{At: s.Eyelets[i].At, Eyelet: i, Diameter: d, Check: check})
	}
	if a == b {
		add(a, false)
		s.warn("one eyelet alone does not locate the sheath: lessen layout.pitch")
		return
	}
	add(a, false)
	add(b, false)
	third, best := -1, 0.0
	for i := range s.Eyelets {
		if i == a || i == b {
			continue
		}
		if far := s.alone(i, s.Eyelets[a].At, s.Eyelets[b].At); far > best {
			third, best = i, far
		}
	}
	if third < 0 || best < 2 {
		s.warn("the eyelets lie so evenly that no third pin tells a half that is turned round: mark the mouth")
		return
	}
	add(third, true)
}

// alone is how far a hole is from the nearest one of the sheath put on the pins a and b in every wrong way:
// turned round, and overturned about either line.
func (s *Sheath) alone(i int, a, b r2.Vec) float64 {
	mid, along := r2.Scale(0.5, r2.Add(a, b)), r2.Unit(r2.Sub(b, a))
	across := r2.Vec{X: -along.Y, Y: along.X}
	least := math.Inf(1)
	for _, way := range [][2]float64{{-1, -1}, {1, -1}, {-1, 1}} {
		for _, e := range s.Eyelets {
			q := r2.Sub(e.At, mid)
			wrong := r2.Add(mid, r2.Add(
				r2.Scale(way[0]*r2.Dot(q, along), along), r2.Scale(way[1]*r2.Dot(q, across), across)))
			least = min(least, r2.Norm(r2.Sub(wrong, s.Eyelets[i].At)))
		}
	}
	return least
}

func (s *Sheath) apart(i, j int) float64 { return r2.Norm(r2.Sub(s.Eyelets[i].At, s.Eyelets[j].At)) }
