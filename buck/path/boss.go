package path

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"formbuck/buck/internal/drape"
	"formbuck/buck/pieces"
)

// Boss is how the sheet comes out over a boss, in mm, each from the least to the most that it may be.
type Boss struct {
	Height float64 // above the blade's face
	Gauge  float64 // of the sheet before
	Taken  float64 // what the measures assume over the top
	Top    [2]float64
	Wall   [2]float64 // mean
	Foot   [2]float64 // the least of all
}

const (
	feedRing  = 20   // mm beside the foot that the sheet comes from at the most; common practice, no source
	leastFoot = 0.45 // share of its gauge that a sheet keeps at the foot without a warning; common practice, no source
	bossSteps = 400  // of the arc at the foot: the thickness is within 1e-5 of its limit
)

// Highest is the boss that stands highest over the blade: the one that takes most of the sheet. There is at least one.
func Highest(bosses []*pieces.StandoffPiece) *pieces.StandoffPiece {
	return slices.MaxFunc(bosses, func(a, b *pieces.StandoffPiece) int { return cmp.Compare(a.Height(), b.Height()) })
}

// NewBoss brackets the sheet's thickness over a boss. Over its top: between the mean over all that is
// drawn, as if the sheet slipped freely, and its gauge, as if it stuck at once. Down its wall and at
// its foot: on flanks and round ends, between no feed and that from a ring of 20 mm.
func NewBoss(b *pieces.StandoffPiece) *Boss {
	foot, t, high := b.Foot(), b.Knife.Spec.Sheet, b.Height()
	half, long := foot.Width/2, foot.Length-foot.Width
	area, perimeter := math.Pi*half*half+2*half*long, 2*math.Pi*half+2*long
	out := &Boss{
		Height: high, Gauge: t.Thickness, Taken: t.BossThickness,
		Top:  [2]float64{t.Thickness / ArealRatio(area, perimeter, high, feedRing), t.Thickness},
		Wall: [2]float64{t.Thickness, 0}, Foot: [2]float64{t.Thickness, 0},
	}
	for _, round := range []bool{false, true} {
		for _, ring := range []float64{0, feedRing} {
			s := drape.Wall{
				Height: high, DraftDeg: b.DraftDeg, Ring: ring, Foot: t.Ball(), Round: round, Top: b.Top.Width / 2,
			}.Formed(bossSteps)
			wall, foot := t.Thickness*s.Mean, t.Thickness*s.Foot
			out.Wall = [2]float64{min(out.Wall[0], wall), max(out.Wall[1], wall)}
			out.Foot = [2]float64{min(out.Foot[0], foot), max(out.Foot[1], foot)}
		}
	}
	return out
}

// String tells of top, wall and foot.
func (b *Boss) String() string {
	return fmt.Sprintf("top %.2f to %.2f mm, wall %.2f to %.2f mm, foot %.2f to %.2f mm, drawn %.1f mm high",
		b.Top[0], b.Top[1], b.Wall[0], b.Wall[1], b.Foot[0], b.Foot[1], b.Height)
}

// Warning is said where the sheet gets weak at the foot even at best; "" where it does not.
func (b *Boss) Warning() string {
	if b.Foot[1] >= leastFoot*b.Gauge {
		return ""
	}
	return fmt.Sprintf("the sheet comes out %.2f mm thick at the foot of a boss %.1f mm high, of %.4g mm, and that at best: "+
		"a lower boss, more standoff.draft or a heavier sheet.thickness leaves more", b.Foot[1], b.Height, b.Gauge)
}
