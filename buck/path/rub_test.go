package path_test

import (
	"math"
	"testing"

	"formbuck/buck/measures"
	"formbuck/buck/path"
)

// TestRubDepth: what is no larger than a rub is one only as far as it is no deeper either. On a knife that draws freely, what
// passes over 1 mm2 over the bevel is raised over the sheet by a little, then by as much as was once called free.
func TestRubDepth(t *testing.T) {
	const aside = 0.05 // mm: the bevel falls by less than this over SidePlay
	for _, tt := range []struct {
		over  float64 // mm, by which what passes is higher than the sheet
		binds bool
	}{{path.MostRub - aside, false}, {path.MostRub + aside, true}, {0.86, true}} {
		s := path.New(demo(t, "thistle", measures.Plain, nil), path.Options{Step: 0.25})
		if v := s.Verdict(); len(v.Binds)+len(v.Rubs) > 0 {
			t.Fatalf("it draws freely: %v %v", v.Binds, v.Rubs)
		}
		f := s.Plain()
		raise(s, f, tt.over)
		v := s.Verdict()
		slight, deep := v.Rubs, v.Binds
		if tt.binds {
			slight, deep = deep, slight
		}
		if len(slight) == 0 || len(deep) != 0 {
			t.Errorf("%.2f mm over the sheet: binds %v, rubs %v", tt.over, v.Binds, v.Rubs)
			continue
		}
		for _, b := range slight {
			if b.Area > path.MostRubArea || math.Abs(b.Depth-tt.over) > aside {
				t.Errorf("%.2f mm over the sheet: %.3f mm over %.2f mm2", tt.over, b.Depth, b.Area)
			}
		}
	}
}

// raise lets something pass over 1 mm2 of a face by so much higher than the sheet.
func raise(s *path.Study, f *path.Face, over float64) {
	k := s.Buck.Knife
	g := f.Interference.Grid
	at := k.Plan.Heel
	at.X, at.Y = at.X+25, 0
	i0, j0 := g.Cell(g.Draw(at))
	n := int(1/g.Step + 0.5)
	for j := j0; j < j0+n; j++ {
		for i := i0; i < i0+n; i++ {
			c := j*g.NX + i
			s.Envelope.Z[c] = f.Cavity.Z[c] + over
			f.Interference.Z[c] = over
		}
	}
}
