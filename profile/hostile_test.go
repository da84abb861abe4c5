package profile_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

// hostile are entities made to take long or to take much memory; all says that the largest are wanted, too.
func hostile(all bool) map[string]string {
	list := func(n int, entity func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(entity(i) + " ")
		}
		return b.String()
	}
	knots := list(100_004, func(i int) string { return fmt.Sprintf("40 %d", i) })
	largest := 20
	if all {
		largest = 1
	}
	return map[string]string{
		"crossing circles": list(2000, func(i int) string { return fmt.Sprintf("0 CIRCLE 8 OUTLINE 10 %d 20 %d 40 500", i%63, i/63) }),
		"rings in rings":   list(2000, func(i int) string { return fmt.Sprintf("0 CIRCLE 8 OUTLINE 10 0 20 0 40 %g", 1+float64(i)/5) }),
		"parallel lines": closedBox + list(8000, func(i int) string {
			return fmt.Sprintf("0 LINE 8 OUTLINE 10 0 20 %g 11 200 21 %g", 1+float64(i)/1000, 1+float64(i)/1000)
		}),
		"many lines across": closedBox + list(55_000, func(i int) string {
			return fmt.Sprintf("0 LINE 8 OUTLINE 10 %g 20 -10 11 %g 21 40", float64(i%977)/5, float64(i%1009)/5)
		}),
		"many small loops": closedBox + list(40_000, func(i int) string { return fmt.Sprintf("0 CIRCLE 8 OUTLINE 10 %d 20 %d 40 0.01", i%200, i/200) }),
		"many layers":      closedBox + list(40_000, func(i int) string { return fmt.Sprintf("0 CIRCLE 8 L%d 10 100 20 15 40 5", i) }),
		"many texts":       closedBox + list(200_000, func(i int) string { return fmt.Sprintf("0 TEXT 8 L%d", i%700) }),
		"ends in a throng": closedBox + list(60_000, func(i int) string {
			return fmt.Sprintf("0 LINE 8 OUTLINE 10 %g 20 10 11 100 21 %g", 0.07*float64(i%2), float64(i)/1e4)
		}),
		"grid of boxes": list(20_000, func(i int) string {
			x, y := i%200*10, i/200*10
			return fmt.Sprintf("0 LWPOLYLINE 8 0 70 1 10 %d 20 %d 10 %d 20 %d 10 %d 20 %d 10 %d 20 %d", x, y, x+9, y, x+9, y+9, x, y+9)
		}) + "0 LWPOLYLINE 8 0 70 1 " + knifeLoop,
		"flat ellipses": list(10_000, func(i int) string {
			return fmt.Sprintf("0 ELLIPSE 8 OUTLINE 10 %d 20 %d 11 100 21 0 40 0.001 41 0 42 6.283185307179586", i%100, i/100)
		}),
		"arcs as large as can be": "0 LWPOLYLINE 8 OUTLINE 70 1 " + list(9000, func(i int) string { return fmt.Sprintf("10 %d 20 %d 42 1", 4e5*(i%2), i) }),
		"spline": "0 SPLINE 8 OUTLINE 71 3 70 8 " + knots + list(100_000, func(i int) string {
			return fmt.Sprintf("10 %g 20 %g", 4e5*math.Sin(float64(i*i)), 1e5*float64(i%7))
		}),
		"spline through points": "0 SPLINE 8 OUTLINE 71 3 70 8 " + list(100_000, func(i int) string {
			return fmt.Sprintf("11 %g 21 %g", 100*math.Cos(2*math.Pi*float64(i)/1e5), 20*math.Sin(2*math.Pi*float64(i)/1e5))
		}),
		"zigzag":               "0 LWPOLYLINE 8 OUTLINE 70 1 " + list(200_000, func(i int) string { return fmt.Sprintf("10 %d 20 %g", 200*(i%2), float64(i)/1000) }),
		"zigzag within limits": "0 LWPOLYLINE 8 OUTLINE 70 1 " + list(9_000, func(i int) string { return fmt.Sprintf("10 %d 20 %g", 200*(i%2), float64(i)/1000) }),
		"round within limits": "0 LWPOLYLINE 8 OUTLINE 70 1 " + list(9_000, func(i int) string {
			return fmt.Sprintf("10 %g 20 %g", 100*math.Cos(2*math.Pi*float64(i)/9e3), 20*math.Sin(2*math.Pi*float64(i)/9e3))
		}),
		"many lines":    list(500_000/largest, func(i int) string { return "0 LINE 10 0 20 0 11 1 21 1" }),
		"many vertices": "0 LWPOLYLINE 70 1 " + list(2_100_000/largest, func(i int) string { return "10 1 20 1" }),
	}
}

// What reading any drawing may take: time on a machine that does nothing else, and memory.
const (
	mostTime   = 2 * time.Second
	mostMemory = 512 << 20
)

// measured reads a drawing and plans it as far as that goes, and fails where that takes more than it may or is no fault of the
// closed list.
func measuredRead(t *testing.T, name string, data []byte) error {
	t.Helper()
	debug.FreeOSMemory()
	var before runtime.MemStats
	runtime.ReadMemStats(&before)
	peak, stop := watchHeap()
	start := time.Now()
	err := readThrough(data)
	took := time.Since(start)
	mb := float64(stop()-min(before.HeapAlloc, *peak)) / (1 << 20)
	line := "accepted"
	if err != nil {
		line, _, _ = strings.Cut(err.Error(), "\n")
		var faults dxf.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: not Faults: %v", name, err)
		}
	}
	t.Logf("%s: %v, %.0f MiB: %.120s", name, took.Round(time.Millisecond), mb, line)
	if took > slow*mostTime || mb > mostMemory>>20 {
		t.Errorf("%s: %v, %.0f MiB", name, took, mb)
	}
	return err
}

// watchHeap looks at the heap until it is stopped, which gives the most there was.
func watchHeap() (peak *uint64, stop func() uint64) {
	peak = new(uint64)
	done, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		var m runtime.MemStats
		for {
			runtime.ReadMemStats(&m)
			*peak = max(*peak, m.HeapAlloc)
			select {
			case <-done:
				return
			case <-time.After(20 * time.Millisecond):
			}
		}
	}()
	return peak, func() uint64 {
		close(done)
		<-ended
		return *peak
	}
}

// readThrough is all that is done with a drawing here.
func readThrough(data []byte) error {
	d, err := dxf.Decode(bytes.NewReader(data), "hostile.dxf")
	if err != nil {
		return err
	}
	p, err := profile.Read(d, profile.Options{Unfinished: true})
	if err == nil {
		_, err = p.Plan(profile.Hints{ThroatDepth: 2})
	}
	return err
}

// What is made to take long ends in time and in bounds, whatever the verdict.
func TestHostileDrawings(t *testing.T) {
	for name, entities := range hostile(!testing.Short()) {
		_ = measuredRead(t, name, text(entities))
	}
	grid := "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\na\n10\n0\n20\n0\n" + strings.Join(strings.Fields(closedBox), "\n") + "\n0\nENDBLK\n0\nENDSEC\n0\n"
	_ = measuredRead(t, "grid of blocks", []byte(grid+strings.TrimPrefix(string(text("0 INSERT 8 0 2 a 10 0 20 0 70 30000 71 30000 44 1 45 1")), "0\n")))
	if testing.Short() {
		return
	}
	for name, one := range map[string]string{"zeros": "0\n", "nothing": "\x00", "layers": "0\nLAYER\n"} {
		head := "0\nSECTION\n2\nTABLES\n"
		if err := measuredRead(t, name, []byte(head+strings.Repeat(one, dxf.MaxBytes/len(one)-len(head)))); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	if err := measuredRead(t, "too many bytes", make([]byte, dxf.MaxBytes+1)); classOf(err) != dxf.TooLarge {
		t.Errorf("too many bytes: %v", err)
	}
}

// TestMutatedDrawings damages good drawings pair by pair, and reads them within what reading may take: FORMBUCK_HOSTILE says how
// many.
func TestMutatedDrawings(t *testing.T) {
	n := 300
	if s := os.Getenv("FORMBUCK_HOSTILE"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil {
			t.Fatal(err)
		}
	}
	files, _ := filepath.Glob(filepath.Join(corpus, "*", "*.dxf"))
	rng := rand.New(rand.NewPCG(5, 6))
	refused := map[dxf.Class]int{}
	start := time.Now()
	for i := range n {
		data, err := os.ReadFile(files[rng.IntN(len(files))])
		if err != nil {
			t.Fatal(err)
		}
		damaged := damage(rng, data)
		began := time.Now()
		err = readThrough(damaged)
		if took := time.Since(began); took > slow*mostTime {
			t.Errorf("%d: %v", i, took)
		}
		var faults dxf.Faults
		if err != nil && !errors.As(err, &faults) {
			t.Errorf("%d: not Faults: %v", i, err)
		}
		refused[classOf(err)]++
	}
	t.Logf("%d drawings in %v: %v", n, time.Since(start).Round(time.Millisecond), refused)
	var m runtime.MemStats
	if runtime.ReadMemStats(&m); m.Sys > 2*mostMemory {
		t.Errorf("%d MiB taken from the system", m.Sys>>20)
	}
}

// damage changes a drawing in one to five places, in the ways that hold its pairs together or do not.
func damage(rng *rand.Rand, data []byte) []byte {
	lines := strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
	values := []string{"0", "-1", "1", "1e300", "nan", "1e6", "-1e6", "1e-9", "", "LINE", "SPLINE", "ENDSEC", "SECTION", "99999", "2147483647", "\x1b[31m", "OUTLINE"}
	for range 1 + rng.IntN(5) {
		if len(lines) < 8 {
			break
		}
		at := 2 * rng.IntN(len(lines)/2-2)
		switch rng.IntN(7) {
		case 0:
			lines = append(lines[:at:at], lines[at+2:]...) // a pair is lost
		case 1:
			lines = append(lines[:at:at], append([]string{lines[at], lines[at+1]}, lines[at:]...)...)
		case 2:
			lines[at+1] = values[rng.IntN(len(values))]
		case 3:
			lines[at] = fmt.Sprint(rng.IntN(100))
		case 4: // a stretch comes many times
			to := min(len(lines), at+2*(1+rng.IntN(40)))
			stretch := lines[at:to:to]
			var many []string
			for range 1 + rng.IntN(3000) {
				many = append(many, stretch...)
			}
			lines = append(lines[:at:at], append(many, lines[at:]...)...)
		case 5:
			other := 2 * rng.IntN(len(lines)/2-1)
			lines[at], lines[other], lines[at+1], lines[other+1] = lines[other], lines[at], lines[other+1], lines[at+1]
		case 6:
			if v, err := strconv.ParseFloat(strings.TrimSpace(lines[at+1]), 64); err == nil {
				lines[at+1] = fmt.Sprint(v * math.Pow(10, float64(rng.IntN(13)-6)))
			}
		}
	}
	return []byte(strings.Join(lines, "\n"))
}
