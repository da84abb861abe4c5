// Package lettering draws text as closed polygons in the plan, to be engraved.
//
// The letters are those of Go Bold, whose stems are about 0.2 of the capitals' height, so that letters
// 4 mm high have strokes that a 0.4 mm nozzle leaves open. A letter's polygons follow the even-odd
// rule: a counter is a polygon within another.
package lettering

import (
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/gonum/spatial/r2"
)

// Text is text laid out in lines: x along the lines, y up, its box centred on the origin.
type Text struct {
	Size  r2.Vec // of its box, mm
	Loops [][]r2.Vec
}

// leading is the distance of two baselines, in heights of a capital.
const leading = 1.7

// capHeight is the height of a capital of the font, in units of 2048 to the em; measured on its H.
const capHeight = 1480

// Lay lays out lines of text, as Legible has them, with capitals of the height, chords of curves within tol, both in mm.
// The error is one of the font's own tables, which does not happen.
func Lay(lines []string, height, tol float64) (Text, error) {
	d := drawer{font: bold(), scale: height / capHeight / 64, tol: tol}
	for i, line := range lines {
		if err := d.line(line, -float64(i)*leading*height); err != nil {
			return Text{}, err
		}
	}
	return d.centred(), nil
}

// drawer lays letter after letter.
type drawer struct {
	font  *sfnt.Font
	buf   sfnt.Buffer
	scale float64 // mm for each 26.6 unit
	tol   float64
	text  Text
}

func (d *drawer) line(s string, y float64) error {
	ppem := fixed.I(int(d.font.UnitsPerEm()))
	at := r2.Vec{Y: y}
	for _, r := range Legible(s) {
		g, err := d.font.GlyphIndex(&d.buf, r)
		if err != nil {
			return err
		}
		segments, err := d.font.LoadGlyph(&d.buf, g, ppem, nil)
		if err != nil {
			return err
		}
		d.letter(segments, at)
		advance, err := d.font.GlyphAdvance(&d.buf, g, ppem, font.HintingNone)
		if err != nil {
			return err
		}
		at.X += float64(advance) * d.scale
	}
	return nil
}

// letter adds the contours of a glyph.
func (d *drawer) letter(segments sfnt.Segments, at r2.Vec) {
	place := func(p fixed.Point26_6) r2.Vec {
		return r2.Add(at, r2.Vec{X: float64(p.X) * d.scale, Y: -float64(p.Y) * d.scale})
	}
	var loop []r2.Vec
	end := func() {
		if n := len(loop); n > 1 && r2.Norm(r2.Sub(loop[0], loop[n-1])) < 1e-9 {
			loop = loop[:n-1]
		}
		if len(loop) > 2 {
			d.text.Loops = append(d.text.Loops, loop)
		}
		loop = nil
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			end()
			loop = append(loop, place(s.Args[0]))
		case sfnt.SegmentOpLineTo:
			loop = append(loop, place(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			loop = d.curve(loop, place(s.Args[0]), place(s.Args[1]))
		}
	}
	end()
}

// curve adds a quadratic curve: chords of equal steps miss it by at most a quarter of the distance of its
// control point from the middle of its ends, over the square of their number.
func (d *drawer) curve(loop []r2.Vec, b, c r2.Vec) []r2.Vec {
	a := loop[len(loop)-1]
	bend := r2.Norm(r2.Sub(b, r2.Scale(0.5, r2.Add(a, c)))) / 2
	n := max(1, int(math.Ceil(math.Sqrt(bend/d.tol/2))))
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		loop = append(loop, r2.Add(r2.Scale((1-t)*(1-t), a), r2.Add(r2.Scale(2*t*(1-t), b), r2.Scale(t*t, c))))
	}
	return loop
}

// centred is the text about the origin, each line in the middle.
func (d *drawer) centred() Text {
	box := bounds(d.text.Loops)
	if len(d.text.Loops) == 0 {
		return d.text
	}
	middle := r2.Scale(0.5, r2.Add(box.Min, box.Max))
	for _, l := range d.text.Loops {
		for i := range l {
			l[i] = r2.Sub(l[i], middle)
		}
	}
	d.text.Size = r2.Sub(box.Max, box.Min)
	return d.text
}

// bounds is the box of the loops.
func bounds(loops [][]r2.Vec) r2.Box {
	box := r2.Box{Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, l := range loops {
		for _, p := range l {
			box.Min = r2.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y)}
			box.Max = r2.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y)}
		}
	}
	return box
}

// At is the text's loops laid about a point: as it is read against the z axis or, turned over, as it is
// read along it, from the knife's left face.
func (t Text) At(at r2.Vec, over bool) [][]r2.Vec {
	loops := make([][]r2.Vec, len(t.Loops))
	for i, l := range t.Loops {
		loops[i] = make([]r2.Vec, len(l))
		for j, p := range l {
			if over {
				p.X = -p.X
			}
			loops[i][j] = r2.Add(at, p)
		}
	}
	return loops
}
