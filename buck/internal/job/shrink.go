package job

import (
	"fmt"

	"formbuck/buck/measures"
)

// shrink makes the print files larger by what prints shrink, and says what was done about it and about the
// sheet's shrink. The two have nothing to do with each other and are never taken together.
func (s *Set) shrink() {
	spec := s.Knife.Spec
	printed, sheet := spec.Print.ShrinkPercent, spec.Sheet.ShrinkPercent
	for _, p := range s.Pieces {
		p.grow = measures.MadeUp(printed)
		if printed > 0 {
			p.Measures = append(p.Measures, fmt.Sprintf("print file %.5f times as large, for a print that shrinks by %.3g %%", p.grow, printed))
		}
	}
	if printed == 0 {
		s.note("print.shrink: 0: print files are as large as the pieces; the printer's own settings have to make up for what prints shrink")
	} else {
		s.note("print.shrink: %.3g %%: print files are %.5f times as large as the pieces, in all directions; pieces left on the knife are not", printed, measures.MadeUp(printed))
	}
	hot := measures.MadeUp(sheet)
	s.note("sheet.shrink: %.3g %%: the boss's cavity is formed %.5f times as long and wide as plate and clearance, the posts' nubs %.2f mm apart for %.4g mm; heights and the other pieces are as they are",
		sheet, hot, hot*spec.Plate.PostSpacing, spec.Plate.PostSpacing)
}
