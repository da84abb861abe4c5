// Package job makes all of a variant: which pieces for which hands, their meshes, files, pictures
// and what governed them. It reads and writes nothing itself.
package job

import (
	"formbuck/buck/measures"
	"formbuck/buck/paper"
	"formbuck/buck/pieces"
	"formbuck/mesh"
)

// Kind is one of the kinds of piece.
type Kind string

// The kinds, in the order in which they are listed.
const (
	Standoff Kind = "standoff"
	Ramp     Kind = "ramp"
	Drain    Kind = "drain"
	Nub      Kind = "nub"
	Locator  Kind = "locator" // not glued on: it shows where the others are
	Whole    Kind = "buck"    // knife and pieces in one body; made on request only
)

// Kinds are all kinds.
func Kinds() []Kind { return []Kind{Standoff, Ramp, Drain, Nub, Locator, Whole} }

// AnyHand marks a piece that serves every hand that needs it.
const AnyHand = "any"

// Figure is a piece's governing measure: what it is, as a phrase after the length, and the length in
// mm.
type Figure struct {
	What   string
	Length float64
}

// Piece is one printable piece.
type Piece struct {
	Kind     Kind
	Name     string         // of its files, without the variant's
	Hand     string         // the hand that it is made for, or AnyHand
	Face     measures.Face  // that it is glued to; empty: it serves both
	For      pieces.RampFor // of a ramp: on which faces it is
	carry    measures.Carry // tells whose hand a face is
	Mesh     *mesh.Mesh
	Governed string   // what set its governing measure, with figures
	Figure   Figure   // that measure
	Measures []string // what a maker checks on the print, one each

	references []reference // what the mesh is measured against
	mirrored   bool        // the mesh, against these

	marks []paper.Mark                // what is stated on its drawing beside its overall measures
	level func(*mesh.Mesh) *mesh.Mesh // lays it as it is drawn; nil: as it sits on the knife
	stand func(*mesh.Mesh) *mesh.Mesh // stands it as it would be printed by itself
	stood func() mesh.Stance          // as it is printed, grown
	grow  float64                     // factor that makes up for the print's shrink
	bed   func() (*mesh.Mesh, error)  // the mesh on the printer's bed, fit for a file
}

// Printed is the mesh as it is printed, standing on the bed at z = 0, its bounds centred on the origin,
// so that a piece and its mirror stay each other's mirror; and larger by what the print shrinks.
func (p *Piece) Printed() *mesh.Mesh { return centred(p.stood().Mesh) }

// upright is for a piece that lies on the right face.
func upright(m *mesh.Mesh) *mesh.Mesh { return m }

// overturned is for a piece that lies on the left face.
func overturned(m *mesh.Mesh) *mesh.Mesh { return m.Turned(mesh.X, 180) }

// onEnd stands a plug whose axis is turned by deg from x on its outer end.
func onEnd(deg float64) func(*mesh.Mesh) *mesh.Mesh {
	return func(m *mesh.Mesh) *mesh.Mesh { return m.Turned(mesh.Z, -deg).Turned(mesh.Y, 90) }
}
