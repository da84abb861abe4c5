package pieces_test

import (
	"errors"
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestDrain checks the insert's figures: it passes the trimmed edge, its jaws are never thinner than two beads, and the outlet
// only gets wider.
func TestDrain(t *testing.T) {
	k := bucktest.Knife(t, bucktest.Hunter(), bucktest.Spec())
	d, err := pieces.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "spare beyond the trimmed edge", d.To-k.TrimReach(), 3, 1e-12)
	near(t, "short of the trimmed edge", d.Short(), 0, 0)
	near(t, "narrow end", 2*d.Radius, 5, 0)
	if d.RadiusAt(d.To) <= d.Radius || d.Radius-d.Slit < 0.8 {
		t.Errorf("radius %.3f to %.3f, slit %.3f", d.Radius, d.RadiusAt(d.To), d.Slit)
	}
	s := bucktest.Spec()
	s.Drain.Length = 3
	if d, err = pieces.NewDrain(bucktest.Knife(t, bucktest.Hunter(), s)); err != nil {
		t.Fatal(err)
	}
	near(t, "a short one", d.Short(), k.TrimReach()-3, 1e-9)
}

// TestThickTip checks that the plug grows with what its jaws have to hold.
func TestThickTip(t *testing.T) {
	s := bucktest.Spec()
	s.Blade.Thickness, s.Blade.TipThickness, s.Blade.EdgeThickness = 8, 8, 6
	d, err := pieces.NewDrain(bucktest.Knife(t, bucktest.Hunter(), s))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "jaws", d.Radius-d.Slit, 0.8, 1e-12)
}

func TestDrainRefusals(t *testing.T) {
	for _, tt := range []struct {
		name, key string
		set       func(*measures.Drain)
	}{
		{"too narrow to drain", "drain.diameter", func(d *measures.Drain) { d.Diameter = 3 }},
		{"wider than the blade", "drain.diameter", func(d *measures.Drain) { d.Diameter = 25 }},
		{"over half the blade", "drain.lap", func(d *measures.Drain) { d.Lap = 60 }},
		{"turned round", "drain.cant", func(d *measures.Drain) { d.CantDeg = 180 }},
		{"moved off the tip", "drain.x", func(d *measures.Drain) { d.X = -60 }},
		{"moved beside the tip", "drain.y", func(d *measures.Drain) { d.Y = 4 }},
		{"tighter than the blade", "drain.fit", func(d *measures.Drain) { d.Fit = -0.2 }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := bucktest.Spec()
			tt.set(&s.Drain)
			_, err := pieces.NewDrain(bucktest.Knife(t, bucktest.Hunter(), s))
			var f *measures.Fault
			if !errors.As(err, &f) || f.Key != tt.key {
				t.Errorf("got %v, want a fault of %s", err, tt.key)
			}
		})
	}
}

// TestRampsLeaveEachOtherRoom gives both ramps laps that would meet.
func TestRampsLeaveEachOtherRoom(t *testing.T) {
	v, plan := bucktest.Demo(t, "thistle")
	s := v.Spec
	s.Ramp.Lap = 20
	ramps, err := pieces.NewRamps(pieces.NewDraw(bucktest.Knife(t, plan, s)))
	if err != nil {
		t.Fatal(err)
	}
	if len(ramps.On(true)) != 2 || ramps.Bossed[0].Side != "edge" || ramps.Bossed[1].Side != "spine" {
		t.Fatalf("%d ramps", len(ramps.On(true)))
	}
	edge, spine := ramps.Bossed[0], ramps.Bossed[1]
	room := spine.Head.Min.Y - spine.Skirt() - (edge.Head.Max.Y + edge.Skirt())
	near(t, "room between their drafted sides", room, 0.4, 1e-9)
}

// TestRampsLeaveTheDrainItsRoom draws a ramp along and the insert back until they would meet.
func TestRampsLeaveTheDrainItsRoom(t *testing.T) {
	v, plan := bucktest.Demo(t, "thistle")
	v.Spec.Drain.Lap, v.Spec.Ramp.X = 30, 32
	k := bucktest.Knife(t, plan, v.Spec)
	_, ramps, err := k.Ramps()
	if err != nil {
		t.Fatal(err)
	}
	d, err := pieces.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	beside := 0
	for _, r := range ramps.Bossed {
		for x := d.From - 1; x < d.To; x += 0.25 {
			for y := -8.0; y <= 8; y += 0.25 {
				p := d.At(r2.Vec{X: x, Y: y})
				on := r.BaseAt(p) != pieces.NoBase
				switch {
				case on && x > d.From && math.Abs(y) < d.RadiusAt(x)+0.35:
					t.Fatalf("the ramp at the %s stands %.2f mm from the insert's axis, at %.2f mm", r.Side, y, x)
				case on:
					beside++
				}
			}
		}
	}
	if beside == 0 {
		t.Error("no ramp comes near the insert")
	}
}

// TestSlitPlay looks at every twentieth of a millimetre of the blade within the plug, up to its corners: the slit leaves it
// the play that was asked for, less what is between the places that the plug looked at.
func TestSlitPlay(t *testing.T) {
	const step, between = 0.05, 0.015 // mm
	for _, name := range bucktest.Demos() {
		for _, turn := range []float64{-25, 0, 25} {
			v, plan := bucktest.Demo(t, name)
			v.Spec.Drain.CantDeg, v.Spec.Drain.Lap = turn, 12
			k := bucktest.Knife(t, plan, v.Spec)
			d, err := pieces.NewDrain(k)
			if err != nil {
				t.Fatal(err)
			}
			least, tape := math.Inf(1), v.Spec.Tape.Total()
			for u := d.From; u <= 0; u += step {
				for y := -d.RadiusAt(u); y <= d.RadiusAt(u); y += step {
					p := d.At(r2.Vec{X: u, Y: y})
					h := k.Half(p)
					if h == 0 {
						continue
					}
					if r2.Norm(r2.Sub(p, k.Plan.Tip)) >= v.Spec.Tape.TipGap {
						h += tape
					}
					least = min(least, d.Slit-h)
				}
			}
			if least < d.Play-between || least > d.Play+between {
				t.Errorf("%s, turned by %g deg: %.3f mm of play, want %.3f", name, turn, least, d.Play)
			}
		}
	}
}
