package pieces_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
)

// small is a further boss over a small plate, on the flat of the strip knife.
func small(name string, x, y float64) measures.Mount {
	p := bucktest.Spec().Plate
	p.Length, p.Width, p.PostSpacing = 20, 10, 11
	return measures.Mount{Name: name, Placement: measures.Placement{X: x, Y: y}, Plate: p}
}

// TestFurtherBoss: a further boss sits where it says, is as high as the same boss alone at that place would be, and
// leaves the first one as it was.
func TestFurtherBoss(t *testing.T) {
	s := bucktest.Spec()
	s.Plate = small("", 0, 0).Plate
	s.Clip.Length = 20
	one := bucktest.Knife(t, bucktest.Strip(), s)
	first, err := pieces.NewStandoff(one)
	if err != nil {
		t.Fatal(err)
	}
	s.Standoff.More = []measures.Mount{small("low", 60, 14)}
	s.Standoff.More[0].CantDeg = 7
	all, err := pieces.NewStandoffs(bucktest.Knife(t, bucktest.Strip(), s))
	if err != nil || len(all) != 2 {
		t.Fatalf("%d bosses, %v", len(all), err)
	}
	if all[0].TopZ != first.TopZ || all[0].Top != first.Top {
		t.Errorf("the first is %v at %g, alone %v at %g", all[0].Top, all[0].TopZ, first.Top, first.TopZ)
	}
	s.Standoff.X, s.Standoff.Y, s.Standoff.CantDeg = 60-first.Top.Centre.X, 14-first.Top.Centre.Y, 7
	alone, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Strip(), s))
	if err != nil {
		t.Fatal(err)
	}
	low := all[1]
	if math.Abs(low.TopZ-alone.TopZ) > 1e-9 || math.Abs(low.Top.Centre.X-60)+math.Abs(low.Top.Centre.Y-14) > 1e-9 || low.Top.AngleDeg != 7 {
		t.Errorf("%v at %g, alone %v at %g", low.Top, low.TopZ, alone.Top, alone.TopZ)
	}
	for i, n := range low.Nubs {
		if d := math.Hypot(n.Centre.X-alone.Nubs[i].Centre.X, n.Centre.Y-alone.Nubs[i].Centre.Y); d > 1e-9 {
			t.Errorf("nub %d is %.3g mm off", i, d)
		}
	}
	if got := all[0].Under(low); got != 0 {
		t.Errorf("a clip of 20 mm fouls a boss 40 mm away by %g mm", got)
	}
}

// TestClipOverOtherBoss: where the clip of one boss reaches over another it is told how much too low it lies: by what
// the other stands higher, and the clearance.
func TestClipOverOtherBoss(t *testing.T) {
	s := bucktest.Spec()
	s.Plate, s.Clip.Length = small("", 0, 0).Plate, 76
	s.Standoff.More = []measures.Mount{small("low", 50, 12)}
	all, err := pieces.NewStandoffs(bucktest.Knife(t, bucktest.Strip(), s))
	if err != nil {
		t.Fatal(err)
	}
	if want := all[0].TopZ + s.Clip.Clearance - all[1].TopZ; math.Abs(all[1].Under(all[0])-want) > 1e-9 || want <= 0 {
		t.Errorf("too low by %g, want %g", all[1].Under(all[0]), want)
	}
}

// TestFurtherBossRefused has every way in which a further boss cannot stand.
func TestFurtherBossRefused(t *testing.T) {
	slowUnderRace(t)
	high := small("low", 60, 12)
	high.Height = 1
	wide := small("low", 60, 12)
	wide.Plate.PostSpacing = 18
	tests := []struct {
		name, key string
		more      []measures.Mount
	}{
		{"on the first", "standoff.more.low.x", []measures.Mount{small("low", 30, 12)}},
		{"on another", "standoff.more.low.x", []measures.Mount{small("end", 75, 12), small("low", 60, 12)}},
		{"off the knife", "standoff.more.low.x", []measures.Mount{small("low", 150, 12)}},
		{"over the spine", "standoff.more.low.x", []measures.Mount{small("low", 60, 21)}},
		{"over the tip", "standoff.more.low.x", []measures.Mount{small("low", 93, 12)}},
		{"on the handle", "standoff.more.low.x", []measures.Mount{small("low", -30, 12)}},
		{"too low", "standoff.more.low.height", []measures.Mount{high}},
		{"posts beyond the plate", "standoff.more.low.post_spacing", []measures.Mount{wide}},
	}
	for _, tt := range tests {
		s := bucktest.Spec()
		s.Plate = small("", 0, 0).Plate
		s.Standoff.More = tt.more
		_, err := pieces.NewStandoffs(bucktest.Knife(t, bucktest.Strip(), s))
		var f *measures.Fault
		if !errors.As(err, &f) || f.Key != tt.key {
			t.Errorf("%s: %v, want a fault of %s", tt.name, err, tt.key)
		}
	}
}

// TestFurtherBossKeepsOffPieces: the ramp at the edge of the hunter, and its drain insert, leave no room to a further
// boss; a blade without a handle leaves none beyond the mouth.
func TestFurtherBossKeepsOffPieces(t *testing.T) {
	slowUnderRace(t)
	s := bucktest.Spec()
	s.Plate = small("", 0, 0).Plate
	k := bucktest.Knife(t, bucktest.Hunter(), s)
	_, ramps, err := k.Ramps()
	if err != nil || len(ramps.On(true)) == 0 {
		t.Fatal(err)
	}
	ramp := ramps.Bossed[0].Blade(ramps.Bossed[0].Head.Max)
	for name, at := range map[string][2]float64{"ramp": {ramp.X + 1, ramp.Y - 1}, "drain": {92, 4}} {
		s.Standoff.X, s.Standoff.More = 45, []measures.Mount{small("low", at[0], at[1])}
		s.Standoff.More[0].Plate.Length, s.Standoff.More[0].Plate.Width, s.Standoff.More[0].Plate.PostSpacing = 8, 5.5, 2
		_, err := pieces.NewStandoffs(bucktest.Knife(t, bucktest.Hunter(), s))
		var f *measures.Fault
		if !errors.As(err, &f) || f.Key != "standoff.more.low.x" || !strings.Contains(f.What, "stands on the "+name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	plan := bucktest.Strip()
	plan.Handle = nil
	s.Standoff.X, s.Standoff.More = 20, []measures.Mount{small("low", 8, 12)}
	if _, err := pieces.NewStandoffs(bucktest.Knife(t, plan, s)); err == nil || !strings.Contains(err.Error(), "out of the sheath's mouth") {
		t.Errorf("beyond the mouth: %v", err)
	}
}
