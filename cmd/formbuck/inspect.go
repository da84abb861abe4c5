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
bounds_mm, volume_mm3, area_mm2, centroid_mm, shells, closed, problems, and with
--density mass_g.`

const inspectExample = `  formbuck inspect hunter/hunter-standoff-right.stl
  formbuck inspect --density 1.07 hunter/*.stl           with the mass, in ASA
  formbuck inspect --json hunter/*.stl | jq .volume_mm3`

// solid is what inspect says of a file.
type solid struct {
	File      string     `json:"file"`
	Format    string     `json:"format"`
	Triangles int        `json:"triangles"`
	Bounds    box3       `json:"bounds_mm"`
	Volume    float64    `json:"volume_mm3"`
	Area      float64    `json:"area_mm2"`
	Centroid  [3]float64 `json:"centroid_mm"`
	Shells    int        `json:"shells"`
	Closed    bool       `json:"closed"`
	Problems  []string   `json:"problems"`
	Mass      *float64   `json:"mass_g,omitempty"`
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
	report := mesh.Check(f.Mesh, mesh.Options{})
	s := &solid{
		File: path, Format: string(f.Format), Triangles: len(f.Mesh.Triangles),
		Bounds: boxOf3(f.Mesh.Bounds()), Volume: figure(f.Mesh.Volume()), Area: figure(f.Mesh.Area()),
		Centroid: vector(f.Mesh.Centroid()), Shells: len(f.Mesh.Shells()),
		Closed: report.Closed(), Problems: []string{},
	}
	for _, fault := range report.Faults {
		s.Problems = append(s.Problems, fault.String())
	}
	if f.Turned > 0 {
		s.Problems = append(s.Problems, fmt.Sprintf("normal against the winding: %d", f.Turned))
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
	fmt.Fprintf(&b, "  size      %.4f x %.4f x %.4f mm\n", hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2])
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
		fmt.Fprintf(&b, "  problem   %s\n", p)
	}
	return b.String()
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
