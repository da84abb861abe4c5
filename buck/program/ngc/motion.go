package ngc

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// takes are the words beside X, Y and Z that a motion takes, by its code in tenths.
var takes = map[int]string{0: "", 10: "", 20: "IJR", 30: "IJR", 810: "RL", 820: "RLP", 830: "RLQ"}

// move carries out the line's motion, if it has one.
func (m *machine) move(b *block) *Fault {
	axes, before := b.axes(), m.mode
	named := b.g[motion]
	isNamed := named.letter != 0
	if isNamed {
		m.mode = named.code()
	}
	if f := m.belongs(b, axes); f != nil {
		return f
	}
	_, i := b.word('I')
	_, j := b.word('J')
	whole := (m.mode == 20 || m.mode == 30) && (isNamed || i || j)
	if !axes && !whole {
		if isNamed && m.mode >= 810 {
			return named.fault("%s names no place to drill", named.text)
		}
		return nil
	}
	if f := m.ready(b); f != nil {
		return f
	}
	switch m.mode {
	case 0, 10:
		return m.straight(b)
	case 20, 30:
		return m.arc(b)
	default:
		switch {
		case before < 810:
			m.cycle = cycle{level: m.at.Z}
		case m.mode != before:
			m.cycle = cycle{level: m.cycle.level}
		}
		return m.drill(b)
	}
}

// belongs refuses words that the motion does not take.
func (m *machine) belongs(b *block, axes bool) *Fault {
	for _, letter := range []byte("XYZIJRPQL") {
		w, ok := b.word(letter)
		if !ok {
			continue
		}
		if m.mode == noMotion {
			return w.fault("%s moves nothing: no motion such as G0 or G1 is in force", w.text)
		}
		if letter >= 'X' {
			continue
		}
		taken := false
		for _, t := range takes[m.mode] {
			taken = taken || byte(t) == letter
		}
		if !taken || !axes && m.mode >= 810 {
			return w.fault("%s does not belong to G%d", w.text, m.mode/10)
		}
	}
	return nil
}

// ready refuses a motion before the program has said what it depends on.
func (m *machine) ready(b *block) *Fault {
	need := []group{units, distance}
	if m.mode > 0 {
		need = append(need, feedMode)
	}
	if m.mode >= 20 {
		need = append(need, plane)
	}
	if m.mode >= 810 {
		need = append(need, retract)
	}
	words := map[group]string{units: "G20 or G21", distance: "G90 or G91", feedMode: "G94", plane: "G17", retract: "G98 or G99"}
	for _, g := range need {
		if !m.said[g] {
			return &Fault{What: "moves before the program has said " + words[g]}
		}
	}
	if m.mode > 0 && m.feed == 0 {
		return &Fault{What: "feeds before the program has said how fast: F is missing"}
	}
	return m.known(b)
}

// known refuses what builds on a place that the program has not stated.
func (m *machine) known(b *block) *Fault {
	for i, at := range [3]float64{m.at.X, m.at.Y, m.at.Z} {
		w, given := b.word("XYZ"[i])
		if !math.IsNaN(at) {
			continue
		}
		switch {
		case given && m.relative:
			return w.fault("%s counts from a place that the program has not stated", w.text)
		case m.mode >= 810 && given && i < 2: // the cycle goes there first
		case m.mode > 0:
			since := ""
			if m.tool != 0 {
				since = " since the tool was changed"
			}
			return &Fault{What: "feeds from a place that the program has not stated" + since + ": " + "XYZ"[i:i+1] + " is not known"}
		}
	}
	return nil
}

// target is where the line's axis words lead.
func (m *machine) target(b *block) r3.Vec {
	to := m.at
	for i, axis := range [...]*float64{&to.X, &to.Y, &to.Z} {
		if w, ok := b.word("XYZ"[i]); ok {
			if v := w.value * m.unit; m.relative {
				*axis += v
			} else {
				*axis = v
			}
		}
	}
	return to
}

// add makes a motion to a place.
func (m *machine) add(line int, kind Kind, to r3.Vec) *Motion {
	one := Motion{Kind: kind, From: m.at, To: to, Line: line, Tool: m.tool}
	if kind != Rapid {
		one.Feed = m.feed
	}
	if m.turning {
		one.Speed = m.speed
	}
	if m.mode >= 810 {
		one.Cycle = m.mode / 10
	}
	m.p.Motions = append(m.p.Motions, one)
	m.at = to
	return &m.p.Motions[len(m.p.Motions)-1]
}

func (m *machine) straight(b *block) *Fault {
	kind := Rapid
	if m.mode == 10 {
		kind = Feed
	}
	m.add(b.line, kind, m.target(b))
	return nil
}

// How much the radii at an arc's two ends may differ, in mm: 0.002 mm and 0.0002 in (NIST IR 6556, from
// memory).
const (
	radiusSlackMM   = 0.002
	radiusSlackInch = 0.0002 * 25.4 // source: the same
)

func (m *machine) arc(b *block) *Fault {
	to := m.target(b)
	kind := Clockwise
	if m.mode == 30 {
		kind = Counter
	}
	i, hasI := b.word('I')
	j, hasJ := b.word('J')
	r, hasR := b.word('R')
	var centre r2.Vec
	switch {
	case hasR && (hasI || hasJ):
		return r.fault("an arc has either R or I and J")
	case hasR:
		c, f := m.centre(r, plan(to), kind)
		if f != nil {
			return f
		}
		centre = c
	case hasI || hasJ:
		centre = r2.Vec{X: m.at.X + i.value*m.unit, Y: m.at.Y + j.value*m.unit}
	default:
		return b.g[motion].fault("an arc needs its centre: I and J, or R")
	}
	first, last := r2.Norm(r2.Sub(plan(m.at), centre)), r2.Norm(r2.Sub(plan(to), centre))
	slack := radiusSlackMM
	if m.unit != 1 {
		slack = radiusSlackInch
	}
	if math.Abs(first-last) > slack || first == 0 {
		return b.g[motion].fault("the arc begins %.4f mm from its centre and ends %.4f mm from it; %.4f mm may lie between", first, last, slack)
	}
	m.add(b.line, kind, to).Centre = centre
	return nil
}

// centre is that of an arc with radius R, over half a turn where R is under 0.
func (m *machine) centre(r word, to r2.Vec, kind Kind) (r2.Vec, *Fault) {
	from := plan(m.at)
	chord := r2.Sub(to, from)
	c, radius := r2.Norm(chord), math.Abs(r.value*m.unit)
	off := radius*radius - c*c/4
	switch {
	case c == 0:
		return r2.Vec{}, r.fault("with %s an arc that ends where it begins has no centre", r.text)
	case off < -radiusSlackMM*radius:
		return r2.Vec{}, r.fault("%s is less than half of the way, %.4f mm", r.text, c)
	}
	side := math.Sqrt(max(off, 0)) / c
	if (kind == Clockwise) != (r.value < 0) {
		side = -side // the centre of a short arc lies to the right of a clockwise one
	}
	mid := r2.Scale(0.5, r2.Add(from, to))
	return r2.Add(mid, r2.Scale(side, r2.Vec{X: -chord.Y, Y: chord.X})), nil
}
