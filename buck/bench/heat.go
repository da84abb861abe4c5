package bench

import (
	"fmt"
	"math"
)

// What the sheet is reckoned with. Density and conductivity are those of rigid PVC (property lists of unplasticised PVC); for its
// heat capacity lists say 880 to 1674 J/kgK, of which the middle is taken, and which is why nothing here is known better than by a
// third. Source of all three: public material property pages.
const (
	density     = 1350.0 // kg/m3
	capacity    = 1300.0 // J/kgK
	conducts    = 0.16   // W/mK
	uncertain   = 1.0 / 3
	airPasses   = 30.0 // W/m2K from moved air of an oven to a sheet; common practice, no source
	oven, plate = 170.0, 160.0
	room, hot   = 20.0, 150.0 // °C: forming heat is common practice, no source
	cold        = 50.0        // °C: what a hand bears for a while; common practice, no source
)

// What lies between a pressed sheet and the press's cold plates; common practice, no source.
const (
	foamConducts        = 0.05 // W/mK, of open foam that is pressed together
	foamThin, foamThick = 5.0, 20.0
	perMetre, perMinute = 1000.0, 60.0
)

// Slab is how many seconds it takes until the far side of a layer is hot, whose near side takes up heat from so many degrees
// and whose far side lets none pass: the first term of the series for a plate (Carslaw and Jaeger, Conduction of Heat in Solids,
// 1959, 3.11, from memory). A sheet that is heated from both sides is two layers of half its thickness. The layer is in mm, what
// passes in W/m2K; infinite: its near side is as hot as what it lies on.
func Slab(layer, passes, from float64) float64 {
	l := layer / perMetre
	zeta, first := math.Pi/2, 4/math.Pi
	if !math.IsInf(passes, 1) {
		zeta = root(passes * l / conducts)
		first = 4 * math.Sin(zeta) / (2*zeta + math.Sin(2*zeta))
	}
	left := (from - hot) / (from - room)
	return l * l * density * capacity / conducts * math.Log(first/left) / (zeta * zeta)
}

// root is the least zeta above 0 with zeta tan zeta = biot, by halving.
func root(biot float64) float64 {
	low, high := 0.0, math.Pi/2
	const halvings = 60
	for range halvings {
		if mid := (low + high) / 2; mid*math.Tan(mid) < biot {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// Cooling is how many minutes a pressed sheet takes to be cold to the hand, both in mm: its heat goes through the foam to
// plates that stay cold, and nowhere else. The sheet is as hot all through, since the foam lets far less pass than it does.
func Cooling(sheet, foam float64) float64 {
	passes := foamConducts * perMetre / foam // W/m2K
	return density * capacity * sheet / perMetre / passes * math.Log((hot-room)/(cold-room)) / perMinute
}

// Heat says how long a sheet takes to be hot, by each way of heating it.
func (j Job) Heat() string {
	t := j.Spec.Sheet.Thickness
	span := func(seconds float64) string {
		return fmt.Sprintf("%.0f to %.0f s", seconds*(1-uncertain), seconds*(1+uncertain))
	}
	lies := math.Inf(1)
	return fmt.Sprintf("sheet at about %.0f °C (300 °F), common practice, no source: the sheet maker's window goes before it, and a thermometer on the sheet before any time. "+
		"By a heat balance from %.0f °C, a third off either way: in air of %.0f °C on both sides %s, on one side %s; on plates of %.0f °C on both sides %s, on one side %s",
		hot, room, oven, span(Slab(t/2, airPasses, oven)), span(Slab(t, airPasses, oven)), plate, span(Slab(t/2, lies, plate)), span(Slab(t, lies, plate)))
}

// Pressing says how long it stays in the press, and between what.
func (j Job) Pressing() string {
	t := j.Spec.Sheet.Thickness
	return fmt.Sprintf("at once: a hot sheet cools within seconds. Shut until the pair is cold to the hand, %.0f °C: %.0f to %.0f min by a heat balance, through foam %.0f to %.0f mm thick when it is shut to plates that stay cold. "+
		"Foam at least three times as thick as the tallest boss is high: common practice, no source", cold, Cooling(t, foamThin), Cooling(t, foamThick), foamThin, foamThick)
}
