package pieces

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// piecesApart is what pieces leave each other in the plan, in mm, so that each can be glued on: a nozzle's width.
// Common practice, no source.
const piecesApart = 0.4

const (
	partStep  = 0.2 // mm between the places that are looked at; our own, no source
	partLeast = 20  // mm2: a part as large as that is a piece of its own; less is left out. Common practice, no source
	// partNeeded is, in mm2, how large a part has to be that fills what is felt to bind; common practice, no source.
	partNeeded = 5
	partsMost  = 6 // that a ramp may fall into before it is taken as it is
)

// partOf is a part of a ramp that hangs together in the plan.
type partOf struct {
	box   r2.Box // on the draw's axes
	area  float64
	thick bool // somewhere as wide as the least wall
}

// parts are the ramp or, where the room of the boss, the handle or the blade part it, those of its parts that are large
// enough to be glued on, or needed where they are: each is one body. What is narrower than the least wall is left out.
func (r *RampPiece) parts(needed func(r2.Box) bool) []*RampPiece {
	var done []*RampPiece
	for todo := []*RampPiece{r}; len(todo) > 0; todo = todo[1:] {
		p := todo[0]
		found := p.hang()
		for len(found) > 1 && len(done)+len(todo) < partsMost {
			rest := *p
			if p.cut(found[0].box, found[1].box); found[1].thick && (found[1].area >= partLeast || found[1].area >= partNeeded && needed(found[1].box)) {
				rest.cut(found[1].box, found[0].box)
				todo = append(todo, &rest)
			}
			was := len(found)
			if found = p.hang(); len(found) >= was {
				break
			}
		}
		if len(found) > 0 && found[0].thick {
			done = append(done, p)
		}
	}
	return done
}

// cut draws the head back to where another box does not reach: on the side on which that lies furthest off.
func (r *RampPiece) cut(keep, off r2.Box) {
	room := r.Skirt() + partStep
	apart := [4]float64{off.Min.X - keep.Max.X, keep.Min.X - off.Max.X, off.Min.Y - keep.Max.Y, keep.Min.Y - off.Max.Y}
	best := 0
	for i, d := range apart {
		if d > apart[best] {
			best = i
		}
	}
	switch best {
	case 0:
		r.Head.Max.X = min(keep.Max.X+partStep, off.Min.X-room)
	case 1:
		r.Head.Min.X = max(keep.Min.X-partStep, off.Max.X+partStep) // its end stands square
	case 2:
		r.Head.Max.Y = min(keep.Max.Y+partStep, off.Min.Y-room)
	case 3:
		r.Head.Min.Y = max(keep.Min.Y-partStep, off.Max.Y+room)
	}
}

// rampPlan is where a ramp is, looked at in cells of partStep on the draw's axes.
type rampPlan struct {
	min    r2.Vec
	nx, ny int
	full   []bool
}

// at is the middle of a cell.
func (p *rampPlan) at(n int) r2.Vec {
	return r2.Add(p.min, r2.Scale(partStep, r2.Vec{X: float64(n%p.nx) + 0.5, Y: float64(n/p.nx) + 0.5}))
}

// cells looks at all of the head; those that its far ends cut count where they are to be.
func (r *RampPiece) cells(cut bool) *rampPlan {
	more := 0.0
	if cut {
		more = 1 - 1e-6
	}
	p := &rampPlan{
		min: r.Head.Min,
		nx:  max(0, int((r.Head.Max.X-r.Head.Min.X)/partStep+more)),
		ny:  max(0, int((r.Head.Max.Y-r.Head.Min.Y)/partStep+more)),
	}
	p.full = make([]bool, p.nx*p.ny)
	for n := range p.full {
		q := r.Blade(p.at(n))
		switch base := r.BaseAt(q); base {
		case Steel:
			p.full[n] = r.Surface(q) > r.Underside(r.On(q), q)
		default:
			p.full[n] = base != NoBase
		}
	}
	return p
}

// runsOn reports whether a filler goes on from one cell to the next: not where the edge of a tang that stands out of the
// handle parts its cheeks from what is beside. A ramp always does.
func (r *RampPiece) runsOn(from, to r2.Vec) bool {
	if !r.Grip {
		return true
	}
	const between = 4 // places that are looked at, 0.04 mm apart; our own, no source
	for i := range between {
		t := float64(i+1) / (between + 1)
		if r.BaseAt(r.Blade(r2.Add(r2.Scale(1-t, from), r2.Scale(t, to)))) == NoBase {
			return false
		}
	}
	return true
}

// hang are the parts that hang together, the largest first.
func (r *RampPiece) hang() []partOf {
	plan := r.cells(false)
	nx, ny, full, at := plan.nx, plan.ny, plan.full, plan.at
	wide := int(math.Ceil(r.Knife.Spec.Ramp.Wall / partStep))
	seen := make([]bool, len(full))
	var found []partOf
	for n := range full {
		if !full[n] || seen[n] {
			continue
		}
		p := partOf{box: r2.Box{Min: at(n), Max: at(n)}}
		cells := 0
		for stack := []int{n}; len(stack) > 0; {
			n := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			i, j := n%nx, n/nx
			if seen[n] || !full[n] {
				continue
			}
			seen[n] = true
			cells++
			q := at(n)
			p.box.Min = r2.Vec{X: min(p.box.Min.X, q.X), Y: min(p.box.Min.Y, q.Y)}
			p.box.Max = r2.Vec{X: max(p.box.Max.X, q.X), Y: max(p.box.Max.Y, q.Y)}
			p.thick = p.thick || all(full, nx, ny, i, j, wide)
			for _, next := range [4][2]int{{i - 1, j}, {i + 1, j}, {i, j - 1}, {i, j + 1}} {
				if u, v := next[0], next[1]; u >= 0 && u < nx && v >= 0 && v < ny && r.runsOn(q, at(v*nx+u)) {
					stack = append(stack, v*nx+u)
				}
			}
		}
		p.area = float64(cells) * partStep * partStep
		found = append(found, p)
		if last := len(found) - 1; p.area > found[0].area {
			found[0], found[last] = found[last], found[0]
		}
	}
	return found
}

// all tells whether a square of places from (i, j) on is full.
func all(full []bool, nx, ny, i, j, wide int) bool {
	if i+wide > nx || j+wide > ny {
		return false
	}
	for v := j; v < j+wide; v++ {
		for u := i; u < i+wide; u++ {
			if !full[v*nx+u] {
				return false
			}
		}
	}
	return true
}
