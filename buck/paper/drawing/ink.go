package drawing

import (
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// How far letters reach over and below their base line, in sizes; measured on the fonts' brackets.
const (
	ascent  = 0.78
	descent = 0.22
)

// box is what an item covers.
func (it item) box() r2.Box {
	if it.text == "" {
		b, half := bounds(it.paths), 0.0
		if it.pen != nil {
			half = it.pen.width() / 2
		}
		return r2.Box{Min: r2.Vec{X: b.Min.X - half, Y: b.Min.Y - half}, Max: r2.Vec{X: b.Max.X + half, Y: b.Max.Y + half}}
	}
	t := it.type_
	length := Width(t, it.text)
	box := nothing()
	for _, x := range []float64{-t.Align.shift() * length, (1 - t.Align.shift()) * length} {
		for _, y := range []float64{-descent * t.size(), ascent * t.size()} {
			p := r2.Add(it.at, r2.Rotate(r2.Vec{X: x, Y: y}, t.TurnDeg*math.Pi/180, r2.Vec{}))
			box = around(box, r2.Box{Min: p, Max: p})
		}
	}
	return box
}

// ground is a white area under a text, a little larger than its letters.
func (it item) ground() item {
	const low, high, beside = 0.24, 0.80, 0.12 // below and over its line and beside it, in sizes: letters without a deep foot
	t := it.type_
	long := Width(t, it.text)
	from, to := -t.Align.shift()*long-beside*t.size(), (1-t.Align.shift())*long+beside*t.size()
	var corners []r2.Vec
	for _, q := range []r2.Vec{{X: from, Y: -low * t.size()}, {X: to, Y: -low * t.size()}, {X: to, Y: high * t.size()}, {X: from, Y: high * t.size()}} {
		corners = append(corners, r2.Add(it.at, r2.Rotate(q, t.TurnDeg*math.Pi/180, r2.Vec{})))
	}
	return item{paths: []profile.Path{profile.Polygon(corners...)}, fill: White, filled: true}
}

// shown are the items in the order in which they are drawn: texts that are to be clear of all else come last, each on its own
// ground.
func (d *Drawing) shown() []item {
	var all, last []item
	for _, it := range d.items {
		if it.text != "" && it.type_.Clear {
			last = append(last, it.ground(), it)
		} else {
			all = append(all, it)
		}
	}
	return append(all, last...)
}

// moved is the item at another place.
func (it item) moved(by r2.Vec) item {
	it.at = r2.Add(it.at, by)
	paths := make([]profile.Path, len(it.paths))
	for i, p := range it.paths {
		paths[i] = Placed(p, 0, by)
	}
	it.paths = paths
	return it
}

// inked is the box of all that items cover; false: there is nothing.
func inked(items []item) (r2.Box, bool) {
	box := nothing()
	for _, it := range items {
		box = around(box, it.box())
	}
	return box, box.Min.X <= box.Max.X
}

// nothing is the box of no point at all.
func nothing() r2.Box {
	return r2.Box{Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
}

// around is the box round two boxes.
func around(a, b r2.Box) r2.Box {
	return r2.Box{
		Min: r2.Vec{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		Max: r2.Vec{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)},
	}
}

// bounds is the box of paths.
func bounds(paths []profile.Path) r2.Box {
	box := nothing()
	for _, p := range paths {
		if len(p) > 0 {
			box = around(box, p.Bounds())
		}
	}
	return box
}

// Ink is the box of all that is drawn, in mm; that of the paper where nothing is.
func (d *Drawing) Ink() r2.Box {
	if box, ok := inked(d.items); ok {
		return box
	}
	return r2.Box{Max: d.Size}
}

// Fitted is the drawing on a paper that leaves so much room round all that is drawn.
func (d *Drawing) Fitted(room float64) *Drawing {
	box := d.Ink()
	fitted := New(d.Title, r2.Add(box.Size(), r2.Vec{X: 2 * room, Y: 2 * room}))
	fitted.apart = d.apart
	for _, it := range d.items {
		fitted.items = append(fitted.items, it.moved(r2.Sub(r2.Vec{X: room, Y: room}, box.Min)))
	}
	return fitted
}

// Scaled is the drawing made larger or smaller, to be looked at: its texts with it, its lines as wide as they are.
func (d *Drawing) Scaled(by float64) *Drawing {
	scaled := New(d.Title, r2.Scale(by, d.Size))
	scaled.apart = d.apart
	for _, it := range d.items {
		paths := make([]profile.Path, len(it.paths))
		for i, path := range it.paths {
			paths[i] = make(profile.Path, len(path))
			for k, s := range path {
				paths[i][k] = profile.Segment{A: r2.Scale(by, s.A), B: r2.Scale(by, s.B), Bulge: s.Bulge}
			}
		}
		it.paths, it.at, it.type_.Size = paths, r2.Scale(by, it.at), by*it.type_.size()
		scaled.items = append(scaled.items, it)
	}
	return scaled
}
