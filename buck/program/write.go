package program

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"formbuck/buck/program/ngc"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// numbers writes lengths in a program's units.
type numbers struct{ inch bool }

// A ten-thousandth of a mm, a hundred-thousandth of an inch: what arcs need so that the radii at their ends
// agree within the standard's 0.002 mm.
func (n numbers) decimals() int {
	if n.inch {
		return 5
	}
	return 4
}

func (n numbers) unit() float64 {
	if n.inch {
		return 25.4
	}
	return 1
}

func (n numbers) length(mm float64) string { return trimmed(mm/n.unit(), n.decimals()) }

// rounded is a length as it will be read again, in mm.
func (n numbers) rounded(mm float64) float64 {
	scale := math.Pow10(n.decimals())
	return math.Round(mm/n.unit()*scale) / scale * n.unit()
}

// said is a length with its unit, for people.
func (n numbers) said(mm float64) string {
	if n.inch {
		return trimmed(mm/25.4, 4) + " in"
	}
	return trimmed(mm, 3) + " mm"
}

// rim is a surface speed, given in m/min, with its unit.
func (n numbers) rim(speed float64) string {
	if n.inch {
		return trimmed(speed/0.3048, 0) + " ft/min"
	}
	return trimmed(speed, 0) + " m/min"
}

// trimmed is a number with so many decimals at most, and never -0.
func trimmed(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// writer writes a program line by line, and knows where the tool is.
type writer struct {
	numbers
	text strings.Builder
	at   r2.Vec // as written
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(&w.text, format+"\n", args...) }

// comment writes text as comments of at most 100 characters.
func (w *writer) comment(text string) {
	const most = 100
	line := ""
	end := func() {
		if ngc.Active(line) != "" {
			line = "-" + line
		}
		w.line("(%s)", line)
	}
	for word := range strings.FieldsSeq(ngc.Plain(text)) {
		if line != "" && len(line)+len(word) > most {
			end()
			line = "  "
		}
		if line != "" && line != "  " {
			line += " "
		}
		line += word
	}
	end()
}

// cross goes over the work to a place.
func (w *writer) cross(to r2.Vec) {
	w.at = r2.Vec{X: w.rounded(to.X), Y: w.rounded(to.Y)}
	w.line("G0 X%s Y%s", w.length(to.X), w.length(to.Y))
}

// bow is the least height of an arc over its chord that is written as an arc, in mm: where it is lower, the
// rounding of its ends could turn it into a whole circle.
const bow = 2e-4

// follow feeds along a path that begins where the tool is.
func (w *writer) follow(path profile.Path) {
	for _, s := range path {
		to := r2.Vec{X: w.rounded(s.B.X), Y: w.rounded(s.B.Y)}
		if to == w.at {
			continue
		}
		if s.Straight() || math.Abs(s.Bulge)*r2.Norm(r2.Sub(s.B, s.A))/2 < bow {
			w.line("G1 X%s Y%s", w.length(to.X), w.length(to.Y))
		} else {
			c, _, _, _ := s.Arc()
			g := 3
			if s.Bulge < 0 {
				g = 2
			}
			w.line("G%d X%s Y%s I%s J%s", g, w.length(to.X), w.length(to.Y), w.length(c.X-w.at.X), w.length(c.Y-w.at.Y))
		}
		w.at = to
	}
}

// cautions stand in every program's head.
var cautions = []string{
	"FIRST OF ALL: local rules and the machine's own manual come before anything said here. Where they ask for a trained or licensed person, it is that person's work.",
	"CAUTION: eye protection, dust extraction or a mask, no gloves, loose sleeves, long hair or jewellery near the spindle. Never hold the work by hand.",
	"CAUTION: stringy swarf winds round drill and cutter and can whip or pull the work in. Stop the spindle to clear it.",
	"CAUTION: no knife, blade or steel piece may be in the work, unless the set-up states where: then the tool keeps off it as far as is stated, if zero is right. Try zero over two holes first.",
	"CAUTION: let a hot sheet cool. Sheet with PVC that is overheated gives off hydrogen chloride: if it smokes, stop, leave and air the room.",
	"CAUTION: check that pins, clamps and holder clear the path, and run it once in the air above the work before cutting.",
}

// Cautions are what stands in every program's head, for other papers that go with it.
func Cautions() []string { return slices.Clone(cautions) }

// head writes what comes before the first motion.
func (w *writer) head(s *Setup, what []string) {
	w.percent(s)
	w.comment(s.Title)
	n := w.numbers
	b := s.Stock.Box
	w.comment("ZERO: X0 Y0 is " + s.Zero + ". Z0 is the top of the board under the sheet, not of the sheet.")
	w.comment("UP: " + s.Up)
	w.comment(fmt.Sprintf("STOCK: X %s to %s, Y %s to %s, flat rim %s thick, highest point %s over the board; board at least %s thick",
		n.said(b.Min.X), n.said(b.Max.X), n.said(b.Min.Y), n.said(b.Max.Y), n.said(s.Stock.Sheet), n.said(s.Stock.Top), n.said(s.Stock.Board)))
	if s.Tool.Drill() {
		w.comment(fmt.Sprintf("TOOL: T%d, drill of %s, point %g deg, %s long", s.Tool.Number, n.said(s.Tool.Diameter), s.Tool.PointDeg, n.said(s.Tool.Point())))
	} else {
		flutes := fmt.Sprintf("%g flutes", s.Tool.flutes())
		if s.Tool.flutes() == 1 {
			flutes = "1 flute"
		}
		w.comment(fmt.Sprintf("TOOL: T%d, cutter of %s, %s, %s long", s.Tool.Number, n.said(s.Tool.Diameter), flutes, n.said(s.Tool.length())))
	}
	if len(s.Pins) == 0 {
		w.comment("PINS: none")
	}
	for i, p := range s.Pins {
		washer := ""
		if p.Washer > 0 {
			washer = fmt.Sprintf(" with its washer of %s", n.said(p.Washer))
		}
		w.comment(fmt.Sprintf("PIN %d: diameter %s at X %s Y %s, %s high%s", i+1, n.said(p.Diameter), n.said(p.At.X), n.said(p.At.Y), n.said(p.Top), washer))
	}
	w.comment("HOLD-DOWN: " + s.Hold)
	if len(s.Steel) > 0 {
		w.comment(fmt.Sprintf("STEEL: the knife is in the work, its outline is stated below; the tool's rim keeps %s from it, and more", n.said(s.Room)))
	}
	for _, text := range append(what, cautions...) {
		w.comment(text)
	}
	w.comment("Prove it again after every change: formbuck prove FILE. It reads the comments that begin with SET-UP.")
	for _, c := range s.comments(n) {
		w.line("(%s)", c)
	}
	w.preamble(s)
	w.line("G0 Z%s", n.length(s.Safe))
	if !s.NoChange && !s.Plain {
		w.line("T%d M6", s.Tool.Number)
		w.line("G0 Z%s", n.length(s.Safe))
	}
}

// preamble sets what the machine may have been left in.
func (w *writer) preamble(s *Setup) {
	units := "G21"
	if s.Inch {
		units = "G20"
	}
	if s.Plain {
		for _, word := range []string{units, "G17", "G90", "G91.1", "G94", "G40", "G49", "G80", "G54", "G61"} {
			w.line("%s", word)
		}
		return
	}
	// P is what a machine may round the path by: with what rounding of numbers takes it is less than the proof's slack.
	p := "0.004"
	if s.Inch {
		p = "0.00015"
	}
	w.line("%s G17 G90 G91.1 G94 G40 G49 G80 G54 G64 P%s", units, p)
}

// spinUp is how long the plain dialect waits for the spindle to come up to speed, in seconds: common practice, no
// source. A control with an interlock needs no wait.
const spinUp = 4

// spin starts the spindle.
func (w *writer) spin(s *Setup, speed float64) {
	w.line("S%s M3", trimmed(speed, 0))
	if s.Plain {
		w.line("G4 P%d", spinUp)
	}
}

// foot ends the program over the work.
func (w *writer) foot(s *Setup) {
	w.line("G0 Z%s", w.length(s.Safe))
	w.line("M5")
	w.line("M2")
	w.percent(s)
}

// percent writes the sign that a program stands between, which the plain dialect has none of.
func (w *writer) percent(s *Setup) {
	if !s.Plain {
		w.line("%%")
	}
}

// feed is a feed as a word.
func (w *writer) feed(mm float64) string { return "F" + trimmed(mm/w.unit(), 3) }
