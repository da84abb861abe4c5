package pieces_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/knives"
	"formbuck/buck/pieces"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// lowestTouch is how high over the flat a ball touches a wall that leans in by the draft, found by
// letting one down the wall in small steps until it meets the flat.
func lowestTouch(radius, draftDeg float64) float64 {
	sin := math.Sin(draftDeg * math.Pi / 180)
	const step = 1e-5
	low := math.Inf(1)
	for touch := 2 * radius; touch >= 0; touch -= step {
		if middle := touch + radius*sin; middle < radius { // it has met the flat
			break
		}
		low = touch
	}
	return low
}

// outlineOf are points of a pill's outline, found along rays from its middle.
func outlineOf(pill pieces.Pill) []r2.Vec {
	const rays = 3600
	var all []r2.Vec
	for i := range rays {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / rays)
		in, out := 0.0, pill.Length
		for range 60 {
			if mid := (in + out) / 2; pill.Distance(pill.At(r2.Vec{X: mid * cos, Y: mid * sin})) <= 0 {
				in = mid
			} else {
				out = mid
			}
		}
		all = append(all, pill.At(r2.Vec{X: in * cos, Y: in * sin}))
	}
	return all
}

// TestFlatUnderside: a boss is flat underneath where most of it lies on the blade's flat, and stands
// on that: nowhere does the underside dip into the blade, and what is left over the bevel is lower
// than where a ball that the sheet comes down along, looked for by steps, touches the wall. It
// follows the blade, as near everywhere as the gap, where that is not so.
func TestFlatUnderside(t *testing.T) {
	flat, follows := 0, 0
	look := func(name string, k *pieces.Buck) {
		p, err := pieces.NewStandoff(k)
		if err != nil {
			return
		}
		foot, on, all, most := p.Foot(), 0, 0, 0.0
		over := func(q r2.Vec) float64 {
			zone := k.Blade(q)
			return p.Underside(zone, q) - p.Gap - k.HalfOn(zone, q)
		}
		for _, q := range outlineOf(foot) {
			most = max(most, over(q))
		}
		for u := -0.5; u <= 0.5; u += 1. / 64 {
			for v := -0.5; v <= 0.5; v += 1. / 32 {
				q := foot.At(r2.Vec{X: u * foot.Length, Y: v * foot.Width})
				if foot.Distance(q) > 0 {
					continue
				}
				zone := k.Blade(q)
				if z := over(q); z < -1e-9 {
					t.Fatalf("%s: the underside is %.4f mm within the blade at %v", name, -z, q)
				}
				if all++; k.HalfOn(knives.OnFlat, q)-k.HalfOn(zone, q) < 0.02 {
					on++
				}
				most = max(most, over(q))
			}
		}
		if !p.Flat {
			follows++
			if most > 1e-9 {
				t.Errorf("%s: it follows the blade, %.4f mm off", name, most)
			}
			return
		}
		flat++
		touch := lowestTouch(k.Spec.Sheet.Ball(), p.DraftDeg)
		if float64(on) < 0.47*float64(all) || most+p.Gap+p.Chamfer > touch || math.Abs(most-p.Wedge) > 0.05 {
			t.Errorf("%s: %d of %d places on the flat, a wedge of %.3f mm (%.3f said), the sheet comes down to %.3f mm",
				name, on, all, most, p.Wedge, touch)
		}
	}
	for _, name := range bucktest.Demos() {
		v, plan := bucktest.Demo(t, name)
		look(name, bucktest.Knife(t, plan, v.Spec))
		if s := v.Spec; name == "thistle" {
			s.Sheet.Thickness, s.Print.BedChamfer = 0.5, 0.4 // the wedge is as high as the ball's touch now
			look(name+" in thin sheet", bucktest.Knife(t, plan, s))
		}
	}
	for seed, looked := uint64(0), 0; looked < size.Of(2, 6, 60); seed++ {
		plan, v := anyKnife(seed)
		if plan == nil {
			continue
		}
		if k, err := pieces.NewBuck(plan, v.Spec); err == nil {
			looked++
			look(v.Spec.Name, k)
		}
	}
	t.Logf("%d flat, %d after the blade", flat, follows)
	if flat == 0 || follows == 0 {
		t.Errorf("%d flat, %d after the blade: nothing is shown", flat, follows)
	}
}
