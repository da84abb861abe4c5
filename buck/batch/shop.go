package batch

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"formbuck/buck/internal/nest"
	"formbuck/buck/measures"
)

// Shop is what there is to work with and how long its steps take. [ReadShop] reads it from a file.
type Shop struct {
	Day      Hours
	Heat     Heat
	Press    Press
	Mill     Mill
	Bench    Bench
	Saw      nest.Saw
	Sheets   []Sheet
	Bucks    []Owned
	Supplies map[string]int // on the shelf, by the name of the supply
	Drawers  []string       // job folders whose printed pieces there are, as written
}

// Hours are those of a working day.
type Hours struct {
	Begins  float64 // minutes after midnight
	Minutes float64 // worked in a day
}

// Heat is what heats the sheets.
type Heat struct {
	Count int     // pairs that can be heated at once, each in a place of its own
	PerMM float64 // minutes for each mm of gauge
}

// Press is the step that forms a pair, until it can be taken out cold.
type Press struct {
	Count   int
	Minutes float64
	// What a change between two loads takes on a press: another buck, another gauge, another colour.
	Buck, Gauge, Colour float64
}

// Mill is what drills and trims.
type Mill struct {
	Count  int
	SetUp  float64 // to put a pair or a half on it and to take it off, for each program
	Hole   float64 // for each hole of a pair
	PerMM  float64 // for each mm along a trim line, both passes
	ByHand bool    // post holes are drilled at the bench
}

// Bench is the work by hand.
type Bench struct {
	Count  int // people at it
	Split  float64
	Post   float64 // for each post hole drilled by hand
	Finish float64 // of a sheath's edges and mouth
	Rivet  float64 // for each eyelet
}

// Sheet is a kind of stock sheet. The sheet was extruded along its height.
type Sheet struct {
	Colour string
	Gauge  float64
	nest.Stock
}

// Owned is a buck that is there already.
type Owned struct {
	Variant string // name
	Hand    measures.Hand
	Count   int
}

// sameGauge is by how much two gauges may differ and still be one, in mm: 2.4 is said of 0.093 in,
// which is 2.3622 mm (common practice, no source).
const sameGauge = 0.06

// Gauges are the gauges of a colour in stock, rising.
func (s *Shop) Gauges(colour string) []float64 {
	var all []float64
	for _, sheet := range s.Sheets {
		if sheet.Colour == colour && !slices.Contains(all, sheet.Gauge) {
			all = append(all, sheet.Gauge)
		}
	}
	slices.Sort(all)
	return all
}

// SameGauge tells whether two gauges, in mm, are meant to be one.
func SameGauge(a, b float64) bool { return math.Abs(a-b) <= sameGauge }

// Gauge is the gauge in stock that is meant by one in mm, the nearest; false where there is none.
func (s *Shop) Gauge(colour string, gauge float64) (float64, bool) {
	all := s.Gauges(colour)
	if len(all) == 0 {
		return 0, false
	}
	near := slices.MinFunc(all, func(a, b float64) int { return cmp.Compare(math.Abs(a-gauge), math.Abs(b-gauge)) })
	return near, SameGauge(near, gauge)
}

// Colours are the colours in stock, each once, in the order of the file.
func (s *Shop) Colours() []string {
	var all []string
	for _, sheet := range s.Sheets {
		if !slices.Contains(all, sheet.Colour) {
			all = append(all, sheet.Colour)
		}
	}
	return all
}

// KnowsColour says what is wrong with a colour, or "".
func (s *Shop) KnowsColour(colour string) string {
	if slices.Contains(s.Colours(), colour) {
		return ""
	}
	return fmt.Sprintf("no sheet of colour %q is in stock; there is %s", colour, listed(s.Colours()))
}

// stock are the sheets of one colour and gauge.
func (s *Shop) stock(colour string, gauge float64) []nest.Stock {
	var all []nest.Stock
	for _, sheet := range s.Sheets {
		if sheet.Colour == colour && sheet.Gauge == gauge {
			all = append(all, sheet.Stock)
		}
	}
	return all
}

// owned is how many bucks of a variant and hand there are.
func (s *Shop) owned(variant string, hand measures.Hand) int {
	for _, b := range s.Bucks {
		if b.Variant == variant && b.Hand == hand {
			return b.Count
		}
	}
	return 0
}

func listed(names []string) string {
	switch len(names) {
	case 0:
		return "none"
	case 1:
		return names[0]
	default:
		text := names[0]
		for _, name := range names[1 : len(names)-1] {
			text += ", " + name
		}
		return text + " and " + names[len(names)-1]
	}
}
