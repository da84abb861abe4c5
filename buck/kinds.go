package buck

import "formbuck/buck/internal/job"

// PieceKind is one of the kinds of piece.
type PieceKind = job.Kind

// The kinds, in the order in which they are listed.
const (
	Standoff = job.Standoff
	Ramp     = job.Ramp
	Drain    = job.Drain
	Nub      = job.Nub
	Locator  = job.Locator // not glued on: it shows where the others are
	Whole    = job.Whole   // knife and pieces in one body; made where it is named only
)

// PieceKinds are all kinds.
func PieceKinds() []PieceKind { return job.Kinds() }

// Place is how the pieces stand in their files.
type Place = job.Place

// The places: on the printer's bed, ready to print, or where they sit on the knife.
const (
	OnBed   = job.OnBed
	OnKnife = job.OnKnife
)

// Advice is how a piece is to be printed.
type Advice = job.Advice
