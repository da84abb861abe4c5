// Package plastic tells which printing plastics stay hard under a hot sheet.
//
// Where two bodies touch, the surface takes at once a temperature between theirs that holds until the
// thinner of the two has cooled through: the contact temperature of two half spaces. It is what a piece
// feels in the first seconds, at its surface only. Temperatures are degrees Celsius.
package plastic

import "math"

// Body is what touches the sheet, or the sheet.
type Body struct {
	Conductivity float64 // W/(m K)
	Density      float64 // kg/m3
	HeatCapacity float64 // J/(kg K)
}

// Effusivity is sqrt(k rho c), in W s^0.5 / (m2 K).
func (b Body) Effusivity() float64 {
	return math.Sqrt(b.Conductivity * b.Density * b.HeatCapacity)
}

// Sheet is the effusivity of a PVC/acrylic alloy sheet, derived from typical data of rigid PVC.
const Sheet = 530

// Usual temperatures of the sheet as it leaves the oven, and of what it is laid on; common practice, no
// source.
const (
	SheetTemp = 150
	RoomTemp  = 20
)

// Contact is the contact temperature of two half spaces with the effusivities and temperatures:
// (e1 T1 + e2 T2)/(e1 + e2) (Carslaw and Jaeger, Conduction of Heat in Solids, 1959, section 2.15, from
// memory).
func Contact(e1, t1, e2, t2 float64) float64 { return (e1*t1 + e2*t2) / (e1 + e2) }

// Plastic is a printing plastic.
type Plastic struct {
	Name    string
	Solid   Body
	Softens float64 // at which it gives under load
}

// Plastics are the usual ones. Softening is the lower end of the heat deflection temperature at 0.45 MPa,
// ISO 75-2, as makers of filament publish it (for polylactide of the glass transition); thermal data are
// typical figures, from memory.
func Plastics() []Plastic {
	return []Plastic{
		{"PLA", Body{0.13, 1240, 1800}, 55},
		{"PETG", Body{0.20, 1270, 1200}, 70},
		{"ABS", Body{0.17, 1040, 1400}, 90},
		{"ASA", Body{0.17, 1070, 1400}, 90},
		{"PC", Body{0.20, 1200, 1200}, 110},
		{"PA12", Body{0.24, 1010, 1700}, 140},
		{"PA6", Body{0.25, 1130, 1700}, 150},
	}
}

// Touched is the temperature that the plastic's surface takes under a sheet of the temperature. Infill is
// the share of the volume that is plastic: conductivity and density are taken to go with it.
func (p Plastic) Touched(sheet, infill float64) float64 {
	return Contact(Sheet, sheet, p.Solid.Effusivity()*infill, RoomTemp)
}

// Holds tells whether a solid print stays under its softening temperature.
func (p Plastic) Holds(sheet float64) bool { return p.Touched(sheet, 1) < p.Softens }

// Sorted are the names of those that hold under a sheet of the temperature, and of those that soften.
func Sorted(sheet float64) (hold, soften []string) {
	for _, p := range Plastics() {
		if p.Holds(sheet) {
			hold = append(hold, p.Name)
		} else {
			soften = append(soften, p.Name)
		}
	}
	return hold, soften
}
