package layout

import (
	"slices"

	"formbuck/buck/fixture/way"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
)

// Member is a knife with its measures, and the hands that its sheath is for; none: all four.
type Member struct {
	Knife *pieces.Buck
	Hands []measures.Hand
}

// Family lays out one sheath's holes and outline for several variants of one outline: every eyelet is as far from the
// knife as the one of them asks for that asks for most. The measures of eyelets, layout and mouth are the first
// one's; that the others have the same is for the caller to see to. A plate that they name has no part in it. Its errors are Faults of the measures.
func Family(members []Member) (*Sheath, error) {
	var all []*ground
	for _, m := range members {
		g, err := groundOf(m, way.Own)
		if err != nil {
			return nil, err
		}
		all = append(all, g)
	}
	return lay(joined(all))
}

// groundOf is what the sheet has to come down from on one variant's buck.
func groundOf(m Member, lying func(*pieces.Buck) (way.Way, error)) (*ground, error) {
	k, hands := m.Knife, m.Hands
	if len(hands) == 0 {
		hands = measures.Hands()
	}
	var bosses []*pieces.StandoffPiece
	for _, h := range hands {
		if len(k.Spec.Faces(h)) == 0 || bosses != nil {
			continue
		}
		var err error
		if bosses, err = pieces.NewStandoffs(k); err != nil {
			return nil, err
		}
	}
	_, ramps, err := k.Ramps()
	if err != nil {
		return nil, err
	}
	drain, err := pieces.NewDrain(k)
	if err != nil {
		return nil, err
	}
	lies, err := lying(k)
	if err != nil {
		return nil, err
	}
	return newGround(k, bosses, ramps.Bare, drain).lying(lies, hands), nil
}

// lying is the ground with how the pair lies.
func (g *ground) lying(lies way.Way, hands []measures.Hand) *ground {
	g.hands, g.way, g.members = hands, lies, []*ground{g}
	g.off = g.field(lies)
	g.sweep()
	return g
}

// joined is one ground for several: what any of them keeps off is kept off.
func joined(all []*ground) *ground {
	if len(all) == 1 {
		return all[0]
	}
	g := *all[0]
	g.members, g.folds, g.plugs, g.bosses, g.hands, g.ramps = all, nil, nil, nil, nil, nil
	for _, m := range all {
		g.folds, g.plugs = append(g.folds, m.folds...), append(g.plugs, m.plugs...)
		g.bosses, g.ramps = append(g.bosses, m.bosses...), append(g.ramps, m.ramps...)
		g.reach = max(g.reach, m.reach)
		for _, h := range m.hands {
			if !slices.Contains(g.hands, h) {
				g.hands = append(g.hands, h)
			}
		}
		if m.drain != nil && (g.drain == nil || m.drain.RadiusAt(m.drain.To) > g.drain.RadiusAt(g.drain.To)) {
			g.drain = m.drain
		}
	}
	g.settle()
	return &g
}

// sheet is the thickness of the thickest sheet.
func (g *ground) sheet() float64 {
	most := 0.0
	for _, m := range g.members {
		most = max(most, m.knife.Spec.Sheet.Thickness)
	}
	return most
}

// tallest is the height of the highest buck's highest point over its middle plane.
func (g *ground) tallest() float64 {
	most := 0.0
	for _, m := range g.members {
		most = max(most, m.height())
	}
	return most
}

// farthest is the most that a hole can be off as the pair lies.
func (g *ground) farthest() float64 {
	most := 0.0
	for _, p := range grown(g.knife.Plan.Outline.Bounds(), 30).Vertices() {
		most = max(most, g.way.Register.Error(p))
	}
	return most
}

// steep is the most by which what a hole can be off grows in a mm, (c1 + c2) / length: no turn is greater.
func (g *ground) steep() float64 {
	r := g.way.Register
	return (r.Play[0] + r.Play[1]) / r.Length()
}
