package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"formbuck/buck/picture"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// marksEach is how many places of a problem are marked, and marksAll how many in all: what a
	// caption has room for.
	marksEach = 3
	marksAll  = 12
	// leastWall is the least that prints as a wall, in mm: two beads of a 0.4 mm nozzle; common
	// practice, no source.
	leastWall = 0.8
)

// draw writes a picture of a file's solids with what was found on them marked by numbers, which the
// caption explains.
func draw(path, file string, bodies []body, solids []*solid, force bool) error {
	var parts []picture.Part
	var marks []picture.Mark
	below := true
	for i, s := range solids {
		parts = append(parts, picture.Part{Name: s.Object, Mesh: bodies[i].mesh})
		marks = append(marks, s.marks()...)
		below = below && len(s.Problems) == 0
	}
	o := picture.Options{Title: filepath.Base(file), Caption: "nothing to mark"}
	var caption strings.Builder
	for _, m := range marks[:min(len(marks), marksAll)] {
		i := slices.IndexFunc(o.Marks, func(o picture.Mark) bool { return o.At == m.At })
		if i < 0 { // what is found at one place shares a number
			i = len(o.Marks)
			o.Marks = append(o.Marks, picture.Mark{At: m.At, Label: fmt.Sprint(i + 1)})
		}
		fmt.Fprintf(&caption, "%d  %s\n", i+1, m.Label)
	}
	if len(marks) > marksAll {
		fmt.Fprintf(&caption, "and %d more\n", len(marks)-marksAll)
	}
	if len(marks) > 0 {
		o.Caption = strings.TrimSuffix(caption.String(), "\n")
		if below { // what is thin or hangs over the bed is best seen from there
			o.View = picture.View{From: r3.Vec{X: 0.33, Y: -0.76, Z: -0.56}, Up: r3.Vec{Z: 1}}
		}
	}
	im, err := picture.Draw(parts, o)
	if err != nil {
		return fmt.Errorf("%s: cannot be drawn: %w", file, err)
	}
	var b bytes.Buffer
	if err := picture.EncodePNG(&b, im); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if force {
		return overwrite(path, b.Bytes())
	}
	return create(path, b.Bytes(), "use --force to overwrite it")
}

// marks are the places to be marked with what is to be said of them, problems first.
func (s *solid) marks() []picture.Mark {
	var marks []picture.Mark
	add := func(at [3]float64, what string) {
		if s.Object != "" {
			what = s.Object + ": " + what
		}
		marks = append(marks, picture.Mark{At: r3.Vec{X: at[0], Y: at[1], Z: at[2]}, Label: what})
	}
	for _, p := range s.Problems {
		for i, at := range distinct(p.Places, marksEach) {
			add(at, fmt.Sprintf("%s, %d of %d, at %s", p.Class, i+1, p.Count, place(at)))
		}
	}
	if s.Wall != nil && s.Wall.Thinnest < leastWall {
		add(s.Wall.At, fmt.Sprintf("wall of %.3f mm at %s", s.Wall.Thinnest, place(s.Wall.At)))
	}
	if s.Overhang != nil {
		for _, p := range s.Overhang.Places[:min(len(s.Overhang.Places), marksEach)] {
			add(p.At, fmt.Sprintf("overhang of %.2f mm2 at %s", p.Area, place(p.At)))
		}
	}
	return marks
}

// distinct are the first n places that differ.
func distinct(places [][3]float64, n int) [][3]float64 {
	var out [][3]float64
	for _, at := range places {
		if len(out) < n && !slices.Contains(out, at) {
			out = append(out, at)
		}
	}
	return out
}
