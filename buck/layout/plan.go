package layout

import (
	"fmt"
	"strconv"

	"formbuck/buck/paper/drawing"

	"gonum.org/v1/gonum/spatial/r2"
)

// The plan of a sheath on paper, in mm.
const (
	planRoom  = 21.0 // round the sheath, for dimensions
	planTable = 64.0 // beside it, for the list of holes
	planRow   = 4.6
	planPoint = 3.0
)

// Plan is the trimmed sheath at its true size with its measures, seen on the right face: how long and wide it is, and beside
// it where every hole lies, along x from the mouth and along y from the blade's axis.
func (s *Sheath) Plan() *drawing.Drawing {
	box := s.Trim.Bounds()
	size := box.Size()
	rows := s.holeRows()
	high := max(size.Y+2*planRoom, planRow*float64(len(rows)+2)+planRoom)
	d := drawing.New(s.Knife.Spec.Name+": sheath", r2.Vec{X: size.X + 2*planRoom + planTable, Y: high + 14})
	by := r2.Sub(r2.Vec{X: planRoom, Y: high/2 - size.Y/2}, box.Min)
	p := &plot{d: d, by: by, left: box.Min.X - 12}
	s.areas(p)
	s.holes(p)
	s.labels(p)
	d.Heading(r2.Vec{X: 9, Y: d.Size.Y - 8}, s.Knife.Spec.Name+": sheath, seen on the right face")
	low, high2 := p.at(box.Min), p.at(box.Max)
	d.Dimension(low, r2.Vec{X: high2.X, Y: low.Y}, -13, "")
	d.Dimension(r2.Vec{X: high2.X, Y: low.Y}, high2, -9, "")
	mouth := [2]r2.Vec{p.at(s.Mouth[0]), p.at(s.Mouth[1])}
	d.Dimension(mouth[0], mouth[1], 14, drawing.Millimetres(s.MouthWidth())+" straight")
	d.AddApart(table(rows), r2.Vec{X: high2.X + planRoom - 3, Y: d.Size.Y - 20})
	if ink := d.Ink(); ink.Min.X < 4 { // a mouth so short that its measure stands beside it
		return d.Fitted(9)
	}
	return d
}

// table is the list of holes, its first line on y = 0.
func table(rows [][]string) *drawing.Drawing {
	d, y := drawing.New("holes", r2.Vec{}), 0.0
	for i, row := range rows {
		t := drawing.Type{Size: planPoint, Bold: i == 0}
		for k, text := range row {
			t.Align = drawing.Right
			if k == 0 {
				t.Align = drawing.Left
			}
			d.Text(r2.Vec{X: []float64{0, 36, 48, 61}[k], Y: y}, t, text)
		}
		y -= planRow
	}
	return d
}

// holeRows are the holes of the sheath, a row each.
func (s *Sheath) holeRows() [][]string {
	rows := [][]string{{"hole", "Ø mm", "x mm", "y mm"}}
	add := func(name string, diameter float64, at r2.Vec) {
		rows = append(rows, []string{name, fmt.Sprintf("%.4g", diameter), fmt.Sprintf("%.2f", at.X), fmt.Sprintf("%.2f", at.Y)})
	}
	for i, e := range s.Eyelets {
		name := strconv.Itoa(i + 1)
		for _, p := range s.Pins {
			if p.Eyelet == i && p.Check {
				name += ", check pin"
			} else if p.Eyelet == i {
				name += ", pin"
			}
		}
		add(name, s.Knife.Spec.Eyelet.Hole, e.At)
	}
	for _, h := range s.Holes {
		add(h.Name, h.Diameter, h.At)
	}
	for _, p := range s.Posts {
		add("post, "+string(p.Hand)+" hand", p.Diameter, p.At)
	}
	return rows
}
