package main

import (
	"fmt"
	"strconv"
	"strings"

	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// mostPatches is how many overhanging places are stated, the largest ones.
const mostPatches = 8

// wall is the thinnest wall that was found.
type wall struct {
	Thinnest float64    `json:"thinnest_mm"` // an upper bound
	At       [3]float64 `json:"at_mm"`
	Samples  int        `json:"samples"`
}

// wallOf measures the walls; nil where there is none.
func wallOf(m *mesh.Mesh) *wall {
	w, ok := m.ThinnestWall()
	if !ok {
		return nil
	}
	return &wall{Thinnest: figure(w.Thickness), At: vector(w.At), Samples: w.Samples}
}

func (w *wall) text() string {
	return fmt.Sprintf("%s mm at the thinnest of %d places, %s", decimal(w.Thinnest, 3), w.Samples, place(w.At))
}

// overhang is what hangs over air.
type overhang struct {
	Under  float64 `json:"under_deg"` // to the bed
	Area   float64 `json:"area_mm2"`
	Places []patch `json:"places"`
}

// patch is a part of it.
type patch struct {
	At   [3]float64 `json:"at_mm"`
	Area float64    `json:"area_mm2"`
}

func overhangOf(m *mesh.Mesh, deg float64) *overhang {
	found := m.Overhang(deg)
	o := &overhang{Under: deg, Area: figure(found.Area), Places: []patch{}}
	for _, p := range found.Patches[:min(len(found.Patches), mostPatches)] {
		o.Places = append(o.Places, patch{At: vector(p.At), Area: figure(p.Area)})
	}
	return o
}

func (o *overhang) text() string {
	if len(o.Places) == 0 {
		return fmt.Sprintf("none under %g deg to the bed", o.Under)
	}
	p := o.Places[0]
	return fmt.Sprintf("%s mm2 under %g deg to the bed, %s mm2 of it at %s", decimal(o.Area, 4), o.Under, decimal(p.Area, 4), place(p.At))
}

// fit is whether a part fits a bed.
type fit struct {
	Bed  [3]float64 `json:"bed_mm"`
	Fits bool       `json:"fits"`
	Up   string     `json:"up,omitempty"`       // the axis of the file that has to point up
	Turn *float64   `json:"turn_deg,omitempty"` // then, about the upright
}

func fitOf(m *mesh.Mesh, b bed) *fit {
	f := &fit{Bed: b}
	turn, ok := m.Fit(r3.Vec{X: b[0], Y: b[1], Z: b[2]})
	if ok {
		deg := figure(turn.TurnDeg)
		f.Fits, f.Up, f.Turn = true, [...]string{mesh.X: "x", mesh.Y: "y", mesh.Z: "z"}[turn.Up], &deg
	}
	return f
}

func (f *fit) text() string {
	size := fmt.Sprintf("%g x %g x %g mm", f.Bed[0], f.Bed[1], f.Bed[2])
	if !f.Fits {
		return "does NOT fit " + size + " in any turn"
	}
	how := "as it stands"
	switch {
	case f.Up != "z" && *f.Turn == 0:
		how = "laid with " + f.Up + " up"
	case f.Up != "z":
		how = fmt.Sprintf("laid with %s up and turned by %.4g deg", f.Up, *f.Turn)
	case *f.Turn != 0:
		how = fmt.Sprintf("turned by %.4g deg", *f.Turn)
	}
	return "fits " + size + " " + how
}

// slope is a flag that takes an angle to the bed; 0 stands for not given.
type slope float64

// String is the angle as it would be written.
func (s *slope) String() string { return (*positive)(s).String() }

// Type is the name of the value in a usage line.
func (s *slope) Type() string { return "ANGLE" }

// Set reads the angle.
func (s *slope) Set(text string) error {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || !(x > 0 && x <= 90) {
		return fmt.Errorf("expected an angle above 0 and up to 90 deg")
	}
	*s = slope(x)
	return nil
}

// bed is a flag that takes the size of a printer's room in mm; zeros stand for not given.
type bed [3]float64

// String is the size as it would be written.
func (b *bed) String() string {
	if *b == (bed{}) {
		return ""
	}
	return fmt.Sprintf("%gx%gx%g", b[0], b[1], b[2])
}

// Type is the name of the value in a usage line.
func (b *bed) Type() string { return "XxYxZ" }

// Set reads the size.
func (b *bed) Set(text string) error {
	words := strings.Split(strings.ToLower(text), "x")
	fault := fmt.Errorf("expected three lengths in mm, such as 220x220x250")
	if len(words) != 3 {
		return fault
	}
	for i, w := range words {
		var one positive
		if one.Set(strings.TrimSpace(w)) != nil {
			return fault
		}
		b[i] = float64(one)
	}
	return nil
}
