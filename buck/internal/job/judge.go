package job

import (
	"formbuck/buck/internal/sound"
	"formbuck/buck/pieces"
)

// judge looks whether what was made is as it must be: it warns of what the measures lead to, and refuses what nothing
// may lead to. Loose pieces alone have nothing to be judged by.
func (s *Set) judge(r Request) error {
	if !r.Wants(Standoff) && !r.Wants(Ramp) && !r.Wants(Drain) {
		return nil
	}
	w := sound.Work{Sheath: s.Sheath}
	var err error
	if len(s.faces(r)) > 0 {
		if w.Bosses, err = pieces.NewStandoffs(s.Knife); err != nil {
			return err
		}
	}
	if _, w.Ramps, err = s.Knife.Ramps(); err != nil {
		return err
	}
	if w.Drain, err = pieces.NewDrain(s.Knife); err != nil {
		return err
	}
	var own sound.Fault
	for _, f := range w.Findings() {
		if f.Own {
			own = append(own, f)
			continue
		}
		s.grave("%s", f.What)
	}
	if len(own) > 0 {
		return own
	}
	return nil
}
