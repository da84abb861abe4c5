package pieces

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// hanging is what the hooks over the spine ask for.
type hanging struct {
	hooks int
	run   float64 // mm of spine under a hook
	fall  float64 // mm by which the spine may fall under it
	apart float64 // mm between two hooks' beginnings, at the least
}

// hangings are tried in turn: the widest hooks first, and one alone only where the front keeps the template from turning.
// Common practice, no source.
var hangings = []hanging{
	{hooks: 2, run: 8, fall: 1.5, apart: 16},
	{hooks: 2, run: 5, fall: 2, apart: 10},
	{hooks: 1, run: 8, fall: 3},
	{hooks: 1, run: 5, fall: 2},
}

// Constants of what holds the locator; common practice, no source.
const (
	hookApart  = 1.5  // mm between a hook and a window
	steadyRun  = 10.0 // mm across the front that keep a template on one hook from turning
	stopRun    = 3.0  // mm of the front that take the template's weight by hand
	frontStep  = 0.5  // mm between the places where the front is looked at
	frontReach = 0.3  // mm beyond the gap within which the knife stands behind such a place
)

// hang finds places for the hooks on the spine, two of them as far apart as there are and no nearer than asked for, and lets the
// plate reach over them.
func (l *LocatorPiece) hang(apart float64) error {
	var fit []r2.Box
	for x := l.Plate.Min.X + 1; x+l.by.run < l.Plate.Max.X; x++ {
		if b, ok := l.hook(x); ok {
			fit = append(fit, b)
		}
	}
	if len(fit) == 0 || l.by.hooks > 1 && fit[len(fit)-1].Min.X-fit[0].Min.X < apart {
		if l.Knife.Spec.Blade.Edges > 1 {
			return measures.Faultf("locator.hook", "both sides of the blade are edges, and no hook goes over an edge")
		}
		return measures.Faultf("locator.hook", "the spine has no room for a hook beside the pieces that keeps a template steady")
	}
	if l.by.hooks == 1 {
		if l.across() < steadyRun {
			return measures.Faultf("locator.hook", "the spine has room for one hook beside the pieces, and the front that the template stops at is under %.0f mm wide", steadyRun)
		}
		fit = fit[len(fit)-1:]
	}
	l.Hooks = []r2.Box{fit[0], fit[len(fit)-1]}[:l.by.hooks]
	for _, h := range l.Hooks {
		l.Plate.Max.Y = max(l.Plate.Max.Y, h.Max.Y)
	}
	return nil
}

// hook is the hook that begins at x, if it can be there.
func (l *LocatorPiece) hook(x float64) (r2.Box, bool) {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range int(l.by.run) + 1 {
		_, y := l.Knife.Chord(x + float64(i))
		low, high = min(low, y), max(high, y)
	}
	b := r2.Box{Min: r2.Vec{X: x, Y: low - 1}, Max: r2.Vec{X: x + l.by.run, Y: high + l.Fit + l.Wall}}
	if back := l.Knife.Plan.Back; high-low > l.by.fall || len(back) > 0 && x+l.by.run+hookApart > back.Start().X {
		return b, false // the spine falls, or is an edge
	}
	for px := b.Min.X - hookApart; px <= b.Max.X+hookApart; px += 0.5 {
		for _, py := range []float64{b.Min.Y, (b.Min.Y + b.Max.Y) / 2, b.Max.Y} {
			if l.windowAt(r2.Vec{X: px, Y: py}) != nil || l.Knife.Handle.Holds(r2.Vec{X: px - 1, Y: py}) {
				return b, false
			}
		}
	}
	return b, true
}

// stop is a place of the plate's side that lies against the handle's front or the guard's.
type stop struct {
	y    float64
	back float64 // mm by which the knife, rounded off, has gone back from there at the plate's lower side
}

// stops are the places, in steps along y, at which the plate has the front behind it. A second part has none. Of a handle
// that is not drawn the front is taken straight across.
func (l *LocatorPiece) stops() (all []stop) {
	if l.Part > 0 {
		return nil
	}
	for y := l.Plate.Min.Y + frontStep/2; y < l.Plate.Max.Y; y += frontStep {
		p, met := l.against(y)
		if !met {
			continue
		}
		z := l.UnderZ
		switch l.At(p) {
		case NoLayer, HookLayer:
			continue
		case BridgeLayer:
			z = l.BridgeZ
		}
		if back, stands := l.Knife.goneBack(r2.Sub(p, r2.Vec{X: l.Fit + frontReach}), z); stands {
			all = append(all, stop{y, back})
		}
	}
	return all
}

// against is the place at a y just ahead of the handle by no more than the gap.
func (l *LocatorPiece) against(y float64) (r2.Vec, bool) {
	if len(l.Knife.Plan.Handle) == 0 {
		low, high := l.Knife.Chord(l.Plate.Min.X + frontStep)
		return r2.Vec{X: l.Plate.Min.X + 0.1, Y: y}, y > low && y < high
	}
	for x := l.Plate.Min.X + 0.1; x < l.Plate.Max.X; x += 0.1 {
		if p := (r2.Vec{X: x, Y: y}); l.At(p) != NoLayer && l.Knife.Handle.Holds(r2.Sub(p, r2.Vec{X: l.Fit + frontReach})) {
			return p, true
		}
	}
	return r2.Vec{}, false
}

// goneBack is by how much handle or guard at p of the front has gone back at the height z; false where it is no higher than
// that.
func (k *Buck) goneBack(p r2.Vec, z float64) (float64, bool) {
	if k.Guard.Holds(p) {
		return 0, z < k.Spec.Guard.Thickness/2
	}
	h := k.Spec.Handle
	over := z - (h.Thickness/2 - h.Rounding)
	if over <= 0 {
		return 0, true
	}
	return h.Rounding - math.Sqrt(max(h.Rounding*h.Rounding-over*over, 0)), over < h.Rounding
}

// across is how far apart the outermost places are at which the locator stops, in mm. A second part lies against the first
// over all its width.
func (l *LocatorPiece) across() float64 {
	if l.Part > 0 {
		return l.Plate.Size().Y
	}
	all := l.stops()
	if len(all) == 0 {
		return 0
	}
	return all[len(all)-1].y - all[0].y
}

// Late is by how much too near to the handle the locator lies because the front, rounded off, has gone back at the height at
// which it stops, in mm: where it is widest, over 3 mm of it. False where it stops at nothing.
func (l *LocatorPiece) Late() (float64, bool) {
	all := l.stops()
	if len(all) < int(stopRun/frontStep) {
		return 0, false
	}
	slices.SortFunc(all, func(a, b stop) int {
		switch {
		case a.back < b.back:
			return -1
		case a.back > b.back:
			return 1
		}
		return 0
	})
	return all[int(stopRun/frontStep)-1].back, true
}

// tooLate is how much too near is told of, mm: a tenth of the usual window's gap round its piece. Our own, no source.
const tooLate = 0.02

// Exact reports whether the locator lies where it should along the blade.
func (l *LocatorPiece) Exact() bool {
	late, stops := l.Late()
	return l.Part > 0 || stops && late <= tooLate
}

// Front is what a locator of one part stops at, in words.
func (l *LocatorPiece) Front() string {
	switch {
	case len(l.Knife.Plan.Guard) > 0:
		return "guard's front"
	case len(l.Knife.Plan.Handle) == 0:
		return "handle's front, which is not drawn"
	}
	return "handle's front"
}

// Stop says what the locator lies against along the blade, and what comes of it.
func (l *LocatorPiece) Stop() string {
	if l.Part > 0 {
		return fmt.Sprintf("lies against the other part at x %.1f mm, gap to it and to the knife %.3g mm", l.Plate.Min.X, l.Fit)
	}
	front := l.Front()
	said := fmt.Sprintf("stops at the %s, gap to the knife %.3g mm", front, l.Fit)
	late, stops := l.Late()
	switch {
	case !stops:
		return fmt.Sprintf("is stopped nowhere by the %s: hold its end at x %.1f mm", front, l.Plate.Min.X)
	case late > tooLate:
		return said + fmt.Sprintf("; rounded off there: pieces come %.2f mm too near to it", late)
	}
	return said
}

// Held says which hooks hold the locator across the blade.
func (l *LocatorPiece) Held() string {
	deep := l.UnderZ - l.HookZ
	if len(l.Hooks) == 1 {
		return fmt.Sprintf("one hook over the spine from x %.1f mm, %.3g mm deep; press it against the front, so that it does not turn", l.Hooks[0].Min.X, deep)
	}
	return fmt.Sprintf("hooks over the spine from x %.1f and %.1f mm, %.3g mm deep", l.Hooks[0].Min.X, l.Hooks[1].Min.X, deep)
}
