package dxf

import "fmt"

// points tells whether each point of a list has one x, and one y after it: a value that is lost or doubled
// would shift or move a point without a word.
type points struct {
	what   string // the kind of point
	n      int    // points begun
	line   int    // of the last one's x
	open   bool   // the last one has no y yet
	broken bool   // which was told
}

// MaxBytes is the size, in bytes, up to which a drawing is read; one of a knife has some ten thousand.
const MaxBytes = 32 << 20

// What a drawing may hold: entities, layers and blocks together, and points of them.
const (
	maxEntities = 400_000
	maxPoints   = 2_000_000
)

// spend counts entities; false, with a fault and the end of the reading, where there are too many.
func (d *decoder) spend(entities int) bool {
	d.held += entities
	return d.held <= maxEntities || d.tooLarge("has more than %d entities, layers and blocks", maxEntities)
}

// spendPoint counts a point of an entity as spend does.
func (d *decoder) spendPoint() bool {
	d.points++
	return d.points <= maxPoints || d.tooLarge("has more than %d points", maxPoints)
}

// tooLarge ends the reading; it is false.
func (d *decoder) tooLarge(format string, most int) bool {
	if !d.scan.end {
		d.scan.fail(TooLarge, format+"; leave out of the drawing what is not the knife", most)
		d.scan.end = true
	}
	return false
}

// pointX takes note of an x: the pair last read.
func (d *decoder) pointX(p *points) {
	d.pointEnd(p)
	d.spendPoint()
	p.n++
	p.line, p.open = d.scan.line, true
}

// pointY takes note of a y: the pair last read.
func (d *decoder) pointY(p *points) {
	if !p.open && !p.broken {
		d.fault(MissingValue, fmt.Sprintf("group %d: a second y of %s %d, or the y of one without its x", d.scan.code, p.what, p.n))
		p.broken = true
	}
	p.open = false
}

// pointEnd refuses the last point where it has no y. One fault of a list is told.
func (d *decoder) pointEnd(p *points) {
	if p.open && !p.broken {
		d.faultAt(p.line, MissingValue, fmt.Sprintf("%s %d has no y", p.what, p.n))
		p.broken = true
	}
	p.open = false
}

// pointsWhole ends a list and reports whether each of its points had one x and one y.
func (d *decoder) pointsWhole(p *points) bool {
	d.pointEnd(p)
	return !p.broken
}
