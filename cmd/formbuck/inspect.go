package main

import (
	"errors"
	"fmt"
	"strings"

	"formbuck/mesh"
	"formbuck/mesh/stl"

	"github.com/spf13/cobra"
)

const inspectLong = `Measure print files and find their faults. Every FILE is an STL, binary or text; which
of the two is told by its size. STL knows no units: lengths are taken as millimetres.

Volume, centroid and mass have a meaning only where the surface is closed. A file that
can be read is answered for, with its faults, and the exit status is 0; a file that
cannot be read is an error.

With --json every file is answered by one line with the keys file, format, triangles,
bounds_mm, size_mm, volume_mm3, area_mm2, centroid_mm, shells, genus, closed, problems,
and with --density mass_g; a problem has class, count, at_mm and places_mm.`

const inspectExample = `  formbuck inspect hunter/hunter-standoff-right.stl
  formbuck inspect --density 1.07 hunter/*.stl           with the mass, in ASA
  formbuck inspect --json hunter/*.stl | jq .volume_mm3`

// solid is what inspect says of a file.
type solid struct {
	File   string `json:"file"`
	Format string `json:"format"`
	mesh.Survey
	Mass *float64 `json:"mass_g,omitempty"`
}

func newInspect(a *app) *cobra.Command {
	var density positive
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "inspect FILE...",
		Short:   "Measure print files and find their faults",
		Long:    inspectLong,
		Example: inspectExample,
		Args:    positional("FILE", 1, -1),
		RunE: func(_ *cobra.Command, args []string) error {
			var faults []error
			for _, path := range args {
				s, err := inspect(path, float64(density))
				if err == nil && asJSON {
					err = a.answerJSON(s)
				} else if err == nil {
					a.printf("%s", s.text(float64(density)))
				}
				faults = append(faults, err)
			}
			return errors.Join(faults...)
		},
	}
	cmd.Flags().Var(&density, "density", "state the mass too, for a material of this density in g/cm3")
	cmd.Flags().BoolVar(&asJSON, "json", false, "answer with one line of JSON for each file")
	return cmd
}

// inspect reads and measures one file; a density in g/cm3 above 0 gives it a mass.
func inspect(path string, density float64) (*solid, error) {
	f, err := input(path, stl.Decode)
	if err != nil {
		return nil, placed(path, err)
	}
	s := &solid{File: path, Format: string(f.Format), Survey: f.Mesh.Survey(mesh.Options{})}
	s.Volume, s.Area = figure(s.Volume), figure(s.Area)
	for i := range 3 {
		s.Centroid[i], s.Size[i] = figure(s.Centroid[i]), figure(s.Size[i])
		s.Bounds.Min[i], s.Bounds.Max[i] = figure(s.Bounds.Min[i]), figure(s.Bounds.Max[i])
	}
	if f.Turned > 0 {
		s.Problems = append(s.Problems, mesh.Problem{Class: "normal against the winding", Count: f.Turned})
	}
	if density > 0 && s.Closed {
		mass := figure(s.Volume * density / 1000)
		s.Mass = &mass
	}
	return s, nil
}

// text is the answer for people.
func (s *solid) text(density float64) string {
	var b strings.Builder
	state := "closed"
	if !s.Closed {
		state = "NOT closed"
	}
	lo, hi := s.Bounds.Min, s.Bounds.Max
	fmt.Fprintf(&b, "%s: %s, %s, %s, %s\n", s.File, s.Format, count(s.Triangles, "triangle"), count(s.Shells, "shell"), state)
	fmt.Fprintf(&b, "  size      %.4f x %.4f x %.4f mm\n", s.Size[0], s.Size[1], s.Size[2])
	fmt.Fprintf(&b, "  bounds    (%.4f, %.4f, %.4f) to (%.4f, %.4f, %.4f) mm\n", lo[0], lo[1], lo[2], hi[0], hi[1], hi[2])
	fmt.Fprintf(&b, "  volume    %.4f mm3\n", s.Volume)
	fmt.Fprintf(&b, "  area      %.4f mm2\n", s.Area)
	fmt.Fprintf(&b, "  centroid  (%.4f, %.4f, %.4f) mm\n", s.Centroid[0], s.Centroid[1], s.Centroid[2])
	switch {
	case s.Mass != nil:
		fmt.Fprintf(&b, "  mass      %.3f g at %g g/cm3\n", *s.Mass, density)
	case density > 0:
		b.WriteString("  mass      none: the surface is not closed\n")
	}
	for _, p := range s.Problems {
		fmt.Fprintf(&b, "  problem   %s\n", told(p))
	}
	return b.String()
}

// told is a problem in one line.
func told(p mesh.Problem) string {
	s := fmt.Sprintf("%s: %d", p.Class, p.Count)
	if p.More {
		s += " or more"
	}
	if len(p.Places) > 0 {
		s += fmt.Sprintf(", at (%.5g, %.5g, %.5g) mm", p.At[0], p.At[1], p.At[2])
	}
	return s
}

// placed words a fault of an STL file as every other: FILE:LINE: what.
func placed(path string, err error) error {
	var f *stl.Error
	if !errors.As(err, &f) {
		return err
	}
	what := f.Class.String()
	if f.Found != "" {
		what += ": " + f.Found
	}
	switch {
	case f.Line > 0:
		return fmt.Errorf("%s:%d: %s", path, f.Line, what)
	case f.Offset > 0:
		return fmt.Errorf("%s: at byte %d: %s", path, f.Offset, what)
	default:
		return fmt.Errorf("%s: %s", path, what)
	}
}
