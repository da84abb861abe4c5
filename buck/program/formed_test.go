package program_test

import (
	"bytes"
	"math"
	"regexp"
	"strings"
	"testing"

	"formbuck/buck/program"
	"formbuck/buck/program/ngc"

	"gonum.org/v1/gonum/spatial/r2"
)

// Through formed waste the cutter goes in passes no deeper than elsewhere, from the top of the waste on, and comes down
// beside it for each. The depth is found again by a grid of points, apart from the proof.
func TestFormedWaste(t *testing.T) {
	for _, inch := range []bool{false, true} {
		s := setup()
		s.Inch = inch
		s.Raised = []program.Raised{{Box: r2.Box{Min: r2.Vec{X: -40, Y: -40}, Max: r2.Vec{X: 2, Y: 100}}, Top: 14}}
		p, err := program.Trim(s, program.TrimOptions{})
		if err != nil {
			t.Fatal(err)
		}
		read, err := ngc.Read("trim.ngc", bytes.NewReader(p.Text))
		if err != nil {
			t.Fatal(err)
		}
		const grid = 0.25
		height := map[[2]int]float64{}
		deepest, cut := 0.0, 0
		for _, m := range read.Motions {
			low := min(m.From.Z, m.To.Z)
			if m.Kind == ngc.Rapid || !(low < 14) {
				continue
			}
			fresh := map[[2]int]bool{}
			for _, at := range m.Path().Flatten(0.01) {
				if at.X > 0.5 {
					continue
				}
				i, j := int(math.Round(at.X/grid)), int(math.Round(at.Y/grid))
				for a := -3; a <= 3; a++ {
					for b := -3; b <= 3; b++ {
						fresh[[2]int{i + a, j + b}] = true
					}
				}
				h, ok := height[[2]int{i, j}]
				if !ok {
					h = 14
				}
				deepest = max(deepest, h-low)
				cut++
			}
			for k := range fresh {
				h, ok := height[k]
				if !ok {
					h = 14
				}
				height[k] = min(h, low)
			}
		}
		if cut < 20 || deepest > 3.175+1e-3 {
			t.Errorf("in inches %v: %.3f mm at once, at %d places", inch, deepest, cut)
		}
		if n := bytes.Count(p.Text, []byte("(formed waste, pass ")); n != 4 {
			t.Errorf("%d passes through formed waste", n)
		}
		all := string(p.Text)
		a, b := strings.Index(all, "(formed waste, pass 1"), strings.Index(all, "(formed waste, pass 4")
		if _, err := prove(all[:a] + all[b:]); err == nil || !strings.Contains(err.Error(), "mm down at once at (") {
			t.Errorf("passes left out: %v", err)
		}
		if _, err := prove(regexp.MustCompile("LENGTH L[0-9.]+").ReplaceAllString(all, "LENGTH L0.5")); err == nil || !strings.Contains(err.Error(), "flutes are") {
			t.Errorf("short flutes: %v", err)
		}
	}
}
