package path_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/formed"
	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/buck/path"

	"gonum.org/v1/gonum/spatial/r2"
)

// demo is a demo knife, its measures changed, and its buck for a hand.
func demo(t testing.TB, name string, hand measures.Hand, change func(*measures.Spec)) path.Buck {
	t.Helper()
	k := bucktest.DemoKnife(t, name)
	if change != nil {
		v, plan := bucktest.Demo(t, name)
		change(&v.Spec)
		k = bucktest.Knife(t, plan, v.Spec)
	}
	b, err := path.Made(k, hand)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// quick is how a knife is studied: in the cells that draw looks at, in wider ones where time is short.
func quick() path.Options {
	if testing.Short() {
		return path.Options{Step: 0.2}
	}
	return path.Options{}
}

// TestDemosDraw: every demo knife binds without its ramps, the recurve by the full half of its stock in front
// of the choil; with them each draws freely.
func TestDemosDraw(t *testing.T) {
	o := path.Options{Step: 0.15}
	if testing.Short() {
		o.Step = 0.2
	}
	for _, name := range bucktest.Demos() {
		r := path.NewReport(demo(t, name, measures.Right, nil), o)
		if !r.Free() || r.CutsEdge() || len(r.Rubs) > 0 {
			t.Errorf("%s: binds with its ramps: %v %v", name, r.Binds, r.Rubs)
		}
		if len(r.Bare) == 0 || r.Filled <= 0 {
			t.Errorf("%s: does not bind without its ramps, which fill %.1f mm3", name, r.Filled)
		}
		if name != "otter" {
			continue
		}
		b := r.Bare[0]
		near(t, "deepest", b.Depth, r.With.Buck.Knife.Spec.Blade.Thickness/2, 0.01)
		if b.Side != path.AtEdge || b.At.X < 5 || b.At.X > 17 || b.Passes.X < b.At.X {
			t.Errorf("deepest without ramps: %+v", b)
		}
	}
}

// TestInterferenceAgainstThePlan compares the map with the knife itself, point by point: what passes over
// a point less the sheet on the taped face, for points well inside the blade and off every piece.
func TestInterferenceAgainstThePlan(t *testing.T) {
	b := demo(t, "thistle", measures.Plain, nil)
	b.Ramps, b.Drain = nil, nil
	s := path.New(b, quick())
	k := b.Knife
	checked := 0
	for n, i := range s.Faces[0].Interference.Z {
		p := s.Knife.Grid.At(n)
		if n%23 != 0 || p.X < 30 || k.ZoneAt(p) != knives.OnFlat || p.X > 70 {
			continue
		}
		most := 0.0
		for x := p.X; x < k.Plan.Tip.X; x += s.Knife.Step {
			q := p
			q.X = x
			most = max(most, k.Half(q))
		}
		checked++
		if want := most - k.Half(p) - k.Spec.Tape.Total(); math.Abs(i-want) > 1e-9 {
			t.Fatalf("at %v the map says %.6f, the plan %.6f", p, i, want)
		}
	}
	if checked < 100 {
		t.Errorf("only %d points were looked at", checked)
	}
}

// TestFaces: without a boss both faces are alike; a boss on one changes that one only, and mirroring the hand swaps them.
func TestFaces(t *testing.T) {
	o := path.Options{Step: 0.3}
	plain := path.New(demo(t, "thistle", measures.Plain, nil), o)
	right := path.New(demo(t, "thistle", measures.Right, nil), o)
	left := path.New(demo(t, "thistle", measures.Left, nil), o)
	same := func(a, b *path.Map) bool {
		for n := range a.Z {
			if a.Z[n] != b.Z[n] {
				return false
			}
		}
		return true
	}
	if !same(plain.Faces[0].Cavity, plain.Faces[1].Cavity) {
		t.Error("plain: the faces differ")
	}
	if !same(right.Faces[1].Cavity, plain.Faces[1].Cavity) || same(right.Faces[0].Cavity, plain.Faces[0].Cavity) {
		t.Error("right hand: the boss is not on the left face alone")
	}
	if !same(right.Faces[0].Cavity, left.Faces[1].Cavity) || !same(right.Faces[1].Cavity, left.Faces[0].Cavity) {
		t.Error("left hand is not right hand with its faces swapped")
	}
}

// TestBossWindow: a boss's cavity that is formed around the boss only is that of the whole face.
func TestBossWindow(t *testing.T) {
	for name, change := range map[string]func(*measures.Spec){"otter": nil, "thistle": func(s *measures.Spec) { *s = bucktest.TwoBosses(*s) }} {
		s := path.New(demo(t, name, measures.Both, change), path.Options{Step: 0.4})
		for _, f := range s.Faces {
			whole := formed.Closing(f.Buck, s.Radius, 0)
			for n, z := range f.Cavity.Z {
				if p := f.Cavity.Grid.At(n); p.X > 0 && math.Abs(z-whole.Z[n]) > 1e-12 {
					t.Fatalf("%s, %s face at %v: %.6f, formed as a whole %.6f", name, f.Face, p, z, whole.Z[n])
				}
			}
			for _, b := range s.Buck.Bosses() {
				if z := f.Buck.Level(b.Top.Centre); math.Abs(z-b.TopZ) > 1e-9 {
					t.Errorf("%s: the boss %s is %.4f mm high on the map, not %.4f", name, b.Title(), z, b.TopZ)
				}
			}
		}
	}
}

// TestShortRampIsRefused: a ramp moved back from where it is needed leaves the edge binding; the knife as it is passes.
func TestShortRampIsRefused(t *testing.T) {
	if _, err := path.Checked(demo(t, "otter", measures.Right, nil).Knife, measures.Hands()); err != nil {
		t.Errorf("the demo: %v", err)
	}
	short := demo(t, "otter", measures.Right, func(s *measures.Spec) { s.Ramp.X = -25 })
	var fault *measures.Fault
	s, err := path.Checked(short.Knife, measures.Hands())
	if !errors.As(err, &fault) || !strings.Contains(fault.What, "cutting edge") {
		t.Errorf("a ramp 25 mm too short: %v", err)
	}
	r := s.Verdict()
	if r.Free() || !r.CutsEdge() {
		t.Fatal("a ramp 25 mm too short frees the draw")
	}
	if key, why := r.Advice(r.Binds[0]); key != "ramp.x" {
		t.Errorf("advice: %s: %s", key, why)
	}
}

// TestBossInTheWay: a boss moved over the recurve leaves the other face free, whose ramp is another one, but where a ramp is
// never to be split; the advice is to let it.
func TestBossInTheWay(t *testing.T) {
	for _, cant := range []float64{0, 5} {
		for split, free := range map[measures.Split]bool{measures.SplitAuto: true, measures.SplitNever: false} {
			on := demo(t, "otter", measures.Right, func(s *measures.Spec) {
				s.Plate.Width, s.Tape.Thickness = 9, 0.05
				s.Standoff.X, s.Standoff.Y, s.Ramp.CantDeg, s.Ramp.Split, s.Ramp.Lock = 4, -6.5, cant, split, 0
			})
			r := path.NewReport(on, quick())
			var bare []path.Bind
			for _, b := range r.Binds {
				if b.Face == measures.RightFace {
					bare = append(bare, b)
				}
			}
			if (len(bare) == 0) != free {
				t.Errorf("canted by %g deg, split %s: the bare face binds %v", cant, split, bare)
				continue
			}
			if free {
				continue
			}
			if key, why := r.Advice(bare[0]); key != "ramp.split" || !strings.Contains(why, "a boss") {
				t.Errorf("canted by %g deg: %s: %s", cant, key, why)
			}
		}
	}
}

// TestContactsAndTip: the thistle is held on either side of its drain, and its tip has the drain before it.
func TestContactsAndTip(t *testing.T) {
	r := path.NewReport(demo(t, "thistle", measures.Right, nil), quick())
	if n := len(r.Hold.Contacts); n != 2 {
		t.Errorf("%d bare contacts, want one on either side of the drain", n)
	}
	tip := r.With.Buck.Knife.Plan.Tip
	for _, c := range r.Hold.Contacts {
		if d := math.Hypot(c.At.X-tip.X, c.At.Y-tip.Y); d > r.Hold.TapeStop {
			t.Errorf("a contact %.1f mm from the tip, where there is tape", d)
		}
	}
	near(t, "room before the tip", r.Hold.TipGap, r.With.Buck.Drain.To, 3)
	near(t, "needed", r.Hold.TipNeed, 0.004*tip.X+2, 1e-9)
	b := r.Boss
	if b == nil {
		t.Fatal("nothing of the boss")
	}
	for _, r := range [][2]float64{b.Top, b.Wall, b.Foot} {
		if !(r[0] < r[1] && r[1] <= 2) {
			t.Errorf("boss: %+v", b)
		}
	}
	if !(b.Foot[1] < b.Wall[1] && b.Wall[1] < b.Top[1] && b.Taken > b.Top[0] && b.Taken < b.Top[1]) || b.Warning() != "" {
		t.Errorf("boss: %+v %s", b, b.Warning())
	}
	high := *b
	if high.Foot[1] = 0.44 * high.Gauge; !strings.Contains(high.Warning(), "a lower boss") {
		t.Errorf("a foot of 0.44 of the gauge: %q", high.Warning())
	}
}

// TestLock draws a straight blade whose handle, round in section, is wider by a little 12 mm ahead of the
// mouth than in it: it locks there, on both halves alike. A handle that does not swell does not lock; one that swells a lot
// binds, and make adds a filler that frees it.
func TestLock(t *testing.T) {
	o := quick()
	for _, c := range []struct {
		swell       float64
		lock, binds bool
	}{{0, false, false}, {0.27, true, false}, {3, false, true}} {
		plan := bucktest.Strip()
		v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
		w := c.swell
		plan.Handle = bucktest.Polygon(v(-100, 0), v(0, 0), v(12, -w), v(15, -w), v(15, 24+w), v(12, 24+w), v(0, 24), v(-100, 24))
		plan.Outline = bucktest.Polygon(v(-100, 0), v(0, 0), v(12, -w), v(15, -w), v(15, 0), v(100, 0), v(100, 24), v(15, 24), v(15, 24+w), v(12, 24+w), v(0, 24), v(-100, 24))
		plan.HandleFront, plan.Heel = 15, v(15, 0)
		s := bucktest.Spec()
		s.Handle.Rounding = s.Handle.Thickness / 2
		r := path.NewReport(path.Buck{Knife: bucktest.Knife(t, plan, s)}, o)
		if (r.Lock != nil) != c.lock || r.Free() == c.binds {
			t.Errorf("a swell of %g mm: lock %+v, binds %v", w, r.Lock, r.Binds)
		}
		study, err := path.Checked(r.With.Buck.Knife, []measures.Hand{measures.Plain})
		if err != nil {
			t.Fatalf("a swell of %g mm: %v", w, err)
		}
		made := study.Verdict() // with the pieces that make would add
		for _, b := range made.Binds {
			t.Errorf("a swell of %g mm: make binds: %+v", w, b)
		}
		if (made.Lock != nil) != c.lock {
			t.Errorf("a swell of %g mm: with what make adds it locks: %+v", w, made.Lock)
		}
		if l := r.Lock; l != nil {
			t.Logf("a swell of %g mm locks by %.3f mm, pull %.0f to %.0f N", w, l.Total, l.Draw.Pinned, l.Draw.Clamped)
			near(t, "clamped over pinned", l.Force.Clamped/l.Force.Pinned, 4, 1e-9)
			if l.Total <= 0 || l.Total > path.MostLock || l.At.X < 0 || l.At.X > 15 {
				t.Errorf("a swell of %g mm: %+v", w, l)
			}
		}
	}
}
