package profile_test

import (
	"fmt"
	"math"
	"runtime"
	"strings"
	"testing"
	"time"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

// hostile are drawings made to take long or to take much memory.
func hostile() map[string]string {
	var circles, rings, parallel, zigzag, dense strings.Builder
	for i := range 2000 {
		fmt.Fprintf(&circles, "0 CIRCLE 8 OUTLINE 10 %d 20 %d 40 500 ", i%63, i/63)
		fmt.Fprintf(&rings, "0 CIRCLE 8 OUTLINE 10 0 20 0 40 %g ", 1+float64(i)/5)
	}
	for i := range 8000 {
		fmt.Fprintf(&parallel, "0 LINE 8 OUTLINE 10 0 20 %g 11 200 21 %g ", 1+float64(i)/1000, 1+float64(i)/1000)
	}
	zigzag.WriteString("0 SPLINE 8 OUTLINE 71 3 70 8 ")
	for i := range 20_004 {
		fmt.Fprintf(&zigzag, "40 %d ", i)
	}
	for i := range 20_000 {
		fmt.Fprintf(&zigzag, "10 %g 20 %d ", 4e5*math.Sin(float64(i*i)), 100000*(i%7))
	}
	dense.WriteString("0 LWPOLYLINE 8 OUTLINE 70 1 ")
	for i := range 30_000 {
		fmt.Fprintf(&dense, "10 %d 20 %g ", 200*(i%2), float64(i)/1000)
	}
	return map[string]string{
		"crossing circles": circles.String(), "rings in rings": rings.String(), "parallel lines": closedBox + parallel.String(),
		"zigzag": zigzag.String(), "dense hatching": dense.String(),
	}
}

// What is made to take long ends in time and in bounds, whatever the verdict. The limits are wide, for
// slow and busy machines.
func TestHostileDrawings(t *testing.T) {
	files := map[string][]byte{}
	for name, entities := range hostile() {
		files[name] = text(entities)
	}
	grid := "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\na\n10\n0\n20\n0\n" + strings.Join(strings.Fields(closedBox), "\n") + "\n0\nENDBLK\n0\nENDSEC\n0\n"
	files["grid of blocks"] = []byte(grid + strings.TrimPrefix(string(text("0 INSERT 8 0 2 a 10 0 20 0 70 30000 71 30000 44 1 45 1")), "0\n"))
	for name, data := range files {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := time.Now()
		d, err := dxf.Parse(data, "hostile.dxf")
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		_, err = profile.Read(d, profile.Options{})
		took := time.Since(start)
		runtime.ReadMemStats(&after)
		mb := float64(after.TotalAlloc-before.TotalAlloc) / (1 << 20)
		line := "accepted"
		if err != nil {
			line, _, _ = strings.Cut(err.Error(), "\n")
		}
		t.Logf("%s: %v, %.0f MiB: %.90s", name, took, mb, line)
		if took > 20*time.Second || mb > 400 {
			t.Errorf("%s: %v, %.0f MiB", name, took, mb)
		}
	}
}
