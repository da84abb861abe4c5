package path_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"formbuck/buck/internal/formed"
	"formbuck/buck/path"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestEnvelopeAgainstEveryPair looks at every pair of cells along the draw.
func TestEnvelopeAgainstEveryPair(t *testing.T) {
	for seed := range uint64(20) {
		m := blob(rand.New(rand.NewPCG(seed, 5)), 90, 70, 0.3)
		e := path.Straight(m)
		for n := range m.Z {
			want := 0.0
			for k := n; k/m.NX == n/m.NX && k < len(m.Z); k++ {
				want = max(want, m.Z[k])
			}
			if math.Abs(e.Z[n]-want) > 1e-12 {
				t.Fatalf("seed %d, cell %d: %g, every pair gives %g", seed, n, e.Z[n], want)
			}
		}
	}
}

// TestRampOfStations is a worked example by hand: sections of a blade from the tip to the handle, of which
// only the two of the ricasso are thinner than what comes after them, by 0.5 mm.
func TestRampOfStations(t *testing.T) {
	z := []float64{0.2, 1.3, 1.6, 1.6, 1.6, 1.1, 1.1, 4.5, 8.0} // from the tip
	want := []float64{0, 0, 0, 0, 0, 0.5, 0.5, 0, 0}
	n := len(z)
	m := &path.Map{Grid: path.Grid{Step: 1, NX: n, NY: 1}, Z: make([]float64, n)}
	for i := range z {
		m.Z[n-1-i] = z[i]
	}
	e := path.Straight(m)
	for i := range z {
		if ramp := e.Z[n-1-i] - m.Z[n-1-i]; math.Abs(ramp-want[i]) > 1e-12 {
			t.Errorf("station %d: ramp %g, want %g", i+1, ramp, want[i])
		}
	}
}

// plan is a map of one height where in holds, 0 elsewhere.
func plan(g path.Grid, height float64, in func(r2.Vec) bool) *path.Map {
	m := &path.Map{Grid: g, Z: make([]float64, g.Cells())}
	for n := range m.Z {
		if in(m.Middle(n%g.NX, n/g.NX)) {
			m.Z[n] = height
		}
	}
	return m
}

// swept is the area over which the envelope stands and the map does not, in mm2.
func swept(m, e *path.Map) float64 {
	cells := 0
	for n := range m.Z {
		if e.Z[n] > 0 && m.Z[n] == 0 {
			cells++
		}
	}
	return float64(cells) * m.Step * m.Step
}

// TestWedge draws a blade that is a triangle in plan, 100 mm long and 20 mm wide at the mouth. Straight
// along its axis it sweeps nothing but itself; turned by more than half its angle it sweeps, beside
// itself and ahead of the mouth, the triangle between its lower side and the line of the draw through its tip:
// L^2 (tan a - tan b) / 2, with b half its angle and a that of the draw.
func TestWedge(t *testing.T) {
	const long, half, step = 100, 10, 0.1
	in := func(p r2.Vec) bool { return p.X >= 0 && math.Abs(p.Y) <= half*(1-p.X/long) }
	straight := path.Grid{Min: r2.Vec{X: 0, Y: -15}, Step: step, NX: 1050, NY: 300}
	m := plan(straight, 1.6, in)
	if a := swept(m, path.Straight(m)); a > 0 {
		t.Errorf("along its axis it sweeps %.2f mm2 beside itself", a)
	}
	const turn = 9 // degrees; half its angle is 5.71
	g := path.Grid{Min: r2.Vec{X: -10, Y: -40}, Step: step, NX: 1200, NY: 700, TurnDeg: turn}
	m = plan(g, 1.6, func(q r2.Vec) bool { return in(g.Blade(q)) })
	e := path.Straight(m)
	for n := range e.Z { // ahead of the mouth only
		if g.At(n).X < 0 {
			e.Z[n] = 0
		}
	}
	want := long * long * (math.Tan(turn*math.Pi/180) - half/float64(long)) / 2
	if a := swept(m, e); math.Abs(a-want) > 2*step*long {
		t.Errorf("turned by %d degrees it sweeps %.2f mm2, want %.2f", turn, a, want)
	}
}

// TestBelly draws a disc of 12 mm radius, its middle 60 mm from the mouth, straight and along an arc of
// 80 mm radius. Straight it sweeps the strip of its width; along the arc the ring of its width.
func TestBelly(t *testing.T) {
	const r, far, arm, step = 12.0, 60.0, 80.0, 0.125
	middle := r2.Vec{X: far, Y: 2}
	disc := func(p r2.Vec) bool { return r2.Norm(r2.Sub(p, middle)) <= r }
	g := path.Grid{Min: r2.Vec{X: 0, Y: -50}, Step: step, NX: 640, NY: 800}
	m := plan(g, 2, disc)
	e := path.Straight(m)
	// strip less the disc's half that lies ahead
	want := 2*r*far - math.Pi*r*r/2
	if a := swept(m, e); math.Abs(a-want) > 2*step*far {
		t.Errorf("straight it sweeps %.2f mm2 beside itself, want %.2f", a, want)
	}
	for _, side := range []float64{1, -1} {
		centre := r2.Vec{X: far, Y: middle.Y + side*arm}
		half := func(p r2.Vec) float64 {
			if disc(p) {
				return 2
			}
			return 0
		}
		e := path.Arc(g, centre, half)
		wrong := 0
		for n, z := range e.Z {
			p := g.At(n)
			d := r2.Norm(r2.Sub(p, centre))
			clear := math.Abs(math.Abs(d-arm)-r) > step && math.Abs(r2.Norm(r2.Sub(p, middle))-r) > step
			passed := math.Abs(d-arm) < r && (p.X < far || disc(p))
			if p.X > far { // the way back along the circle lies behind the disc
				passed = disc(p)
			}
			if clear && passed != (z > 0) {
				wrong++
			}
		}
		if wrong > 0 {
			t.Errorf("arc about %v: %d cells further than a cell from any border are wrong", centre, wrong)
		}
	}
}

// TestCurvedBlade draws a blade that is a sector of a ring about the arc's own centre: it sweeps nothing
// beside itself.
func TestCurvedBlade(t *testing.T) {
	g := path.Grid{Min: r2.Vec{X: 0, Y: -30}, Step: 0.1, NX: 1000, NY: 600}
	centre := r2.Vec{X: 20, Y: 140}
	blade := func(p r2.Vec) bool {
		d := r2.Norm(r2.Sub(p, centre))
		return d > 138 && d < 158 && p.X < 85
	}
	m := plan(g, 1.5, blade)
	e := path.Arc(g, centre, func(p r2.Vec) float64 {
		if blade(p) {
			return 1.5
		}
		return 0
	})
	for n, z := range e.Z {
		d := r2.Norm(r2.Sub(g.At(n), centre))
		if z > 0 && m.Z[n] == 0 && math.Abs(d-138) > 0.1 && math.Abs(d-158) > 0.1 && math.Abs(g.At(n).X-85) > 0.2 {
			t.Fatalf("passes at %v, %.2f mm from the centre", g.At(n), d)
		}
	}
	if a := swept(m, path.Straight(m)); a < 50 {
		t.Errorf("drawn straight it sweeps %.1f mm2 only", a)
	}
}

// TestStepped draws a knife of boxes: 5 mm thick for the 30 mm behind the tip, 3 mm before that, with 0.2 mm
// of tape on either face. Away from the ends and the step the sheet lies on the tape, so it must open by
// 2.5 - (1.5 + 0.2) mm.
func TestStepped(t *testing.T) {
	g := path.Grid{Min: r2.Vec{X: 0, Y: -20}, Step: 0.1, NX: 1000, NY: 400}
	h := plan(g, 1.5, func(p r2.Vec) bool { return math.Abs(p.Y) < 10 && p.X < 90 })
	b := plan(g, 1.7, func(p r2.Vec) bool { return math.Abs(p.Y) < 10 && p.X < 90 })
	for n := range h.Z {
		if p := g.At(n); h.Z[n] > 0 && p.X > 60 {
			h.Z[n], b.Z[n] = 2.5, 2.7
		}
	}
	e, s := path.Straight(h), formed.Closing(b, 4, 0)
	for n := range e.Z {
		p := g.At(n)
		i := e.Z[n] - s.Z[n]
		switch inside := math.Abs(p.Y) < 9.9; {
		case inside && p.X < 54 && math.Abs(i-0.8) > 1e-12:
			t.Fatalf("at %v the sheet must open by %g mm, want 0.8", p, i)
		case inside && p.X > 60 && p.X < 90 && math.Abs(i+0.2) > 1e-12:
			t.Fatalf("at %v the tape leaves %g mm, want 0.2", p, -i)
		}
	}
	// Towards the step the sheet comes up along the ball: sqrt(d (2 R - d)) before it.
	from := 60 - math.Sqrt(1*(8-1))
	row := s.Row(200)
	for i, z := range row[:600] {
		if x := g.Middle(i, 0).X; (z > 1.7+1e-9) != (x > from) && math.Abs(x-from) > 2*g.Step {
			t.Fatalf("the sheet begins to rise elsewhere than at %.3f: %g at %.3f", from, z, x)
		}
	}
}
