package batch

// Place is a kind of place where steps are done.
type Place int

// The places, in the order of the work.
const (
	AtHeat Place = iota
	AtPress
	AtMill
	AtBench
	places_
)

// Places are all places, in the order of the work.
func Places() []Place { return []Place{AtHeat, AtPress, AtMill, AtBench} }

// Place is where a step is done.
func (s Step) Place() Place {
	switch s {
	case Heating:
		return AtHeat
	case Pressing:
		return AtPress
	case Drilling, Trimming:
		return AtMill
	default:
		return AtBench
	}
}

// String is its name.
func (p Place) String() string { return [...]string{"heat", "press", "mill", "bench"}[p] }

// One is one of its kind, in words.
func (p Place) One() string {
	return [...]string{"heating place", "press", "mill", "person at the bench"}[p]
}

// Count is how many of its kind the shop has.
func (s *Shop) Count(p Place) int { return *s.count(p) }

func (s *Shop) count(p Place) *int {
	return [...]*int{&s.Heat.Count, &s.Press.Count, &s.Mill.Count, &s.Bench.Count}[p]
}
