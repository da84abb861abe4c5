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

// pointX takes note of an x: the pair last read.
func (d *decoder) pointX(p *points) {
	d.pointEnd(p)
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
