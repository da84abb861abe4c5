package variant

import "formbuck/profile"

// Hints are what the variant states of its drawing.
func (v *Variant) Hints() profile.Hints {
	return profile.Hints{
		TipDeg: v.Drawing.TipDeg, EdgeDeg: v.Drawing.EdgeDeg,
		HandleFront: v.Spec.Handle.Front, NoHandle: v.Spec.Handle.Drawn == "no",
		Plunge: v.Spec.Blade.Plunge, Edges: v.Spec.Blade.Edges,
		Guard: v.Spec.Guard.Thickness > 0, GuardFrom: v.Spec.Guard.From, GuardTo: v.Spec.Guard.To,
		ThroatDepth: v.Spec.Throat.Depth,
	}
}
