package pieces_test

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/profile"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// ricassoMouth is the test knife with the sheath's mouth on the blade, mm ahead of the handle's front: all of it is
// moved back from the mouth, at which x is 0.
func ricassoMouth(ahead float64) *profile.Plan {
	p := bucktest.Hunter()
	back := -ahead - p.HandleFront
	for _, path := range [][]profile.Segment{p.Outline, p.Handle, p.Grind, p.Edge, p.Spine} {
		for i := range path {
			path[i].A.X += back
			path[i].B.X += back
		}
	}
	for _, v := range []*r2.Vec{&p.Tip, &p.Heel, &p.Butt} {
		v.X += back
	}
	p.HandleFront += back
	return p
}

// TestMouthAheadOfHandle: where the mouth lies on the ricasso the first boss stands within the sheath, all of it and its
// posts, its foot as far from the mouth as it would be from a handle there.
func TestMouthAheadOfHandle(t *testing.T) {
	size.Long(t)
	for _, ahead := range []float64{4, 10, 18, 25} {
		p, err := pieces.NewStandoff(bucktest.Knife(t, ricassoMouth(ahead), bucktest.Spec()))
		if err != nil {
			t.Errorf("%g mm ahead: %v", ahead, err)
			continue
		}
		if back := p.Top.Centre.X - p.Top.Length/2; math.Abs(back-4) > 1e-9 {
			t.Errorf("%g mm ahead: the boss begins at x = %.2f mm, want 4", ahead, back)
		}
		if foot := p.Foot(); foot.Centre.X-foot.Length/2 < 0 {
			t.Errorf("%g mm ahead: the foot reaches to x = %.2f mm", ahead, foot.Centre.X-foot.Length/2)
		}
	}
}

// TestFirstBossRefusedAsFurtherOnes: what a further boss may not do the first one may not do either.
func TestFirstBossRefusedAsFurtherOnes(t *testing.T) {
	size.Long(t)
	for _, tt := range []struct {
		name, want string
		x, y       float64
	}{
		{"out of the mouth", "out of the sheath's mouth", -8, 0},
		{"over the spine", "runs off the knife", 0, 8},
		{"over the tip", "runs off the knife", 42, 0},
	} {
		s := bucktest.Spec()
		s.Standoff.X, s.Standoff.Y = tt.x, tt.y
		_, err := pieces.NewStandoff(bucktest.Knife(t, ricassoMouth(10), s))
		var f *measures.Fault
		if !errors.As(err, &f) || f.Key != "standoff.x" || !strings.Contains(f.What, tt.want) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
}

// TestTurnedBossAdvice: what is said of a boss that does not stand, as one across the blade, does help.
func TestTurnedBossAdvice(t *testing.T) {
	slowUnderRace(t)
	said := regexp.MustCompile(`plate\.length = ([\d.]+)(?: and posts at most ([\d.]+))?`)
	moved := regexp.MustCompile(`standoff\.x = (-?[\d.]+) with y = (-?[\d.]+)`)
	refused := 0
	for _, cant := range []float64{90, -45, 60, -90, 30, 20, 180}[:size.Or(3, 7)] {
		s := bucktest.Spec()
		s.Standoff.CantDeg = cant
		_, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Hunter(), s))
		if err == nil {
			continue
		}
		refused++
		length, move := said.FindStringSubmatch(err.Error()), moved.FindStringSubmatch(err.Error())
		if length == nil {
			t.Errorf("%g deg: %v", cant, err)
			continue
		}
		short := s
		short.Plate.Length = number(t, length[1])
		if length[2] != "" {
			short.Plate.PostSpacing = number(t, length[2])
		}
		if _, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Hunter(), short)); err != nil {
			t.Errorf("%g deg, plate of %g mm: %v", cant, short.Plate.Length, err)
		}
		if move != nil {
			s.Standoff.X, s.Standoff.Y = number(t, move[1]), number(t, move[2])
			if _, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Hunter(), s)); err != nil {
				t.Errorf("%g deg, moved: %v", cant, err)
			}
		}
	}
	if refused < 3 {
		t.Errorf("%d turns are refused: the test knife takes all the others", refused)
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}
