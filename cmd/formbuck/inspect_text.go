package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"formbuck/mesh"
)

// text is the answer for people.
func (s *solid) text(density float64) string {
	var b strings.Builder
	state := "closed"
	if !s.Closed {
		state = "NOT closed"
	}
	name, format := s.File, s.Format
	if s.Object != "" {
		name += ": " + s.Object
	}
	if s.Unit != "" && s.Unit != "millimeter" {
		format += " in " + s.Unit
	}
	all := func(x [3]float64, between string) string {
		return decimal(x[0], 4) + between + decimal(x[1], 4) + between + decimal(x[2], 4)
	}
	fmt.Fprintf(&b, "%s: %s, %s, %s, %s\n", name, format, count(s.Triangles, "triangle"), count(s.Shells, "shell"), state)
	fmt.Fprintf(&b, "  size      %s mm\n", all(s.Size, " x "))
	fmt.Fprintf(&b, "  bounds    (%s) to (%s) mm\n", all(s.Bounds.Min, ", "), all(s.Bounds.Max, ", "))
	fmt.Fprintf(&b, "  volume    %s mm3\n", decimal(s.Volume, 4))
	fmt.Fprintf(&b, "  area      %s mm2\n", decimal(s.Area, 4))
	if holes := s.holes(); holes != "" {
		fmt.Fprintf(&b, "  holes     %s\n", holes)
	}
	fmt.Fprintf(&b, "  centroid  (%s) mm\n", all(s.Centroid, ", "))
	switch {
	case s.Mass != nil:
		fmt.Fprintf(&b, "  mass      %.3f g at %g g/cm3\n", *s.Mass, density)
	case density > 0:
		b.WriteString("  mass      none: the surface is not closed\n")
	}
	if s.Wall != nil {
		fmt.Fprintf(&b, "  wall      %s\n", s.Wall.text())
	}
	if s.Overhang != nil {
		fmt.Fprintf(&b, "  overhang  %s\n", s.Overhang.text())
	}
	if s.Fit != nil {
		fmt.Fprintf(&b, "  bed       %s\n", s.Fit.text())
	}
	for _, p := range s.Problems {
		fmt.Fprintf(&b, "  problem   %s\n", told(p))
	}
	return b.String()
}

// mostGenus is how many shells' genus is written out.
const mostGenus = 8

// holes tells how many go through the shells, "" where none does.
func (s *solid) holes() string {
	all := 0
	var each []string
	for _, g := range s.Genus {
		all += max(g, 0)
		each = append(each, fmt.Sprint(g))
	}
	if all == 0 {
		return ""
	}
	if len(each) > mostGenus {
		each = append(each[:mostGenus], "...")
	}
	return fmt.Sprintf("%d through, genus %s", all, strings.Join(each, ", "))
}

// told is a problem in one line.
func told(p mesh.Problem) string {
	s := fmt.Sprintf("%s: %d", p.Class, p.Count)
	if p.More {
		s += " or more"
	}
	if len(p.Places) > 0 {
		s += ", at " + place(p.At)
	}
	return s
}

// place is a point in mm as a message has it.
func place(at [3]float64) string {
	return fmt.Sprintf("(%s, %s, %s) mm", coordinate(at[0]), coordinate(at[1]), coordinate(at[2]))
}

// coordinate has five digits, or as many as it takes to tell hundredths of a mm.
func coordinate(x float64) string {
	if a := math.Abs(x); a < 1000 || a >= tooLong {
		return fmt.Sprintf("%.5g", x)
	}
	return strconv.FormatFloat(math.Round(x*100)/100, 'f', -1, 64)
}

// tooLong is what is too long to be written out.
const tooLong = 1e12

// decimal has so many digits behind the point, unless the number is too long for that.
func decimal(x float64, digits int) string {
	if math.Abs(x) >= tooLong {
		return fmt.Sprintf("%.5g", x)
	}
	return strconv.FormatFloat(x, 'f', digits, 64)
}
