package bench

import (
	"fmt"
	"math"
	"strings"
)

// Item is what there is to buy for one sheath.
type Item struct {
	Supply string // what a batch counts it as: "eyelet", "plate", "screw", "clip"; "washer"
	Count  int
	What   string // by which it is bought, with its sizes
}

// String is the item with its count.
func (i Item) String() string { return i.Times(1) }

// Times is the item for so many sheaths.
func (i Item) Times(n int) string {
	name := i.Supply
	if n *= i.Count; n != 1 {
		name += "s"
	}
	if n == 0 { // how many is not known
		return name + ": " + i.What
	}
	return fmt.Sprintf("%d %s: %s", n, name, i.What)
}

// What an eyelet has to be, mm.
const (
	// Its barrel is so much thinner than its hole: 0.010 to 0.015 in, as makers of rivets advise (source: a rivet maker's public
	// answers on holes, read in an excerpt).
	leastPlay = 0.25
	mostPlay  = 0.38 // source: the same
	// What of a thin barrel stands over the stack and rolls over; common practice, no source. Semi-tubular rivets, thicker in
	// the wall, take half of their diameter and more (their makers' guides).
	leastRoll = 1.5
	mostRoll  = 2.5 // common practice, no source
)

// Hardware is what there is to buy for one sheath, in the order in which it goes on. Without a layout it holds no eyelets'
// count.
func (j Job) Hardware() []Item {
	var all []Item
	for _, p := range j.Bosses {
		all = append(all, Item{"plate", j.Faces, fmt.Sprintf("steel, %.4g x %.4g x %.4g mm, ends round; two posts %s apart, Ø %s, %s high over it, threaded %s",
			p.Length, p.Width, p.Thickness, mm(p.PostSpacing), mm(p.PostDiameter), mm(j.Spec.Screw.PostHeight), thread(j.Spec.Screw.Diameter))})
	}
	if n := j.Faces * len(j.Bosses); n > 0 {
		c := j.Spec.Clip
		all = append(all,
			Item{"clip", n, fmt.Sprintf("no longer than %.4g mm and no wider than %.4g mm, %s thick where its screws go through", c.Length, c.Width, mm(c.Thickness))},
			Item{"screw", 2 * n, "thread " + thread(j.Spec.Screw.Diameter) + ", " + j.screwLengths()})
		if w := j.Spec.Screw.Washer; w > 0 {
			all = append(all, Item{"washer", 2 * n, fmt.Sprintf("%s thick, under the screws' heads", mm(w))})
		}
	}
	return append(all, j.eyelets())
}

// eyelets are the sheath's.
func (j Job) eyelets() Item {
	e, stack := j.Spec.Eyelet, 2*j.Spec.Sheet.Thickness
	one := Item{Supply: "eyelet", What: fmt.Sprintf("barrel Ø %s for holes of %s, %s long under the flange (two sheets and %.4g to %.4g mm to roll over: common practice, no source); flange Ø %s, setting die Ø %s",
		between(e.Hole-mostPlay, e.Hole-leastPlay), mm(e.Hole), between(stack+leastRoll, stack+mostRoll), leastRoll, mostRoll, mm(e.Flange), mm(e.Die))}
	if j.Sheath != nil {
		one.Count = len(j.Sheath.Eyelets)
	}
	return one
}

func between(low, high float64) string {
	return fmt.Sprintf("%.4g to %.4g mm", math.Round(10*low)/10, math.Round(10*high)/10)
}

// screwLengths says how long the screws are under the head: those of the stock that fit.
func (j Job) screwLengths() string {
	if j.Sheath == nil || j.Sheath.Screws == nil {
		return "length as the layout says"
	}
	w := j.Sheath.Screws
	var fit []string
	for _, l := range w.Fit {
		fit = append(fit, length(l))
	}
	return fmt.Sprintf("%s under the head (%.2f to %.2f mm will do)", strings.Join(fit, " or "), w.Least, w.Most)
}

// length is a length in mm, and in fractions of an inch where it is one.
func length(v float64) string {
	const part = 25.4 / 32 // the inch is 25.4 mm (ISO 80000-3); 32 parts of it are what screws are sold by: common practice, no source
	n := math.Round(v / part)
	if math.Abs(v-n*part) > 1e-3 || n >= 64 {
		return mm(v)
	}
	of := 32.0
	for math.Mod(n, 2) == 0 && of > 1 {
		n, of = n/2, of/2
	}
	if of == 1 {
		return fmt.Sprintf("%s (%.0f in)", mm(v), n)
	}
	return fmt.Sprintf("%s (%.0f/%.0f in)", mm(v), n, of)
}

// threads are the usual ones by their diameters: ISO 261 coarse, and ASME B1.1 coarse, from memory.
var threads = []struct {
	diameter float64
	name     string
}{
	{2.5, "M2.5 x 0.45"},
	{3, "M3 x 0.5"},
	{4, "M4 x 0.7"},
	{5, "M5 x 0.8"},
	{6, "M6 x 1"},
	{0.112 * 25.4, "4-40 UNC"},
	{0.138 * 25.4, "6-32 UNC"},
	{0.164 * 25.4, "8-32 UNC"},
	{0.190 * 25.4, "10-24 UNC"},
	{0.25 * 25.4, "1/4-20 UNC"},
}

// thread names the thread of a diameter.
func thread(diameter float64) string {
	for _, t := range threads {
		if math.Abs(t.diameter-diameter) < 5e-3 {
			return fmt.Sprintf("%s (Ø %s)", t.name, mm(diameter))
		}
	}
	return "Ø " + mm(diameter)
}
