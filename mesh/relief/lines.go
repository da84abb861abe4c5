package relief

import (
	"cmp"
	"fmt"
	"slices"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// nearby is the distance, in mm, within which points of the plan are taken for one and a point is
// taken to lie on a line. It keeps triangles out of the plan that are too flat to stand as
// triangles of the mesh, and moves no line by more.
const nearby = 2e-3

// drafter lays lines in a plan, and knows which points lie near a point or a line.
type drafter struct {
	plan  *plan.Triangulation
	box   r2.Box  // that holds all points
	side  float64 // of a cell, mm
	cols  int
	cells []queue // points by square cells over the box, row by row
	after []int32 // of each point, the next one in its cell; 0 for none
	drawn []Marks // of each point, those of the lines that it is a vertex of
}

// queue is the first and the last of the points of a cell.
type queue struct{ first, last int32 }

// newDrafter makes room for so many points.
func newDrafter(t *plan.Triangulation, points int) *drafter {
	const most = 1 << 16 // cells
	d := &drafter{plan: t, box: t.Bounds(), side: 1, after: make([]int32, 4, points+4), drawn: make([]Marks, 0, points+4)}
	size := d.box.Size()
	for (size.X/d.side+1)*(size.Y/d.side+1) > most {
		d.side *= 2
	}
	d.cols = int(size.X/d.side) + 1
	d.cells = make([]queue, d.cols*(int(size.Y/d.side)+1))
	return d // the four corners are in no cell
}

// cell is the column and the row of the cell that p, or the point of the box nearest to it, is in.
func (d *drafter) cell(p r2.Vec) (col, row int) {
	col = int(max(0, min(p.X, d.box.Max.X)-d.box.Min.X) / d.side)
	row = int(max(0, min(p.Y, d.box.Max.Y)-d.box.Min.Y) / d.side)
	return col, row
}

// learn takes up the points that were added to the plan.
func (d *drafter) learn() {
	for v := int32(len(d.after)); int(v) < d.plan.Len(); v++ {
		col, row := d.cell(d.plan.Point(int(v)))
		q := &d.cells[row*d.cols+col]
		if q.first > 0 {
			d.after[q.last] = v
		} else {
			q.first = v
		}
		q.last = v
		d.after = append(d.after, 0)
	}
}

// marks are the marks of the lines that a point of the plan is a vertex of.
func (d *drafter) marks(v int) Marks {
	if v < len(d.drawn) {
		return d.drawn[v]
	}
	return 0
}

// within calls yield with every point in the box, widened by nearby.
func (d *drafter) within(a, b r2.Vec, yield func(v int, p r2.Vec)) {
	left, low := d.cell(r2.Vec{X: min(a.X, b.X) - nearby, Y: min(a.Y, b.Y) - nearby})
	right, high := d.cell(r2.Vec{X: max(a.X, b.X) + nearby, Y: max(a.Y, b.Y) + nearby})
	for col := left; col <= right; col++ {
		for row := low; row <= high; row++ {
			for v := d.cells[row*d.cols+col].first; v != 0; v = d.after[v] {
				yield(int(v), d.plan.Point(int(v)))
			}
		}
	}
}

// point is the vertex for p: one that is near, or a new one, on a line if that is near.
func (d *drafter) point(p r2.Vec) (int, error) {
	d.learn()
	best, far := -1, nearby
	d.within(p, p, func(v int, q r2.Vec) {
		if l := r2.Norm(r2.Sub(p, q)); l < far {
			best, far = v, l
		}
	})
	if best >= 0 {
		return best, nil
	}
	return d.insert(p)
}

func (d *drafter) insert(p r2.Vec) (int, error) {
	i := d.plan.Locate(p)
	if i < 0 {
		return d.plan.Insert(p)
	}
	t := d.plan.Triangle(i)
	for k := range 3 {
		a, b := t[k], t[(k+1)%3]
		if !d.plan.Constrained(i, k) {
			continue
		}
		if foot, off := onSide(d.plan.Point(a), d.plan.Point(b), p); off < nearby {
			return d.plan.SplitBetween(a, b, foot)
		}
	}
	return d.plan.Insert(p)
}

// onSide is the point of the side from a to b nearest to p, and how far it is.
func onSide(a, b, p r2.Vec) (r2.Vec, float64) {
	u := r2.Sub(b, a)
	t := min(max(r2.Dot(r2.Sub(p, a), u)/r2.Norm2(u), 0), 1)
	foot := r2.Add(a, r2.Scale(t, u))
	return foot, r2.Norm(r2.Sub(p, foot))
}

// lay makes the line between two vertices a line of the plan, by way of every vertex near it; it gives
// those in between.
func (d *drafter) lay(a, b int, m Marks) (by []int, err error) {
	if a == b {
		return nil, nil
	}
	d.learn()
	pa, pb := d.plan.Point(a), d.plan.Point(b)
	type stop struct {
		v int
		t float64
	}
	var stops []stop
	u := r2.Sub(pb, pa)
	d.within(pa, pb, func(v int, p r2.Vec) {
		t := r2.Dot(r2.Sub(p, pa), u)
		if v == a || v == b || t <= 0 || t >= r2.Norm2(u) {
			return // what is near an end and not between the two would lead it back
		}
		if _, off := onSide(pa, pb, p); off < nearby {
			stops = append(stops, stop{v, t})
		}
	})
	slices.SortFunc(stops, func(x, y stop) int { return cmp.Or(cmp.Compare(x.t, y.t), x.v-y.v) })
	from := a
	for _, s := range stops {
		by = append(by, s.v)
	}
	for _, v := range append(by[:len(by):len(by)], b) {
		if err := d.plan.ConstrainAs(from, v, uint8(m)); err != nil {
			return nil, err
		}
		from = v
	}
	return by, nil
}

// draw lays a polyline.
func (d *drafter) draw(l Line) error {
	count := len(l.Points)
	if l.Closed && count > 0 {
		count++
	}
	last, marks := -1, l.Bends.all()
	for n := range count {
		v, err := d.point(l.Points[n%len(l.Points)])
		if err != nil {
			return fmt.Errorf("plan: %w", err)
		}
		for len(d.drawn) <= v {
			d.drawn = append(d.drawn, 0)
		}
		d.drawn[v] |= marks
		if last >= 0 {
			if _, err := d.lay(last, v, marks); err != nil {
				return fmt.Errorf("plan: %w", err)
			}
		}
		last = v
	}
	return nil
}
