package path

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// What a sheath should hold, and what friction may be.
const (
	enough     = 3.0     // times the knife's weight, upside down, at the least; common practice, no source
	leastGrips = 0.2     // friction of the sheet on steel; from memory
	mostGrips  = 0.4     // and at the most; from memory
	gravity    = 9.80665 // m/s2, ISO 80000-3
)

// Held is what holds the knife upside down, each from the least to the most that it may be.
type Held struct {
	Grams [2]float64 // of the knife, without a handle that is not drawn
	Known bool       // all of the knife is drawn
	Lock  [2]float64 // N; +Inf: it locks by itself
	Grip  [2]float64 // N, of a handle that the sheet shrank on to; in time that creeps away to nothing
}

// Times is how many times its own weight the knife is held with.
func (h Held) Times() [2]float64 {
	newtons := func(g float64) float64 { return g / 1000 * gravity }
	return [2]float64{(h.Lock[0] + h.Grip[0]) / newtons(h.Grams[1]), (h.Lock[1] + h.Grip[1]) / newtons(h.Grams[0])}
}

// held works out what holds. The lock is that of the report, with the friction that is least and most
// and its ends pinned and clamped. The handle's grip is that of both halves, which the sheet's shrink
// makes too low for it, over as far as they lap over it.
func (r *Report) held() Held {
	s, k := r.With, r.With.Buck.Knife
	var h Held
	h.Grams[0], h.Grams[1], h.Known = k.Mass()
	m := s.material()
	if l := r.Lock; l != nil {
		m.Friction = leastGrips
		h.Lock[0] = m.Draw(l.Force, l.Slope).Pinned
		m.Friction = mostGrips
		h.Lock[1] = m.Draw(l.Force, l.Slope).Clamped
	}
	mouth := (k.Plan.ThroatEdge.X + k.Plan.ThroatSpine.X) / 2
	if lap := k.Plan.HandleFront - mouth; lap > 0 {
		at := r2.Vec{X: mouth + lap/2, Y: (k.Plan.ThroatEdge.Y + k.Plan.ThroatSpine.Y) / 2}
		strip := s.strip(at, lap)
		strip.Along = lap
		h.Grip[1] = 2 * mostGrips * m.Force(strip, m.Shrink*k.Half(at)).Clamped
	}
	return h
}

// String says how well the sheath holds, after "the sheath".
func (h Held) String() string {
	least, most := rough(h.Times()[0]), rough(h.Times()[1])
	switch {
	case !h.Known && h.Lock[0] > 0:
		return fmt.Sprintf("holds with %.1f N and more; the knife's weight is not known, for its handle is not drawn", h.Lock[0])
	case h.Lock[0] == 0 && (!h.Known || most < 0.05):
		return "holds the knife by friction alone"
	case h.Lock[0] == 0:
		return fmt.Sprintf("holds the knife by friction alone: at first up to %g times its weight, by the handle's grip, which creeps away", most)
	case math.IsInf(most, 1):
		return fmt.Sprintf("holds about %g times the knife's weight and more, upside down", least)
	}
	return fmt.Sprintf("holds about %g to %g times the knife's weight, upside down", least, most)
}

// rough rounds to one figure: no more is known of what holds, and the maps that it is worked out on
// are of one fineness here and of another there.
func rough(x float64) float64 {
	if x <= 0 || math.IsInf(x, 1) {
		return x
	}
	digit := math.Floor(math.Log10(x))
	if digit < 0 { // a power of ten is exact this way round
		return math.Round(x*math.Pow(10, -digit)) / math.Pow(10, -digit)
	}
	return math.Round(x/math.Pow(10, digit)) * math.Pow(10, digit)
}

// row is the answer as it is told.
func (h Held) row() Row {
	found := h.String()
	if h.Known {
		found += fmt.Sprintf("; it weighs %.0f to %.0f g, as handle and tang are: weigh yours", h.Grams[0], h.Grams[1])
	}
	return Row{"the sheath", found, fmt.Sprintf("%.0f times and more", enough)}
}

// Warning is said where a lock may not hold the knife's own weight; "" where it does, and where none
// was asked for, which the answer itself tells.
func (h Held) Warning() string {
	if !h.Known || h.Lock[0] == 0 || h.Times()[0] >= 1 {
		return ""
	}
	return fmt.Sprintf("the lock holds %.1f times the knife's weight at the least: it may fall out upside down; "+
		"more ramp.lock or a heavier sheet.thickness holds more", h.Times()[0])
}
