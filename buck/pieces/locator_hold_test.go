package pieces_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/profile"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// held is the first part of the test knife's locator with other measures, or the reason why there is none.
func held(t *testing.T, change func(*measures.Spec, *profile.Plan)) (*pieces.LocatorPiece, error) {
	t.Helper()
	plan, spec := bucktest.Hunter(), bucktest.Spec()
	change(&spec, plan)
	k := bucktest.Knife(t, plan, spec)
	bosses, err := pieces.NewStandoffs(k)
	if err != nil {
		t.Fatal(err)
	}
	_, ramps, err := k.Ramps()
	if err != nil {
		t.Fatal(err)
	}
	d, err := pieces.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	parts, err := pieces.NewLocators(bosses, ramps.Bossed, d)
	if err != nil {
		return nil, err
	}
	return parts[0], nil
}

// TestLateIsTakenWhereTheFrontIsWidest: beside the windows the plate reaches down to the blade, where a handle that is rounded
// off higher up is still full. Only one that is rounded off down there lets the template come too near: by what a circle has gone
// back at that height.
func TestLateIsTakenWhereTheFrontIsWidest(t *testing.T) {
	for _, tt := range []struct{ thickness, rounding float64 }{{22, 8}, {22, 11}, {10, 5}, {7, 3.5}} {
		l, err := held(t, func(s *measures.Spec, _ *profile.Plan) {
			s.Handle.Thickness, s.Handle.Rounding = tt.thickness, tt.rounding
		})
		if err != nil {
			t.Fatal(err)
		}
		over := max(l.UnderZ-(tt.thickness/2-tt.rounding), 0)
		want := tt.rounding - math.Sqrt(tt.rounding*tt.rounding-over*over)
		if got, stops := l.Late(); !stops || math.Abs(got-want) > 1e-9 {
			t.Errorf("%g mm, rounded by %g: %.4f mm too near, %v, want %.4f", tt.thickness, tt.rounding, got, stops, want)
		}
		if l.Exact() == strings.Contains(l.Stop(), "too near") {
			t.Errorf("%g mm, rounded by %g: exact %v, and %q", tt.thickness, tt.rounding, l.Exact(), l.Stop())
		}
	}
}

// TestNoHookOverAnEdge: a spine that is an edge gets none, and the reason is not a want of room.
func TestNoHookOverAnEdge(t *testing.T) {
	_, err := held(t, func(s *measures.Spec, p *profile.Plan) {
		p.Back, s.Blade.Edges = p.Spine, 2
	})
	if err == nil || !strings.Contains(err.Error(), "both sides of the blade are edges") {
		t.Errorf("%v", err)
	}
}

// TestStopsAtWhatIsThere: a handle that is not drawn is told of, and the gap to its front is kept all the same.
func TestStopsAtWhatIsThere(t *testing.T) {
	l, err := held(t, func(_ *measures.Spec, p *profile.Plan) { p.Handle = nil })
	if err != nil {
		t.Fatal(err)
	}
	if gap := l.Plate.Min.X - l.Knife.Plan.HandleFront; math.Abs(gap-l.Fit) > 1e-9 || !strings.Contains(l.Stop(), "not drawn") {
		t.Errorf("%.4f mm from the front, want %g: %q", gap, l.Fit, l.Stop())
	}
}

// TestFewerHooks lets the spine become an edge nearer and nearer to the handle: the hooks keep clear of the edge, get shorter, one of
// them goes, and where none has room any more there is no template.
func TestFewerHooks(t *testing.T) {
	size.Long(t)
	var seen []int
	for x := 90.0; x > 0; x -= size.Or(6.0, 2) {
		l, err := held(t, func(_ *measures.Spec, p *profile.Plan) {
			p.Back = profile.Path{{A: r2.Vec{X: x, Y: 13}, B: p.Tip}}
		})
		n := 0
		if err == nil {
			n = len(l.Hooks)
			for _, h := range l.Hooks {
				if h.Max.X > x || h.Max.X-h.Min.X < 5 {
					t.Errorf("a hook from %.1f to %.1f mm, with an edge from %.1f", h.Min.X, h.Max.X, x)
				}
			}
			if one := strings.Contains(l.Held(), "one hook"); one != (n == 1) {
				t.Errorf("%d hooks: %q", n, l.Held())
			}
		}
		if len(seen) == 0 || seen[len(seen)-1] != n {
			seen = append(seen, n)
		}
	}
	if !slices.Equal(seen, []int{2, 1, 0}) {
		t.Errorf("hooks, the edge coming nearer: %v", seen)
	}
}
