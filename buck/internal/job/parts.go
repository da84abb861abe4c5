package job

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/measures"
	"formbuck/buck/paper"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// drawnParts are the pieces as they are drawn by themselves. Of two that are each other's mirror image the first is drawn.
func (s *Set) drawnParts() []paper.Part {
	var parts []paper.Part
	var done []string
	for _, p := range s.Pieces {
		if p.Kind == Whole || slices.Contains(done, p.Label()) {
			continue
		}
		done = append(done, p.Label())
		part := paper.Part{
			Title: s.Knife.Spec.Name + ": " + p.Label(), Mesh: p.Mesh, Left: p.Face == measures.LeftFace,
			Notes: append([]string{p.Governed}, p.Measures...), Marks: p.marks,
		}
		if p.level != nil {
			part.Mesh = p.level(p.Mesh)
		}
		if p.Hand != AnyHand {
			part.Title += ", " + p.Hand + " hand"
			for _, other := range s.Pieces {
				if other != p && other.Label() == p.Label() {
					part.Notes = append(part.Notes, fmt.Sprintf("The one for the %s hand is its mirror image.", other.Hand))
				}
			}
		}
		parts = append(parts, part)
	}
	return parts
}

// standoffMarks state how far the posts are apart, how long and wide the plate's room is where walls and top would meet,
// and how high it stands over the blade's face.
func standoffMarks(p *pieces.StandoffPiece, f measures.Face) []paper.Mark {
	z := 1.0
	if f == measures.LeftFace {
		z = -1
	}
	on := func(q r2.Vec, h float64) r3.Vec {
		at := p.Top.At(q)
		return r3.Vec{X: at.X, Y: at.Y, Z: z * h}
	}
	half, foot := r2.Scale(0.5, r2.Vec{X: p.Top.Length, Y: p.Top.Width}), p.Foot()
	rim := foot.Width/2 + 6
	end := p.Top.Centre.X + foot.Length/2
	return []paper.Mark{
		{On: paper.Plan, From: on(r2.Vec{X: -p.Apart / 2}, p.TopZ), To: on(r2.Vec{X: p.Apart / 2}, p.TopZ), Off: rim, What: "posts"},
		{On: paper.Plan, From: on(r2.Vec{X: -half.X}, p.TopZ), To: on(r2.Vec{X: half.X}, p.TopZ), Off: rim + 8, What: "at the top"},
		{On: paper.Plan, From: on(r2.Vec{Y: -half.Y}, p.TopZ), To: on(r2.Vec{Y: half.Y}, p.TopZ), Off: -foot.Length/2 - 9, What: "top"},
		{On: paper.Side, From: r3.Vec{X: end, Z: z * p.Face}, To: r3.Vec{X: end, Z: z * p.TopZ}, Off: -9, What: "over the face"},
	}
}

// drainMarks state how far the insert reaches over the tip and beyond it, and its slit, its axis along x.
func drainMarks(p *pieces.DrainPiece) []paper.Mark {
	tip := r2.Rotate(p.Tip, -p.AxisDeg*math.Pi/180, r2.Vec{})
	at := func(along, z float64) r3.Vec { return r3.Vec{X: tip.X + along, Y: tip.Y, Z: z} }
	wide := p.RadiusAt(p.To) + 6
	return []paper.Mark{
		{On: paper.Plan, From: at(p.From, 0), To: at(0, 0), Off: wide, What: "over the tip"},
		{On: paper.Plan, From: at(0, 0), To: at(p.To, 0), Off: wide + 8, What: "beyond the tip"},
		{On: paper.Side, From: at(p.From, -p.Slit), To: at(p.From, p.Slit), Off: 9, What: "slit"},
	}
}
