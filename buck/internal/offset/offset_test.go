package offset_test

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"formbuck/buck/internal/offset"
	"formbuck/profile"
	"formbuck/testdata/size"

	"github.com/peterstace/simplefeatures/geom"
	"gonum.org/v1/gonum/spatial/r2"
)

func polygon(points ...r2.Vec) profile.Loop {
	var l profile.Loop
	for i, p := range points {
		l = append(l, profile.Segment{A: p, B: points[(i+1)%len(points)]})
	}
	return l
}

func vec(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

func stadium(length, width float64) profile.Loop {
	r, c := width/2, (length-width)/2
	return profile.Loop{
		{A: vec(-c, -r), B: vec(c, -r)},
		{A: vec(c, -r), B: vec(c, r), Bulge: 1},
		{A: vec(c, r), B: vec(-c, r)},
		{A: vec(-c, r), B: vec(-c, -r), Bulge: 1},
	}
}

func rectangle(length, width float64) profile.Loop {
	return polygon(vec(0, 0), vec(length, 0), vec(length, width), vec(0, width))
}

func ell() profile.Loop {
	return polygon(vec(0, 0), vec(20, 0), vec(20, 10), vec(10, 10), vec(10, 20), vec(0, 20))
}

// TestClosedForms checks areas that have a formula: for convex figures Steiner's A + P d + pi d^2 and
// P + 2 pi d; moved inwards corners stay sharp, where Steiner's formula with -d gives 548.566 for the
// rectangle; a concave corner takes d^2 from what is moved outwards.
func TestClosedForms(t *testing.T) {
	for _, c := range []struct {
		name      string
		loop      profile.Loop
		by        float64
		area, rim float64
	}{
		{"stadium", stadium(50, 16), 2, 994.1593, 130.8319},
		{"stadium, far", stadium(50, 16), 10, 2241.8760, 118.2655 + 20*math.Pi},
		{"square", rectangle(10, 10), 2, 192.5664, 40 + 4*math.Pi},
		{"ell", ell(), 2, 471.7080, 0},
		{"rectangle inwards", rectangle(50, 16), -2, 552, 116},
		{"stadium inwards", stadium(50, 16), -2, 34*12 + 36*math.Pi, 68 + 12*math.Pi},
		{"ell inwards", ell(), -2, 2*16*6 - 36 + 4 - math.Pi, 0},
	} {
		loops, err := offset.Constant(c.loop, c.by, offset.Options{})
		if err != nil || len(loops) != 1 {
			t.Errorf("%s: %d loops, %v", c.name, len(loops), err)
			continue
		}
		if got := offset.Area(loops); math.Abs(got-c.area) > 1e-6*c.area {
			t.Errorf("%s: area %.6f, want %.6f", c.name, got, c.area)
		}
		if got := loops[0].Perimeter(); c.rim > 0 && math.Abs(got-c.rim) > 1e-5*c.rim {
			t.Errorf("%s: perimeter %.6f, want %.6f", c.name, got, c.rim)
		}
	}
}

// TestAgainstShapely compares areas, perimeters and the number of rings with those that shapely's buffer
// gives for concave outlines; testdata/offsets/measure.py measures them.
func TestAgainstShapely(t *testing.T) {
	var given [][3]json.RawMessage
	var want []struct {
		Area, Perimeter float64
		Rings           int
	}
	read(t, "outlines.json", &given)
	read(t, "expected.json", &want)
	worst := 0.0
	for i, g := range given {
		var name string
		var by float64
		var points [][2]float64
		for k, into := range []any{&name, &by, &points} {
			if err := json.Unmarshal(g[k], into); err != nil {
				t.Fatal(err)
			}
		}
		var corners []r2.Vec
		for _, p := range points {
			corners = append(corners, vec(p[0], p[1]))
		}
		loops, err := offset.Constant(polygon(corners...), by, offset.Options{Step: 0.1}) // two of them have necks under 0.2 mm
		if err != nil {
			t.Fatalf("%s by %g: %v", name, by, err)
		}
		rim := 0.0
		for _, l := range loops {
			rim += l.Perimeter()
		}
		area, w := offset.Area(loops), want[i]
		off := math.Abs(area-w.Area) / max(w.Area, 1)
		worst = max(worst, off)
		if off > 2e-5 || math.Abs(rim-w.Perimeter) > 1e-3*(1+w.Perimeter) || len(loops) != w.Rings {
			t.Errorf("%s by %g: area %.6f, perimeter %.5f in %d rings, want %.6f, %.5f, %d",
				name, by, area, rim, len(loops), w.Area, w.Perimeter, w.Rings)
		}
	}
	t.Logf("%d outlines, areas within %.1e", len(given), worst)
}

func read(t *testing.T, name string, into any) {
	t.Helper()
	data, err := os.ReadFile("../../../testdata/offsets/" + name)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, into); err != nil {
		t.Fatal(err)
	}
}

// random is an outline round the origin with straight and round sides, concave nearly everywhere.
func random(rng *rand.Rand) profile.Loop {
	n := 5 + rng.IntN(14)
	points := make([]r2.Vec, n)
	for i := range points {
		a := 2 * math.Pi * (float64(i) + 0.8*rng.Float64()) / float64(n)
		points[i] = r2.Scale(3+9*rng.Float64(), vec(math.Cos(a), math.Sin(a)))
	}
	l := polygon(points...)
	for i := range l {
		if rng.IntN(3) == 0 {
			l[i].Bulge = 0.1 * (2*rng.Float64() - 1)
		}
	}
	return l
}

// TestNoCrossing moves 1 000 random outlines, outwards and inwards, by one distance and by one that varies.
// No ring may cross itself or another; simplefeatures judges their chords.
func TestNoCrossing(t *testing.T) {
	size.Long(t)
	count := size.Or(250, 1000)
	rng := rand.New(rand.NewPCG(7, 1))
	for i := range count {
		outline := random(rng)
		by := 5 * (rng.Float64() - 0.35)
		even, err := offset.Constant(outline, by, offset.Options{Step: 0.25})
		if err != nil {
			t.Fatal(i, err)
		}
		uneven, err := offset.Varying(outline, 1, func(p r2.Vec) float64 { return 2 + math.Sin(p.X/2) }, offset.Options{Step: 0.25, Tolerance: 0.01})
		if err != nil {
			t.Fatal(i, err)
		}
		for what, loops := range map[string][]profile.Loop{"even": even, "uneven": uneven} {
			if err := simple(loops); err != nil {
				t.Errorf("outline %d, %s, by %.3f: %v", i, what, by, err)
			}
		}
	}
}

// simple is an error where rings cross themselves or one another.
func simple(loops []profile.Loop) error {
	var lines []geom.LineString
	for _, l := range loops {
		var xy []float64
		points := l.Flatten(0.0005)
		for _, p := range append(points, points[0]) {
			xy = append(xy, p.X, p.Y)
		}
		line := geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
		if !line.IsSimple() {
			return fmt.Errorf("a ring crosses itself (%d pieces, %.3f)", len(l), l.Area())
		}
		lines = append(lines, line)
	}
	if !geom.NewMultiLineString(lines).IsSimple() {
		return fmt.Errorf("rings cross one another")
	}
	return nil
}

// TestVaryingWidens checks a distance that grows evenly along a straight side: the moved side leans by
// asin k, where k is the growth per mm.
func TestVaryingWidens(t *testing.T) {
	const k = 0.1
	loops, err := offset.Varying(rectangle(60, 16), 0.5, func(p r2.Vec) float64 { return 2 + k*p.X }, offset.Options{})
	if err != nil || len(loops) != 1 {
		t.Fatal(len(loops), err)
	}
	// On the long sides' envelope: distance sqrt(1-k^2) y = 2 + k x, less what the lean takes.
	for _, x := range []float64{10, 30, 50} {
		want := 16 + (2+k*x)/math.Sqrt(1-k*k)
		top := -1.0
		for _, p := range loops[0].Flatten(0.0002) {
			if math.Abs(p.X-x) < 0.3 && p.Y > top {
				top = p.Y - k/math.Sqrt(1-k*k)*(p.X-x)
			}
		}
		if got := loops[0].Distance(vec(x, want)); got > 0.003 {
			t.Errorf("at x %g the side misses y %.4f by %.4f mm (%.4f)", x, want, got, top)
		}
	}
}

// TestNothingLeft checks that an outline that is used up gives no loop, and that one that parts gives two.
func TestNothingLeft(t *testing.T) {
	if loops, err := offset.Constant(rectangle(50, 16), -8.1, offset.Options{}); err != nil || len(loops) != 0 {
		t.Errorf("%d loops, %v", len(loops), err)
	}
	bone := polygon(vec(0, 0), vec(10, 0), vec(16, 4), vec(34, 4), vec(40, 0), vec(50, 0),
		vec(50, 12), vec(40, 12), vec(34, 8), vec(16, 8), vec(10, 12), vec(0, 12))
	if loops, err := offset.Constant(bone, -2.5, offset.Options{}); err != nil || len(loops) != 2 {
		t.Errorf("%d loops, %v", len(loops), err)
	}
}

func BenchmarkConstant(b *testing.B) {
	outline := stadium(240, 40)
	for b.Loop() {
		if _, err := offset.Constant(outline, 8.461, offset.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
