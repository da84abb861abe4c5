package pieces

import (
	"math"
	"slices"

	"formbuck/buck/knives"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// LocatorPiece is the locator of the right face; the left face's is its mirror, but for the text. It is a
// plate that lies on the blade's flat and stops at the handle's front, with two hooks over the spine, or one,
// and a window for each piece of the face: the piece's outline in the plan grown by the clearance. It is
// lowered over the pieces while their glue is wet and pressed against spine and handle, the second of two parts
// against spine and first part. Along the handle's front, where ramps begin, it goes on over them as a bridge.
type LocatorPiece struct {
	Knife        *Buck
	Part, Parts  int    // of one or of two: 0 begins at the handle
	Plate        r2.Box // in the plan, before windows and handle are taken out
	UnderZ, TopZ float64
	HookZ        float64 // lower end of the hooks
	BridgeZ      float64 // lower side of the bridge over the ramps
	Wall         float64
	Hooks        []r2.Box // in the plan; the grown outline of the knife is taken out
	Windows      []*Window
	Clearance    float64
	Fit          float64
	Letters      [][]r2.Vec // engraved, in the plan
	TextDepth    float64

	handle knives.Patch
	letter []knives.Patch
	by     hanging
}

// Window is where a piece goes through the plate.
type Window struct {
	Piece string
	Foot  []r2.Vec // the piece's outline in the plan
	Under bool     // the bridge goes over the piece

	in   knives.Patch
	near *profile.Near
}

// Constants of the locator; common practice, no source.
const (
	frame     = 4.0 // mm of plate beside a window, towards edge and spine, and of bridge before the handle
	bridgeGap = 0.2 // mm between the bridge and the ramps
	prong     = 5.0 // mm by which the plate passes the drain's inner end
)

// newWindow is a window for a piece with the foot line.
func newWindow(piece string, foot []r2.Vec) *Window {
	const same = 1e-4 // mm
	foot = slices.CompactFunc(foot, func(a, b r2.Vec) bool { return r2.Norm(r2.Sub(a, b)) < same })
	if last := len(foot) - 1; r2.Norm(r2.Sub(foot[0], foot[last])) < same {
		foot = foot[:last]
	}
	w := &Window{Piece: piece, Foot: foot, in: knives.NewPatch(foot)}
	var sides profile.Path
	for i, p := range foot {
		sides = append(sides, profile.Segment{A: p, B: foot[(i+1)%len(foot)]})
	}
	w.near = profile.NewNear(sides)
	return w
}

// Distance is how far p lies outside the piece's outline, in mm; negative within.
func (w *Window) Distance(p r2.Vec) float64 {
	_, far := w.near.Nearest(p)
	if w.in.Holds(p) {
		return -far
	}
	return far
}

// name is the boss's name among the pieces of its face.
func (s *StandoffPiece) name() string {
	if s.Name == "" {
		return "standoff"
	}
	return "standoff-" + s.Name
}

// name is the ramp's name among those of its knife.
func (r *RampPiece) name() string {
	name := "ramp"
	if r.Grip {
		name = "filler"
	}
	if r.Side == "edge" {
		return name
	}
	return name + "-" + r.Side
}

// highest is the greatest height of the ramp's surface.
func (r *RampPiece) highest() float64 {
	top := 0.0
	for x := r.Head.Min.X; x <= r.Head.Max.X; x += footStep {
		for y := r.Head.Min.Y; y <= r.Head.Max.Y; y += footStep {
			if p := r.Blade(r2.Vec{X: x, Y: y}); r.BaseAt(p) != NoBase {
				top = max(top, r.Surface(p))
			}
		}
	}
	return top
}

// boxOf is the box of points.
func boxOf(points []r2.Vec) r2.Box {
	box := r2.Box{Min: points[0], Max: points[0]}
	for _, p := range points {
		box.Min = r2.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y)}
		box.Max = r2.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y)}
	}
	return box
}

// front is the least x of the handle's front beside the plate: nothing of the plate goes on beside the
// handle but what a slanted or hollow front leaves.
func (l *LocatorPiece) front() float64 {
	least := l.Knife.Plan.HandleFront
	for y := l.Plate.Min.Y; y <= l.Plate.Max.Y; y += 1 {
		x, met := math.Inf(-1), false
		for _, s := range l.handle.Sides {
			if (s.A.Y > y) == (s.B.Y > y) {
				continue
			}
			x, met = max(x, s.A.X+(y-s.A.Y)/(s.B.Y-s.A.Y)*(s.B.X-s.A.X)), true
		}
		if met {
			least = min(least, x)
		}
	}
	return max(least, l.Knife.Plan.HandleFront-10)
}

// windowAt is the window that p is in, or nil: of two the one that the bridge does not go over.
func (l *LocatorPiece) windowAt(p r2.Vec) *Window {
	var in *Window
	for _, w := range l.Windows {
		if w.Distance(p) < l.Clearance && (in == nil || in.Under) {
			in = w
		}
	}
	return in
}

// Bridge is the strip along the handle's front in which the plate goes on over the ramps.
func (l *LocatorPiece) Bridge() r2.Box {
	b := l.Plate
	b.Max.X = l.Knife.Plan.HandleFront + frame
	return b
}

func inside(b r2.Box, p r2.Vec) bool {
	return p.X > b.Min.X && p.X < b.Max.X && p.Y > b.Min.Y && p.Y < b.Max.Y
}

// Layer is what the locator is over a point of the plan.
type Layer int

// The layers.
const (
	NoLayer Layer = iota
	PlateLayer
	EngravedLayer
	HookLayer
	BridgeLayer
)

// At is the layer over p.
func (l *LocatorPiece) At(p r2.Vec) Layer {
	if !inside(l.Plate, p) || l.handle.Holds(p) {
		return NoLayer
	}
	if distance(&l.Knife.HandleRim, p) < l.Fit {
		return NoLayer
	}
	if w := l.windowAt(p); w != nil {
		if w.Under && inside(l.Bridge(), p) {
			return BridgeLayer
		}
		return NoLayer
	}
	for _, h := range l.Hooks {
		if inside(h, p) && !l.Knife.Outline.Holds(p) && distance(&l.Knife.Rim, p) >= l.Fit {
			return HookLayer
		}
	}
	in := false
	for _, c := range l.letter {
		in = in != c.Holds(p)
	}
	if in {
		return EngravedLayer
	}
	return PlateLayer
}

// Engrave cuts letters into the plate's outer face.
func (l *LocatorPiece) Engrave(letters [][]r2.Vec, depth float64) {
	l.Letters, l.TextDepth, l.letter = letters, depth, nil
	for _, c := range letters {
		l.letter = append(l.letter, knives.NewPatch(c))
	}
}

// Room finds the middle of a free rectangle of the size on the plate, the one nearest to its tip end, with
// a margin round it. It may have none.
func (l *LocatorPiece) Room(size r2.Vec, margin float64) (r2.Vec, bool) {
	return newRoom(l.Plate, func(p r2.Vec) bool { return l.At(p) == PlateLayer }).find(size, margin, true)
}

// Widen moves the plate's side beyond the spine outwards.
func (l *LocatorPiece) Widen(by float64) { l.Plate.Max.Y += by }
