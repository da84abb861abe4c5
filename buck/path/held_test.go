package path_test

import (
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/path"
)

// TestHeld works the demos' hold out again by hand from what the report tells of the lock and of the
// knife: 2 F (mu + tan a) / (1 - mu tan a) for the least and the most friction, over the weight in N.
func TestHeld(t *testing.T) {
	for _, name := range bucktest.Demos() {
		r := path.NewReport(demo(t, name, measures.Right, nil), path.Options{}) // as draw does
		h := r.Held
		if !h.Known || h.Grams[0] < 40 || h.Grams[1] > 400 || h.Grams[0] >= h.Grams[1] {
			t.Errorf("%s weighs %v g", name, h.Grams)
		}
		if r.Lock == nil {
			if h.Lock != [2]float64{} || !strings.HasPrefix(h.String(), "holds the knife by friction alone") {
				t.Errorf("%s: no lock, and %v: %s", name, h.Lock, h)
			}
			continue
		}
		a := r.Lock.Slope
		low := 2 * r.Lock.Force.Pinned * (0.2 + a) / (1 - 0.2*a)
		high := 2 * r.Lock.Force.Clamped * (0.4 + a) / (1 - 0.4*a)
		near(t, name+": least", h.Lock[0], low, 1e-9)
		near(t, name+": most", h.Lock[1], high, 1e-9)
		times := h.Times()
		near(t, name+": times", times[0], low/(h.Grams[1]*9.80665e-3), 1e-9)
		if times[0] < 2.95 || times[1] < times[0] || math.IsInf(times[1], 1) || h.Warning() != "" {
			t.Errorf("%s holds %v times its weight: %q", name, times, h.Warning())
		}
	}
}

// TestHeldSaid: what is said of a lock, of a lock that may not hold, of one that locks by itself, and
// of a knife that is not drawn in full.
func TestHeldSaid(t *testing.T) {
	for _, tt := range []struct {
		h          path.Held
		says, warn string
	}{
		{path.Held{Grams: [2]float64{100, 200}, Known: true, Lock: [2]float64{6, 20}}, "holds about 3 to 20 times the knife's weight", ""},
		{path.Held{Grams: [2]float64{100, 200}, Known: true, Lock: [2]float64{1, 20}}, "holds about 0.5 to 20 ", "it may fall out"},
		{path.Held{Grams: [2]float64{100, 200}, Known: true, Lock: [2]float64{6, math.Inf(1)}}, "holds about 3 times the knife's weight and more", ""},
		{path.Held{Grams: [2]float64{100, 200}, Lock: [2]float64{6, 20}}, "holds with 6.0 N and more; the knife's weight is not known", ""},
		{path.Held{Grams: [2]float64{100, 200}, Known: true, Grip: [2]float64{0, 0.5}}, "at first up to 0.5 times its weight", ""},
		{path.Held{Grams: [2]float64{100, 200}, Known: true}, "holds the knife by friction alone", ""},
	} {
		if got := tt.h.String(); !strings.Contains(got, tt.says) {
			t.Errorf("%q, want %q", got, tt.says)
		}
		if got := tt.h.Warning(); (got == "") != (tt.warn == "") || !strings.Contains(got, tt.warn) {
			t.Errorf("warning %q, want %q", got, tt.warn)
		}
	}
}
