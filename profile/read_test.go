package profile_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

// text is a drawing in mm of entities given as pairs separated by blanks.
func text(entities string) []byte {
	return []byte("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" +
		strings.Join(strings.Fields(entities), "\n") + "\n0\nENDSEC\n0\nEOF\n")
}

func parse(t *testing.T, entities string, o profile.Options) (*profile.Profile, error) {
	t.Helper()
	d, err := dxf.Parse(text(entities), "text.dxf")
	if err != nil {
		t.Fatal(err)
	}
	return profile.Read(d, o)
}

func classOf(err error) dxf.Class {
	var f *dxf.Fault
	if errors.As(err, &f) {
		return f.Class
	}
	return ""
}

// A rational quadratic on nine points with weights 1 and sqrt(1/2) is the circle exactly (Piegl and
// Tiller, The NURBS Book, ch. 7): every joint of the arcs that stand for it lies on the circle, and
// what is between stays within the tolerance.
func TestNurbsCircle(t *testing.T) {
	p, err := read(t, filepath.Join(corpus, "good", "spline-rational-0.dxf"), profile.Options{Unfinished: true})
	if err != nil {
		t.Fatal(err)
	}
	c := r2.Vec{X: 40, Y: -25}
	for _, s := range p.Outline {
		near(t, "arc's end", r2.Norm(r2.Sub(s.A, c)), 60, 1e-6)
		near(t, "arc's middle", r2.Norm(r2.Sub(s.At(0.5), c)), 60, profile.CurveTolerance)
	}
	quarter := r2.Add(c, r2.Scale(60*math.Sqrt(0.5), r2.Vec{X: 1, Y: 1}))
	near(t, "quarter's middle", p.Outline.Distance(quarter), 0, 1e-9)
}

// Ellipses have the area pi a b.
func TestEllipse(t *testing.T) {
	p, err := parse(t, "0 ELLIPSE 10 5 20 7 11 90 21 30 40 0.2 41 0 42 6.283185307179586", profile.Options{Unfinished: true})
	if err != nil {
		t.Fatal(err)
	}
	a := math.Hypot(90, 30)
	near(t, "area", p.Outline.Area(), math.Pi*a*a*0.2, profile.CurveTolerance*p.Outline.Perimeter())
	near(t, "centroid", r2.Norm(r2.Sub(p.Outline.Centroid(), r2.Vec{X: 5, Y: 7})), 0, 1e-3)
	if n := len(p.Outline); n > 200 {
		t.Errorf("%d arcs for one ellipse", n)
	}
}

// A closed spline through points of a circle is smooth at its seam and comes near the circle: of a
// cubic through 16 points of a radius of 60, within (pi/8)^4/384 of it and rounding.
func TestClosedThroughPoints(t *testing.T) {
	var b strings.Builder
	b.WriteString("0 SPLINE 70 1 71 3 72 0 73 0 74 16")
	for i := range 16 {
		a := 2 * math.Pi * float64(i) / 16
		fmt.Fprintf(&b, " 11 %.12f 21 %.12f 31 0", 60*math.Cos(a), 60*math.Sin(a))
	}
	p, err := parse(t, b.String(), profile.Options{Unfinished: true})
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range p.Outline {
		near(t, "radius", r2.Norm(s.At(0.5)), 60, 60*math.Pow(math.Pi/8, 4)/384+2*profile.CurveTolerance)
		next := p.Outline[(i+1)%len(p.Outline)]
		near(t, "bend at a joint", r2.Norm(r2.Sub(s.Tangent(1), next.Tangent(0))), 0, 1e-6)
	}
}

const openBox = "0 LWPOLYLINE 5 A 8 OUTLINE 90 4 70 0 10 0 20 0 10 200 20 0 10 200 20 30 10 0 20 30 0 LINE 5 B 8 OUTLINE 10 0 20 30 11 0 21 0.2"

func TestGapOption(t *testing.T) {
	_, err := parse(t, openBox, profile.Options{Unfinished: true})
	if classOf(err) != dxf.OpenOutline {
		t.Errorf("a gap of 0.2 mm: %v", err)
	}
	p, err := parse(t, openBox, profile.Options{Gap: 0.25})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "widest gap", p.WidestGap, 0.2, 1e-9)
	near(t, "area", p.Outline.Area(), 6000, 20)
}

const closedBox = "0 LWPOLYLINE 8 OUTLINE 70 1 10 0 20 0 10 200 20 0 10 200 20 30 10 0 20 30 "

func TestLayerOptions(t *testing.T) {
	drawn := closedBox + "0 LWPOLYLINE 8 cut 70 1 10 0 20 100 10 100 20 100 10 100 20 120 10 0 20 120 0 LINE 8 Mund 10 90 20 -5 11 90 21 35"
	p, err := parse(t, drawn, profile.Options{Layer: "CUT", Layers: map[profile.MarkKind]string{profile.Throat: "mund"}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "area", p.Outline.Area(), 2000, 1e-9)
	if len(p.Marks) != 1 || p.Marks[0].Kind != profile.Throat || p.Marks[0].Layer != "Mund" {
		t.Errorf("marks %+v", p.Marks)
	}
	if len(p.Skipped) != 1 || p.Skipped[0] != (profile.Skipped{Kind: "LWPOLYLINE", Layer: "OUTLINE", Why: "layer not used", Count: 1}) {
		t.Errorf("skipped %+v", p.Skipped)
	}
	if _, err = parse(t, drawn, profile.Options{Layer: "none"}); classOf(err) != dxf.UnknownLayer {
		t.Errorf("unknown layer: %v", err)
	}
	if _, err = parse(t, drawn, profile.Options{Units: "furlong"}); classOf(err) != dxf.NoUnits {
		t.Errorf("unknown unit: %v", err)
	}
	if p, err = parse(t, closedBox, profile.Options{Units: "in", Unfinished: true}); err != nil || p.Scale != 25.4 || len(p.Warnings) == 0 {
		t.Errorf("a knife of 200 in wants a warning: %v", err)
	}
}

func TestCountsOfWhatWasLeftOut(t *testing.T) {
	p, err := read(t, filepath.Join(corpus, "good", "drawn-twice-0.dxf"), profile.Options{Unfinished: true})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "drawn twice", float64(p.Duplicates), 4, 0) // two lines, and the two halves of a circle
	joined := strings.Join(warnings(p), "\n")
	if !strings.Contains(joined, "1 pieces without length") || !strings.Contains(joined, "drawn twice") {
		t.Errorf("warnings %q", joined)
	}
	p, err = read(t, filepath.Join(corpus, "good", "hidden-0.dxf"), profile.Options{Unfinished: true})
	if err != nil {
		t.Fatal(err)
	}
	why := map[string]int{}
	for _, s := range p.Skipped {
		why[s.Why] += s.Count
	}
	if why["invisible"] != 1 || why["paper space"] != 1 || why["layer off"] != 1 || why["layer frozen"] != 1 {
		t.Errorf("skipped %v", p.Skipped)
	}
}

func warnings(p *profile.Profile) []string {
	var out []string
	for _, w := range p.Warnings {
		out = append(out, w.String())
	}
	return out
}

// In whatever order and direction its pieces come, an outline is the same.
func TestOrderDoesNotMatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 30 {
		n := 5 + rng.IntN(30)
		l := randomLoop(rng, n)
		var b strings.Builder
		for _, i := range rng.Perm(n) {
			s := l[i]
			if rng.IntN(2) == 0 {
				s = s.Reversed()
			}
			fmt.Fprintf(&b, "0 LWPOLYLINE 8 OUTLINE 70 0 10 %.9f 20 %.9f 42 %.12f 10 %.9f 20 %.9f ", s.A.X, s.A.Y, s.Bulge, s.B.X, s.B.Y)
		}
		p, err := parse(t, b.String(), profile.Options{Unfinished: true})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "area", p.Outline.Area(), math.Abs(l.Area()), 1e-5)
		near(t, "perimeter", p.Outline.Perimeter(), l.Perimeter(), 1e-5)
		near(t, "pieces", float64(len(p.Outline)), float64(n), 0)
	}
}

// A handle's loop that crosses itself is refused like an outline that does.
func TestHandleCrossesItself(t *testing.T) {
	_, err := parse(t, closedBox+"0 LWPOLYLINE 8 HANDLE 70 1 10 0 20 0 10 80 20 30 10 80 20 0 10 0 20 30", profile.Options{Unfinished: true})
	if classOf(err) != dxf.SelfIntersection {
		t.Errorf("got %v", err)
	}
}

// Loops within the outline on some other layer may be holes: they are not dropped in silence.
func TestLoopsOnOtherLayers(t *testing.T) {
	p, err := parse(t, closedBox+"0 CIRCLE 8 PINS 10 50 20 15 40 3", profile.Options{Unfinished: true})
	if err != nil {
		t.Fatal(err)
	}
	if w := strings.Join(warnings(p), "\n"); len(p.Holes) != 0 || !strings.Contains(w, "layer PINS") {
		t.Errorf("%d holes, warnings %q", len(p.Holes), w)
	}
}

// basis is the value of a B-spline's basis function by its recursive definition (Cox and de Boor; The
// NURBS Book, 2.2), which the reader does not use.
func basis(i, degree int, knots []float64, u float64) float64 {
	if degree == 0 {
		if u >= knots[i] && u < knots[i+1] {
			return 1
		}
		return 0
	}
	sum := 0.0
	if d := knots[i+degree] - knots[i]; d > 0 {
		sum += (u - knots[i]) / d * basis(i, degree-1, knots, u)
	}
	if d := knots[i+degree+1] - knots[i+1]; d > 0 {
		sum += (knots[i+degree+1] - u) / d * basis(i+1, degree-1, knots, u)
	}
	return sum
}

// The arcs that stand for a spline, rational and with uneven knots, lie within CurveTolerance of it.
func TestSplineWithinTolerance(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	for range 20 {
		degree, n := 2+rng.IntN(4), 8+rng.IntN(6)
		knots := make([]float64, n+degree+1)
		for i := range knots {
			switch {
			case i <= degree:
			case i >= n:
				knots[i] = knots[n-1] + 1
				if i > n {
					knots[i] = knots[n]
				}
			default:
				knots[i] = knots[i-1] + 0.2 + rng.Float64()
			}
		}
		var b strings.Builder
		fmt.Fprintf(&b, "0 SPLINE 8 OUTLINE 70 8 71 %d ", degree)
		for _, k := range knots {
			fmt.Fprintf(&b, "40 %.17g ", k)
		}
		pts, weights := make([]r2.Vec, n), make([]float64, n)
		for i := range pts {
			pts[i] = r2.Vec{X: 200 * float64(i) / float64(n-1), Y: 30 + 20*rng.Float64()}
			weights[i] = 0.3 + rng.Float64()
			fmt.Fprintf(&b, "10 %.17g 20 %.17g 41 %.17g ", pts[i].X, pts[i].Y, weights[i])
		}
		fmt.Fprintf(&b, "0 LWPOLYLINE 8 OUTLINE 70 0 10 0 20 %.17g 10 0 20 0 10 200 20 0 10 200 20 %.17g", pts[0].Y, pts[n-1].Y)
		p, err := parse(t, b.String(), profile.Options{Unfinished: true})
		if err != nil {
			t.Fatal(err)
		}
		for k := range 400 {
			u := knots[n] * float64(k) / 400
			var q r2.Vec
			w := 0.0
			for i := range pts {
				f := basis(i, degree, knots, u) * weights[i]
				q, w = r2.Add(q, r2.Scale(f, pts[i])), w+f
			}
			near(t, "distance", p.Outline.Distance(r2.Scale(1/w, q)), 0, profile.CurveTolerance)
		}
	}
}

// A grid of insertions within a scaled insertion is scaled as a whole: its steps too (DXF Reference,
// INSERT: column and row spacing are lengths of the insertion's own space).
func TestGridWithinScaledBlock(t *testing.T) {
	blocks := "0 SECTION 2 BLOCKS 0 BLOCK 2 hole 10 0 20 0 0 CIRCLE 8 0 10 0 20 0 40 1 0 ENDBLK " +
		"0 BLOCK 2 row 10 0 20 0 0 INSERT 8 0 2 hole 10 0 20 0 70 3 44 10 0 ENDBLK 0 ENDSEC "
	data := strings.Join(strings.Fields(blocks), "\n") + "\n" +
		string(text(closedBox+"0 INSERT 8 OUTLINE 2 row 10 50 20 15 41 2 42 2 50 0"))
	d, err := dxf.Parse([]byte(data), "grid.dxf")
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Read(d, profile.Options{Unfinished: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Holes) != 3 {
		t.Fatalf("%d holes", len(p.Holes))
	}
	for i, h := range p.Holes {
		near(t, "x", h.Centroid().X, 50+20*float64(i), 1e-9)
		near(t, "area", h.Area(), 4*math.Pi, 1e-9)
	}
}
