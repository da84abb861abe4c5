package relief

import "slices"

// mirrored is the fitting of a skin that mirrors one fitted before in z = 0; nil where there is none.
func (s *stitcher) mirrored(k *skin) *fitting {
	for _, f := range s.fitted {
		if f.moved || !s.mirrors(f.skin, k) {
			continue
		}
		m := *f
		m.skin, m.mirror = k, true
		return &m
	}
	return nil
}

// mirrors tells whether two skins lie over the same triangles, and each is the other's mirror in z = 0.
func (s *stitcher) mirrors(k, other *skin) bool {
	if k.end == other.end || len(k.parts) != len(other.parts) {
		return false
	}
	for n, c := range k.parts {
		o := other.parts[n]
		if c.triangle != o.triangle || !s.end(c, k.end).mirrors(s.end(o, other.end)) {
			return false
		}
	}
	return slices.Equal(k.border, other.border) && opposed(k.levels, other.levels) && opposed(k.starts, other.starts)
}

// opposed tells whether the levels of one list are those of another below z = 0.
func opposed(a, b []int32) bool {
	if len(a) != len(b) {
		return false
	}
	for n := range a {
		if a[n] != -b[n] {
			return false
		}
	}
	return true
}
