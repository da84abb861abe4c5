package profile_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	other "github.com/yofu/dxf"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

const bigHeader = "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n"

// oval is point i of n round a knife-sized oval.
func oval(i, n int) (x, y float64) {
	a := 2 * math.Pi * float64(i%n) / float64(n)
	return 110 * math.Cos(a), 20 * math.Sin(a)
}

// bigPolyline is a file of one LWPOLYLINE with n vertices.
func bigPolyline(n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s0\nLWPOLYLINE\n5\nA1\n8\n0\n90\n%d\n70\n1\n", bigHeader, n)
	for i := range n {
		x, y := oval(i, n)
		fmt.Fprintf(&b, "10\n%.12f\n20\n%.12f\n", x, y)
	}
	return b.String() + "0\nENDSEC\n0\nEOF\n"
}

// manyLines is a file of n LINEs in no order, either way round.
func manyLines(n int) string {
	var b strings.Builder
	b.WriteString(bigHeader)
	rng := rand.New(rand.NewPCG(1, 1))
	for k, i := range rng.Perm(n) {
		j := i + 1
		if rng.IntN(2) == 1 {
			i, j = j, i
		}
		ax, ay := oval(i, n)
		bx, by := oval(j, n)
		fmt.Fprintf(&b, "0\nLINE\n5\n%X\n8\n0\n10\n%.9f\n20\n%.9f\n30\n0.0\n11\n%.9f\n21\n%.9f\n31\n0.0\n", k+16, ax, ay, bx, by)
	}
	return b.String() + "0\nENDSEC\n0\nEOF\n"
}

func readAll(data []byte) (*profile.Profile, error) {
	d, err := dxf.Parse(data, "big.dxf")
	if err != nil {
		return nil, err
	}
	return profile.Read(d, profile.Options{})
}

// Both sides in one run: our whole read, with joining and the crossing test, and the bare parse of
// github.com/yofu/dxf.
func BenchmarkRead(b *testing.B) {
	for _, f := range []struct{ name, text string }{{"lwpolyline100k", bigPolyline(100_000)}, {"lines20k", manyLines(20_000)}} {
		data := []byte(f.text)
		b.Run(f.name+"/ours-read", func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				if _, err := readAll(data); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(f.name+"/yofu-parse", func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				if _, err := other.FromStringData(f.text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// Large drawings are read right, and in time: the limit is wide, for slow and busy machines; the
// benchmark measures.
func TestLargeDrawings(t *testing.T) {
	for name, text := range map[string]string{"polyline": bigPolyline(100_000), "lines": manyLines(20_000)} {
		start := time.Now()
		p, err := readAll([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %v", name, time.Since(start))
		near(t, name, p.Outline.Area(), 110*20*math.Pi, 0.01)
	}
}
