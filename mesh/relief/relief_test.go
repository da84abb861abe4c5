package relief_test

import (
	"math"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// ring is a stadium of overall length and width, n chords on each half circle.
func ring(length, width float64, n int) relief.Line {
	var points []r2.Vec
	reach, r := (length-width)/2, width/2
	for _, end := range []float64{1, -1} {
		for i := range n + 1 {
			a := math.Pi * (float64(i)/float64(n) - 0.5)
			points = append(points, r2.Vec{X: end * (reach + r*math.Cos(a)), Y: end * r * math.Sin(a)})
		}
	}
	return relief.Line{Points: points, Closed: true}
}

// outside is the signed distance from a stadium.
func outside(p r2.Vec, length, width float64) float64 {
	return math.Hypot(max(math.Abs(p.X)-(length-width)/2, 0), p.Y) - width/2
}

func flat(z float64) relief.Height { return func(r2.Vec) float64 { return z } }

// chordsFor is the number of chords on a half circle that keeps the sagitta under tol.
func chordsFor(r, tol float64) int { return int(math.Ceil(math.Pi / (2 * math.Acos(1-tol/r)))) }

func build(t *testing.T, b relief.Body, tol float64) *mesh.Mesh {
	t.Helper()
	m, err := relief.Build(b, relief.Options{Tolerance: tol})
	if err != nil {
		t.Fatal(err)
	}
	meshtest.Clean(t, m)
	return m
}

// stadiumPrism is 50 x 16 x 4.
func stadiumPrism(tol float64) relief.Body {
	return relief.Body{
		Lines: []relief.Line{ring(50, 16, chordsFor(8, tol/2))},
		Spans: func(p r2.Vec) []relief.Span {
			if outside(p, 50, 16) > 0 {
				return nil
			}
			return []relief.Span{{Low: flat(0), High: flat(4)}}
		},
	}
}

// draftedStadium is 50 x 16 at its base, 4 high, its walls 5 degrees from vertical. Its foot is not
// drawn: the mesher has to find where wall and base meet.
func draftedStadium(tol float64) relief.Body {
	slope := math.Tan(5 * math.Pi / 180)
	top := 4 * slope
	n := chordsFor(9, tol/2)
	return relief.Body{
		Lines: []relief.Line{ring(50-2*top, 16-2*top, n), ring(52, 18, n)},
		Spans: func(p r2.Vec) []relief.Span {
			if outside(p, 52, 18) > 0 {
				return nil
			}
			return []relief.Span{{Low: flat(0), High: func(p r2.Vec) float64 {
				return min(4, -outside(p, 50, 16)/slope)
			}}}
		},
	}
}

// TestClosedForms measures meshes against formulas; the volume misses by at most the area of the
// surface times the tolerance, and less as the tolerance is tightened.
func TestClosedForms(t *testing.T) {
	circle := func(r, tol float64) relief.Line { return ring(2*r, 2*r, chordsFor(r, tol/2)) }
	cone := func(r, h float64) relief.Height {
		return func(p r2.Vec) float64 { return h * (1 - r2.Norm(p)/r) }
	}
	tests := []struct {
		name   string
		body   func(tol float64) relief.Body
		volume float64
		area   float64 // of the surface, at most
	}{
		// Stadium 50 x 16: A = pi r^2 + 2 r c = 745.0619, r = 8, c = 34.
		{"stadium prism", stadiumPrism, 4 * 745.0619, 1970},
		// V = H (A - P s/2 + pi s^2/3), s = H tan 5 deg: the area shrinks as Steiner's polynomial.
		{"drafted stadium", draftedStadium, 2897.9856, 1930},
		// V = pi h/3 (R^2 + R r + r^2)
		{"frustum", func(tol float64) relief.Body {
			return relief.Body{
				Lines: []relief.Line{circle(5, tol), circle(3, tol)},
				Spans: func(p r2.Vec) []relief.Span {
					if r2.Norm(p) > 5 {
						return nil
					}
					return []relief.Span{{Low: flat(0), High: func(p r2.Vec) float64 { return min(4, 10-2*r2.Norm(p)) }}}
				},
			}
		}, 205.2507, 220},
		// V = pi r^2 h/3
		{"cone", func(tol float64) relief.Body {
			return relief.Body{
				Lines: []relief.Line{
					circle(3, tol),
					{Points: []r2.Vec{{X: -3}, {}, {X: 3}}},
				},
				Spans: func(p r2.Vec) []relief.Span {
					if r2.Norm(p) > 3 {
						return nil
					}
					return []relief.Span{{Low: flat(0), High: cone(3, 2)}}
				},
			}
		}, 18.8496, 63},
		// A ball's lower half cut off at 2 mm: V = pi h^2 (3R - h)/3, R = 10, h = 2. Its foot is found.
		{"cap", func(float64) relief.Body {
			return relief.Body{
				Lines: []relief.Line{
					{Points: []r2.Vec{{X: -7, Y: -7}, {X: 7, Y: -7}, {X: 7, Y: 7}, {X: -7, Y: 7}}, Closed: true},
					{Points: []r2.Vec{{X: -1}, {X: 1}}},
				},
				Spans: func(p r2.Vec) []relief.Span {
					if max(math.Abs(p.X), math.Abs(p.Y)) > 7 {
						return nil
					}
					return []relief.Span{{Low: flat(8), High: func(p r2.Vec) float64 {
						return math.Sqrt(max(100-r2.Norm2(p), 0))
					}}}
				},
			}
		}, 117.2861, 240},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			last := math.Inf(1)
			for _, tol := range []float64{0.1, 0.01, 0.001} {
				m := build(t, tt.body(tol), tol)
				miss := math.Abs(m.Volume() - tt.volume)
				t.Logf("tolerance %g: %d triangles, volume %.4f, off by %.4f", tol, len(m.Triangles), m.Volume(), miss)
				if miss > tol*tt.area {
					t.Errorf("tolerance %g: volume off by %g", tol, miss)
				}
				if miss > last+1e-3 {
					t.Errorf("tolerance %g: no closer than before", tol)
				}
				last = miss
			}
		})
	}
}
