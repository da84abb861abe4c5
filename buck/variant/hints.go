package variant

import (
	"formbuck/buck/measures"
	"formbuck/profile"
)

// Hints are what the variant states of its drawing.
func (v *Variant) Hints() profile.Hints {
	return profile.Hints{
		TipDeg: v.Drawing.TipDeg, EdgeDeg: v.Drawing.EdgeDeg,
		HandleFront: v.Spec.Handle.Front, NoHandle: v.Spec.Handle.Drawn == "no",
		Plunge: v.Spec.Blade.Plunge, Edges: v.Spec.Blade.Edges,
		Guard: v.Spec.Guard.Thickness > 0, GuardFrom: v.Spec.Guard.From, GuardTo: v.Spec.Guard.To,
		ThroatDepth: v.Spec.Throat.Depth, Sided: v.sided(),
	}
}

// sided are the keys of measures that mean another place where the knife is mirrored in y.
func (v *Variant) sided() (keys []string) {
	add := func(counts bool, key string) {
		if counts {
			keys = append(keys, key)
		}
	}
	placed := func(piece string, p *measures.Placement) {
		add(p.Y != 0, piece+".y")
		add(p.CantDeg != 0, piece+".cant")
	}
	s := &v.Spec
	placed("standoff", &s.Standoff.Placement)
	for i := range s.Standoff.More {
		placed(join(moreTable, s.Standoff.More[i].Name), &s.Standoff.More[i].Placement)
	}
	add(s.Ramp.CantDeg != 0, "ramp.cant") // ramp.y is added to the lap, on either side
	placed("drain", &s.Drain.Placement)
	add(s.Nub.Y != 0, "nub.y") // a nub is round
	add(s.Nub.Holes != "", "nub.holes")
	add(s.Layout.Thumb != 0, "layout.thumb")
	add(s.Layout.Holes != "", "layout.holes")
	add(s.Layout.NoEyelets != "", "layout.no_eyelets")
	return keys
}
