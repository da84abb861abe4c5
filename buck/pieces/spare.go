package pieces

import (
	"fmt"
	"math"

	"formbuck/buck/measures"
)

// Spare is what the last of a clip costs, that laps a formed wall, and what would spare it.
type Spare struct {
	Lap    float64 // of the clip's end over the wall, mm
	Height float64 // of the boss that it costs, mm
	Length float64 // of a clip that does not reach the wall
	X      float64 // of the boss whose clip does not
	key    string
}

// String is what to say of it.
func (s *Spare) String() string {
	return fmt.Sprintf(
		"the last %.1f mm of the clip make the boss %.1f mm higher: clip.length = %.4g or %s = %.4g would spare it",
		s.Lap, s.Height, s.Length, s.key, s.X)
}

// What is said of a clip's last lap, in mm; common practice, no source.
const (
	spareStep   = 0.1
	spareLap    = 0.6 // more of the clip's end than that is no small overlap
	spareHeight = 1.5 // less of the boss than that is not worth a word
)

// Spared is what the last few tenths of the clip over a formed wall cost; nil where they cost
// little.
func (s *StandoffPiece) Spared() *Spare {
	if s.Governing() != s.Demands[1] {
		return nil
	}
	k, clip, m := s.Knife, s.Knife.Spec.Clip, s.mounted()
	less := func(clip measures.Clip, top Pill) float64 { // of height
		p := *s
		p.Top = top
		return s.TopZ - max(p.Demands[0].TopZ, p.under(clip).z+clip.Clearance-k.Spec.Sheet.BossThickness)
	}
	shorter := func(lap float64) measures.Clip {
		c := clip
		c.Length = math.Floor((clip.Length-2*lap)/spareStep+1e-9) * spareStep
		return c
	}
	if less(shorter(spareLap), s.Top) < spareHeight {
		return nil
	}
	for n := 1; float64(n)*spareStep <= spareLap+1e-9; n++ {
		lap := float64(n) * spareStep
		by := less(shorter(lap), s.Top)
		if by < spareHeight {
			continue
		}
		for _, way := range []float64{1, -1} {
			moved := s.Top
			moved.Centre.X += way * lap
			if low := min(by, less(clip, moved)); low >= spareHeight {
				return &Spare{
					Lap: lap, Height: low, Length: shorter(lap).Length, X: m.X + way*lap, key: s.key("x"),
				}
			}
		}
	}
	return nil
}
