package variant

import "formbuck/profile"

// Hints are what the variant states of its drawing.
func (v *Variant) Hints() profile.Hints {
	return profile.Hints{
		TipDeg: v.Drawing.TipDeg, EdgeDeg: v.Drawing.EdgeDeg,
		HandleFront: v.Spec.Handle.Front, NoHandle: v.Spec.Handle.Drawn == "no",
		Plunge: v.Spec.Blade.Plunge, Edges: v.Spec.Blade.Edges, ThroatDepth: v.Spec.Throat.Depth,
	}
}
