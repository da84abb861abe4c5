package drape

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, off float64) {
	t.Helper()
	if !(math.Abs(got-want) <= off) {
		t.Errorf("%s: %.9g, want %.9g", what, got, want)
	}
}

// TestCorner: in plane strain a corner fills by a power of its radius, dt/t = (2 tan(psi/2)/psi - 1)
// dR/R, whose exponents are worked out apart; the figures of a boss 8.6 mm and 4 mm high by hand.
func TestCorner(t *testing.T) {
	for draft, k := range map[float64]float64{0: 0.27324, 3: 0.24992, 5: 0.23534, 10: 0.20192} {
		w := Wall{Height: 8.6, DraftDeg: draft, Ring: 20, Foot: 4}
		s := w.Formed(4000)
		near(t, "exponent", math.Log(s.Foot/s.Drawn)/math.Log(4/w.widest()), k, 1e-5)
	}
	for _, c := range []struct{ high, ring, gauge, drawn, foot float64 }{
		{8.6, 15, 2, 1.5069, 1.2225},
		{8.6, 20, 2, 1.6059, 1.3028},
		{8.6, 15, 2.3622, 1.7798, 1.5110},
		{4, 15, 2, 1.7358, 1.7358}, // no radius is left to fill
	} {
		s := Wall{Height: c.high, Ring: c.ring, Foot: 2 * c.gauge}.Formed(4000)
		near(t, "drawn", c.gauge*s.Drawn, c.drawn, 5e-5)
		near(t, "foot", c.gauge*s.Foot, c.foot, 5e-5)
	}
}

// TestCone: the same steps lay a bubble into a cone as thick as the closed form for it, h/h0 = (1 +
// cos a)/2 (1 - S sin a/H)^(1/cos a - 1) (Crawford, Plastics Engineering, from memory; university
// course notes on the theory of thermoforming for its differential form).
func TestCone(t *testing.T) {
	for _, c := range []struct {
		deg  float64
		want [4]float64 // at S sin a/H of 0, 1/4, 1/2, 3/4
	}{
		{30, [4]float64{.93301, .89240, .83814, .75292}},
		{45, [4]float64{.85355, .75767, .64053, .48067}},
		{60, [4]float64{.75, .5625, .375, .1875}},
	} {
		sin, cos := math.Sincos(c.deg * math.Pi / 180)
		rim := cos / sin // of a cone 1 high
		at := func(share float64) float64 { return rim - share/sin*cos }
		free := func(r float64) float64 { return 2 * math.Pi * r * r / (sin * sin) * (1 - cos) }
		laid := func(r float64) float64 { return math.Pi * (rim*rim - r*r) / cos }
		for i, want := range c.want {
			var radii []float64
			for n := range 4001 {
				radii = append(radii, at(float64(i)/4*float64(n)/4000))
			}
			thick := fill(math.Pi*rim*rim/free(rim), radii, free, laid)
			near(t, "cone", thick[4000], want, 1e-5)
		}
	}
}

// TestConserved: what is laid down and what hangs free hold all of the sheet at every step, straight
// and round; the first row's volume by hand, pi/2 8.6 1.5069.
func TestConserved(t *testing.T) {
	for _, w := range []Wall{
		{Height: 8.6, Ring: 15, Foot: 2},
		{Height: 8.6, Ring: 15, Foot: 2, Round: true, Top: 7},
		{Height: 5, DraftDeg: 7, Ring: 20, Foot: 1, Round: true},
		{Height: 12, DraftDeg: 3, Foot: 3},
	} {
		const steps = 200
		wide := w.widest()
		var radii []float64
		for i := range steps + 1 {
			radii = append(radii, wide+(w.Foot-wide)*float64(i)/steps)
		}
		laid := func(r float64) float64 { return w.wall(r) + w.base(r) }
		s := w.Formed(steps)
		thick := fill(s.Drawn, radii, w.free, laid)
		flat := w.strip(w.Top, w.corner()-w.Top+w.ring(), 1)
		down := s.Drawn * w.base(wide)
		near(t, "at first", down+s.Drawn*w.free(wide), flat, 1e-9)
		for i := 1; i <= steps; i++ {
			down += (thick[i] + thick[i-1]) / 2 * (laid(radii[i]) - laid(radii[i-1]))
			near(t, "on the way", down+thick[i]*w.free(radii[i]), flat, 1e-9)
		}
	}
	w := Wall{Height: 8.6, Ring: 15, Foot: 4}
	near(t, "by hand", 2*w.Formed(10).Drawn*w.free(w.widest()), 20.3565, 1e-3)
}

// TestLimits: next to no wall leaves a flat sheet; finer steps converge with their square; an end of
// a large radius is a flank; less draft, a higher wall and a narrower ring leave less; the mean lies
// between what was drawn and the foot; areas are those of the solids of revolution.
func TestLimits(t *testing.T) {
	near(t, "flat", Wall{Height: 1e-6, Ring: 20, Foot: 4}.Formed(10).Foot, 1, 1e-6)
	w := Wall{Height: 8.6, DraftDeg: 5, Ring: 20, Foot: 2, Round: true, Top: 7}
	exact := w.Formed(20000).Foot
	coarse, fine := math.Abs(w.Formed(50).Foot-exact), math.Abs(w.Formed(100).Foot-exact)
	if ratio := coarse / fine; ratio < 3.8 || ratio > 4.2 {
		t.Errorf("half the step leaves 1/%.2f of the error", ratio)
	}
	large, straight := w, w
	large.Top, straight.Round = 1e7, false
	near(t, "a large end", large.Formed(400).Foot, straight.Formed(400).Foot, 1e-6)
	if flank := straight.Formed(400).Foot; exact <= flank {
		t.Errorf("an end, whose ring gets wider outwards, has %.4f at its foot, a flank %.4f", exact, flank)
	}
	s := w.Formed(400)
	if !(s.Foot < s.Mean && s.Mean < s.Drawn && s.Drawn < 1) {
		t.Errorf("%+v", s)
	}
	less := func(what string, change func(*Wall)) {
		other := w
		change(&other)
		if got := other.Formed(400).Foot; got >= s.Foot {
			t.Errorf("%s: %.4f at the foot, and %.4f before", what, got, s.Foot)
		}
	}
	less("higher", func(w *Wall) { w.Height = 12 })
	less("steeper", func(w *Wall) { w.DraftDeg = 1 })
	less("less feed", func(w *Wall) { w.Ring = 12 })
	less("sharper foot", func(w *Wall) { w.Foot = 1 })
	upright := Wall{Height: 4, Ring: 10, Foot: 4, Round: true, Top: 3}
	near(t, "cylinder", upright.wall(0), 3*4, 1e-12)                    // 2 pi r h over 2 pi
	near(t, "ring", upright.base(0), (13*13-3*3)/2., 1e-12)             // pi (R2 - r2) over 2 pi
	near(t, "quarter torus", upright.free(4), 4*(7*math.Pi/2-4), 1e-12) // Pappus: R (pi/2 rc - R)
}
