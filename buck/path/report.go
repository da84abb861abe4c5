package path

import (
	"math"
	"slices"

	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// Report is what a maker wants to know of the draw.
type Report struct {
	With    *Study // with the pieces
	Without *Study // without the ramps; With itself where there are none
	Binds   []Bind // that are left with the pieces, deepest first, the lock not among them
	Rubs    []Bind // slight ones that are left
	Bare    []Bind // without the ramps
	Lock    *Lock  // nil: nothing locks
	Held    Held
	Filled  float64 // what the ramps add to the cavity, both faces, mm3
	Removed float64 // the deepest undercut that the ramps remove, mm on one half
	Hold    Hold
	Boss    *Boss     // nil: there is none
	Drain   *Water    // nil: there is none
	Plates  []Passage // how the plates of the bosses go in
}

// Lock is what holds the knife at the handle: where both halves must open by a little, and no more.
type Lock struct {
	At     r2.Vec
	Asked  float64 // of the ramp, both halves together, mm; 0: the knife's own shape locks
	Box    r2.Box  // around the place, on the draw's axes
	Total  float64 // kept, both halves together, mm
	Strip  Strip
	Slope  float64 // by which a half must open, mm per mm of draw, where that is steepest
	Force  Range   // on one half, N
	Draw   Range   // pull, N
	Strain Range
}

// MostLock is the most, in mm, that both halves together may open at the handle and still be called a lock;
// common practice, no source.
const MostLock = 0.6

// leastShown is the area, in mm2, below which what binds is a rounding of the outline and not told. Our own, no source.
const leastShown = 0.25

// Hold is what keeps the knife from rattling, and what must stay free.
type Hold struct {
	Material  Material
	Thickness float64 // play over both faces where there is tape, mm
	Width     float64 // what the sheet's shrink takes from the blade's width, mm
	Contacts  []Contact
	TapeStop  float64 // how far the tape stops before the tip, mm
	TapeRun   float64 // and how far it must stop before a bare contact, mm
	TipGap    float64 // from the tip to where the cavity is too low for it, mm
	TipNeed   float64 // least: the shrink over the formed length and tipRoom
	Length    float64 // formed, from the mouth to the tip, mm
}

// tipRoom is what the tip keeps from the sheet beside what the sheath shrinks, mm: a knife stops on its handle, never on its tip;
// common practice, no source.
const tipRoom = 2.0

// Contact is a place near the tip where the sheet lies on the bare blade.
type Contact struct {
	At   r2.Vec
	Area float64 // on each face, mm2
}

// Water is the drain.
type Water struct{ Diameter, Head float64 }

// NewReport studies a buck with its ramps and without them.
func NewReport(b Buck, o Options) *Report { return New(b, o).Report() }

// Report tells of a study, for which the buck is studied once more without its ramps.
func (s *Study) Report() *Report {
	r := s.Verdict()
	b := s.Buck
	if len(b.Ramps)+len(b.Bare) > 0 {
		r.Without = s.bare()
	}
	for i, f := range r.With.Faces {
		bare := r.Without.Faces[i]
		r.Bare = append(r.Bare, slices.DeleteFunc(r.Without.Binds(bare), func(b Bind) bool { return b.Area < leastShown })...)
		for n, z := range f.Buck.Z {
			r.Filled += z - bare.Buck.Z[n]
		}
	}
	r.removed()
	r.Filled *= r.With.Knife.Step * r.With.Knife.Step
	r.hold()
	r.Held = r.held()
	if b.Standoff != nil && len(b.Faces) > 0 {
		r.Boss = NewBoss(Highest(b.Bosses()))
		r.Plates = r.With.Passages()
	}
	if d := b.Drain; d != nil {
		r.Drain = &Water{Diameter: 2 * d.Radius, Head: Head(2 * d.Radius)}
	}
	return r
}

// Verdict is of a report what the study alone tells: what binds and rubs with the pieces, and what locks.
func (s *Study) Verdict() *Report {
	r := &Report{With: s, Without: s}
	for _, f := range s.Faces {
		r.Binds = append(r.Binds, s.Binds(f)...)
	}
	if r.Lock = s.kept(); r.Lock == nil {
		r.takeLock()
	}
	for _, b := range r.Binds {
		if b.Slight() && b.Area >= leastShown {
			r.Rubs = append(r.Rubs, b)
		}
	}
	r.Binds = slices.DeleteFunc(r.Binds, Bind.Slight)
	return r
}

// bare studies the same buck without its ramps.
func (s *Study) bare() *Study {
	b := *s
	b.Buck.Ramps, b.Buck.Bare, b.Faces = nil, nil, nil
	b.form()
	return &b
}

// Free tells whether the knife draws freely.
func (r *Report) Free() bool { return len(r.Binds) == 0 }

// CutsEdge tells whether something binds in front of the edge.
func (r *Report) CutsEdge() bool {
	for _, b := range r.Binds {
		if b.Side == AtEdge {
			return true
		}
	}
	return false
}

// takeLock takes what is left at the handle for the lock where it is no more than one may be.
func (r *Report) takeLock() {
	var at r2.Vec
	var box r2.Box
	var on *Face
	deepest := map[measures.Face]float64{}
	for _, b := range r.Binds {
		if b.Side != AtHandle {
			continue
		}
		if b.Depth > deepest[b.Face] {
			deepest[b.Face], at, box = b.Depth, b.At, b.Box
			on = r.With.Faces[slices.IndexFunc(r.With.Faces, func(f *Face) bool { return f.Face == b.Face })]
		}
	}
	total := deepest[measures.LeftFace] + deepest[measures.RightFace]
	if total == 0 || total > MostLock {
		return
	}
	var left []Bind
	for _, b := range r.Binds {
		if b.Side != AtHandle {
			left = append(left, b)
		}
	}
	r.Binds = left
	r.Lock = r.With.lock(on, at, box, total)
}

// Opening is what it takes to force both halves over a bind.
func (r *Report) Opening(b Bind) (Strip, Range) {
	s := r.With.strip(b.At, b.Box.Max.X-b.Box.Min.X)
	return s, r.With.material().Strain(s, b.Depth)
}

// strip is the strip of the sheath across the knife at p, from eyelet to eyelet, long mm along the
// blade and at least as long as half its span.
func (s *Study) strip(p r2.Vec, long float64) Strip {
	k := s.Buck.Knife
	m := s.Knife
	i, _ := m.Cell(m.Draw(p))
	low, high := math.Inf(1), math.Inf(-1)
	for j := range m.NY {
		if m.Z[j*m.NX+i] > 0 {
			y := m.Middle(i, j).Y
			low, high = min(low, y), max(high, y)
		}
	}
	if low > high {
		low, high = 0, 0
	}
	spec := k.Spec
	fold := measures.Fold{Half: spec.Blade.Thickness/2 + spec.Tape.Total(), Sheet: spec.Sheet.Thickness, Edge: 0.2, DraftDeg: 5}
	span := high - low + 2*(fold.Contact()+max(spec.Eyelet.Flange, spec.Eyelet.Die)/2+0.5)
	return Strip{Sheet: spec.Sheet.Thickness, Span: span, Along: max(long, span/2)}
}

// slope is the steepest that a half must open, mm per mm of draw, at the place in the box.
func (s *Study) slope(f *Face, box r2.Box) float64 {
	const stride = 0.5 // mm of draw; less sees the steps of the cells; our own, no source
	i0, j0 := s.Knife.Cell(box.Min)
	i1, j1 := s.Knife.Cell(box.Max)
	last, most := 0.0, 0.0
	for a := 0.0; a < 40; a += stride {
		open := 0.0
		for j := j0; j <= j1; j++ {
			for i := i0; i <= i1; i++ {
				n := j*s.Knife.NX + i
				if h := s.Knife.Height(s.Ahead(s.Knife.At(n), a)); h > 0 {
					open = max(open, h-f.Cavity.Z[n])
				}
			}
		}
		most = max(most, (open-last)/stride)
		last = open
	}
	return most
}

// hold gathers what keeps the knife from rattling.
func (r *Report) hold() {
	s := r.With
	k := s.Buck.Knife
	m := s.material()
	h := Hold{
		Material:  m,
		Thickness: 2 * k.Spec.Tape.Total(),
		TapeStop:  k.Spec.Tape.TipGap,
		TapeRun:   TapeRun(k.Spec.Tape.Total(), s.Radius),
		Length:    s.Knife.Draw(k.Plan.Tip).X,
		Contacts:  s.contacts(),
	}
	widest := s.strip(k.Plan.Heel, 0).Span - s.strip(r2.Vec{X: 1e6}, 0).Span
	h.Width = m.Shrink * widest
	h.TipNeed = m.Shrink*h.Length + tipRoom
	h.TipGap = s.tipGap()
	r.Hold = h
}

// contacts are the places within the bare length before the tip where the sheet lies on the blade.
func (s *Study) contacts() []Contact {
	const touch = 0.01 // mm; our own, no source
	k, m := s.Buck.Knife, s.Faces[0].Cavity
	on := make([]bool, len(m.Z))
	for n, z := range m.Z {
		h := s.Knife.Z[n]
		if h > 0 && s.Tape.Z[n] == 0 && z-h < touch {
			on[n] = r2.Norm(r2.Sub(m.At(n), k.Plan.Tip)) < k.Spec.Tape.TipGap
		}
	}
	var found []Contact
	var stack []int
	for n := range on {
		if !on[n] {
			continue
		}
		var sum r2.Vec
		cells := 0
		for stack = append(stack[:0], n); len(stack) > 0; {
			n := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if !on[n] {
				continue
			}
			on[n] = false
			sum = r2.Add(sum, m.At(n))
			cells++
			stack = append(stack, n-1, n+1, n-m.NX, n+m.NX)
		}
		if area := float64(cells) * m.Step * m.Step; area >= 1 {
			found = append(found, Contact{At: r2.Scale(1/float64(cells), sum), Area: area})
		}
	}
	return found
}

// tipGap is how far the tip could go on, along the drain or the blade, before the cavity is lower than
// what lies half a millimetre behind it.
func (s *Study) tipGap() float64 {
	k := s.Buck.Knife
	tip, along := k.Plan.Tip, r2.Vec{X: 1}
	if d := s.Buck.Drain; d != nil {
		along = r2.Unit(r2.Sub(d.At(r2.Vec{X: 1}), d.At(r2.Vec{})))
	}
	need := k.Half(r2.Sub(tip, r2.Scale(0.5, along)))
	c := s.Faces[0].Cavity
	gap := 0.0
	for ; gap < 100; gap += c.Step / 2 {
		if c.Height(r2.Add(tip, r2.Scale(gap, along))) < need {
			break
		}
	}
	return gap
}
