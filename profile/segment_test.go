package profile_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g (± %g)", what, got, want, tol)
	}
}

// Bulge facts: b = tan(theta/4) (DXF Reference, LWPOLYLINE group 42, and the bulge property of the
// ActiveX reference): 45 deg .198912, 90 deg .414214; b .5 on a chord of 10.
func TestBulge(t *testing.T) {
	for _, c := range []struct {
		bulge, chord, radius, sagitta, sweepDeg, length float64
	}{
		{0.198912, 1, 1.306563, 0.099456, 45, 1.026172},
		{0.414214, 1, 0.707107, 0.207107, 90, 1.110721},
		{0.5, 10, 6.25, 2.5, 106.2602, 11.5912},
		{1, 2, 1, 1, 180, math.Pi},
	} {
		for _, sign := range []float64{1, -1} {
			s := profile.Segment{A: r2.Vec{X: 3, Y: 4}, B: r2.Vec{X: 3 + c.chord*0.6, Y: 4 + c.chord*0.8}, Bulge: sign * c.bulge}
			centre, radius, start, sweep := s.Arc()
			near(t, "radius", radius, c.radius, 2e-6*c.radius)
			near(t, "sweep", sweep*180/math.Pi, sign*c.sweepDeg, 1e-4)
			near(t, "length", s.Length(), c.length, 1e-5*c.length)
			mid := r2.Scale(0.5, r2.Add(s.A, s.B))
			near(t, "sagitta", r2.Norm(r2.Sub(s.At(0.5), mid)), c.sagitta, 1e-5)
			a := r2.Add(centre, r2.Vec{X: radius * math.Cos(start), Y: radius * math.Sin(start)})
			near(t, "start", r2.Norm(r2.Sub(a, s.A)), 0, 1e-9)
			b := r2.Add(centre, r2.Vec{X: radius * math.Cos(start+sweep), Y: radius * math.Sin(start+sweep)})
			near(t, "end", r2.Norm(r2.Sub(b, s.B)), 0, 1e-9)
		}
	}
}

// A slot of two unit bulges, 30 straight and 10 wide, has the area 300 + 25 pi = 378.5398.
func slot(o r2.Vec, rad float64) profile.Loop {
	at := func(x, y float64) r2.Vec {
		sin, cos := math.Sincos(rad)
		return r2.Vec{X: o.X + x*cos - y*sin, Y: o.Y + x*sin + y*cos}
	}
	a, b, c, d := at(-15, -5), at(15, -5), at(15, 5), at(-15, 5)
	return profile.Loop{{A: a, B: b}, {A: b, B: c, Bulge: 1}, {A: c, B: d}, {A: d, B: a, Bulge: 1}}
}

func TestSlot(t *testing.T) {
	for i := range 8 {
		o := r2.Vec{X: 100, Y: -50}
		l := slot(o, float64(i)*math.Pi/4)
		near(t, "area", l.Area(), 378.5398, 5e-5)
		near(t, "reversed area", l.Reversed().Area(), -378.5398, 5e-5)
		near(t, "perimeter", l.Perimeter(), 60+10*math.Pi, 1e-9)
		near(t, "centroid", r2.Norm(r2.Sub(l.Centroid(), o)), 0, 1e-9)
		if !l.Contains(o) || l.Contains(r2.Add(o, r2.Vec{X: 21})) && i == 0 {
			t.Errorf("turn %d: wrong side", i)
		}
		if i == 0 {
			b := l.Bounds()
			near(t, "left", b.Min.X, 80, 1e-9)
			near(t, "right", b.Max.X, 120, 1e-9)
		}
	}
}

// randomLoop is a loop of lines and arcs whose vertices go round a centre.
func randomLoop(rng *rand.Rand, n int) profile.Loop {
	pts := make([]r2.Vec, n)
	for i := range pts {
		r, a := 20+10*rng.Float64(), 2*math.Pi*(float64(i)+0.5*rng.Float64())/float64(n)
		pts[i] = r2.Vec{X: 40 + r*math.Cos(a), Y: -30 + r*math.Sin(a)}
	}
	l := make(profile.Loop, n)
	for i := range l {
		l[i] = profile.Segment{A: pts[i], B: pts[(i+1)%n], Bulge: rng.Float64()*0.4 - 0.1}
		if i%3 == 0 {
			l[i].Bulge = 0
		}
	}
	return l
}

// Area and centroid of the exact arcs are the limit of those of the flattened polygon.
func TestMomentsConverge(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		l := randomLoop(rng, 12)
		last := math.Inf(1)
		for _, tol := range []float64{1e-2, 1e-4, 1e-6} {
			pts := l.Flatten(tol)
			poly := make(profile.Loop, len(pts))
			for i, p := range pts {
				poly[i] = profile.Segment{A: p, B: pts[(i+1)%len(pts)]}
			}
			off := math.Abs(poly.Area()-l.Area()) + r2.Norm(r2.Sub(poly.Centroid(), l.Centroid()))
			if off > last/20 || off > 400*tol {
				t.Fatalf("tol %g: off by %g after %g", tol, off, last)
			}
			last = off
		}
	}
}

func TestFlattenStaysWithinTolerance(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	l := randomLoop(rng, 40)
	for _, tol := range []float64{1, 0.1, 0.005} {
		pts := l.Flatten(tol)
		for i, p := range pts {
			if d := l.Distance(p); d > 1e-9 {
				t.Fatalf("vertex %d is %g off the loop", i, d)
			}
			mid := r2.Scale(0.5, r2.Add(p, pts[(i+1)%len(pts)]))
			if d := l.Distance(mid); d > tol*(1+1e-9) {
				t.Fatalf("chord %d is %g from the loop, tolerance %g", i, d, tol)
			}
		}
	}
}

func TestContainsAgreesWithFinePolygon(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	l := randomLoop(rng, 15)
	pts := l.Flatten(1e-5)
	for range 5000 {
		q := r2.Vec{X: 5 + 70*rng.Float64(), Y: -65 + 70*rng.Float64()}
		if l.Distance(q) < 1e-4 {
			continue
		}
		in := false
		for i, a := range pts {
			b := pts[(i+1)%len(pts)]
			if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
		if l.Contains(q) != in {
			t.Fatalf("Contains(%v) = %v", q, !in)
		}
	}
}

func TestNearAgreesWithDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, n := range []int{1, 3, 4, 17, 400} {
		l := profile.Path(randomLoop(rng, n))
		idx := profile.NewNear(l)
		for range 500 {
			q := r2.Vec{X: 100 * rng.Float64(), Y: -100 * rng.Float64()}
			p, d := idx.Nearest(q)
			near(t, "distance", d, l.Distance(q), 1e-12)
			near(t, "point", r2.Norm(r2.Sub(p, q)), d, 1e-12)
		}
	}
	if _, d := profile.NewNear(nil).Nearest(r2.Vec{}); !math.IsInf(d, 1) {
		t.Errorf("empty path: distance %g", d)
	}
}

func BenchmarkNear(b *testing.B) {
	rng := rand.New(rand.NewPCG(9, 10))
	idx := profile.NewNear(profile.Path(randomLoop(rng, 500)))
	q := make([]r2.Vec, 1024)
	for i := range q {
		q[i] = r2.Vec{X: 80 * rng.Float64(), Y: 10 - 80*rng.Float64()}
	}
	b.ResetTimer()
	for i := range b.N {
		idx.Nearest(q[i%len(q)])
	}
}
