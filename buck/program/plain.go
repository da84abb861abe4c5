package program

// The plain dialect is written in the words common to full RS-274 controllers and to small open
// ones, which refuse a line with another word and run on with what was set before: G0 G1 G2 G3 G4
// G17 G20 G21 G40 G49 G54 G61 G80 G90 G91.1 G94 M0 M2 M3 M5. Source: the word list of an open
// controller for hobby machines (github.com/fra589/grbl-Mega-5X, wiki, "G code Quick Reference"),
// of which everything is left out that full controllers read otherwise. No canned cycles, no G64,
// no G98, no T, no M6.

// back is how far over the last bottom a peck feeds on, in mm; a canned cycle keeps 0.254 mm (NIST IR 6556, from
// memory).
const back = 0.25

// bore writes one hole without a canned cycle: over it, down to where feeding begins, down by pecks, each drawn out to
// clear the chips, and up to the safe height. Every word stands in every line that needs it: a line that is lost takes
// one hole with it.
func (w *writer) bore(s *Setup, h Hole, bottom, start, peck float64) {
	if peck <= 0 {
		peck = start - bottom
	}
	w.line("G0 X%s Y%s", w.length(h.At.X), w.length(h.At.Y))
	w.line("G0 Z%s", w.length(start))
	for z := start - peck; z > bottom; z -= peck {
		w.line("G1 Z%s", w.length(z))
		w.line("G0 Z%s", w.length(start))
		w.line("G0 Z%s", w.length(min(z+back, start)))
	}
	w.line("G1 Z%s", w.length(bottom))
	w.line("G0 Z%s", w.length(s.Safe))
}
