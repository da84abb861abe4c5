package layout

import (
	"math"

	"formbuck/buck/internal/offset"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// mouth is the surface that is below 0 on the sheath's side of the mouth line, through the two points
// where the throat crosses the outline.
func mouth(k *pieces.Buck) offset.Surface {
	return offset.Half(k.MouthLine())
}

// opening is the mouth with the relief for the thumb, which is round and lies where the spine comes out.
func (s *Sheath) opening() offset.Surface {
	l := s.Knife.Spec.Layout
	if l.Thumb == 0 {
		return mouth(s.Knife)
	}
	return offset.Common(mouth(s.Knife), offset.Disc(s.thumb(), l.Thumb).Inverse())
}

// thumb is the middle of the relief for the thumb.
func (s *Sheath) thumb() r2.Vec {
	l := s.Knife.Spec.Layout
	_, out := s.Knife.MouthLine()
	return r2.Add(s.Knife.Plan.ThroatSpine, r2.Scale(l.Thumb-l.ThumbDepth, out))
}

// checkMouth refuses a relief that cannot be cut.
func (s *Sheath) checkMouth() error {
	l, m := s.Knife.Spec.Layout, s.Knife.Spec.Mill
	if least := m.Cutter/2 + m.Allowance; l.Thumb > 0 && l.Thumb < least {
		return fault("layout.thumb", "a cutter of %.4g mm cannot go into a relief of radius %.4g mm: at least %.4g mm", m.Cutter, l.Thumb, least)
	}
	if l.Thumb > 0 && l.ThumbDepth >= l.Thumb {
		return fault("layout.thumb_depth", "a relief of radius %.4g mm reaches less than %.4g mm deep", l.Thumb, l.ThumbDepth)
	}
	return nil
}

// adviseOnFlare warns of a flare under the clip.
func (s *Sheath) adviseOnFlare(bosses []*pieces.StandoffPiece) {
	spec := s.Knife.Spec
	if spec.Layout.Flare == 0 {
		return
	}
	open, near := mouth(s.Knife), math.Inf(-1)
	for _, b := range bosses {
		for _, corner := range [4]r2.Vec{{X: -1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: -1}, {X: 1, Y: 1}} {
			v, _ := open(b.Top.At(r2.Vec{X: corner.X * spec.Clip.Length / 2, Y: corner.Y * spec.Clip.Width / 2}))
			near = max(near, v)
		}
	}
	if near > -spec.Layout.Flare {
		s.warn("layout.flare: the clip lies over the flare, which stands out by %.2f mm and would lift it; flare the sheath beside the clip alone", spec.Layout.FlareGain())
	}
}

// mouthRoom is the least distance of an eyelet's centre from the mouth: what the rim asks for, and off the flare.
func (g *ground) mouthRoom() float64 {
	s := g.knife.Spec
	if s.Layout.Flare == 0 {
		return s.EdgeDistance()
	}
	return max(s.EdgeDistance(), s.Layout.Flare+g.reach)
}
