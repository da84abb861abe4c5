package job

import (
	"math"
	"strings"

	"formbuck/buck/measures"
	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// How a filament printer lays its beads; common practice, no source.
const (
	droops    = 45.0 // degrees from the bed under which a surface needs something below it
	leastHang = 10.0 // mm2 of one overhang under which no support is worth its trouble
	bridged   = 5.0  // mm that beads go across between two sides that hold them, as over a letter
	held      = 0.9  // share of a ceiling's border that has to hold it for that
	slender   = 8.0  // times as high as its foot is wide a piece still stands, with a brim
	leastFoot = 25.0 // mm2 of a first layer that hold a piece
)

// hanging is the area of a stance that asks for supports, mm2. What begins in the air asks for one
// each, whatever its size.
func hanging(s mesh.Stance) float64 {
	area := leastHang * float64(len(s.Islands))
	for _, p := range s.Overhang.Patches {
		if p.Area > leastHang && (p.Held < held || p.Wide > bridged) {
			area += p.Area
		}
	}
	return area
}

// cost is what a stance asks for, in mm2: what has to be supported, and what its foot lacks to half
// of its plan. One that does not stand is as bad as any.
func cost(s mesh.Stance) float64 {
	if !s.Centred || s.Height > slender*s.Width || s.Touch < leastFoot {
		return math.Inf(1)
	}
	return hanging(s) + max(0, s.Plan/2-s.Touch)
}

// stanceOf stands a mesh as it is or, where that asks for clearly less, on another side that it may
// lie on. The meshes of both faces are mirrors and stay so: the mirrored one is stood as the other.
func stanceOf(m *mesh.Mesh, mirrored bool, may func(mesh.Stance) bool) mesh.Stance {
	if mirrored {
		s := stanceOf(acrossY(m), false, may)
		s.Mesh, s.Down.Y = acrossY(s.Mesh), -s.Down.Y
		return s
	}
	all := m.Stances(droops)
	best := all[0]
	least := cost(best) - leastHang
	for _, s := range all[1:] {
		if c := cost(s); c < least && may(s) {
			best, least = s, c
		}
	}
	return best
}

// acrossY is the mesh mirrored in the plane y = 0.
func acrossY(m *mesh.Mesh) *mesh.Mesh { return m.Mirrored().Turned(mesh.X, 180) }

// stance is how the piece stands on the bed. Standoffs, ramps and a buck in one part are laid on
// whichever flat side prints best; a locator lies on what is to be seen on it, and what is cut or
// round stands as it was made to.
func (p *Piece) stance() mesh.Stance {
	m := p.stand(p.Mesh).Scaled(p.grow)
	own := m.Stance(droops)
	may := func(mesh.Stance) bool { return true }
	switch {
	case p.Kind == Whole && !p.cut(): // a knife lies on a face: on its edge it falls over
		may = func(s mesh.Stance) bool { return math.Abs(s.Down.Z) > 0.9 }
	case p.Kind != Standoff && p.Kind != Ramp:
		return own
	}
	if s := stanceOf(m, p.mirrored, may); s.Down != own.Down && fits(s.Mesh) {
		return s
	}
	return own
}

// fits reports whether a mesh that was turned is fit for a file still: what is a hair thick may not
// survive the file's grid in every turn.
func fits(m *mesh.Mesh) bool {
	_, err := mesh.GateBody(centred(m))
	return err == nil
}

// centred is a mesh on the bed, its bounds' middle over the origin.
func centred(m *mesh.Mesh) *mesh.Mesh {
	b := m.Bounds()
	return m.Moved(r3.Vec{X: -(b.Min.X + b.Max.X) / 2, Y: -(b.Min.Y + b.Max.Y) / 2, Z: -b.Min.Z})
}

// cut reports whether a piece is one of the two parts of a buck.
func (p *Piece) cut() bool {
	return p.Kind == Whole && (strings.HasSuffix(p.Name, "-handle") || strings.HasSuffix(p.Name, "-blade"))
}

// downSide is what lies on the bed of a piece that by itself would lie on the side called own; down
// is the normal of the side that it does lie on.
func (p *Piece) downSide(own string, down r3.Vec) string {
	x, y, z := math.Abs(down.X), math.Abs(down.Y), math.Abs(down.Z)
	toSpine := down.Y > 0 != (p.Face == measures.LeftFace) // that face's pieces are turned over to lie
	switch {
	case z >= max(x, y) && down.Z < 0:
		return own
	case z >= max(x, y) && p.Kind == Whole:
		return "right face"
	case z >= max(x, y):
		return "outer face"
	case x > y && down.X > 0:
		return "end to the tip"
	case x > y:
		return "end to the mouth"
	case toSpine:
		return "side to the spine"
	}
	return "side to the edge"
}
