package program

// far is how many times what is advised, or how small a part of it, is no longer warned of but refused, and slow
// what part of a material's surface speed a tool has to turn with at least, unless it turns half as fast as is usual
// (common practice, no source).
const (
	far  = 2
	slow = 0.1
)

// fastest is the greatest surface speed that is advised for a tool, in m/min.
func (m Material) fastest(t Tool) float64 {
	if t.Drill() {
		return m.DrillSpeed
	}
	return m.CutSpeed
}

// slowest is how many rpm a tool needs at the least.
func (t Tool) slowest(m Material) float64 {
	usual := float64(usualCutter)
	if t.Drill() {
		usual = usualDrill
	}
	return min(below(slow*m.fastest(t), t.Diameter), usual/2)
}

// check refuses rates that break tools or tear the work out of its clamps. The error is a *Fault.
func (t Tool) check(m Material, machine Machine, r Rates) error {
	most, least := m.fastest(t), t.slowest(m)
	switch v := t.Surface(r.Speed); {
	case !(r.Speed > 0 && r.Feed > 0 && r.Plunge > 0):
		return fault("%g rpm, a feed of %g and %g mm/min downwards", r.Speed, r.Feed, r.Plunge)
	case r.Speed > machine.Speed:
		return fault("%g rpm, and the machine does at most %g", r.Speed, machine.Speed)
	case r.Feed > machine.Feed*(1+1e-9):
		return fault("a feed of %g mm/min, and the machine does at most %g", r.Feed, machine.Feed)
	case r.Plunge > r.Feed*(1+1e-9):
		return fault("a feed of %g mm/min downwards, and of %g along: down is not faster", r.Plunge, r.Feed)
	case v > far*most:
		return fault("%.0f m/min at the tool's rim: at most %g are advised, %.0f rpm, and more than %d times that is refused", v, most, below(most, t.Diameter), far)
	case r.Speed < least:
		return fault("%g rpm is too slow for a tool of %.4g mm: at least %.0f", r.Speed, t.Diameter, least)
	}
	each, what, advised := r.Feed/r.Speed, "per revolution", m.DrillFeed
	if !t.Drill() {
		advised, _ = m.chips(t)
		each, what = each/t.flutes(), "per tooth"
	}
	low := advised.Least / far
	if !t.Drill() {
		_, low = m.chips(t)
		low /= far
	}
	switch {
	case each > far*advised.Most*(1+1e-9):
		return fault("%.3f mm %s: at most %.3g are advised for a tool of %.4g mm, and more than %d times that is refused", each, what, advised.Most, t.Diameter, far)
	case each < low*(1-1e-9):
		return fault("%.4f mm %s: an edge that takes so little rubs and melts the sheet; %.3g and more are advised for a tool of %.4g mm", each, what, advised.Least, t.Diameter)
	}
	return nil
}

// checkRates refuses rates and passes that a set-up states and no program is written with, for whatever material.
// The error is a *Fault.
func (s *Setup) checkRates() error {
	var err error
	for _, m := range Materials() {
		if err = s.Tool.check(m, s.Machine.filled(), s.Rates); err == nil {
			break
		}
	}
	if err != nil || s.Tool.Drill() {
		return err
	}
	return s.checkPass()
}

// checkPass refuses passes that break the cutter.
func (s *Setup) checkPass() error {
	switch p, d := s.Pass, s.Tool.Diameter; {
	case !(p.Depth > 0):
		return fault("a pass of %g mm", p.Depth)
	case p.Depth > far*d/2+1e-6:
		return fault("a pass takes %.4g mm down: at most half of the cutter's %.4g mm is advised, and more than %d times that is refused", p.Depth, d, far)
	case !(p.Side >= 0) || p.Side > d/4+1e-6:
		return fault("a finishing pass of %.4g mm: at most a quarter of the cutter's %.4g mm can be taken off the side at full depth", p.Side, d)
	}
	return nil
}

// fastest is the greatest surface speed that is advised for a tool, for whatever material, in m/min.
func fastest(t Tool) float64 {
	most := 0.0
	for _, m := range Materials() {
		most = max(most, m.fastest(t))
	}
	return most
}
