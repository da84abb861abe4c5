package job

import (
	"fmt"
	"strings"

	"formbuck/buck/internal/plastic"
)

// Advice is how a piece is best printed. It holds for filament printers; common practice, no source, but for
// what is measured on the mesh and reckoned.
type Advice struct {
	Down     string  `json:"down"`         // what lies on the bed
	Hangs    float64 `json:"overhang_mm2"` // surface under 45 degrees from the bed that hangs over air
	Supports bool    `json:"supports"`
	Walls    int     `json:"walls"`
	Infill   int     `json:"infill_percent"`
	// Holds and Softens name plastics by whether they stay hard where the hot sheet touches them;
	// empty for a piece that the sheet does not touch.
	Holds   []string `json:"holds,omitempty"`
	Softens []string `json:"softens,omitempty"`
}

// leastHang is the area, in mm2, of one overhang under which no support is worth its trouble: beads bridge it,
// as they do over an engraved letter. Common practice, no source.
const leastHang = 10

// Advice measures the piece as it stands on the bed. Overhangs are taken up to 45 degrees from the bed.
func (p *Piece) Advice() Advice {
	hang := p.Printed().Overhang(45)
	a := Advice{Walls: 4, Infill: 100, Hangs: hang.Area}
	for _, patch := range hang.Patches {
		letter := p.Kind == Locator && patch.At.Z < textDepth+0.01 // its floor: beads bridge a stroke, however long
		a.Supports = a.Supports || patch.Area > leastHang && !letter
	}
	switch p.Kind {
	case Standoff:
		a.Down = "glue face"
	case Drain:
		a.Down = "outer end"
	case Whole:
		a.Down = "face"
		if strings.HasSuffix(p.Name, "-handle") || strings.HasSuffix(p.Name, "-blade") {
			a.Down = "cut face"
		}
		a.Walls, a.Infill = 4, 40
	case Nub:
		a.Down = "base"
	case Locator:
		a.Down = "engraved face"
		a.Walls, a.Infill = 3, 20
		return a
	default:
		a.Down = "face"
		if p.Face != "" {
			a.Down = "glue face"
		}
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
