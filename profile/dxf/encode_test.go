package dxf_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/profile/dxf"
)

// sheet is a drawing of everything that is written.
func sheet(seed uint64) *dxf.Drawing {
	rng := rand.New(rand.NewPCG(seed, 1))
	v := func() r3.Vec { return r3.Vec{X: 200 * rng.Float64(), Y: -100 * rng.Float64(), Z: float64(rng.IntN(2))} }
	d := &dxf.Drawing{Units: dxf.Millimetres, Layers: []dxf.Layer{{Name: "TRIM", Colour: 1}, {Name: "Drill $1-_", Colour: 3}}}
	for range 20 {
		d.Entities = append(d.Entities,
			dxf.Entity{Kind: "LINE", Layer: "TRIM", Shape: &dxf.Line{A: v(), B: v()}},
			dxf.Entity{Kind: "ARC", Layer: "Drill $1-_", Shape: &dxf.Arc{Centre: v(), Radius: 1 + rng.Float64(), StartDeg: 300 * rng.Float64(), EndDeg: 400 * rng.Float64()}},
			dxf.Entity{Kind: "CIRCLE", Layer: "0", Shape: &dxf.Circle{Centre: v(), Radius: 3.175}},
			dxf.Entity{Kind: "LWPOLYLINE", Layer: "TRIM", Shape: &dxf.Polyline{Closed: true, Vertices: []dxf.Vertex{{X: v().X, Bulge: 0.3}, {Y: v().Y}, {X: 9, Y: 9, Bulge: -1}}}},
			dxf.Entity{Kind: "TEXT", Layer: "NOTES", Shape: &dxf.Text{At: v(), Height: 3, TurnDeg: 90, Value: "face A up ½ Ø6.35"}},
		)
	}
	return d
}

func encode(t *testing.T, d *dxf.Drawing) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := dxf.Encode(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestDecodeAfterEncodeIsIdentity(t *testing.T) {
	for seed := range uint64(10) {
		in := sheet(seed)
		data := encode(t, in)
		out, err := dxf.Parse(data, "sheet.dxf")
		if err != nil {
			t.Fatal(err)
		}
		same := cmp.Options{cmpopts.IgnoreFields(dxf.Entity{}, "Line", "Handle"), cmpopts.EquateApprox(0, 1e-13)}
		if diff := cmp.Diff(in.Entities, out.Entities, same); diff != "" {
			t.Fatalf("entities (-in +out):\n%s", diff)
		}
		if out.Units != in.Units || out.Version != "AC1015" {
			t.Errorf("units %v, version %s", out.Units, out.Version)
		}
		if diff := cmp.Diff(in.Layers, out.Layers[1:3]); diff != "" {
			t.Errorf("layers (-in +out):\n%s", diff)
		}
		if !bytes.Equal(data, encode(t, in)) {
			t.Error("the same drawing gave other bytes")
		}
		if again := encode(t, out); !bytes.Equal(data, again) {
			t.Error("encoding what was decoded gave other bytes")
		}
	}
}

// A polyline comes back as it was, bulges and all. At a height it goes out as its lines and arcs, which lie
// where it did: bulge .5 on a chord of 10 has the radius 6.25 and turns by 106.2602 deg (DXF Reference, bulge).
func TestPolylineGoesOut(t *testing.T) {
	p := &dxf.Polyline{Closed: true, Vertices: []dxf.Vertex{{X: 0, Y: 0, Bulge: 0.5}, {X: 10, Y: 0}, {X: 10, Y: 5, Bulge: -1}, {X: 0, Y: 5}}}
	one := &dxf.Drawing{Entities: []dxf.Entity{{Kind: "LWPOLYLINE", Layer: "0", Shape: p}}}
	whole, err := dxf.Parse(encode(t, one), "p.dxf")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(one.Entities, whole.Entities, cmpopts.IgnoreFields(dxf.Entity{}, "Line", "Handle")); diff != "" {
		t.Errorf("-in +out\n%s", diff)
	}
	p.Elevation = 2
	out, err := dxf.Parse(encode(t, one), "p.dxf")
	if err != nil {
		t.Fatal(err)
	}
	kinds := ""
	for _, e := range out.Entities {
		kinds += e.Kind + " "
	}
	if kinds != "ARC LINE ARC LINE " {
		t.Fatalf("kinds %s", kinds)
	}
	a := out.Entities[0].Shape.(*dxf.Arc)
	if math.Abs(a.Radius-6.25) > 1e-9 || math.Abs(math.Mod(a.EndDeg-a.StartDeg+360, 360)-106.2602) > 1e-4 {
		t.Errorf("arc %+v", a)
	}
	b := out.Entities[2].Shape.(*dxf.Arc)
	if math.Abs(b.Radius-5) > 1e-9 || math.Abs(b.Centre.Y-5) > 1e-9 || math.Abs(b.StartDeg-180) > 1e-9 {
		t.Errorf("arc %+v", b)
	}
}

// TestExtents reads the header's box of a closed line whose arcs reach beyond its vertices: bulge .5 on a chord of 10
// has a sagitta of 2.5, bulge -1 on one of 4 of 2, into the figure; of an arc and of a circle.
func TestExtents(t *testing.T) {
	d := &dxf.Drawing{Entities: []dxf.Entity{
		{Shape: &dxf.Polyline{Closed: true, Vertices: []dxf.Vertex{{X: 0, Y: 0, Bulge: 0.5}, {X: 10, Y: 0}, {X: 10, Y: 4, Bulge: -1}, {X: 6, Y: 4}}}},
		{Shape: &dxf.Arc{Centre: r3.Vec{X: 20}, Radius: 2, StartDeg: 300, EndDeg: 60}},
		{Shape: &dxf.Circle{Centre: r3.Vec{X: 5, Y: 7}, Radius: 1}},
	}}
	var header []string
	for line := range bytes.Lines(encode(t, d)) {
		header = append(header, string(bytes.TrimSpace(line)))
	}
	for name, want := range map[string][]float64{"$EXTMIN": {0, -2.5}, "$EXTMAX": {22, 8}} {
		at := slices.Index(header, name)
		for i, w := range want {
			got, err := strconv.ParseFloat(header[at+2+2*i], 64)
			if err != nil || math.Abs(got-w) > 1e-9 {
				t.Errorf("%s %d: %v %v, want %g", name, i, got, err, w)
			}
		}
	}
}

func TestEncodeRefuses(t *testing.T) {
	line := func(e dxf.Entity) *dxf.Drawing { return &dxf.Drawing{Entities: []dxf.Entity{e}} }
	for name, d := range map[string]*dxf.Drawing{
		"not a number": line(dxf.Entity{Shape: &dxf.Line{A: r3.Vec{X: math.NaN()}}}),
		"line break":   line(dxf.Entity{Layer: "a\n0", Shape: &dxf.Line{}}),
		"spline":       line(dxf.Entity{Shape: &dxf.Spline{}}),
		"no shape":     line(dxf.Entity{Kind: "HATCH"}),
		"extrusion":    line(dxf.Entity{Extrusion: r3.Vec{Z: -1}, Shape: &dxf.Circle{Radius: 1}}),
		"layer name":   line(dxf.Entity{Layer: "刃", Shape: &dxf.Line{}}),
		"colour":       {Layers: []dxf.Layer{{Name: "A", Colour: 300}}},
	} {
		if err := dxf.Encode(&bytes.Buffer{}, d); err == nil {
			t.Errorf("%s: written", name)
		}
	}
}

// The committed file is what Encode writes; measure.py reads it with ezdxf, without complaint.
func TestWrittenDrawing(t *testing.T) {
	const file = "../../testdata/drawings/written.dxf"
	want, err := os.ReadFile(file)
	got := encode(t, sheet(0))
	if os.Getenv("UPDATE") != "" {
		err = os.WriteFile(file, got, 0o644)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from what is written now (UPDATE=1 rewrites it): %v", file, err)
	}
}
