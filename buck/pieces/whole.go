package pieces

import (
	"math"
	"slices"

	"formbuck/buck/knives"
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// WholePiece is knife and pieces in one body, for one who has no knife to spare. Nothing is between them,
// neither glue nor tape. Beside the blade the boss's walls go down to the middle plane.
type WholePiece struct {
	Knife    *Buck
	Bosses   map[measures.Face][]*StandoffPiece // of each face that has any
	Ramps    map[measures.Face][]*RampPiece     // of each face
	Drain    *DrainPiece
	From, To float64 // its ends along x
	Cut      float64 // x of the cut, if it is cut
	Parts    int     // 1 or 2
	Pins     []Pin
}

// Pin is a hole for a pin along x, on the middle plane, as deep on either side of the cut. It is square, so that
// nothing of it droops in print; a round pin touches its four sides.
type Pin struct {
	Y, Radius, Depth float64 // Radius: half its width
}

// Constants of the cut; common practice, no source.
const (
	cutBack = 25  // mm behind the handle's front, where there is choice
	pinWall = 1.6 // least wall round a pin's hole, mm: four beads of a 0.4 mm nozzle
)

// NewWhole joins the knife with the pieces for the faces that carry the bosses. Its errors are Faults.
func NewWhole(bosses []*StandoffPiece, ramps *Ramps, d *DrainPiece, faces []measures.Face) (*WholePiece, error) {
	k := d.Knife
	w := &WholePiece{Knife: k, Bosses: make(map[measures.Face][]*StandoffPiece), Ramps: make(map[measures.Face][]*RampPiece), Drain: d, Parts: 1}
	for _, f := range faces {
		for _, s := range bosses {
			on := *s
			on.Gap, on.Chamfer, on.Flat = 0, 0, false
			w.Bosses[f] = append(w.Bosses[f], &on)
		}
	}
	for _, f := range measures.BothFaces() {
		for _, r := range ramps.On(slices.Contains(faces, f)) {
			on := *r
			on.Gap, on.Fit = 0, 0
			w.Ramps[f] = append(w.Ramps[f], &on)
		}
	}
	b := boxOf(k.Plan.Outline.Flatten(knives.OutlineTolerance))
	w.From, w.To = b.Min.X, max(b.Max.X, boxOf(d.FootLine()).Max.X)
	return w, w.cut()
}

// cut finds where a body that is too long for the bed is cut: in the handle, where it is thick, and both parts
// fit.
func (w *WholePiece) cut() error {
	m := w.Knife.Spec.Whole
	if w.To-w.From <= m.Bed {
		return nil
	}
	low, high := w.To-m.Bed, w.From+m.Bed
	if low > high {
		return measures.Faultf("whole.bed", "%.1f mm are too long for two parts of %.4g mm", w.To-w.From, m.Bed)
	}
	w.Parts = 2
	w.Cut = min(max(w.Knife.Plan.HandleFront-cutBack, low), high)
	bottom, top := w.Knife.Chord(w.Cut)
	r := m.Pin/2 + m.PinFit
	for _, share := range []float64{0.3, 0.7} {
		p := Pin{Y: bottom + share*(top-bottom), Radius: r, Depth: m.PinDepth}
		for _, dx := range []float64{-p.Depth, 0, p.Depth} {
			for _, dy := range []float64{-r - pinWall, 0, r + pinWall} {
				at := r2.Vec{X: w.Cut + dx, Y: p.Y + dy}
				need := r + pinWall
				if dy != 0 {
					need = 0.5
				}
				if w.Knife.Half(at) < need {
					return measures.FaultAtf("whole.pin", at, "a pin %.4g mm thick leaves no wall of %.4g mm round its hole", m.Pin, pinWall)
				}
			}
		}
		w.Pins = append(w.Pins, p)
	}
	return nil
}

// Height is the body's height at p on a face; 0 or less where there is none.
func (w *WholePiece) Height(f measures.Face, p r2.Vec) float64 {
	z := w.Knife.Half(p)
	for _, s := range w.Bosses[f] {
		z = max(z, s.Plane(p))
	}
	for _, r := range w.Ramps[f] {
		if r.BaseAt(p) != NoBase {
			z = max(z, r.Surface(p))
		}
	}
	if w.Drain.Holds(p) {
		z = max(z, w.Drain.Half(p))
	}
	return z
}

// Holds tells whether p lies within the plug's outline in the plan, slit or not.
func (d *DrainPiece) Holds(p r2.Vec) bool {
	q := d.Local(p)
	return q.X > d.From && q.X < d.To && math.Abs(q.Y) < d.RadiusAt(q.X)
}
