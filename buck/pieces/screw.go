package pieces

import (
	"fmt"
	"math"

	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// Screws is how long a screw may be and which of those in stock fit. Lengths are under the head, in mm.
type Screws struct {
	Nip         float64 // by which sheet and clip are thicker than the posts stand high: what the screw draws together
	Least, Most float64
	Fit         []float64
}

// Bounds of the nip in mm that are usual (common practice, no source).
const (
	NipLeast = 0.2
	NipMost  = 0.5
)

// inSteel is how many diameters of thread a screw wants in steel; common practice, no source.
const inSteel = 1.0

// Room is how far a screw may stand out of the plate's lower face, in mm: as far as what of the knife passes under its posts
// leaves, less the clearance that the plate keeps from the blade.
func (s *StandoffPiece) Room() float64 {
	k, passes := s.Knife, 0.0
	draw, _, _ := k.Ramps()
	const round, rings = 16, 2
	for _, side := range []float64{-0.5, 0.5} {
		post := s.Top.At(r2.Vec{X: side * s.Plate.PostSpacing})
		for i := range round * (rings + 1) {
			sin, cos := math.Sincos(2 * math.Pi * float64(i%round) / round)
			r := k.Spec.Screw.Diameter / 2 * float64(i/round) / rings
			passes = max(passes, draw.Envelope.at(draw.turned(r2.Add(post, r2.Vec{X: r * cos, Y: r * sin}))))
		}
	}
	return max(0, s.TopZ-s.Plate.Thickness-passes-k.Spec.Standoff.Clearance)
}

// Screws works out how long the screws of the boss may be: long enough to have a diameter of thread in the steel, and no
// longer than to what passes under the plate. A post is threaded right through. The error is a Fault where no screw in stock
// fits, or none could.
func (s *StandoffPiece) Screws() (*Screws, error) {
	spec := s.Knife.Spec
	spec.Plate = s.Plate
	return NewScrews(spec, s.Room())
}

// NewScrews is the same for the first plate, where a screw may stand out of its lower face by the room, in mm.
func NewScrews(s measures.Spec, room float64) (*Screws, error) {
	c := s.Screw
	lengths, err := measures.ParseLengths(c.Lengths)
	if err != nil {
		return nil, measures.Faultf("screw.lengths", "%v", err)
	}
	stack := s.Sheet.BossThickness + s.Clip.Thickness
	w := &Screws{Nip: stack - c.PostHeight}
	w.Least = w.Nip + c.Washer + inSteel*c.Diameter
	w.Most = w.Nip + c.Washer + c.PostHeight + s.Plate.Thickness + room
	longest := w.Nip + c.Washer + c.PostHeight + s.Plate.Thickness
	switch {
	case w.Nip <= 1e-9:
		return nil, measures.Faultf("screw.post_height", "posts %.4g mm high stand out of sheet and clip, %.4g mm together, so that the clip rattles however tight the screw: at most %.4g mm",
			c.PostHeight, stack, stack-NipLeast)
	case w.Least > longest+1e-9:
		return nil, measures.Faultf("screw.diameter", "a thread of %.4g mm wants as much steel, and post and plate are %.4g mm thick together",
			c.Diameter, c.PostHeight+s.Plate.Thickness)
	}
	for _, l := range lengths {
		if l >= w.Least-1e-9 && l <= w.Most+1e-9 {
			w.Fit = append(w.Fit, l)
		}
	}
	if len(w.Fit) == 0 {
		return nil, measures.Faultf("screw.lengths", "no screw in stock fits: %.2f to %.2f mm under the head%s", w.Least, w.Most, w.washers(lengths, c.Washer))
	}
	return w, nil
}

// washers says which washers would make the shortest of too long screws fit.
func (w *Screws) washers(lengths []float64, has float64) string {
	best := math.Inf(1)
	for _, l := range lengths {
		if l > w.Most {
			best = min(best, l)
		}
	}
	if math.IsInf(best, 1) {
		return ""
	}
	return fmt.Sprintf("; one of %.4g mm reaches %.2f mm too far, into the blade's way, and fits with washers of %.2f to %.2f mm",
		best, best-w.Most, has+best-w.Most, has+best-w.Least)
}
