package dxf_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"formbuck/profile/dxf"
)

// Numbers are read to the nearest float64, as strconv reads them.
func TestNumbersAreNearest(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	texts := []string{"0", "-0", "1.", ".5", "+7", "1e3", "-1.5E-7", "0.9007199254740993", "0.1", "123456.789012345678", "00000000000000000000001.5", "4.35", "2.2250738585072014e-308"}
	for range 20000 {
		v := (rng.Float64() - 0.5) * math.Pow(10, float64(rng.IntN(7)))
		texts = append(texts, strconv.FormatFloat(v, 'f', rng.IntN(18), 64))
	}
	for _, s := range texts {
		want, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		p := one(t, fmt.Sprintf("0 POINT 10 %s 20 0", s)).Shape.(*dxf.Point)
		if p.At.X != want {
			t.Fatalf("%s read as %v, want %v", s, p.At.X, want)
		}
	}
	for _, s := range []string{".", "-", "+-1", "1.2.3", "e5", "1e", "0x1p4", "1_0", "1,5", "--1", "1d3"} {
		if _, err := dxf.Parse(file("0 POINT 20 0 10 "+s), "n.dxf"); err == nil {
			t.Errorf("%q was read as a number", s)
		}
	}
}
