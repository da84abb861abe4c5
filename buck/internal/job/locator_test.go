package job_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/internal/lettering"
	"formbuck/buck/internal/twin"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/stl"
	"formbuck/testdata/size"

	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// onKnife is the mesh in a piece's STL file, where it sits on the knife.
func onKnife(t *testing.T, set *job.Set, p *job.Piece) *mesh.Mesh {
	t.Helper()
	f, err := set.STL(p, job.Format{Place: job.OnKnife})
	if err != nil {
		t.Fatal(err)
	}
	back, err := stl.Decode(bytes.NewReader(f.Data))
	if err != nil {
		t.Fatal(err)
	}
	return back.Mesh
}

// cut is a point of a section, with the length of the section that it stands for.
type cut struct {
	at  r2.Vec
	run float64
}

// section is where the plane at z cuts a mesh: points along the cuts of its triangles, half a mm apart and less.
func section(m *mesh.Mesh, z float64) (points []cut) {
	for _, t := range m.Triangles {
		var ends []r2.Vec
		for k := range 3 {
			a, b := m.Vertices[t[k]], m.Vertices[t[(k+1)%3]]
			if (a.Z > z) != (b.Z > z) {
				s := (z - a.Z) / (b.Z - a.Z)
				ends = append(ends, r2.Vec{X: a.X + s*(b.X-a.X), Y: a.Y + s*(b.Y-a.Y)})
			}
		}
		if len(ends) == 2 {
			along := r2.Sub(ends[1], ends[0])
			n := 2 * math.Ceil(r2.Norm(along))
			for i := range int(n) {
				points = append(points, cut{r2.Add(ends[0], r2.Scale(float64(i)/n, along)), r2.Norm(along) / n})
			}
		}
	}
	return points
}

// planDistance is how far p is from what a mesh covers in the plan: 0 within, no more than limit.
func planDistance(m *mesh.Mesh, p r2.Vec, limit float64) float64 {
	best := limit
	for _, t := range m.Triangles {
		var q [3]r2.Vec
		for k, v := range t {
			q[k] = r2.Vec{X: m.Vertices[v].X, Y: m.Vertices[v].Y}
		}
		if min(q[0].X, q[1].X, q[2].X)-p.X > best || p.X-max(q[0].X, q[1].X, q[2].X) > best ||
			min(q[0].Y, q[1].Y, q[2].Y)-p.Y > best || p.Y-max(q[0].Y, q[1].Y, q[2].Y) > best {
			continue
		}
		left, right := 0, 0
		for k := range 3 {
			a, u := q[k], r2.Sub(q[(k+1)%3], q[k])
			if c := r2.Cross(u, r2.Sub(p, a)); c > 0 {
				left++
			} else if c < 0 {
				right++
			}
			s := 0.0
			if l := r2.Norm2(u); l > 0 {
				s = min(max(r2.Dot(r2.Sub(p, a), u)/l, 0), 1)
			}
			best = min(best, r2.Norm(r2.Sub(p, r2.Add(a, r2.Scale(s, u)))))
		}
		if left == 3 || right == 3 {
			return 0
		}
	}
	return best
}

// TestWindowsClearThePieces measures, on the STL files alone, the gap between each window and its piece: the
// locator is cut just above its underside, and from every point of the cut that lies beside a piece
// the way to what the piece covers in the plan must be the clearance asked for. Left out is what
// bounds the plate elsewhere, its outer sides, the handle and the bridge, and what is wider than asked
// between two pieces, where their windows run into each other.
func TestWindowsClearThePieces(t *testing.T) {
	size.Long(t)
	for i, clearance := range []float64{0.2, 0.35} {
		for _, name := range bucktest.Demos()[:3-2*i] {
			if !size.Full() && name == "otter" {
				continue
			}
			v, plan := bucktest.Demo(t, name)
			spec := v.Spec
			spec.Locator.Clearance = clearance
			k := bucktest.Knife(t, plan, spec)
			measured(t, k, clearance, map[string]map[string]float64{
				"thistle": {"standoff": 30, "drain": 15, "ramp": 45, "ramp-spine": 25},
				"minnow":  {"standoff": 60, "drain": 15},
				"otter":   {"standoff": 15, "drain": 15, "ramp": 90, "ramp-spine": 30},
			}[name])
		}
	}
}

// TestWindowOfEachBoss measures the same where a face carries two bosses.
func TestWindowOfEachBoss(t *testing.T) {
	size.Long(t)
	v, plan := bucktest.Demo(t, "thistle")
	k := bucktest.Knife(t, plan, bucktest.TwoBosses(v.Spec))
	measured(t, k, k.Spec.Locator.Clearance, map[string]float64{"standoff": 10, "standoff-low": 55})
}

// measured tells whether the gaps round the pieces of a knife are as wide as asked for, along at least so many mm of each
// of their outlines, and nowhere else. That it can fail is seen by asking for other gaps, of which it must find next to none.
func measured(t *testing.T, k *pieces.Buck, clearance float64, least map[string]float64) {
	t.Helper()
	w := opened(t, k)
	met, off := w.windows(t, clearance)
	for _, o := range off {
		t.Errorf("%s: %s, want %.3g", k.Spec.Name, o, clearance)
	}
	for piece, want := range least {
		if !(met[piece] >= want) {
			t.Errorf("%s: %.1f mm of the outline of the %s measured, want %g", k.Spec.Name, met[piece], piece, want)
		}
	}
	for _, other := range []float64{clearance - 0.03, clearance + 0.03} {
		met, off := w.windows(t, other)
		sum := 0.0
		for _, run := range met {
			sum += run
		}
		if sum > 1 || len(off) < 500 {
			t.Errorf("%s: gaps of %.3g mm were found: %v mm; %d that are not", k.Spec.Name, other, met, len(off))
		}
	}
}

// windowed is a knife's locator cut just above its underside, and the pieces round which its windows lie.
type windowed struct {
	knife *pieces.Buck
	box   r3.Box
	gaps  []gap
}

// gap is a point of the cut, the piece that covers the plan nearest to it and how far off it is, and how many are near.
type gap struct {
	cut
	near   string
	far    float64
	beside int
}

// opened makes the left face's pieces of a knife, as their files have them.
func opened(t *testing.T, k *pieces.Buck) *windowed {
	t.Helper()
	set := makeSet(t, k, job.Request{Hands: []measures.Hand{measures.Left}})
	locator := set.Pieces[slices.IndexFunc(set.Pieces, func(p *job.Piece) bool { return p.Kind == job.Locator })]
	m := onKnife(t, set, locator)
	covers := map[string]*mesh.Mesh{}
	for _, piece := range set.Pieces {
		if piece.Kind != job.Nub && piece.Kind != job.Locator {
			covers[piece.Label()] = onKnife(t, set, piece)
		}
	}
	w := &windowed{knife: k, box: m.Bounds()}
	for _, c := range section(m, k.Spec.Blade.Thickness/2+k.Spec.Locator.Fit+0.01) {
		g := gap{c, "", 1, 0}
		for label, m := range covers {
			d := planDistance(m, c.at, 1.5)
			if d < 1.5 {
				g.beside++
			}
			if d < g.far {
				g.near, g.far = label, d
			}
		}
		w.gaps = append(w.gaps, g)
	}
	return w
}

// windows measures the gaps round the pieces: by piece, along how many mm of its outline it is as wide as asked for, and
// where it is not.
func (w *windowed) windows(t *testing.T, clearance float64) (met map[string]float64, off []string) {
	t.Helper()
	const within = 0.02
	plan, spec, b := w.knife.Plan, w.knife.Spec, w.box
	met = map[string]float64{}
	skipped, real := 0.0, spec.Locator.Clearance
	for _, g := range w.gaps {
		p, near, far := g.at, g.near, g.far
		outer := min(p.X-b.Min.X, b.Max.X-p.X, p.Y-b.Min.Y, b.Max.Y-p.Y) < 1e-3
		switch {
		case near == "" || outer || plan.Handle.Distance(p) < spec.Locator.Fit+0.01:
		case g.beside > 1 && far > real+within || p.X < plan.HandleFront+4.001:
			skipped += g.run
		case math.Abs(far-clearance) <= within:
			met[near] += g.run
		case strings.HasPrefix(near, "ramp") && plan.Outline.Distance(p) < 0.5 && far > real && far < real+2*within:
			skipped += g.run // a ramp's foot has a step where the knife's outline leaves it, which its mesh rounds off
		default:
			off = append(off, fmt.Sprintf("%s: gap %.4f mm at (%.2f, %.2f)", near, far, p.X, p.Y))
		}
	}
	t.Logf("%s, %.3g mm: measured %v mm, left out %.1f mm, off at %d points", spec.Name, clearance, met, skipped, len(off))
	return met, off
}

// TestLocatorStaysClear checks with the corners and the middles of the sides of the locator's triangles that it
// is nowhere in the knife, and, with the sdfx twin of the standoff and the drain, nowhere in them.
func TestLocatorStaysClear(t *testing.T) {
	size.Long(t)
	for _, name := range bucktest.Demos() {
		k := demo(t, name)
		set := makeSet(t, k, job.Request{Kinds: []job.Kind{job.Locator}})
		boss, err := pieces.NewStandoff(k)
		if err != nil {
			t.Fatal(err)
		}
		drain, err := pieces.NewDrain(k)
		if err != nil {
			t.Fatal(err)
		}
		standoff, err := twin.Standoff(boss)
		if err != nil {
			t.Fatal(err)
		}
		plug, err := twin.Drain(drain)
		if err != nil {
			t.Fatal(err)
		}
		if len(set.Pieces) != 2 {
			t.Fatalf("%s: %d locators: %v", name, len(set.Pieces), set.Warnings)
		}
		for _, p := range set.Pieces {
			m := p.Mesh
			if p.Face == measures.LeftFace {
				m = m.Mirrored()
			}
			if len(m.Shells()) != 1 {
				t.Errorf("%s: %d parts", p.Name, len(m.Shells()))
			}
			for _, tri := range m.Triangles {
				for i := range 3 {
					a, b := m.Vertices[tri[i]], m.Vertices[tri[(i+1)%3]]
					for _, q := range []r3.Vec{a, r3.Scale(0.5, r3.Add(a, b))} {
						if math.Abs(q.Z) < k.Half(r2.Vec{X: q.X, Y: q.Y})-1e-3 {
							t.Fatalf("%s: %v is in the knife", p.Name, q)
						}
						if d := min(standoff.Evaluate(v3.Vec(q)), plug.Evaluate(v3.Vec(q))); d < 0 {
							t.Fatalf("%s: %v is %.3f mm in a piece", p.Name, q, -d)
						}
					}
				}
			}
		}
	}
}

// TestLocatorReads checks that on either face the engraved text, seen from outside with the spine up, is the
// font's, not its mirror, and as deep as stated.
func TestLocatorReads(t *testing.T) {
	set := makeSet(t, demo(t, "thistle"), job.Request{Kinds: []job.Kind{job.Locator}})
	for _, p := range set.Pieces {
		meshtest.Clean(t, p.Mesh)
		m := p.Mesh
		if p.Face == measures.LeftFace {
			m = m.Turned(mesh.Y, 180) // seen from outside, spine up
		}
		want, err := lettering.Lay([]string{"locator " + p.Hand, string(p.Face) + " face", "thistle"}, 5, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		floor := floorOf(m, 0.4)
		for _, loop := range want.Loops {
			for _, q := range loop {
				if _, far := nearest(floor, q); far > 0.005 {
					t.Fatalf("%s: the text has no corner at (%.2f, %.2f) mm of its middle", p.Name, q.X, q.Y)
				}
			}
		}
		if _, far := nearest(floor, r2.Vec{X: -want.Loops[0][0].X, Y: want.Loops[0][0].Y}); far < 0.005 {
			t.Errorf("%s: the text is its own mirror, so that the test shows nothing", p.Name)
		}
	}
}

// floorOf is the corners that lie the depth below the top, from the middle of their box.
func floorOf(m *mesh.Mesh, depth float64) (floor []r2.Vec) {
	z := m.Bounds().Max.Z - depth
	low, high := r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, v := range m.Vertices {
		if math.Abs(v.Z-z) < 1e-4 {
			floor = append(floor, r2.Vec{X: v.X, Y: v.Y})
			low = r2.Vec{X: min(low.X, v.X), Y: min(low.Y, v.Y)}
			high = r2.Vec{X: max(high.X, v.X), Y: max(high.Y, v.Y)}
		}
	}
	for i := range floor {
		floor[i] = r2.Sub(floor[i], r2.Scale(0.5, r2.Add(low, high)))
	}
	return floor
}

func nearest(points []r2.Vec, q r2.Vec) (at r2.Vec, far float64) {
	far = math.Inf(1)
	for _, p := range points {
		if d := r2.Norm(r2.Sub(p, q)); d < far {
			at, far = p, d
		}
	}
	return at, far
}
