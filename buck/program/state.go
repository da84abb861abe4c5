package program

import (
	"math"
	"slices"
	"strings"

	"formbuck/buck/program/ngc"
)

// settings are what a program has to set before the first motion, each by one of the words.
var settings = [][]string{
	{"G20", "G21"},
	{"G17"},
	{"G40"},
	{"G49"},
	{"G54"},
	{"G90", "G91"},
	{"G91.1"},
	{"G94"},
	{"G61", "G64"},
}

// opening looks whether the program sets all that a machine may have been left in.
func (v *prover) opening() {
	p := v.program
	if len(p.Motions) == 0 {
		return
	}
	var missing []string
	for _, words := range settings {
		set := func(e ngc.Event) bool { return e.Before == 0 && slices.Contains(words, e.Word) }
		if !slices.ContainsFunc(p.Events, set) {
			missing = append(missing, words[0])
		}
	}
	if len(missing) > 0 {
		v.refuse(p.Motions[0].Line, "moves before the program has set %s: as the machine was left they may be otherwise", strings.Join(missing, ", "))
	}
}

// event looks at what is set between motions.
func (v *prover) event(e *ngc.Event) {
	s := &v.stated.Setup
	low := !(e.At.Z >= s.Safe-level) // or not known
	switch e.Word {
	case "G64":
		switch {
		case math.IsNaN(e.Value):
			v.refuse(e.Line, "G64 without P: the machine may cut corners as far as it likes; P up to %g mm is proved, or G61", slack)
		case e.Value > slack+level:
			v.refuse(e.Line, "G64 lets the machine leave the path by %.4g mm, and the proof leaves it %g mm: a smaller P, or G61", e.Value, slack)
		}
	case "G91":
		v.refuse(e.Line, "G91 counts from where the tool is: a program that is proved stays in G90")
	case "T":
		if int(e.Value) != s.Tool.Number {
			v.refuse(e.Line, "calls tool T%g, and the set-up is for T%d", e.Value, s.Tool.Number)
		}
	case "M6":
		if low {
			v.refuse(e.Line, "changes the tool before it is at the safe height, Z %.4g mm", s.Safe)
		}
		if e.Turning {
			v.refuse(e.Line, "changes the tool with the spindle turning: M5 before it")
		}
	case "M3":
		if low {
			v.refuse(e.Line, "starts the spindle before the tool is at the safe height, Z %.4g mm", s.Safe)
		}
	case "M5":
		if low && e.Turning {
			v.refuse(e.Line, "stops the spindle before the tool is at the safe height, Z %.4g mm", s.Safe)
		}
	case "M0":
		if e.Turning {
			v.refuse(e.Line, "stops for the work to be changed with the spindle turning: M5 before it")
		}
	}
}

// tool looks at the tool of a motion below the safe height: the one that M6 put in, or that of the head where the
// program names none.
func (v *prover) tool(m *ngc.Motion) {
	s := &v.stated.Setup
	switch {
	case m.Tool == 0 && len(v.program.Tools) > 0:
		v.refuse(m.Line, "T%d is called and not put in: M6 is missing before the tool goes down", v.program.Tools[0])
	case m.Tool != 0 && m.Tool != s.Tool.Number:
		v.refuse(m.Line, "tool T%d is in use, and the set-up is for T%d", m.Tool, s.Tool.Number)
	}
}

// rates looks at feed and speed of a motion.
func (v *prover) rates(m *ngc.Motion, low float64) {
	s := &v.stated.Setup
	if m.Kind == ngc.Rapid {
		return
	}
	if m.Feed > s.Rates.Feed*(1+exactly) {
		v.refuse(m.Line, "feeds at %.6g mm/min, and at most %.6g are stated", m.Feed, s.Rates.Feed)
	}
	if low >= s.Safe-level {
		return
	}
	if drop := m.From.Z - m.To.Z; drop > 0 {
		if down := m.Feed * drop / m.Length(); down > s.Rates.Plunge*(1+exactly) {
			v.refuse(m.Line, "goes down at %.6g mm/min, and at most %.6g are stated", down, s.Rates.Plunge)
		}
	}
	most := s.Machine.filled().Speed
	switch {
	case m.Speed == 0:
		v.refuse(m.Line, "feeds with the spindle standing")
	case m.Speed < s.Rates.Speed-0.5:
		v.refuse(m.Line, "feeds at %g rpm, and at least %g are stated", m.Speed, s.Rates.Speed)
	case m.Speed > most:
		v.refuse(m.Line, "feeds at %g rpm, and the machine does at most %g", m.Speed, most)
	case s.Tool.Surface(m.Speed) > far*fastest(s.Tool):
		v.refuse(m.Line, "feeds at %g rpm: %.0f m/min at the tool's rim, and at most %.0f are advised", m.Speed, s.Tool.Surface(m.Speed), fastest(s.Tool))
	}
}
