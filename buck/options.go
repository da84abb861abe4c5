package buck

import (
	"cmp"

	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
)

// Options say what to make of a design, and how. The zero value makes all of the job.
type Options struct {
	Hands     []measures.Hand // empty: those of the variant
	Pieces    []PieceKind     // empty: all, with papers, layout, programs and page
	Tolerance float64         // how far the meshes may lie off the pieces, mm; 0: 0.01
	Paper     drawing.Paper   // of drawings and set-up sheets; empty: A4
	Place     Place           // how the pieces stand in their files; empty: on the bed
	ASCII     bool            // write STL as text
	Measure   bool            // measure the meshes against bodies that are built apart from them, into the notes

	// Unfinished makes the pieces of a buck over which a sheath is formed that binds on the cutting edge, or whose
	// lock is another than the one asked for, with a warning; without it they are refused.
	Unfinished bool

	// Origin is the variant's file as the record names it; it is no path of the machine's. Empty: it is not told.
	Origin string

	// Earlier is what the same program made before of the same inputs, as a file of the name; nil where it did not.
	// A nil function: nothing was made before.
	Earlier func(name, inputs string) []byte
}

// hands are those asked for, else those of the design.
func (o Options) hands(d *Design) []measures.Hand {
	if len(o.Hands) > 0 {
		return o.Hands
	}
	return d.Hands()
}

// request is what is asked of the job.
func (o Options) request(d *Design) job.Request {
	return job.Request{Hands: o.hands(d), Kinds: o.Pieces, Tolerance: o.Tolerance}
}

// paper is that of drawings and set-up sheets.
func (o Options) paper() drawing.Paper { return cmp.Or(o.Paper, drawing.A4) }
