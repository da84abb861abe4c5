package path

import (
	"fmt"
	"math"
	"strings"

	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// Passage is how a plate with its posts goes in from the mouth to its place in the boss while the sheath is closed: along the
// draw, held level, so high or so low as there is room. A plate that is tilted may pass where this one does not, none that is
// held level otherwise.
type Passage struct {
	Boss  *pieces.StandoffPiece
	Spare float64 // room that is left where there is least, mm; below 0: it does not pass
	At    r2.Vec  // the place of the plate's middle where that is, in the blade's axes
	Bare  float64 // Spare of the plate without posts
	Post  float64 // of the posts over the plate, mm
}

// Passes reports whether the plate goes in.
func (p Passage) Passes() bool { return p.Spare >= 0 }

// How finely a passage is looked at, mm: the walls of a boss are drafted, so that between two places nothing is missed that
// matters beside what a sheet gives way.
const (
	passageCells = 0.4 // our own, no source
	passageStep  = 0.5 // our own, no source
)

// Passages are those of the plates of one face that carries bosses.
func (s *Study) Passages() []Passage {
	in := s.Bossed()
	if in == nil {
		return nil
	}
	other := s.Faces[0]
	if other.Face == in.Face {
		other = s.Faces[1]
	}
	var all []Passage
	for _, b := range s.Buck.Bosses() {
		all = append(all, s.passage(b, in.Cavity, other.Cavity))
	}
	return all
}

// passage moves the plate out of its place to the mouth. Heights are over the middle plane, towards the boss.
func (s *Study) passage(b *pieces.StandoffPiece, roof, floor *Map) Passage {
	p := Passage{Boss: b, Spare: math.Inf(1), Bare: math.Inf(1), Post: b.Knife.Spec.Screw.PostHeight}
	plate := pieces.Pill{Centre: b.Top.Centre, AngleDeg: b.Top.AngleDeg, Length: b.Plate.Length, Width: b.Plate.Width}
	flat := s.cells(plate)
	var posts []r2.Vec
	for _, side := range [2]float64{-0.5, 0.5} {
		d := b.Plate.PostDiameter
		posts = append(posts, s.cells(pieces.Pill{Centre: b.Top.At(r2.Vec{X: side * b.Plate.PostSpacing}), Length: d, Width: d})...)
	}
	far := 0.0
	for _, q := range flat {
		far = max(far, q.X)
	}
	for out := 0.0; out < far; out += passageStep {
		low, high := math.Inf(-1), math.Inf(1) // of the plate's lower face
		for _, q := range flat {
			if n, in := s.cell(q, out); in {
				low, high = max(low, -floor.Z[n]), min(high, roof.Z[n]-b.Plate.Thickness)
			}
		}
		p.Bare = min(p.Bare, high-low)
		for _, q := range posts {
			if n, in := s.cell(q, out); in {
				high = min(high, roof.Z[n]-b.Plate.Thickness-p.Post)
			}
		}
		if high-low < p.Spare {
			p.Spare, p.At = high-low, roof.Blade(r2.Sub(roof.Draw(b.Top.Centre), r2.Vec{X: out}))
		}
	}
	return p
}

// cells are points of a pill on the draw's axes.
func (s *Study) cells(p pieces.Pill) []r2.Vec {
	g := s.Knife.Grid
	var all []r2.Vec
	for x := -p.Length / 2; x <= p.Length/2; x += passageCells {
		for y := -p.Width / 2; y <= p.Width/2; y += passageCells {
			if at := p.At(r2.Vec{X: x, Y: y}); p.Distance(at) <= 0 {
				all = append(all, g.Draw(at))
			}
		}
	}
	return all
}

// cell is that of a point of the plate moved towards the mouth; false: it is out of it.
func (s *Study) cell(q r2.Vec, out float64) (n int, in bool) {
	q.X -= out
	if q.X <= 0 {
		return 0, false
	}
	i, j := s.Knife.Cell(q)
	return j*s.Knife.NX + i, true
}

// Said is the passage in words.
func (p Passage) Said() string {
	switch {
	case p.Passes():
		return fmt.Sprintf("passes from the mouth, held level, %.2f mm to spare", p.Spare)
	case p.Bare >= 0 && p.Post+p.Spare > 0:
		return fmt.Sprintf("does not pass from the mouth, held level: %.2f mm short at x %.1f, so that it goes in before the halves are closed; posts of %.2f mm would pass", -p.Spare, p.At.X, math.Floor(100*(p.Post+p.Spare)+1e-6)/100)
	default:
		return fmt.Sprintf("does not pass from the mouth, held level: %.2f mm short at x %.1f, so that it goes in before the halves are closed; a narrower or thinner plate helps", -p.Spare, p.At.X)
	}
}

// Name is what the plate is called.
func (p Passage) Name() string { return strings.TrimSpace("plate " + p.Boss.Name) }

// plateRows tell how the plates go in.
func (r *Report) plateRows() []Row {
	var t []Row
	for _, p := range r.Plates {
		t = append(t, Row{p.Name(), p.Said(), "in from the mouth"})
	}
	return t
}
