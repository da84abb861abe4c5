package job

import (
	"fmt"
	"strings"

	"formbuck/buck/internal/plastic"
)

// Advice is how a piece is best printed. It holds for filament printers; common practice, no source, but for
// what is measured on the mesh and reckoned.
type Advice struct {
	Down string `json:"down"` // what lies on the bed
	// FirstLayer is the area that lies on the bed; Hangs the surface under 45 degrees from the bed that
	// hangs over air.
	FirstLayer float64 `json:"first_layer_mm2"`
	Hangs      float64 `json:"overhang_mm2"`
	Supports   bool    `json:"supports"`
	Walls      int     `json:"walls"`
	Infill     int     `json:"infill_percent"`
	// Holds and Softens name plastics by whether they stay hard where the hot sheet touches them;
	// empty for a piece that the sheet does not touch.
	Holds   []string `json:"holds,omitempty"`
	Softens []string `json:"softens,omitempty"`
}

// Advice measures the piece as it stands on the bed.
func (p *Piece) Advice() Advice {
	s := p.stood()
	a := Advice{Walls: 4, Infill: 100, FirstLayer: s.Touch, Hangs: s.Overhang.Area}
	a.Supports = hanging(s) > 0
	switch {
	case p.Kind == Drain:
		a.Down = "outer end"
	case p.cut():
		a.Down, a.Infill = "cut face", 40
	case p.Kind == Whole:
		a.Down, a.Infill = p.downSide("left face", s.Down), 40
	case p.Kind == Nub:
		a.Down = "base"
	case p.Kind == Locator:
		a.Down, a.Walls, a.Infill = "engraved face", 3, 20
		return a
	case p.Face == "":
		a.Down = p.downSide("face", s.Down)
	default:
		a.Down = p.downSide("glue face", s.Down)
	}
	a.Holds, a.Softens = plastic.Sorted(plastic.SheetTemp)
	return a
}

// String is the advice on one line.
func (a Advice) String() string {
	s := fmt.Sprintf("print with the %s down, %d walls, %d %% infill", a.Down, a.Walls, a.Infill)
	if a.Supports {
		s += fmt.Sprintf(", with supports: %.0f mm2 hang over air", a.Hangs)
	} else {
		s += ", without supports"
	}
	if len(a.Holds) > 0 {
		s += fmt.Sprintf("; a sheet of %d C softens the surface of %s, not of %s", plastic.SheetTemp, strings.Join(a.Softens, ", "), strings.Join(a.Holds, ", "))
	}
	return s
}
