package ngc

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"
)

// noMotion is the mode in which axis words move nothing, that of G80.
const noMotion = 800

// longest is how long a dwell may be, in seconds: longer ones are rather milliseconds, as which some controls take P.
const longest = 60

// machine is the state of a machine that carries a program out.
type machine struct {
	p        *Program
	at       r3.Vec
	unit     float64 // mm; 0: not stated yet
	said     [groups]bool
	relative bool // G91
	low      bool // G99: retract to R only
	mode     int  // motion, in tenths
	feed     float64
	speed    float64
	turning  bool
	called   int // tool that T named last
	tool     int // that M6 put in
	cycle    cycle
}

// newMachine knows nothing of what was before.
func newMachine(p *Program) *machine { return &machine{p: p, at: nowhere(), mode: noMotion} }

func nowhere() r3.Vec { return r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()} }

// full tells whether the program alone is more than is read of a file.
func (m *machine) full() bool { return len(m.p.Motions) > maxSteps }

func (w word) fault(format string, args ...any) *Fault {
	return &Fault{Column: w.column, What: fmt.Sprintf(format, args...)}
}

// run carries out one line, in the standard's order.
func (m *machine) run(b *block) *Fault {
	for _, step := range []func(*block) *Fault{m.rates, m.tools, m.dwell, m.modes, m.move, m.stop} {
		if f := step(b); f != nil {
			return f
		}
	}
	return nil
}

// event notes a word that moves nothing.
func (m *machine) event(w word, name string, value float64) {
	m.p.Events = append(m.p.Events, Event{
		Word: name, Value: value, Before: len(m.p.Motions), At: m.at, Turning: m.turning, Line: w.line, Column: w.column,
	})
}

// name is a G or M word without zeros that say nothing.
func (w word) name() string {
	return string(w.letter) + strconv.FormatFloat(float64(w.code())/10, 'f', -1, 64)
}

// rates takes feed and speed.
func (m *machine) rates(b *block) *Fault {
	if w, ok := b.word('F'); ok {
		switch {
		case m.unit == 0:
			return w.fault("%s comes before the program has said in an earlier line, by G20 or G21, whether it is in inches or mm", w.text)
		case w.value <= 0:
			return w.fault("%s is no feed", w.text)
		}
		m.feed = w.value * m.unit
	}
	if w, ok := b.word('S'); ok {
		if w.value < 0 {
			return w.fault("%s is no speed", w.text)
		}
		m.speed = w.value
		m.event(w, "S", w.value)
	}
	return nil
}

// tools takes tool, spindle and coolant.
func (m *machine) tools(b *block) *Fault {
	if w, ok := b.word('T'); ok {
		if w.value < 0 || w.value != math.Trunc(w.value) {
			return w.fault("%s is no tool's number", w.text)
		}
		m.called = int(w.value)
		if !slices.Contains(m.p.Tools, m.called) {
			m.p.Tools = append(m.p.Tools, m.called)
		}
		m.event(w, "T", w.value)
	}
	if w := b.m[toolChange]; w.letter != 0 {
		if m.called == 0 {
			return w.fault("M6 has no tool to change to: no T word before it")
		}
		m.event(w, w.name(), float64(m.called))
		m.tool, m.turning, m.at = m.called, false, nowhere()
	}
	if w := b.m[spindle]; w.letter != 0 {
		on := w.code() == 30
		if on && m.speed == 0 {
			return w.fault("M3 starts a spindle whose speed is 0")
		}
		m.event(w, w.name(), m.speed)
		m.turning = on
	}
	if w := b.m[coolant]; w.letter != 0 {
		m.event(w, w.name(), 0)
	}
	return nil
}

// dwell stands still for a while.
func (m *machine) dwell(b *block) *Fault {
	w := b.g[dwell]
	if w.letter == 0 {
		return nil
	}
	p, ok := b.take('P')
	switch {
	case !ok:
		return w.fault("G4 needs P, the seconds to stand still")
	case p.value < 0 || p.value > longest:
		return p.fault("G4 stands still from 0 to %d seconds, and %s is another time", longest, p.text)
	case b.axes() || b.g[motion].letter != 0 || b.g[pathControl].letter != 0:
		return w.fault("G4 and a motion or G64 exclude each other")
	}
	m.p.Motions = append(m.p.Motions, Motion{Kind: Dwell, From: m.at, To: m.at, Seconds: p.value, Line: b.line, Tool: m.tool})
	if m.turning {
		m.p.Motions[len(m.p.Motions)-1].Speed = m.speed
	}
	return nil
}

// modes takes what holds for the motions of this line and of those after it.
func (m *machine) modes(b *block) *Fault {
	for g := range groups {
		w := b.g[g]
		if w.letter == 0 {
			continue
		}
		m.said[g] = true
		switch g {
		case motion, retract, dwell:
		case pathControl:
			if f := m.path(b, w); f != nil {
				return f
			}
		default:
			m.event(w, w.name(), 0)
		}
	}
	if w := b.g[units]; w.letter != 0 {
		unit := 1.0
		if w.code() == 200 {
			unit = 25.4
		}
		if m.unit != 0 && m.unit != unit {
			return w.fault("%s changes the units within the program", w.text)
		}
		m.unit, m.p.Inch = unit, unit != 1
	}
	if w := b.g[distance]; w.letter != 0 {
		m.relative = w.code() == 910
	}
	if w := b.g[retract]; w.letter != 0 {
		m.low = w.code() == 990
	}
	return nil
}

// path takes how exactly the path is kept. G64's P is in the program's units, which may be said in its line.
func (m *machine) path(b *block, w word) *Fault {
	if w.code() != 640 {
		m.event(w, w.name(), 0)
		return nil
	}
	p, ok := b.word('P')
	if !ok {
		m.event(w, w.name(), math.NaN())
		return nil
	}
	unit := m.unit
	if u := b.g[units]; u.letter != 0 {
		unit = map[int]float64{200: 25.4, 210: 1}[u.code()]
	}
	switch {
	case p.value < 0 || b.g[motion].code() == 820:
		return p.fault("%s is no tolerance of a path", p.text)
	case unit == 0:
		return p.fault("%s comes before the program has said, by G20 or G21, whether it is in inches or mm", p.text)
	}
	b.take('P')
	m.event(w, w.name(), p.value*unit)
	return nil
}

// stop ends the program.
func (m *machine) stop(b *block) *Fault {
	if w := b.m[stopping]; w.letter != 0 {
		m.event(w, w.name(), 0)
		m.turning = false
	}
	return nil
}
