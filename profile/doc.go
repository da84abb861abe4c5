// Package profile turns the entities of a drawing into one knife: a clean closed outline, its
// holes and reference lines, and the landmarks that bring it into the blade frame.
//
// Lengths are millimetres, angles radians unless a name ends in Deg. A drawing is understood in
// two steps. Read joins the entities into loops and gives each a role, in the drawing's own axes.
// Profile.Plan finds tip, edge side, throat and handle and turns everything into the blade frame:
// x from the butt to the tip, y from the edge to the spine, origin where the throat line crosses
// the blade's axis, seen on the knife's right face.
//
// # Layers
//
// A layer's name, in any case, says what it holds; Options can give other names.
//
//	OUTLINE  the knife's outline and holes; without it, the layer with the largest closed loop
//	HOLES    more holes
//	HANDLE   a closed loop round the handle, or a line across the knife at the handle's front
//	GRIND    the grind line, an open path from the heel to the tip
//	THROAT   a line across the knife: the sheath's mouth
//	EDGE     a short line beside the cutting edge
//	TIP      a point or a short line at the tip
//
// Everything else is left out, counted by kind and layer, and kept for a picture.
//
// # Joining
//
// Ends that coincide are joined, then ends up to JoinGap apart, nearest first. What is drawn twice,
// within 0.005 mm, is taken once. Ends further apart, more than two ends at one place, loops that
// cross or touch, pieces that lie on each other in part, a second loop beside the outline: each is a
// fault with its class, line, entity and place, and all are told at once.
//
// # Curves
//
// Curves are straight segments and exact circular arcs only. Ellipses and splines are replaced,
// when a drawing is read, by tangent-continuous pairs of arcs that lie within CurveTolerance. A
// spline known only by points it goes through becomes the twice continuously differentiable cubic
// through them.
//
// # Units
//
// As asked for, else as the header says, else millimetres or inches where only that gives the size
// of a knife, with a warning; else the drawing is refused.
package profile
