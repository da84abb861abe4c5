package plan_test

import (
	"testing"

	"formbuck/mesh/internal/plan"

	"pgregory.net/rapid"
)

// script is a triangulation under construction, and the lines that must be in it.
type script struct {
	tr    *plan.Triangulation
	lines [][2][2]int32
}

// step does one thing of four, with a place, another and a choice among what is there.
func (s *script) step(t tb, what int, p, q [2]int, pick int) {
	t.Helper()
	switch what % 4 {
	case 0:
		insert(t, s.tr, p)
	case 1:
		addLine(t, s.tr, false, p, q)
		s.lines = append(s.lines, [2][2]int32{place(p), place(q)})
	case 2:
		tris := s.tr.Triangles()
		i, k := pick%len(tris), pick%3
		if s.tr.Neighbours(i)[k] < 0 || tris[i][k] < 4 || tris[i][(k+1)%3] < 4 {
			return
		}
		a, b := s.tr.Point(tris[i][k]), s.tr.Point(tris[i][(k+1)%3])
		x, y := grid(a), grid(b)
		mid := mm((int(x[0])+int(y[0]))/2, (int(x[1])+int(y[1]))/2)
		if _, err := s.tr.Split(i, k, mid); err != nil {
			t.Fatalf("split: %v", err)
		}
	case 3:
		n := s.tr.Len() - 4
		if n == 0 {
			return
		}
		a, b := 4+pick%n, 4+pick/7%n
		if err := s.tr.Constrain(a, b); err != nil {
			t.Fatalf("constrain: %v", err)
		}
		s.lines = append(s.lines, [2][2]int32{grid(s.tr.Point(a)), grid(s.tr.Point(b))})
	}
}

func (s *script) verify(t tb) {
	t.Helper()
	got := verify(t, s.tr)
	for _, l := range s.lines {
		got.verifyLine(t, l[0], l[1], stray)
	}
}

// Whatever is done, in whatever order, the triangulation is sound and all lines are in it.
func TestAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom(sizes).Draw(t, "size")
		at := rapid.Custom(func(t *rapid.T) [2]int {
			return [2]int{rapid.IntRange(-size, size).Draw(t, "x"), rapid.IntRange(-size, size).Draw(t, "y")}
		})
		s := &script{tr: cover(t, size)}
		for range rapid.IntRange(0, 40).Draw(t, "steps") {
			s.step(t, rapid.IntRange(0, 3).Draw(t, "what"), at.Draw(t, "p"), at.Draw(t, "q"),
				rapid.IntRange(0, 1000).Draw(t, "pick"))
		}
		s.verify(t)
	})
}

// Six bytes are a step: what to do, two places, a choice. The first byte sets the spacing.
func FuzzAnything(f *testing.F) {
	f.Add([]byte{0, 1, 0, 0, 1, 1, 0, 1, 0, 1, 1, 0, 0})
	f.Add([]byte{7, 1, 200, 3, 17, 120, 0, 1, 0, 0, 255, 255, 0, 2, 0, 0, 0, 0, 9})
	f.Add([]byte("the quick brown fox jumps over the lazy dog, and over the next one too"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) == 0 || len(data) > 600 {
			return
		}
		spacing := 1 << (data[0] % 23)
		s := &script{tr: cover(t, 128*spacing)}
		for data = data[1:]; len(data) >= 6; data = data[6:] {
			at := func(i int) [2]int {
				return [2]int{(int(data[i]) - 128) * spacing, (int(data[i+1]) - 128) * spacing}
			}
			s.step(t, int(data[0]), at(1), at(3), int(data[5]))
		}
		s.verify(t)
	})
}
