// Package profile turns the entities of a drawing into one knife: a clean closed outline, its
// holes and reference lines, and the landmarks that bring it into the blade frame.
//
// Lengths are millimetres, angles radians unless a name ends in Deg. A drawing is understood in
// two steps. Read joins the entities into loops and gives each a role, in the drawing's own axes.
// Profile.Plan finds tip, edge side, throat and handle and turns everything into the blade frame:
// x from the butt to the tip, y from the edge to the spine, origin where the throat line crosses
// the blade's axis, seen on the knife's right face.
//
// Curves are straight segments and exact circular arcs only. Ellipses and splines are replaced,
// when a drawing is read, by tangent-continuous pairs of arcs that lie within CurveTolerance.
package profile
