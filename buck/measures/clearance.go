package measures

import "math"

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
	return (h.SinkDiameter - h.Diameter) / (2 * TanDeg(h.SinkAngleDeg/2))
}
