package sound_test

import (
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/sound"
	"formbuck/buck/layout"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// made is all of a demo knife's buck and sheath.
func made(t *testing.T, name string) sound.Work {
	t.Helper()
	v, plan := bucktest.Demo(t, name)
	k := bucktest.Knife(t, plan, v.Spec)
	var w sound.Work
	var err error
	if w.Bosses, err = pieces.NewStandoffs(k); err != nil {
		t.Fatal(err)
	}
	if _, w.Ramps, err = k.Ramps(); err != nil {
		t.Fatal(err)
	}
	if w.Drain, err = pieces.NewDrain(k); err != nil {
		t.Fatal(err)
	}
	if w.Sheath, err = layout.New(k, nil); err != nil {
		t.Fatal(err)
	}
	return w
}

// copied is the work with everything that a test spoils its own.
func copied(w sound.Work) sound.Work {
	sheath, drain := *w.Sheath, *w.Drain
	sheath.Eyelets, sheath.Pins, sheath.Posts = slices.Clone(sheath.Eyelets), slices.Clone(sheath.Pins), slices.Clone(sheath.Posts)
	sheath.Trim = slices.Clone(sheath.Trim)
	out := sound.Work{Sheath: &sheath, Drain: &drain, Ramps: &pieces.Ramps{Bossed: slices.Clone(w.Ramps.Bossed), Bare: w.Ramps.Bare}}
	for _, b := range w.Bosses {
		boss := *b
		out.Bosses = append(out.Bosses, &boss)
	}
	return out
}

// TestDemosAreSound looks at the demo knives.
func TestDemosAreSound(t *testing.T) {
	for _, name := range bucktest.Demos() {
		for _, f := range made(t, name).Findings() {
			t.Errorf("%s: %s", name, f.What)
		}
	}
}

// TestSpoilt spoils a sound sheath in one way at a time: that must be found, and whether it is the program's own fault.
func TestSpoilt(t *testing.T) {
	whole := made(t, "thistle")
	for name, tt := range map[string]struct {
		spoil func(w *sound.Work)
		want  string
		own   bool
	}{
		"an eyelet by the trim line": {
			func(w *sound.Work) { w.Sheath.Eyelets[2].At = w.Sheath.Trim[0].A },
			"within the trim line", true,
		},
		"an eyelet on the blade": {
			func(w *sound.Work) { w.Sheath.Eyelets[1].At = r2.Vec{X: 40} },
			"from where the sheets lie flat", true,
		},
		"a drain wider than was laid out for": {
			func(w *sound.Work) { w.Drain.Radius += 3 },
			"where the sheets part beside the drain", true,
		},
		"two eyelets in one": {
			func(w *sound.Work) {
				w.Sheath.Eyelets[1].At = r2.Add(w.Sheath.Eyelets[0].At, r2.Vec{X: 2})
			},
			"from another", true,
		},
		"a pin beside its hole": {
			func(w *sound.Work) { w.Sheath.Pins[0].At.X++ },
			"stands in no eyelet's hole", true,
		},
		"a post out of the mouth": {
			func(w *sound.Work) { w.Sheath.Posts[0].At.X = -1 },
			"the post hole at", true,
		},
		"a boss out of the mouth": {
			func(w *sound.Work) { w.Bosses[0].Top.Centre.X = 10 },
			"stands out of its trim line", true,
		},
		"a bow in the trim line": {
			func(w *sound.Work) {
				l := w.Sheath.Trim
				n := len(l) / 2
				l[0].A, l[n].A = l[n].A, l[0].A
				l[len(l)-1].B, l[n-1].B = l[0].A, l[n].A
			},
			"crosses itself", true,
		},
		"a ramp twice": {
			func(w *sound.Work) { w.Ramps.Bossed = append(w.Ramps.Bossed, w.Ramps.Bossed[0]) },
			"two ramps, at the edge and at the edge", true,
		},
		"a boss on a ramp": {
			func(w *sound.Work) { w.Bosses[0].Top.Centre.Y -= 6 },
			"standoff: it and the ramp at the edge are in one place", false,
		},
		"a boss on the drain": {
			func(w *sound.Work) { w.Bosses[0].Top.Centre = r2.Vec{X: 88, Y: 4} },
			"drain: it and the standoff are in one place", false,
		},
	} {
		t.Run(name, func(t *testing.T) {
			w := copied(whole)
			tt.spoil(&w)
			all := w.Findings()
			if !slices.ContainsFunc(all, func(f sound.Finding) bool { return strings.Contains(f.What, tt.want) && f.Own == tt.own }) {
				t.Errorf("%v, want %q", all, tt.want)
			}
		})
	}
}

// TestShortDrain ends the insert before the trimmed edge where no sheath is laid out.
func TestShortDrain(t *testing.T) {
	w := copied(made(t, "thistle"))
	w.Sheath, w.Drain.To = nil, 6
	if all := w.Findings(); len(all) != 1 || all[0].Own || !strings.Contains(all[0].What, "drain.length") {
		t.Errorf("%v", all)
	}
}
