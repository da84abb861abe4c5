package mesh

import (
	"math"

	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r3"
)

// DefaultTolerance is the least altitude in mm of a triangle that is no sliver, and the distance
// within which a vertex lies on an edge: two steps of Grid. Rounding moves each vertex by up to half
// a step, and by up to 0.76 of one where float32 is coarser (128 to 256 mm from the origin), so that
// a flatter triangle may be turned over.
const DefaultTolerance = 2 * Grid

// Options set how Check looks. The zero value looks for everything.
type Options struct {
	// Sliver is the altitude in mm under which a triangle is a sliver. 0 means DefaultTolerance,
	// less than 0 reports none.
	Sliver float64
	// Near is the distance in mm within which a vertex of an open edge lies on another open edge.
	// 0 means DefaultTolerance, less than 0 reports none.
	Near float64
	// Places is how many places are kept of each class. 0 means 16, less than 0 none.
	Places int
	// Quick leaves out self-intersections and whether shells lie in each other, which take most of
	// the time: a shell that is closed is then inverted if its volume is negative and it is alone.
	Quick bool
}

// Check looks for faults in the mesh as it is indexed: vertices at the same place under different
// indices do not connect (Welded makes them one). A mesh with an index out of range or with a vertex
// that is not finite is not looked at any further. Self-intersections are found exactly, on the
// coordinates as they are; coordinates finer than 2^-60 of the largest are rounded to that.
func Check(m *Mesh, opts Options) Report {
	opts.setDefaults()
	r := &recorder{limit: opts.Places}
	if sound(m, r) {
		check(m, opts, r)
	}
	return r.report()
}

// check records the faults of a mesh that is sound, and gives the shells that it has found on the way. The options are
// stated in full.
func check(m *Mesh, opts Options, r *recorder) []Shell {
	c := &checker{Mesh: m, opts: opts, rec: r, grid: newGrid(m), tangled: map[int32]bool{}}
	if !opts.Quick {
		c.grid.fill()
	}
	crew.Stages(crew.Things(func() {
		c.triangles()
		if !opts.Quick {
			c.triangleTree().pack()
		}
	}, func() {
		c.topo = newTopology(m)
		c.parts = c.topo.parts()
		c.roughen()
	}), c.settling(), c.searching())
	c.edges()
	c.fans()
	c.intersections()
	c.shells()
	return c.parts.shells
}

// Gate is what a mesh must pass before it is written. It snaps the mesh to what the file will hold
// (Snapped) and checks that for every class. It returns the snapped mesh, which is the one to write,
// or nil and a *FaultError.
func Gate(m *Mesh) (*Mesh, error) {
	r := &recorder{limit: 16}
	if !sound(m, r) {
		return nil, r.report().Err()
	}
	snapped := m.Snapped()
	if err := Check(snapped, Options{}).Err(); err != nil {
		return nil, err
	}
	return snapped, nil
}

// GateBody is Gate for what has to be one body, as a piece that is printed: bodies apart from each other are refused
// too.
func GateBody(m *Mesh) (*Mesh, error) {
	snapped, err := Gate(m)
	if err != nil {
		return nil, err
	}
	r := &recorder{limit: 16}
	shells := snapped.Shells()
	largest := 0
	for i, s := range shells {
		if s.Volume > shells[largest].Volume {
			largest = i
		}
	}
	for i, s := range shells {
		if i != largest && s.Volume > 0 { // a hollow has none
			r.add(SeveralBodies, snapped.Vertices[snapped.Triangles[s.First][0]], int32(s.First), -1)
		}
	}
	if err := r.report().Err(); err != nil {
		return nil, err
	}
	return snapped, nil
}

// setDefaults puts the stated values for zeros.
func (o *Options) setDefaults() {
	if o.Sliver == 0 {
		o.Sliver = DefaultTolerance
	}
	if o.Near == 0 {
		o.Near = DefaultTolerance
	}
	if o.Places == 0 {
		o.Places = 16
	}
}

// sound tells whether the mesh can be looked at: there are triangles, their indices are in range and
// the vertices finite.
func sound(m *Mesh, r *recorder) bool {
	if len(m.Triangles) == 0 {
		r.add(Empty, r3.Vec{}, -1, -1)
		return false
	}
	ok := true
	for i, t := range m.Triangles {
		for _, v := range t {
			if v < 0 || int(v) >= len(m.Vertices) {
				ok = false
				r.add(IndexRange, r3.Vec{}, int32(i), -1)
			}
		}
	}
	for _, v := range m.Vertices {
		if s := v.X + v.Y + v.Z; s-s != 0 && !finite(v) { // the sum is a filter: it may overflow
			ok = false
			r.add(NonFinite, known(v), -1, -1)
		}
	}
	return ok
}

// finite tells whether all coordinates are.
func finite(v r3.Vec) bool {
	for _, x := range [3]float64{v.X, v.Y, v.Z} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}

// known is the vector with 0 for what is not finite, so that a place can always be written down.
func known(v r3.Vec) r3.Vec {
	for _, x := range [3]*float64{&v.X, &v.Y, &v.Z} {
		if math.IsNaN(*x) || math.IsInf(*x, 0) {
			*x = 0
		}
	}
	return v
}

// checker is one run of Check.
type checker struct {
	*Mesh
	opts Options
	rec  *recorder
	topo *topology
	grid *grid
	// flat marks triangles without area.
	flat []bool
	// tree holds the triangles, once it was needed.
	tree *tree
	// parts is how the triangles hang together.
	parts parts
	// rough marks vertices at an edge that does not lie in just two triangles of opposite direction.
	rough []bool
	// settled marks vertices at which triangles cannot meet beyond what they share.
	settled []bool
	// found are the pairs of triangles that meet where they should not, by parts of the search.
	found [][][2]int32
	// tangled are the shells that meet another.
	tangled map[int32]bool
}

// triangles looks at each triangle by itself.
func (c *checker) triangles() {
	c.flat = make([]bool, len(c.Triangles))
	for i, t := range c.Triangles {
		longest := 0.0
		for k := range 3 {
			longest = max(longest, norm(r3.Sub(c.Vertices[t[(k+1)%3]], c.Vertices[t[k]])))
		}
		switch area := c.doubleArea(t); {
		case collapsed(t) || c.grid.flat(t):
			c.flat[i] = true
			c.rec.add(Degenerate, c.middle(t), int32(i), -1)
		case area < c.opts.Sliver*longest:
			c.rec.add(Sliver, c.middle(t), int32(i), -1)
		}
	}
}

// middle is the centre of a triangle.
func (c *checker) middle(t [3]int32) r3.Vec {
	return r3.Scale(1./3, r3.Add(r3.Add(c.Vertices[t[0]], c.Vertices[t[1]]), c.Vertices[t[2]]))
}

// roughen marks the ends of edges that do not lie in just two triangles of opposite direction.
func (c *checker) roughen() {
	c.rough = make([]bool, len(c.Vertices))
	for _, e := range c.parts.seams {
		c.rough[e.lo], c.rough[e.hi] = true, true
	}
}

// edges looks at what meets at each edge.
func (c *checker) edges() {
	var open []seam
	for _, e := range c.parts.seams {
		at := r3.Scale(0.5, r3.Add(c.Vertices[e.lo], c.Vertices[e.hi]))
		switch e.sides {
		case 1:
			open = append(open, e)
			c.rec.add(OpenEdge, at, e.triangles[0], -1)
		case 2:
			c.rec.add(Misoriented, at, e.triangles[0], e.triangles[1])
		default:
			c.rec.add(NonManifoldEdge, at, e.triangles[0], e.triangles[1])
		}
	}
	for _, t := range c.parts.twins {
		c.rec.add(Duplicate, c.middle(c.Triangles[t[1]]), t[0], t[1])
	}
	if c.opts.Near > 0 {
		c.junctions(open)
	}
}
