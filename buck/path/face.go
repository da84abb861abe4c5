package path

import (
	"slices"

	"formbuck/buck/measures"
	"formbuck/mesh/crew"
)

// Bossed is a face with a boss; nil where none has one.
func (s *Study) Bossed() *Face { return s.kind(true) }

// Plain is a face without a boss; nil where both have one.
func (s *Study) Plain() *Face { return s.kind(false) }

func (s *Study) kind(boss bool) *Face {
	for _, f := range s.Faces {
		if s.carries(f) == boss {
			return f
		}
	}
	return nil
}

// carries tells whether a face of the study carries the boss.
func (s *Study) carries(f *Face) bool {
	return s.Buck.Standoff != nil && slices.Contains(s.Buck.Faces, f.Face)
}

// For is the study of the same buck with its boss on other faces, of a study that has a face with a boss and one
// without: the knife and its way out are the same for both. Without faces, or without a boss, none has one.
func (s *Study) For(faces []measures.Face) *Study {
	out := *s
	out.Buck.Faces = faces
	boss, plain := s.Bossed(), s.Plain()
	if boss == nil {
		out.Buck.Standoff, out.Buck.More = nil, nil
	}
	out.Faces = nil
	for _, on := range []measures.Face{measures.LeftFace, measures.RightFace} {
		f := *plain
		if boss != nil && slices.Contains(faces, on) {
			f = *boss
		}
		f.Face = on
		out.Faces = append(out.Faces, &f)
	}
	return &out
}

// Lets is how high the knife may stand as it passes over a face without being felt, but for what is felt of no opening at
// all: the cavity or, where that is higher, the cavity beside it as far as the walls give way, and what a lock that was asked
// for opens.
func (s *Study) Lets(f *Face) *Map {
	out := f.Cavity.Clone()
	far := int(SidePlay/out.Step + 0.5)
	crew.Each(out.NY, func(j int) {
		row := out.Row(j)
		for v := max(0, j-far); v <= min(out.NY-1, j+far); v++ {
			for i, z := range f.Cavity.Row(v) {
				row[i] = max(row[i], z)
			}
		}
	})
	if p := s.pocket(); p != nil {
		s.each(p, func(n int) { out.Z[n] += p.Total / 2 })
	}
	return out
}
