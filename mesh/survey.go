package mesh

import (
	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r3"
)

// Survey is all that can be said of a mesh at a glance, in the form in which it is written as JSON.
type Survey struct {
	Triangles int        `json:"triangles"`
	Bounds    Extent     `json:"bounds_mm"`
	Size      [3]float64 `json:"size_mm"`
	Volume    float64    `json:"volume_mm3"`
	Area      float64    `json:"area_mm2"`
	Centroid  [3]float64 `json:"centroid_mm"`
	// Shells is the number of parts that hang together by their edges.
	Shells int `json:"shells"`
	// Genus is each shell's number of handles, -1 for one that is not closed.
	Genus []int `json:"genus"`
	// Closed: there are shells, and every edge lies in exactly two triangles.
	Closed bool `json:"closed"`
	// Problems is empty, not nil, for a clean mesh.
	Problems []Problem `json:"problems"`
}

// Extent is a box along the axes in mm.
type Extent struct {
	Min [3]float64 `json:"min"`
	Max [3]float64 `json:"max"`
}

// Problem is a Fault as JSON: its class in words, how many there are (or more), and places in mm, of
// which At is the first. A problem of the mesh as a whole has its middle as place, or the origin.
type Problem struct {
	Class  string       `json:"class"`
	Count  int          `json:"count"`
	More   bool         `json:"more,omitempty"`
	At     [3]float64   `json:"at_mm"`
	Places [][3]float64 `json:"places_mm,omitempty"`
}

// Survey measures and checks the mesh as it is indexed; see Check for the options. A mesh with an
// index out of range or a vertex that is not finite is not measured: all figures are then zero.
func (m *Mesh) Survey(opts Options) Survey {
	s := Survey{Triangles: len(m.Triangles), Genus: []int{}, Problems: []Problem{}}
	opts.setDefaults()
	r := &recorder{limit: opts.Places}
	if sound(m, r) {
		var shells []Shell
		crew.All(func() { shells = check(m, opts, r) }, func() { m.measure(&s) })
		s.Shells = len(shells)
		for _, shell := range shells {
			s.Genus = append(s.Genus, shell.Genus())
		}
	}
	report := r.report()
	s.Closed = report.Closed() && s.Shells > 0
	for _, f := range report.Faults {
		s.Problems = append(s.Problems, problem(f))
	}
	return s
}

// measure fills in the figures of a mesh that is sound.
func (m *Mesh) measure(s *Survey) {
	b := m.Bounds()
	s.Bounds, s.Size = Extent{Min: triple(b.Min), Max: triple(b.Max)}, triple(b.Size())
	s.Volume, s.Area, s.Centroid = m.volumeAbout(b.Center()), m.Area(), triple(m.Centroid())
}

// problem is a fault for JSON.
func problem(f Fault) Problem {
	p := Problem{Class: f.Class.String(), Count: f.Count, More: f.More}
	for _, place := range f.Places {
		p.Places = append(p.Places, triple(place.At))
	}
	if len(p.Places) > 0 {
		p.At = p.Places[0]
	}
	return p
}

// triple is a vector as JSON has it.
func triple(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
