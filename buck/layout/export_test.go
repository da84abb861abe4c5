package layout

import "formbuck/profile"

// Shown is what is drawn of a closed path.
func (s *Sheath) Shown(p profile.Path) []profile.Path { return rightOf(p, s.Blank.Box.Min.X) }
