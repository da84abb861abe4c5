package dxf

import (
	"bytes"
	"math"
)

// header reads the header section: a pair 9 names a variable, the pairs after it are its value.
func (d *decoder) header() {
	s := &d.scan
	variable := ""
	for s.code != 0 || !d.bracket() {
		switch {
		case s.code == 9:
			variable = string(bytes.ToUpper(s.text))
		case variable == "$ACADVER" && s.code == 1:
			d.drawing.Version = string(bytes.ToUpper(s.text))
		case variable == "$DWGCODEPAGE" && s.code == 3:
			d.drawing.CodePage = string(s.text)
		case variable == "$INSUNITS" && s.code == 70:
			if v, ok := d.number(1e6); ok {
				d.drawing.Units = Units(v)
			}
			if mm := d.drawing.Units.MM(); mm > 0 && mm < 1 {
				d.limit = maxMM / mm
			}
		case variable == "$MEASUREMENT" && s.code == 70:
			if v, ok := d.number(1e6); ok {
				d.drawing.Measure = map[float64]Measurement{0: Imperial, 1: Metric}[v]
			}
		}
		if !s.next() {
			return
		}
	}
}

// tables reads the layer table and passes the others.
func (d *decoder) tables() {
	s := &d.scan
	var layer *Layer
	for s.code != 0 || !d.bracket() {
		if s.code == 0 {
			layer = nil
			if d.is("LAYER") && d.spend(1) {
				d.drawing.Layers = append(d.drawing.Layers, Layer{})
				layer = &d.drawing.Layers[len(d.drawing.Layers)-1]
			}
		}
		if layer != nil {
			d.layer(layer)
		}
		if !s.next() {
			return
		}
	}
}

// layer takes one pair of a layer's entry: 70 bit 1 is frozen, a negative colour is off.
func (d *decoder) layer(l *Layer) {
	switch d.scan.code {
	case 2:
		l.Name = d.name()
	case 70:
		if v, ok := d.number(1e6); ok {
			l.Frozen = int(v)&1 != 0
		}
	case 62:
		if v, ok := d.number(1e6); ok {
			l.Off, l.Colour = v < 0, int(math.Abs(v))
		}
	}
}

// blocks reads the block section.
func (d *decoder) blocks() {
	s := &d.scan
	for !s.end && (s.code != 0 || !d.bracket()) {
		if s.code == 0 && d.is("BLOCK") {
			d.block()
			continue
		}
		if !s.next() {
			return
		}
	}
}

// block reads one block, from BLOCK to ENDBLK.
func (d *decoder) block() {
	s := &d.scan
	b := Block{}
	d.begin()
	if !d.spend(1) {
		return
	}
	b.Line = d.cur.Line
	for d.pair() {
		switch s.code {
		case 2:
			b.Name = d.name()
		case 10:
			d.coord(&b.Base.X)
		case 20:
			d.coord(&b.Base.Y)
		case 30:
			d.coord(&b.Base.Z)
		case 70:
			b.XRef = d.integer()&(4|8) != 0
		}
	}
	if d.cur.Far != nil {
		d.add(d.cur.Far)
	}
	b.Entities = d.entities(nil)
	if !s.end && d.is("ENDBLK") {
		d.begin()
		for d.pair() {
			continue
		}
	}
	d.drawing.Blocks = append(d.drawing.Blocks, b)
}
