package dxf

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"
)

// entities reads entities until the end of the section or block.
func (d *decoder) entities(out []Entity) []Entity {
	s := &d.scan
	for !s.end {
		if s.code != 0 {
			s.next()
			continue
		}
		if d.bracket() || d.is("ENDBLK") {
			return out
		}
		if d.begin(); !d.spend(1) {
			return out
		}
		d.shape()
		if d.cur.Extrusion == (r3.Vec{Z: 1}) {
			d.cur.Extrusion = r3.Vec{}
		}
		if len(out) == cap(out) {
			out = slices.Grow(out, max(16, len(out)))
		}
		out = append(out, d.cur)
	}
	return out
}

// begin starts the entity whose pair 0 was just read.
func (d *decoder) begin() {
	d.cur = Entity{Kind: d.kind(), Layer: "0", Line: d.scan.line - 1}
	d.seen, d.twice = 0, 0
}

// kind is the last value in capitals.
func (d *decoder) kind() string {
	raw := d.scan.text
	if s, ok := d.names[string(raw)]; ok {
		return s
	}
	up := make([]byte, len(raw))
	for i, c := range raw {
		if c >= 'a' && c <= 'z' {
			c -= 'a' - 'A'
		}
		up[i] = c
	}
	s := string(up)
	if s == string(raw) {
		d.names[s] = s
	}
	return s
}

// pair reads the next pair of the current entity that is its own: common codes are taken into cur,
// extended data, groups in braces and embedded objects passed. It is false at the next pair 0.
func (d *decoder) pair() bool {
	s := &d.scan
	for s.next() {
		switch {
		case s.code == 0:
			return false
		case s.code < 64 && s.code > 0:
			d.twice |= d.seen & (1 << s.code)
			d.seen |= 1 << s.code
			switch s.code {
			case 5:
				d.cur.Handle, _ = strconv.ParseUint(string(s.text), 16, 64)
			case 8:
				d.cur.Layer = d.name()
			case 60:
				d.cur.Invisible = d.integer() != 0
			default:
				return true
			}
		case s.code == 67:
			d.cur.Paper = d.integer() != 0
		case s.code == 101:
			for s.next() && s.code != 0 {
				continue
			}
			return false
		case s.code == 102:
			if len(s.text) > 0 && s.text[0] == '{' {
				for s.next() && s.code != 0 && (s.code != 102 || !d.is("}")) {
					continue
				}
				if s.code == 0 {
					return false
				}
			}
		case s.code == 210:
			d.direction(&d.cur.Extrusion.X)
		case s.code == 220:
			d.direction(&d.cur.Extrusion.Y)
		case s.code == 230:
			d.direction(&d.cur.Extrusion.Z)
		case s.code < 1000:
			return true
		}
	}
	return false
}

// coord takes the last pair as a coordinate or length. One that is too far off is a fault of its entity alone, which
// counts where its layer is used.
func (d *decoder) coord(to *float64) {
	v, err := d.scan.float()
	switch {
	case err != nil:
		d.number(d.limit)
	case math.Abs(v) <= d.limit:
		*to = v
	case d.cur.Far == nil:
		d.cur.Far = d.placed(d.scan.line, OutOfRange, d.beyond(d.limit))
	}
}

func (d *decoder) beyond(limit float64) string {
	return fmt.Sprintf("group %d: %s is beyond %g drawing units", d.scan.code, d.scan.value(), limit)
}

// maxPlain is the largest value that is not a length: a knot, an angle, a weight, a bulge.
const maxPlain = 1e9

// plain takes the last pair as a number that is not a length.
func (d *decoder) plain(to *float64) {
	if v, ok := d.number(maxPlain); ok {
		*to = v
	}
}

// direction is plain, under another name where a vector's length does not matter.
func (d *decoder) direction(to *float64) { d.plain(to) }

// integer takes the last pair as a whole number; 0 with a fault where it is none.
func (d *decoder) integer() int {
	v, ok := d.number(1 << 31)
	if ok && v != math.Trunc(v) {
		d.fault(BadNumber, fmt.Sprintf("group %d: whole number expected, found %s", d.scan.code, d.scan.value()))
		return 0
	}
	return int(v)
}

// number is the last pair as a number no larger than limit, with a fault where it is not.
func (d *decoder) number(limit float64) (float64, bool) {
	v, err := d.scan.float()
	switch {
	case errors.Is(err, errNotFinite):
		d.fault(OutOfRange, fmt.Sprintf("group %d: finite number expected, found %s", d.scan.code, d.scan.value()))
	case err != nil:
		d.fault(BadNumber, fmt.Sprintf("group %d: number expected, found %s", d.scan.code, d.scan.value()))
	case math.Abs(v) > limit:
		d.fault(OutOfRange, d.beyond(limit))
	default:
		return v, true
	}
	return 0, false
}

// fault records a fault of the current entity at the last pair.
func (d *decoder) fault(c Class, what string) { d.faultAt(d.scan.line, c, what) }

func (d *decoder) faultAt(line int, c Class, what string) {
	d.add(d.placed(line, c, what))
}

// placed is a fault of the current entity.
func (d *decoder) placed(line int, c Class, what string) *Fault {
	return &Fault{Line: line, Class: c, Entity: d.cur.Kind, Handle: d.cur.Handle, Layer: d.cur.Layer, What: what}
}

// need records a fault for a group code that the current entity has not had, or has had more than once. An entity that
// the file's end cut off has one fault already.
func (d *decoder) need(codes ...int) bool {
	if d.scan.end {
		return false
	}
	for _, c := range codes {
		if d.seen&(1<<c) == 0 {
			d.faultAt(d.cur.Line, MissingValue, fmt.Sprintf("has no group %d (%s)", c, groupName(c)))
			return false
		}
		if d.twice&(1<<c) != 0 {
			d.faultAt(d.cur.Line, MissingValue, fmt.Sprintf("has group %d (%s) more than once, so that another is missing", c, groupName(c)))
			return false
		}
	}
	return true
}

// groupName says what a required group is.
func groupName(code int) string {
	switch code {
	case 2:
		return "block name"
	case 10:
		return "x"
	case 20:
		return "y"
	case 11:
		return "second x"
	case 21:
		return "second y"
	case 40:
		return "radius or ratio"
	case 50:
		return "start angle"
	case 51:
		return "end angle"
	case 71:
		return "degree"
	}
	return "required"
}
