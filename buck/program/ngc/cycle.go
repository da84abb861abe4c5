package ngc

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// cycle is what a canned cycle keeps from line to line: its words stay in force until another motion is
// named.
type cycle struct {
	level      float64 // z before the first of them: where G98 goes back to, if it is over R
	z, r, q, p word
}

const (
	back       = 0.254  // mm, 0.010 in: how far above the last bottom a peck begins to feed (NIST IR 6556, from memory)
	maxRepeats = 10_000 // of L, and pecks of a hole
)

// keep takes the words of a line, and refuses what a cycle cannot do without.
func (m *machine) keep(b *block) *Fault {
	for i, into := range [...]*word{&m.cycle.z, &m.cycle.r, &m.cycle.q, &m.cycle.p} {
		if w, ok := b.word("ZRQP"[i]); ok {
			*into = w
		}
	}
	c := &m.cycle
	switch {
	case c.z.letter == 0:
		return m.lacks("Z")
	case c.r.letter == 0:
		return m.lacks("R")
	case m.mode == 830 && c.q.letter == 0:
		return m.lacks("Q")
	case m.mode == 830 && c.q.value <= 0:
		return c.q.fault("%s is no depth of a peck", c.q.text)
	case m.mode == 820 && c.p.letter == 0:
		return m.lacks("P")
	case m.mode == 820 && c.p.value < 0:
		return c.p.fault("%s is no time", c.p.text)
	}
	return nil
}

func (m *machine) lacks(letter string) *Fault {
	return word{}.fault("G%d needs %s", m.mode/10, letter)
}

// drill carries out a canned cycle in the plane from above (NIST IR 6556, 3.5.16, from memory): first up to
// R if below it, then over the hole, down to R, feed to Z, and out.
func (m *machine) drill(b *block) *Fault {
	if f := m.keep(b); f != nil {
		return f
	}
	repeat := 1.0
	if w, ok := b.word('L'); ok {
		if repeat = w.value; repeat < 1 || repeat != math.Trunc(repeat) || repeat > maxRepeats {
			return w.fault("%s is no number of holes", w.text)
		}
	}
	c := m.cycle
	r, bottom := c.r.value*m.unit, c.z.value*m.unit
	if m.relative { // R counts from where the tool is, Z from R
		r += m.at.Z
		bottom += r
	}
	if r < bottom {
		return b.g[motion].fault("R, at %.4f mm, is below Z, at %.4f mm", r, bottom)
	}
	clear := max(c.level, r)
	if m.low {
		clear = r
	}
	if m.mode == 830 && (r-bottom)/(c.q.value*m.unit) > maxRepeats {
		return c.q.fault("%s makes more than %d pecks", c.q.text, maxRepeats)
	}
	b.take('Z') // the hole's bottom, not a place to go to
	if m.at.Z < r {
		m.add(b.line, Rapid, r3.Vec{X: m.at.X, Y: m.at.Y, Z: r})
	}
	for range int(repeat) {
		m.add(b.line, Rapid, m.target(b))
		m.hole(b.line, r, bottom, clear)
		if m.full() {
			return tooMuch()
		}
	}
	return nil
}

// hole drills where the tool is.
func (m *machine) hole(line int, r, bottom, clear float64) {
	to := func(kind Kind, z float64) *Motion {
		return m.add(line, kind, r3.Vec{X: m.at.X, Y: m.at.Y, Z: z})
	}
	if m.at.Z != r {
		to(Rapid, r)
	}
	if m.mode == 830 {
		q := m.cycle.q.value * m.unit
		for z := r - q; z > bottom; z -= q {
			to(Feed, z)
			to(Rapid, r)
			to(Rapid, min(z+back, r))
		}
	}
	to(Feed, bottom)
	if m.mode == 820 {
		to(Dwell, bottom).Seconds = m.cycle.p.value
	}
	to(Rapid, clear)
}
