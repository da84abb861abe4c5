package buck

import (
	"fmt"
	"math"
	"strings"

	"formbuck/buck/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// Screw is what the clip is screwed to the posts with.
type Screw struct {
	Diameter   float64 // of the thread
	Washer     float64 // thickness under the head; 0: none
	Lengths    string  // that are in stock, under the head, see ParseLengths
	PostHeight float64 // of the posts over the plate
}

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

// maxLengths is how many lengths may be named.
const maxLengths = 32

// ParseLengths reads lengths of screws, with commas between them, such as "3/16 in, 5 mm". The error says
// what is wrong.
func ParseLengths(text string) (lengths []float64, err error) {
	for part := range strings.SplitSeq(text, ",") {
		value, err := quantity.ParseLength(strings.TrimSpace(part))
		if err != nil {
			return nil, fmt.Errorf("%q is no length: %v", strings.TrimSpace(part), err)
		}
		l := quantity.Float(value)
		if !(l > 0) || l > 100 {
			return nil, fmt.Errorf("a screw %.4g mm long is not between 0 and 100 mm", l)
		}
		if lengths = append(lengths, l); len(lengths) > maxLengths {
			return nil, fmt.Errorf("more than %d lengths", maxLengths)
		}
	}
	return lengths, nil
}

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
func NewScrews(s Spec, room float64) (*Screws, error) {
	c := s.Screw
	lengths, err := ParseLengths(c.Lengths)
	if err != nil {
		return nil, fault("screw.lengths", "%v", err)
	}
	stack := s.Sheet.BossThickness + s.Clip.Thickness
	w := &Screws{Nip: stack - c.PostHeight}
	w.Least = w.Nip + c.Washer + inSteel*c.Diameter
	w.Most = w.Nip + c.Washer + c.PostHeight + s.Plate.Thickness + room
	longest := w.Nip + c.Washer + c.PostHeight + s.Plate.Thickness
	switch {
	case w.Nip <= 1e-9:
		return nil, fault("screw.post_height", "posts %.4g mm high stand out of sheet and clip, %.4g mm together, so that the clip rattles however tight the screw: at most %.4g mm",
			c.PostHeight, stack, stack-NipLeast)
	case w.Least > longest+1e-9:
		return nil, fault("screw.diameter", "a thread of %.4g mm wants as much steel, and post and plate are %.4g mm thick together",
			c.Diameter, c.PostHeight+s.Plate.Thickness)
	}
	for _, l := range lengths {
		if l >= w.Least-1e-9 && l <= w.Most+1e-9 {
			w.Fit = append(w.Fit, l)
		}
	}
	if len(w.Fit) == 0 {
		return nil, fault("screw.lengths", "no screw in stock fits: %.2f to %.2f mm under the head%s", w.Least, w.Most, w.washers(lengths, c.Washer))
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

// Clearance is the diameters of a hole that a screw passes, in mm.
type Clearance struct {
	Fine, Medium, Coarse float64
	Source               string
}

// clearances are those of the screws that a clip is likely to have, by the thread's diameter.
var clearances = []struct {
	thread float64
	Clearance
}{
	{2, Clearance{2.2, 2.4, 2.6, iso273}},
	{2.5, Clearance{2.7, 2.9, 3.1, iso273}},
	{3, Clearance{3.2, 3.4, 3.6, iso273}},
	{4, Clearance{4.3, 4.5, 4.8, iso273}},
	{5, Clearance{5.3, 5.5, 5.8, iso273}},
	{6, Clearance{6.4, 6.6, 7.0, iso273}},
	{8, Clearance{8.4, 9.0, 10.0, iso273}},
	{0.112 * 25.4, Clearance{3.0, 3.3, 3.7, asmeB1828}},
	{0.138 * 25.4, Clearance{3.9, 4.3, 4.7, asmeB1828}},
	{0.164 * 25.4, Clearance{4.6, 5.0, 5.4, asmeB1828}},
	{0.190 * 25.4, Clearance{5.2, 5.6, 6.0, asmeB1828}},
	{0.250 * 25.4, Clearance{6.7, 7.1, 7.5, asmeB1828}},
}

// Where the clearance holes come from.
const (
	iso273    = "ISO 273, as Machinery's Handbook 31 gives it for BS 4186:1967, p. 2173"
	asmeB1828 = "ASME B18.2.8, as Machinery's Handbook 31 gives it, p. 1741"
)

// ClearanceOf is the clearance hole of a thread's diameter in mm, where a standard names one.
func ClearanceOf(thread float64) (Clearance, bool) {
	for _, c := range clearances {
		if math.Abs(c.thread-thread) < 0.01 {
			return c.Clearance, true
		}
	}
	return Clearance{}, false
}

// Sink is the depth of a countersink of the head's diameter over a hole: (head - hole) / (2 tan(angle/2))
// (geometry of the cone); 0 where there is none.
func (h Hole) Sink() float64 {
	if h.SinkDiameter <= h.Diameter {
		return 0
	}
	return (h.SinkDiameter - h.Diameter) / (2 * tanDeg(h.SinkAngleDeg/2))
}
