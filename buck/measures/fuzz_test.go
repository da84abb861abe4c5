package measures_test

import (
	"math"
	"testing"

	"formbuck/buck/measures"
)

// Whatever the texts of lists: what is wrong in words, or what can be used.
func FuzzLists(f *testing.F) {
	for _, text := range []string{"", "front:6.35 x 2", "6 8 10", "0.25in, 3/8in", "edge 20 to 40", "nan", "1e999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		_, _ = measures.ParseHoles(text)
		_, _ = measures.ParseNoEyelets(text)
		lengths, err := measures.ParseLengths(text)
		if err != nil {
			return
		}
		for _, l := range lengths {
			if !(l > 0) || math.IsInf(l, 0) {
				t.Errorf("%q has the length %v", text, l)
			}
		}
	})
}
