package witness

import "math"

// Buck is what lies in the press, read from print files that stand as on the knife.
type Buck struct {
	Whole    []Triangle   // knife and pieces in one body, with its boss on one face
	Boss     []Triangle   // nil: there is none
	BossFace float64      // -1: the left face
	Ramps    [][]Triangle // from both faces
	Drain    []Triangle   // its slit tells nothing of the tip in it: nothing is taken to pass out of it
	Glue     float64      // gap under the pieces
	Sheet    float64      // thickness
	Foot     float64      // least radius that the press forms outside; 0: the sheet's thickness
}

// Seen is what was found of a buck: heights on the face without a boss, and on the one with it.
type Seen struct {
	Knife   *Field // bare
	Passing *Field // over every cell, drawn straight out
	Plain   *Field // inner side of the sheet formed over the face without a boss
	Bossed  *Field // and over the other
	Outer   *Field // outer side of the former, and the bare knife behind the mouth
	Top     float64
	sheet   float64
}

// plugRoom is how far round the drain nothing is taken to pass out: in one body with the knife its slit is filled.
const plugRoom = 1

// Look reads a buck on cells of a step. The mouth is at x = 0.
func (b Buck) Look(step float64) *Seen {
	foot := b.Foot
	if foot == 0 {
		foot = b.Sheet
	}
	ball := foot + b.Sheet
	f := Over(b.Whole, ball+1, step)
	plain, _ := f.Heights(b.Whole, -b.BossFace)
	bossed, _ := f.Heights(b.Whole, b.BossFace)
	s := &Seen{Knife: plain.Like(0), Plain: plain.Closed(ball), Bossed: bossed.Closed(ball), sheet: b.Sheet}
	copy(s.Knife.Z, plain.Z)
	plug, _ := f.Heights(b.Drain, -b.BossFace)
	plug.roll(plugRoom, func(n, m int, _ float64) {
		if plug.Z[n] > 0 {
			s.Knife.Z[m] = 0
		}
	})
	for _, piece := range b.Ramps {
		top, bottom := f.Heights(piece, -b.BossFace)
		for n := range bottom.Z {
			if top.Z[n] > 0 {
				s.Knife.Z[n] = min(s.Knife.Z[n], max(0, bottom.Z[n]-b.Glue))
			}
		}
	}
	s.Passing = s.Knife.Passing()
	s.Outer = s.outer(plain)
	if b.Boss != nil {
		top, _ := f.Heights(b.Boss, b.BossFace)
		s.Top = top.level()
	}
	return s
}

// outer is the outer side of the sheet within the mouth, and the bare knife behind it.
func (s *Seen) outer(plain *Field) *Field {
	inner := plain.Like(math.Inf(-1))
	for n := range inner.Z {
		if x, _ := inner.Middle(n); x >= 0 {
			inner.Z[n] = s.Plain.Z[n]
		}
	}
	out := inner.Lifted(s.sheet)
	for n := range out.Z {
		if x, _ := out.Middle(n); x < 0 {
			out.Z[n] = s.Knife.Z[n]
		}
	}
	return out
}

// level is the height that the most cells have, to a hundredth: a boss's top plane, whatever stands on it.
func (f *Field) level() float64 {
	count := map[int]int{}
	best := 0
	for _, z := range f.Z {
		if c := int(math.Round(z * 100)); c > 0 {
			count[c]++
			if count[c] > count[best] || count[c] == count[best] && c > best {
				best = c
			}
		}
	}
	return float64(best) / 100
}

// Binds is over how much of a face, in mm2, what passes is higher than the sheet's inner side by more than depth, even with
// the sheet's walls aside by aside; where that is most, and by how much. Only what lies within the mouth counts.
func (s *Seen) Binds(inner *Field, depth, aside float64) (area, most, atX, atY float64) {
	far := int(aside/inner.Step + 0.5)
	for n, e := range s.Passing.Z {
		x, y := inner.Middle(n)
		if x < 0 || e <= 0 {
			continue
		}
		i := e - inner.Z[n]
		for v := n - far*inner.NX; i > depth && v <= n+far*inner.NX; v += inner.NX {
			if v >= 0 && v < len(inner.Z) {
				i = min(i, e-inner.Z[v])
			}
		}
		if i > depth {
			area += inner.Step * inner.Step
			if i > most {
				most, atX, atY = i, x, y
			}
		}
	}
	return area, most, atX, atY
}
