package layout_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestGrid checks that eyelets lie on their grid, counted from the tip, and no nearer to the knife than they may be.
func TestGrid(t *testing.T) {
	for _, name := range bucktest.Demos() {
		s := demo(t, name, nil)
		for i, e := range s.Eyelets {
			off := r2.Scale(1/layout.Grid, r2.Sub(e.At, s.Knife.Plan.Tip))
			if math.Hypot(off.X-math.Round(off.X), off.Y-math.Round(off.Y)) > 1e-6 {
				t.Errorf("%s: eyelet %d at %v is off the grid", name, i+1, e.At)
			}
			// It is on its line, but for what the line is fitted within and the way to a place of the grid that does.
			if e.Spare < -1e-9 || e.Spare > 3*layout.Grid {
				t.Errorf("%s: eyelet %d has %.4f mm to spare", name, i+1, e.Spare)
			}
			if e.Error <= 0 || math.Abs(e.Error-s.Way.Register.Error(e.At)) > 0.005 {
				t.Errorf("%s: eyelet %d is off by %.4f mm", name, i+1, e.Error)
			}
		}
	}
}

// TestThickerHandle checks that a thicker handle moves no eyelet by a hair, as long as none is asked to be farther off than
// before, and zero in no case.
func TestThickerHandle(t *testing.T) {
	for _, name := range []string{"thistle", "otter"} {
		was := demo(t, name, func(s *measures.Spec) { s.Handle.Thickness = 22 })
		is := demo(t, name, func(s *measures.Spec) { s.Handle.Thickness = 24 })
		if len(was.Eyelets) != len(is.Eyelets) {
			t.Fatalf("%s: %d eyelets, and %d", name, len(was.Eyelets), len(is.Eyelets))
		}
		for i, e := range was.Eyelets {
			if o := is.Eyelets[i]; e.At != o.At || math.Abs(e.Need-o.Need) > 1e-9 {
				t.Errorf("%s: eyelet %d goes from %v to %v", name, i+1, e.At, o.At)
			}
		}
	}
	for _, change := range []func(*measures.Spec){
		nil, func(s *measures.Spec) { s.Handle.Thickness = 24 }, func(s *measures.Spec) { s.Sheet.Thickness = 2.3622 }, func(s *measures.Spec) { s.Clip.Length = 50 },
	} {
		s := demo(t, "thistle", change)
		for _, place := range []mill.Place{mill.Pair, mill.RightHalf, mill.LeftHalf} {
			if at := mill.Frame(s, place).To(s.Knife.Plan.Tip); at != (r2.Vec{}) {
				t.Errorf("in the program of the %s the tip is at %v", place, at)
			}
		}
	}
}

// TestWays checks that what can be off costs sheath, and the more the farther it is.
func TestWays(t *testing.T) {
	ways, err := demo(t, "thistle", nil).Ways()
	if err != nil {
		t.Fatal(err)
	}
	if len(ways) != 6 || !ways[0].Exact || !ways[1].Governs || ways[1].Way.Holes != [2]int{2, 1} {
		t.Fatalf("%+v", ways)
	}
	for i, c := range ways[1:] {
		if c.Error <= ways[i].Error || c.Why != "" || (c.More > ways[i].More) != (c.Way.Name != "") {
			t.Errorf("%s: off by %.3f mm, %.1f mm2", c.Way.Name, c.Error, c.More)
		}
	}
	// Every eyelet of the best way is nearer to the knife than that of the worst by what is off, to within the grid.
	none := demo(t, "otter", nil)
	ways, err = none.Ways()
	if err != nil || ways[1].Why == "" {
		t.Errorf("a knife without holes lies on pins: %+v, %v", ways, err)
	}
}
