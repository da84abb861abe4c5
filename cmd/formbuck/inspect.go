package main

import (
	"errors"
	"fmt"

	"formbuck/mesh"

	"github.com/spf13/cobra"
)

const inspectLong = `Measure print files and find their faults. A FILE is an STL, binary or text, told apart
by its size, or a 3MF, of which every object to be built is answered for by itself. STL
knows no units: lengths are taken as millimetres; those of a 3MF are turned into them.

Volume, centroid and mass have a meaning only where the surface is closed. A file that
can be read is answered for, with its faults, and the exit status is 0; a file that
cannot be read is an error. Shells are the parts that hang together by their edges, a
hollow's inside among them; the genus is how many holes go through each, -1 for one that
is not closed. A sliver is a triangle lower than 0.00002 mm.

The wall is measured straight through the solid at many places, between faces within
20 deg of parallel and 0.2 mm or more from an edge. It is the thinnest that was found:
what lies between the places may be thinner.

With --overhang ANGLE comes the area that faces down at less than ANGLE to the bed, the
face on the bed left out: 45 is usual, and a ceiling is at 0. With --bed XxYxZ comes
whether the part fits, and if it has to be turned for that, how. With --picture comes a
drawing on which problems, walls under 0.8 mm and overhangs are marked, from above or
below, wherever more of them are seen; a dashed mark is hidden behind the part.

With --json every file or object is answered by one line with the keys file, format,
triangles, bounds_mm, size_mm, volume_mm3, area_mm2, centroid_mm, shells, genus, closed,
problems, and where they apply object, unit, mass_g, wall, overhang and fit; a problem
has class, count, at_mm and places_mm.`

const inspectExample = `  formbuck inspect hunter/hunter-standoff-right.stl
  formbuck inspect --density 1.07 hunter/*.stl           with the mass, in ASA
  formbuck inspect --overhang 45 --bed 220x220x250 hunter/hunter.3mf
  formbuck inspect --picture faults.png part.stl         see where its faults are
  formbuck inspect --json hunter/*.stl | jq .volume_mm3`

// solid is what inspect says of an STL file, or of an object of a 3MF file.
type solid struct {
	File   string `json:"file"`
	Object string `json:"object,omitempty"`
	Format string `json:"format"`
	Unit   string `json:"unit,omitempty"`
	mesh.Survey
	Mass     *float64  `json:"mass_g,omitempty"`
	Wall     *wall     `json:"wall,omitempty"`
	Overhang *overhang `json:"overhang,omitempty"`
	Fit      *fit      `json:"fit,omitempty"`
}

// inspectFlags are the flags of inspect.
type inspectFlags struct {
	density  positive
	overhang slope
	bed      bed
	picture  string
	force    bool
	json     bool
}

func newInspect(a *app) *cobra.Command {
	var f inspectFlags
	cmd := &cobra.Command{
		Use:     "inspect FILE...",
		Short:   "Measure print files and find their faults",
		Long:    inspectLong,
		Example: inspectExample,
		Args:    positional("FILE", 1, -1),
		RunE: func(cmd *cobra.Command, args []string) error {
			args, err := matching(args)
			if err != nil {
				return err
			}
			if f.picture != "" && len(args) > 1 {
				return misuse(cmd, "--picture draws one FILE at a time, found %d", len(args))
			}
			var faults []error
			for _, path := range args {
				faults = append(faults, a.inspect(path, f))
			}
			return errors.Join(faults...)
		},
	}
	flags := cmd.Flags()
	flags.Var(&f.density, "density", "state the mass too, for a material of this density in g/cm3")
	flags.Var(&f.overhang, "overhang", "state the area that faces down at less than this to the bed, in deg")
	flags.Var(&f.bed, "bed", "say whether it fits a printer's room of this size, in mm, such as 220x220x250")
	flags.StringVar(&f.picture, "picture", "", "draw it with its problems marked into the new file `FILE.png`")
	flags.BoolVar(&f.force, "force", false, "let --picture overwrite a file")
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON for each file")
	return cmd
}

// inspect answers for one file.
func (a *app) inspect(path string, f inspectFlags) error {
	bodies, err := readBodies(path)
	if err != nil {
		return err
	}
	a.notes(fmt.Sprintf("%s: read %s", path, count(len(bodies), "object")))
	solids := make([]*solid, len(bodies))
	for i, b := range bodies {
		solids[i] = b.survey(path, f)
		if f.json {
			if err := a.answerJSON(solids[i]); err != nil {
				return err
			}
			continue
		}
		a.printf("%s", solids[i].text(float64(f.density)))
	}
	if f.picture == "" {
		return nil
	}
	return draw(f.picture, path, bodies, solids, f.force)
}

// survey measures one body.
func (b *body) survey(path string, f inspectFlags) *solid {
	s := &solid{File: path, Object: b.name, Format: b.format, Unit: b.unit, Survey: b.mesh.Survey(mesh.Options{})}
	s.Volume, s.Area = figure(s.Volume), figure(s.Area)
	for i := range 3 {
		s.Centroid[i], s.Size[i] = figure(s.Centroid[i]), figure(s.Size[i])
		s.Bounds.Min[i], s.Bounds.Max[i] = figure(s.Bounds.Min[i]), figure(s.Bounds.Max[i])
	}
	if b.turned > 0 {
		s.Problems = append(s.Problems, mesh.Problem{Class: "normal against the winding", Count: b.turned})
	}
	if f.density > 0 && s.Closed {
		mass := figure(s.Volume * float64(f.density) / 1000)
		s.Mass = &mass
	}
	if s.Closed {
		s.Wall = wallOf(b.mesh)
	}
	if f.overhang > 0 {
		s.Overhang = overhangOf(b.mesh, float64(f.overhang))
	}
	if f.bed != (bed{}) {
		s.Fit = fitOf(b.mesh, f.bed)
	}
	return s
}
