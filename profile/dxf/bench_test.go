package dxf_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	other "github.com/yofu/dxf"

	"formbuck/profile/dxf"
)

// vertices is a file of one LWPOLYLINE round a knife-sized oval with n vertices.
func vertices(n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nLWPOLYLINE\n5\nA1\n8\n0\n90\n%d\n70\n1\n", n)
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		fmt.Fprintf(&b, "10\n%.12f\n20\n%.12f\n", 110*math.Cos(a), 20*math.Sin(a))
	}
	b.WriteString("0\nENDSEC\n0\nEOF\n")
	return b.String()
}

// lines is a file of n LINEs round the same oval, in no order and either way round.
func lines(n int) string {
	var b strings.Builder
	b.WriteString("0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n")
	rng := rand.New(rand.NewPCG(1, 1))
	at := func(i int) (x, y float64) {
		a := 2 * math.Pi * float64(i%n) / float64(n)
		return 110 * math.Cos(a), 20 * math.Sin(a)
	}
	for k, i := range rng.Perm(n) {
		j := i + 1
		if rng.IntN(2) == 1 {
			i, j = j, i
		}
		ax, ay := at(i)
		bx, by := at(j)
		fmt.Fprintf(&b, "0\nLINE\n5\n%X\n8\n0\n10\n%.9f\n20\n%.9f\n30\n0.0\n11\n%.9f\n21\n%.9f\n31\n0.0\n", k+16, ax, ay, bx, by)
	}
	b.WriteString("0\nENDSEC\n0\nEOF\n")
	return b.String()
}

// Both sides of the claim of speed, in one run: our parse and that of github.com/yofu/dxf.
func BenchmarkParse(b *testing.B) {
	for _, f := range []struct{ name, text string }{{"lwpolyline100k", vertices(100_000)}, {"lines20k", lines(20_000)}} {
		data := []byte(f.text)
		b.Run(f.name+"/ours", func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(data)))
			for range b.N {
				if _, err := dxf.Parse(data, f.name); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(f.name+"/yofu", func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(data)))
			for range b.N {
				if _, err := other.FromStringData(f.text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A polyline of 100 000 vertices takes at most 20 MB and 40 allocations per MB of file.
func TestParseAllocatesLittle(t *testing.T) {
	data := []byte(vertices(100_000))
	bytes, allocs := allocated(t, data)
	mb := float64(len(data)) / 1e6
	t.Logf("%.1f MB: %d bytes, %d allocations", mb, bytes, allocs)
	if bytes > 20_000_000 || float64(allocs) > 40*mb {
		t.Errorf("%d bytes, %d allocations for %.1f MB", bytes, allocs, mb)
	}
}

// allocated is what one Parse allocates.
func allocated(t *testing.T, data []byte) (bytes, allocs uint64) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := dxf.Parse(data, "allocated.dxf")
	runtime.ReadMemStats(&after)
	if err != nil {
		t.Fatal(err)
	}
	return after.TotalAlloc - before.TotalAlloc, after.Mallocs - before.Mallocs
}
