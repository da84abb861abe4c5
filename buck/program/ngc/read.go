package ngc

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	maxBytes   = 16 << 20
	maxMotions = 1_000_000
	maxFaults  = 10 // that are told one by one
)

// Read reads a program. The file's name is for messages. What is wrong with the content comes back as
// Faults: what cannot be read of all lines, else the first thing that cannot be carried out; another error
// is the reader's own.
func Read(file string, from io.Reader) (*Program, error) {
	text, err := io.ReadAll(io.LimitReader(from, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	p := &Program{File: file}
	if len(text) > maxBytes {
		return nil, Faults{{File: file, What: fmt.Sprintf("too long for a program: at most %d MB are read", maxBytes>>20)}}
	}
	blocks, faults := p.scan(text)
	if len(faults) > 0 {
		return nil, faults
	}
	unknown := math.NaN()
	m := &machine{p: p, at: r3.Vec{X: unknown, Y: unknown, Z: unknown}, mode: noMotion}
	for _, b := range blocks {
		if f := m.run(b); f != nil {
			f.File, f.Line = file, b.line
			return nil, Faults{f}
		}
	}
	return p, nil
}

// scan takes all lines apart, and finds the program's end.
func (p *Program) scan(text []byte) ([]block, Faults) {
	var blocks []block
	var faults Faults
	var first, ended bool
	percents := 0
	for raw := range bytes.SplitSeq(text, []byte("\n")) {
		p.Lines++
		line := strings.TrimSuffix(string(raw), "\r")
		refuse := func(column int, format string, args ...any) {
			switch len(faults) {
			case maxFaults:
				faults = append(faults, &Fault{File: p.File, Line: p.Lines, What: "and more from here on"})
			case maxFaults + 1:
			default:
				faults = append(faults, &Fault{File: p.File, Line: p.Lines, Column: column, What: fmt.Sprintf(format, args...)})
			}
		}
		if i := strings.IndexFunc(line, func(r rune) bool { return r < ' ' && r != '\t' || r == 0x7f }); i >= 0 {
			refuse(i+1, "a control character: this is no text")
			continue
		}
		if strings.TrimSpace(line) == "" {
			continue
		}
		b := scan(line, p.Lines, func(c Comment) { p.Comments = append(p.Comments, c) }, refuse)
		switch {
		case b.percent && !first:
			percents++
		case b.percent && percents == 1:
			percents, ended = 2, true
		case b.percent:
			refuse(1, "%% stands in the first and the last line, or in neither")
		case ended && b.anything:
			refuse(1, "comes after the program's end")
		default:
			_, stops := b.m[stopping]
			ended = ended || stops
			blocks = append(blocks, b)
		}
		first = true
	}
	if bytes.HasSuffix(text, []byte("\n")) {
		p.Lines--
	}
	if len(faults) == 0 && !ended {
		faults = append(faults, &Fault{File: p.File, Line: max(p.Lines, 1), What: "the program has no end: M2, M30 or a second % is missing"})
	}
	return blocks, faults
}

// noMotion is the mode in which axis words move nothing, that of G80.
const noMotion = 800

// machine is the state of a machine that carries a program out.
type machine struct {
	p        *Program
	at       r3.Vec
	unit     float64 // mm; 0: not stated yet
	said     [spindle + 1]bool
	relative bool // G91
	low      bool // G99: retract to R only
	mode     int  // motion, in tenths
	feed     float64
	speed    float64
	turning  bool
	tool     int
	cycle    cycle
}

func (w word) fault(format string, args ...any) *Fault {
	return &Fault{Column: w.column, What: fmt.Sprintf(format, args...)}
}

// run carries out one line, in the standard's order.
func (m *machine) run(b block) *Fault {
	for _, step := range []func(block) *Fault{m.rates, m.modes, m.move, m.stop} {
		if f := step(b); f != nil {
			return f
		}
	}
	return nil
}

// rates takes feed, speed, tool and spindle.
func (m *machine) rates(b block) *Fault {
	if w, ok := b.words['F']; ok {
		switch {
		case m.unit == 0:
			return w.fault("%s comes before the program has said in an earlier line, by G20 or G21, whether it is in inches or mm", w.text)
		case w.value <= 0:
			return w.fault("%s is no feed", w.text)
		}
		m.feed = w.value * m.unit
	}
	if w, ok := b.words['S']; ok {
		if w.value < 0 {
			return w.fault("%s is no speed", w.text)
		}
		m.speed = w.value
	}
	if w, ok := b.words['T']; ok {
		if w.value < 0 || w.value != math.Trunc(w.value) {
			return w.fault("%s is no tool's number", w.text)
		}
		m.tool = int(w.value)
		if !slices.Contains(m.p.Tools, m.tool) {
			m.p.Tools = append(m.p.Tools, m.tool)
		}
	}
	if w, ok := b.m[toolChange]; ok {
		if m.tool == 0 {
			return w.fault("M6 has no tool to change to: no T word before it")
		}
		m.turning = false
	}
	if w, ok := b.m[spindle]; ok {
		m.turning = w.code() == 30
		if m.turning && m.speed == 0 {
			return w.fault("M3 starts a spindle whose speed is 0")
		}
	}
	return nil
}

// modes takes what holds for the motions of this line and of those after it.
func (m *machine) modes(b block) *Fault {
	for g := range b.g {
		m.said[g] = true
	}
	if w, ok := b.g[units]; ok {
		unit := 1.0
		if w.code() == 200 {
			unit = 25.4
		}
		if m.unit != 0 && m.unit != unit {
			return w.fault("%s changes the units within the program", w.text)
		}
		m.unit, m.p.Inch = unit, unit != 1
	}
	if w, ok := b.g[distance]; ok {
		m.relative = w.code() == 910
	}
	if w, ok := b.g[retract]; ok {
		m.low = w.code() == 990
	}
	if w, ok := b.words['P']; ok && b.g[pathControl].code() == 640 {
		if w.value < 0 || b.g[motion].code() == 820 {
			return w.fault("%s is no tolerance of a path", w.text)
		}
		delete(b.words, 'P')
	}
	return nil
}

// stop ends the program.
func (m *machine) stop(b block) *Fault {
	if _, ok := b.m[stopping]; ok {
		m.turning = false
	}
	return nil
}
