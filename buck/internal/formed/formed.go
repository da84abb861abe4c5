// Package formed is the surface that a hot sheet takes over a map of heights: the closing of the
// map by a ball, as the sheet cannot follow a foot sharper than that, and its outer side, the
// sheet's thickness beyond it, measured square to itself.
//
// A map is a height over the plan, sampled on a grid of square cells. What lies on the map is of no
// concern here.
package formed
