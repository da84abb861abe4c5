package path_test

import (
	"errors"
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/testdata/size"
)

// TestAskedLock asks for locks of 0.2 to 0.6 mm: what is kept is that, in cells of three sizes; nothing else
// binds; what locks is full stock, far from the edge; and the ramp with its pocket, whole and split, is fit for a file.
func TestAskedLock(t *testing.T) {
	size.Long(t)
	steps := []float64{0.1, 0.2, 0.3}[size.Or(1, 0):]
	for _, name := range []string{"thistle", "otter"} {
		for _, asked := range []float64{0.2, 0.4, 0.6} {
			split := measures.SplitAuto
			if asked == 0.4 {
				split = measures.SplitAlways
			}
			b := demo(t, name, measures.Right, func(s *measures.Spec) { s.Ramp.Lock, s.Ramp.Split = asked, split })
			pocket := 0
			for _, r := range b.Ramps {
				if r.Lock == nil {
					continue
				}
				pocket++
				m, err := solid.Ramp(r, 0)
				if err == nil {
					m, err = mesh.Gate(m)
				}
				if err != nil {
					t.Fatalf("%s, %g mm: %v", name, asked, err)
				}
				meshtest.Clean(t, m)
			}
			if pocket != 1 {
				t.Errorf("%s: %d ramps keep a lock", name, pocket)
			}
			for _, step := range steps {
				study := path.New(b, path.Options{Step: step})
				r := study.Verdict()
				if r.Lock == nil || math.Abs(r.Lock.Total-asked) > path.LockWithin || !r.Free() {
					t.Fatalf("%s, cells of %g mm: a lock of %g mm was asked for: %+v, binds %v", name, step, asked, r.Lock, r.Binds)
				}
				passes := r.With.Envelope.Height(r.Lock.At)
				if full := b.Knife.Spec.Blade.Thickness / 2; passes < 0.9*full {
					t.Errorf("%s: what locks is %.2f mm of a full %.2f", name, passes, full)
				}
				if step < steps[len(steps)-1] {
					continue
				}
				if r = study.Report(); math.Abs(r.Removed-r.Bare[0].Depth) > 0.1 {
					t.Errorf("%s: the deepest undercut removed is %.3f, the deepest bind without ramps %.3f", name, r.Removed, r.Bare[0].Depth)
				}
			}
		}
	}
}

// TestNoPlaceForALock: a knife with no gap that its full stock passes is refused a lock, by key.
func TestNoPlaceForALock(t *testing.T) {
	v, plan := bucktest.Demo(t, "minnow")
	v.Spec.Ramp.Lock = 0.4
	_, err := path.Made(bucktest.Knife(t, plan, v.Spec), measures.Right)
	var fault *measures.Fault
	if !errors.As(err, &fault) || fault.Key != "ramp.lock" {
		t.Errorf("a lock where there is no place: %v", err)
	}
}
