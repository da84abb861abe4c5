package witness_test

import (
	"bytes"
	"encoding/binary"
	"math"
	"testing"

	"formbuck/buck/bucktest/witness"
)

// box is a box's twelve triangles.
func box(low, high [3]float64) []witness.Triangle {
	corner := func(n int) [3]float64 {
		var p [3]float64
		for c := range 3 {
			p[c] = low[c]
			if n>>c&1 == 1 {
				p[c] = high[c]
			}
		}
		return p
	}
	var all []witness.Triangle
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		all = append(all,
			witness.Triangle{corner(q[0]), corner(q[1]), corner(q[2])},
			witness.Triangle{corner(q[0]), corner(q[2]), corner(q[3])})
	}
	return all
}

// TestMeasure measures boxes, one that lacks a triangle, and two at once.
func TestMeasure(t *testing.T) {
	one, two := box([3]float64{0, 0, 0}, [3]float64{2, 3, 4}), box([3]float64{10, 0, 0}, [3]float64{11, 1, 1})
	if b := witness.Measure(one); b != (witness.Body{Bodies: 1, Volume: 24}) {
		t.Errorf("a box: %+v", b)
	}
	if b := witness.Measure(one[1:]); b.Open != 3 {
		t.Errorf("a box without a triangle: %+v", b)
	}
	if b := witness.Measure(append(one, two...)); b.Bodies != 2 || b.Open != 0 || math.Abs(b.Volume-25) > 1e-9 {
		t.Errorf("two boxes: %+v", b)
	}
}

// TestSTL reads back what it is given, and refuses what is cut off.
func TestSTL(t *testing.T) {
	var b bytes.Buffer
	all := box([3]float64{0, 0, 0}, [3]float64{1, 1, 1})
	b.Write(make([]byte, 80))
	for _, v := range []any{uint32(len(all))} {
		if err := binary.Write(&b, binary.LittleEndian, v); err != nil {
			t.Fatal(err)
		}
	}
	for _, tri := range all {
		var raw [50]byte
		for v := range 3 {
			for c := range 3 {
				binary.LittleEndian.PutUint32(raw[12+4*(3*v+c):], math.Float32bits(float32(tri[v][c])))
			}
		}
		b.Write(raw[:])
	}
	got, err := witness.STL(b.Bytes())
	if m := witness.Measure(got); err != nil || m.Open != 0 || m.Bodies != 1 || math.Abs(m.Volume-1) > 1e-9 {
		t.Errorf("%+v, %v", m, err)
	}
	if _, err := witness.STL(b.Bytes()[:200]); err == nil {
		t.Error("a file that is cut off is read")
	}
}

// TestClosed forms a sheet over a wall 3 mm high with a ball of 5 mm: it leaves the floor sqrt(5^2 - (5-3)^2) before the wall, as a ball
// that lies on the floor and touches the wall's rim does.
func TestClosed(t *testing.T) {
	const step = 0.25
	wall := box([3]float64{0, -10, 0}, [3]float64{20, 10, 3})
	f := witness.Over(wall, 12, step)
	top, bottom := f.Heights(wall, 1)
	if n := f.Cell(10, 0); top.Z[n] != 3 || bottom.Z[n] != 0 {
		t.Errorf("heights of a box: %g to %g", bottom.Z[n], top.Z[n])
	}
	inner := top.Closed(5)
	want := math.Sqrt(5*5 - 2*2)
	if far := inner.Nearest(-11, 0, 0.02); math.Abs(11-far-want) > 2*step {
		t.Errorf("the sheet leaves the floor %.2f mm before the wall, want %.2f", 11-far, want)
	}
	if n := inner.Cell(10, 0); math.Abs(inner.Z[n]-3) > 1e-9 {
		t.Errorf("over the box it lies at %g", inner.Z[n])
	}
	if z, _, _ := top.Lifted(2).Most(10, 0, 2, 2, 30); z != 5 {
		t.Errorf("a sheet of 2 mm over it reaches %g", z)
	}
}

// TestPassing draws two boxes out towards -x: what lies further along passes over all before it.
func TestPassing(t *testing.T) {
	both := append(box([3]float64{0, 0, 0}, [3]float64{5, 5, 1}), box([3]float64{10, 0, 0}, [3]float64{12, 2.5, 4})...)
	f := witness.Over(both, 2, 0.25)
	top, _ := f.Heights(both, 1)
	out := top.Passing()
	for _, c := range []struct{ x, y, want float64 }{{2, 1, 4}, {7, 1, 4}, {13, 1, 0}, {2, 4, 1}, {7, 4, 0}, {-1, 4, 1}} {
		if z := out.Z[out.Cell(c.x, c.y)]; z != c.want {
			t.Errorf("over (%g, %g) passes %g, want %g", c.x, c.y, z, c.want)
		}
	}
}

// TestDXF reads circles of a layer.
func TestDXF(t *testing.T) {
	text := "0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\nA\n10\n1.5\n20\n-2\n40\n3\n0\nCIRCLE\n8\nB\n10\n1\n20\n1\n40\n1\n0\nENDSEC\n0\nEOF\n"
	list := witness.Circles(witness.DXF([]byte(text)), "A")
	if len(list) != 1 || list[0].Figures[10] != 1.5 || list[0].Figures[20] != -2 || list[0].Figures[40] != 3 {
		t.Errorf("%+v", list)
	}
}
