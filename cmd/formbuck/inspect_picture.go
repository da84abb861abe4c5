package main

import (
	"bytes"
	"fmt"
	"math"
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
	// marksApart is how far apart those of a problem are at least, of a part's size: nearer ones hide each other.
	marksApart = 0.03
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
	o := picture.Options{Title: filepath.Base(file)}
	seen, err := look(parts, marks, below, &o)
	if err != nil {
		return fmt.Errorf("%s: cannot be drawn: %w", file, err)
	}
	o.Marks, o.Caption = numbered(marks, seen)
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

// look chooses from where most marks are seen, above or below, and tells which are seen from there. What is thin or hangs
// over the bed is looked at from below first.
func look(parts []picture.Part, marks []picture.Mark, below bool, o *picture.Options) ([]bool, error) {
	views := []picture.View{picture.ThreeQuarter(), {From: r3.Vec{X: 0.33, Y: -0.76, Z: -0.56}, Up: r3.Vec{Z: 1}}}
	o.Marks, o.Caption = numbered(marks, nil)
	if len(marks) == 0 {
		return nil, nil
	}
	if below {
		slices.Reverse(views)
	}
	o.View = views[0]
	seen, err := picture.Seen(parts, *o, views...)
	if err != nil {
		return nil, err
	}
	if countTrue(seen[1]) > countTrue(seen[0]) {
		o.View, seen[0] = views[1], seen[1]
	}
	return seen[0], nil
}

func countTrue(all []bool) int {
	n := 0
	for _, b := range all {
		if b {
			n++
		}
	}
	return n
}

// numbered gives the first marks a number for each place, and tells what they are in the caption. Of those that are not
// seen it says so.
func numbered(marks []picture.Mark, seen []bool) (numbers []picture.Mark, caption string) {
	if len(marks) == 0 {
		return nil, "nothing to mark"
	}
	var lines []string
	for _, m := range marks[:min(len(marks), marksAll)] {
		i := slices.IndexFunc(numbers, func(n picture.Mark) bool { return place(vector(n.At)) == place(vector(m.At)) })
		if i < 0 {
			i = len(numbers)
			numbers = append(numbers, picture.Mark{At: m.At, Label: fmt.Sprint(i + 1)})
		}
		line := fmt.Sprintf("%d  %s", i+1, m.Label)
		if i < len(seen) && !seen[i] {
			line += ", hidden"
		}
		lines = append(lines, line)
	}
	if len(marks) > marksAll {
		lines = append(lines, fmt.Sprintf("and %d more", len(marks)-marksAll))
	}
	return numbers, strings.Join(lines, "\n")
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
		for i, at := range apart(p.Places, marksEach, marksApart*slices.Max(s.Size[:])) {
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

// apart are the first n places that are further from each other than the given distance.
func apart(places [][3]float64, n int, least float64) [][3]float64 {
	var out [][3]float64
	for _, at := range places {
		near := slices.ContainsFunc(out, func(o [3]float64) bool {
			return math.Hypot(math.Hypot(at[0]-o[0], at[1]-o[1]), at[2]-o[2]) <= least
		})
		if len(out) < n && !near {
			out = append(out, at)
		}
	}
	return out
}
