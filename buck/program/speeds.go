package program

import (
	"fmt"
	"math"
)

// Range is from the least to the most that is advised.
type Range struct{ Least, Most float64 }

// Material says how a sheet is cut.
type Material struct {
	Name       string
	DrillSpeed float64 // most, m/min
	DrillFeed  Range   // mm per revolution
	CutSpeed   float64 // most, m/min
	Chip       Range   // mm per tooth of a cutter of 6.35 mm
	LeastChip  float64 // mm for the same: under it an edge rubs instead of cutting
	Source     string
}

// Materials are those that figures were found for.
func Materials() []Material {
	const (
		table  = "Carvill, Mechanical Engineer's Data Handbook, table 5.7.5, rigid PVC: drilling 2.5 m/s, 0.05 to 0.13 mm per revolution; milling 5 m/s"
		router = "a community book on light milling machines, chapter on plastics: 0.005 to 0.010 in a tooth with a 1/4 in cutter, over 0.001 in always"
	)
	pvc := Material{
		Name: "rigid PVC", DrillSpeed: 150, DrillFeed: Range{0.05, 0.13}, CutSpeed: 300,
		Chip: Range{0.127, 0.254}, LeastChip: 0.0254, Source: table + "; " + router,
	}
	alloy := pvc
	alloy.Name = "PVC/acrylic alloy"
	alloy.Source += "; no figures of the alloy's own were found, those of rigid PVC are taken"
	return []Material{alloy, pvc}
}

// The cutter that figures of chips are of, in mm, and up to how many times its chips wider cutters may take.
// That chips go with the diameter is common practice, no source.
const (
	figured = 6.35
	thicker = 2
)

// chips are the figures of a material's chips for a cutter.
func (m Material) chips(t Tool) (advised Range, least float64) {
	share := min(t.Diameter/figured, thicker)
	return Range{m.Chip.Least * share, m.Chip.Most * share}, m.LeastChip * share
}

// Rates are speed and feeds. What is 0 is filled in.
type Rates struct {
	Speed  float64 // of the spindle, per minute
	Feed   float64 // mm/min
	Plunge float64 // straight down, mm/min; a drill has none but its feed
}

// Usual speeds, per minute: common practice, no source; both lie well within the handbook's surface speeds for 6.35 mm.
const (
	usualDrill  = 2500
	usualCutter = 12000
)

// Surface is the speed of the tool's rim, in m/min: pi d n / 1000.
func (t Tool) Surface(speed float64) float64 { return math.Pi * t.Diameter * speed / 1000 }

// below is the highest round speed under a surface speed in m/min.
func below(surface, diameter float64) float64 {
	return math.Floor(surface*1000/(math.Pi*diameter)/100) * 100
}

// Drilling fills in what is 0 of the rates of a drill, and says what is ill-advised of them. The error is a
// *Fault: what no program is written with.
func (t Tool) Drilling(m Material, machine Machine, r Rates) (Rates, []string, error) {
	machine = machine.filled()
	if r.Speed == 0 {
		r.Speed = min(usualDrill, below(m.DrillSpeed, t.Diameter), machine.Speed)
	}
	if r.Feed == 0 {
		r.Feed = min(math.Round(0.1*r.Speed), machine.Feed)
	}
	r.Plunge = r.Feed
	if err := t.check(m, machine, r); err != nil {
		return r, nil, err
	}
	var warnings []string
	if w := t.melts(r.Speed, m.DrillSpeed); w != "" {
		warnings = append(warnings, w)
	}
	switch per := r.Feed / r.Speed; {
	case per > m.DrillFeed.Most*(1+1e-9):
		warnings = append(warnings, fmt.Sprintf("%.3f mm per revolution tears: at most %g are advised, %.0f mm/min at this speed", per, m.DrillFeed.Most, m.DrillFeed.Most*r.Speed))
	case per < m.DrillFeed.Least*(1-1e-9):
		warnings = append(warnings, fmt.Sprintf("%.3f mm per revolution rubs and melts: at least %g are advised, %.0f mm/min at this speed", per, m.DrillFeed.Least, m.DrillFeed.Least*r.Speed))
	}
	return r, warnings, nil
}

func (t Tool) melts(speed, most float64) string {
	v := t.Surface(speed)
	if v <= most*(1+1e-9) {
		return ""
	}
	return fmt.Sprintf("%.0f m/min at the tool's rim melts the sheet: at most %.0f are advised, %.0f rpm", v, most, below(most, t.Diameter))
}

// Thinning is how much thinner than the feed per tooth the thickest chip is, where a cutter of diameter
// d takes the width off the side: 2 sqrt(x (1-x)) with x = width/d, 1 from half of d on (geometry of the
// circle; Machinery's Handbook calls it radial chip thinning, from memory).
func Thinning(width, d float64) float64 {
	x := width / d
	if x >= 0.5 {
		return 1
	}
	return 2 * math.Sqrt(max(x*(1-x), 0))
}

// Cutting fills in what is 0 of the rates of a cutter that takes a finishing pass of the given width, and
// says what is ill-advised of them. The error is a *Fault: what no program is written with.
func (t Tool) Cutting(m Material, machine Machine, r Rates, width float64) (Rates, []string, error) {
	advised, least := m.chips(t)
	r = t.cuttingRates(m, machine.filled(), r)
	if err := t.check(m, machine.filled(), r); err != nil {
		return r, nil, err
	}
	var warnings []string
	if w := t.melts(r.Speed, m.CutSpeed); w != "" {
		warnings = append(warnings, w)
	}
	chip := r.Feed / r.Speed / t.flutes()
	if chip > advised.Most*(1+1e-9) {
		warnings = append(warnings, fmt.Sprintf("%.3f mm per tooth: at most %.3g are advised for a cutter of %.4g mm", chip, advised.Most, t.Diameter))
	}
	if chip < least*(1-1e-9) {
		warnings = append(warnings, fmt.Sprintf("%.3f mm per tooth rubs and melts: %.3g and more are advised for a cutter of %.4g mm", chip, advised.Least, t.Diameter))
	} else if thin := chip * Thinning(width, t.Diameter); width > 0 && thin < least*(1-1e-9) {
		warnings = append(warnings, fmt.Sprintf("the finishing pass of %g mm rubs: its chips are %.3f mm thick, and under %.4f mm an edge does not cut; feed faster or leave more", width, thin, least))
	}
	return r, warnings, nil
}

// cuttingRates fills in what is 0: the usual speed, or as much slower as the machine's feed asks for chips that are
// thick enough.
func (t Tool) cuttingRates(m Material, machine Machine, r Rates) Rates {
	advised, _ := m.chips(t)
	each := advised.Least * t.flutes() // mm per revolution
	if r.Speed == 0 {
		r.Speed = min(usualCutter, below(m.CutSpeed, t.Diameter), machine.Speed)
		if r.Feed == 0 && each*r.Speed > machine.Feed {
			r.Speed = max(math.Floor(machine.Feed/each/100)*100, t.slowest(m))
		}
	}
	if r.Feed == 0 {
		r.Feed = min(roundUp(each*r.Speed), machine.Feed)
	}
	if r.Plunge == 0 {
		r.Plunge = math.Round(r.Feed/30) * 10 // a third: common practice, no source
		if r.Feed < 100 {
			r.Plunge = math.Ceil(r.Feed / 3)
		}
	}
	return r
}

// roundUp is a feed in round numbers.
func roundUp(feed float64) float64 {
	if feed < 200 {
		return math.Ceil(feed)
	}
	return math.Ceil(feed/10) * 10
}
