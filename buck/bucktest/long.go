package bucktest

import (
	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Chef is the plan of a kitchen knife 325 mm long, of which 200 are blade: its heel is dropped 33 mm below the axis.
func Chef() *profile.Plan {
	return long(longKnife{
		handle: []profile.Segment{side(0, 14, 0), side(-125, 12, 0.5), side(-125, -12, 0), side(0, -11, 0)},
		heel:   []profile.Segment{side(0, -11, 0), side(6, -12, 0.3)},
		edge:   []profile.Segment{side(10, -33, 0), side(120, -31, 0.16)},
		spine:  []profile.Segment{side(200, -14, 0.09), side(110, 13, 0)},
		grind:  []profile.Segment{side(10.3, -31, 0), side(16, -4, 0), side(110, -2, 0), side(186, -11, 0)},
	})
}

// Camp is the plan of a stout knife 385 mm long, of which 250 are blade, with a belly that hangs low towards the tip.
func Camp() *profile.Plan {
	return long(longKnife{
		handle: []profile.Segment{side(0, 16, 0), side(-132, 15, 0.4), side(-136, -16, 0.3), side(-118, -18, 0), side(0, -14, 0)},
		heel:   []profile.Segment{side(0, -14, 0), side(8, -14, -0.3)},
		edge:   []profile.Segment{side(16, -19, 0), side(150, -27, 0.13)},
		spine:  []profile.Segment{side(250, 2, 0.05), side(170, 17, 0)},
		grind:  []profile.Segment{side(16.4, -18, 0), side(24, 3, 0), side(180, 3, 0), side(238, 4, 0)},
	})
}

// LongSpec are measures that suit the long knives: those of a maker who states no more than he has to.
func LongSpec(name string) measures.Spec {
	s := Spec()
	s.Name, s.Blade.TipThickness = name, s.Blade.Thickness
	return s
}

// longKnife is an outline in its parts, counter-clockwise, each corner with the bulge of the side that begins there: the handle
// from the spine round the butt to the edge's side, what is between it and the heel, the edge from the heel, the
// spine from the tip. The handle's front and the throat are at x 0.
type longKnife struct{ handle, heel, edge, spine, grind []profile.Segment }

// side is a corner of an outline, and the bulge of the side that begins there.
func side(x, y, bulge float64) profile.Segment {
	return profile.Segment{A: r2.Vec{X: x, Y: y}, Bulge: bulge}
}

// joined are corners as sides, each to the next one and the last to an end.
func joined(corners []profile.Segment, end r2.Vec) []profile.Segment {
	out := make([]profile.Segment, len(corners))
	copy(out, corners)
	for i := range out {
		if out[i].B = end; i+1 < len(out) {
			out[i].B = out[i+1].A
		}
	}
	return out
}

func long(l longKnife) *profile.Plan {
	front, low := l.handle[0].A, l.handle[len(l.handle)-1].A
	heel, tip := l.edge[0].A, l.spine[0].A
	p := &profile.Plan{
		Handle: joined(l.handle, front), Edge: joined(l.edge, tip), Grind: joined(l.grind[:len(l.grind)-1], l.grind[len(l.grind)-1].A),
		Tip: tip, Heel: heel, ThroatSpine: front, ThroatEdge: low,
	}
	p.Outline = append(append(append(joined(l.handle[:len(l.handle)-1], low), joined(l.heel, heel)...), p.Edge...), joined(l.spine, front)...)
	p.Spine = profile.Path(joined(l.spine, front)).Reversed()
	p.Butt = r2.Vec{X: p.Outline.Bounds().Min.X}
	return p
}
