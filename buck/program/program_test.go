package program_test

import (
	"bytes"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"formbuck/buck/program"
	"formbuck/buck/program/ngc"
	"formbuck/profile"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// rounded is a counter-clockwise polygon with an arc of the radius at every corner.
func rounded(radius float64, points ...r2.Vec) profile.Loop {
	var ends []profile.Segment // of each corner
	n := len(points)
	for i, p := range points {
		in, out := r2.Unit(r2.Sub(p, points[(i+n-1)%n])), r2.Unit(r2.Sub(points[(i+1)%n], p))
		turn := math.Atan2(r2.Cross(in, out), r2.Dot(in, out))
		back := radius * math.Tan(math.Abs(turn)/2)
		ends = append(ends, profile.Segment{A: r2.Sub(p, r2.Scale(back, in)), B: r2.Add(p, r2.Scale(back, out)), Bulge: math.Tan(turn / 4)})
	}
	var l profile.Loop
	for i, e := range ends {
		if radius > 0 {
			l = append(l, e)
		}
		l = append(l, profile.Segment{A: e.B, B: ends[(i+1)%n].A})
	}
	return l
}

// sheath is an outline with a waist on one side: corners inwards of radius 6.
func sheath() profile.Loop {
	return rounded(
		6, r2.Vec{}, r2.Vec{X: 70}, r2.Vec{X: 90, Y: 8}, r2.Vec{X: 130, Y: 8}, r2.Vec{X: 150}, r2.Vec{X: 190},
		r2.Vec{X: 190, Y: 60}, r2.Vec{Y: 60},
	)
}

// setup is a half of that sheath on two pins, with a clamp.
func setup() program.Setup {
	s := program.Setup{
		Title: "kestrel: trim the right half", Zero: "the middle of pin 1", Up: "the right face, formed side up",
		Hold:  "two pins in the board, one clamp",
		Stock: program.Stock{Box: r2.Box{Min: r2.Vec{X: -40, Y: -40}, Max: r2.Vec{X: 230, Y: 100}}, Sheet: 2.4, Top: 14, Board: 12},
		Tool:  program.Tool{Number: 2, Diameter: 6.35, Flutes: 1}, Safe: 20, Line: sheath(),
		Clamps: []program.Clamp{{Box: r2.Box{Min: r2.Vec{X: 90, Y: -40}, Max: r2.Vec{X: 120, Y: -10}}, Top: 16}},
	}
	for _, x := range []float64{20, 60, 140, 180} {
		s.Holes = append(s.Holes, program.Hole{At: r2.Vec{X: x, Y: 52}, Diameter: 6.35, Top: 2.4})
	}
	for _, h := range []int{0, 3} {
		s.Pins = append(s.Pins, program.Pin{At: s.Holes[h].At, Diameter: 6.3, Top: 6, Washer: 9.5})
	}
	return s
}

// pair is the pair of sheets to be drilled.
func pair() program.Setup {
	s := setup()
	s.Title, s.Pins, s.Tool = "kestrel: drill the pair", nil, program.Tool{Number: 1, Diameter: 6.35, PointDeg: 118}
	s.Stock.Sheet = 4.8
	for i := range s.Holes {
		s.Holes[i].Top = 4.8
	}
	return s
}

// The point lengths of drills: table of handbooks and drill makers, p / d = 0.30043 at 118 deg and so on.
func TestPoint(t *testing.T) {
	for _, c := range []struct{ angle, share, length float64 }{
		{90, 0.50000, 3.175},
		{118, 0.30043, 1.908},
		{120, 0.28868, 1.833},
		{135, 0.20711, 1.315},
		{140, 0.18199, 1.156},
	} {
		drill := program.Tool{Diameter: 6.35, PointDeg: c.angle}
		if got := drill.Point(); math.Abs(got-c.length) > 5e-4 || math.Abs(got/6.35-c.share) > 5e-6 {
			t.Errorf("%g deg: %.4f mm, want %g", c.angle, got, c.length)
		}
	}
	if got := (program.Tool{Diameter: 6.35}).Point(); got != 0 {
		t.Errorf("a cutter has a point of %g mm", got)
	}
}

// The drill's point reaches into the board: hole through, a mm over, and the point's length.
func TestDepth(t *testing.T) {
	for angle, want := range map[float64]float64{118: -2.908, 135: -2.315} {
		s := pair()
		s.Tool.PointDeg = angle
		p, err := program.Drill(s, program.DrillOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Proof.Box.Min.Z; math.Abs(got-want) > 5e-4 {
			t.Errorf("%g deg: down to Z %.4f, want %g", angle, got, want)
		}
		s.Stock.Board = 2
		var f *program.Fault
		if _, err = program.Drill(s, program.DrillOptions{}); !errors.As(err, &f) {
			t.Errorf("a board of 2 mm is drilled through: %v", err)
		}
		s.Stock.Board = 4
		if p, err = program.Drill(s, program.DrillOptions{}); err != nil || len(p.Warnings) != 1 || !strings.Contains(p.Warnings[0], "into the board") {
			t.Errorf("a board of 4 mm: %v", err)
		}
	}
}

// The tool's middle runs on the parallel at its radius: of a convex outline with perimeter P that is P + 2
// pi d long (Steiner's formula), and inwards turns make it shorter by their own angle.
func TestCentre(t *testing.T) {
	for _, c := range []struct {
		name string
		loop profile.Loop
	}{
		{"rectangle", rounded(0, r2.Vec{}, r2.Vec{X: 50}, r2.Vec{X: 50, Y: 16}, r2.Vec{Y: 16})},
		{"stadium 50 x 16", rounded(8, r2.Vec{}, r2.Vec{X: 50}, r2.Vec{X: 50, Y: 16}, r2.Vec{Y: 16})},
		{"triangle", rounded(3, r2.Vec{}, r2.Vec{X: 70}, r2.Vec{X: 20, Y: 50})},
		{"waist", sheath()},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, d := range []float64{1, 3.175, 5.9} {
				path, err := program.Centre(c.loop, d)
				if err != nil {
					t.Fatal(err)
				}
				if got, want := path.Perimeter(), c.loop.Perimeter()+2*math.Pi*d; math.Abs(got-want) > 1e-9 {
					t.Errorf("by %g: %v mm long, want %v", d, got, want)
				}
				if got, want := path.Area(), c.loop.Area()+c.loop.Perimeter()*d+math.Pi*d*d; math.Abs(got-want) > 1e-8 {
					t.Errorf("by %g: area %v mm2, want %v", d, got, want)
				}
				for _, q := range path.Flatten(0.01) {
					if got := c.loop.Distance(q); math.Abs(got-d) > 1e-9 {
						t.Fatalf("by %g: %v mm away at %v", d, got, q)
					}
				}
			}
		})
	}
}

func TestCentreRefusals(t *testing.T) {
	ell := []r2.Vec{{}, {X: 20}, {X: 20, Y: 10}, {X: 10, Y: 10}, {X: 10, Y: 20}, {Y: 20}}
	slot := []r2.Vec{{}, {X: 60}, {X: 60, Y: 30}, {X: 33, Y: 30}, {X: 33, Y: 10}, {X: 28, Y: 10}, {X: 28, Y: 30}, {Y: 30}}
	for _, c := range []struct {
		name string
		loop profile.Loop
		want string
	}{
		{"corner", rounded(0, ell...), "the line turns inwards by 90.0 deg in a corner, where a round cutter of 6.35 mm cannot go, at (10.000, 10.000) mm"},
		{"too tight", rounded(3, ell...), "the line turns inwards with a radius of 3.000 mm, and the cutter needs 3.175 mm, at (10.879, 10.879) mm"},
		{"slot", rounded(2.4, slot...), "the line turns inwards with a radius of 2.400 mm, and the cutter needs 3.175 mm, at (32.297, 10.703) mm"},
	} {
		_, err := program.Centre(c.loop, 3.175)
		var f *program.Fault
		if !errors.As(err, &f) || err.Error() != c.want {
			t.Errorf("%s\n     %v\nwant %s", c.name, err, c.want)
		}
	}
	// A bottle's neck whose sides bulge outwards to it: no corner is too tight, and the tool does not fit between them.
	neck := rounded(4, r2.Vec{}, r2.Vec{X: 80}, r2.Vec{X: 80, Y: 40}, r2.Vec{X: 38, Y: 40}, r2.Vec{X: 38, Y: 32}, r2.Vec{X: 60, Y: 12}, r2.Vec{X: 15, Y: 12}, r2.Vec{X: 33, Y: 32}, r2.Vec{X: 33, Y: 40}, r2.Vec{Y: 40})
	if _, err := program.Centre(neck, 3.175); err == nil || !strings.Contains(err.Error(), "leaves no room") {
		t.Errorf("neck: %v", err)
	}
}

// What is written proves, in both units and for both points, and says the same twice.
func TestDrill(t *testing.T) {
	for _, inch := range []bool{false, true} {
		s := pair()
		s.Inch = inch
		p, err := program.Drill(s, program.DrillOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if p.Proof.Drilled != len(s.Holes) || p.Proof.Box.Max.Z < 19.99 || p.Proof.Cutting <= 0 {
			t.Errorf("proof: %+v", p.Proof)
		}
		again, err := program.Drill(s, program.DrillOptions{})
		if err != nil || !bytes.Equal(again.Text, p.Text) {
			t.Error("a second run writes other bytes")
		}
		keep(t, "drill", inch, p.Text)
	}
}

func TestTrim(t *testing.T) {
	for _, inch := range []bool{false, true} {
		s := setup()
		s.Inch = inch
		p, err := program.Trim(s, program.TrimOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Proof.Closest; got < 3.175-0.005 || got > 3.175+0.005 {
			t.Errorf("closest %v mm", got)
		}
		keep(t, "trim", inch, p.Text)
		read, err := ngc.Read("trim.ngc", bytes.NewReader(p.Text))
		if err != nil {
			t.Fatal(err)
		}
		arcs, turned := 0, 0.0
		for _, m := range read.Motions {
			if len(m.Path()) > 0 && m.Kind != ngc.Rapid {
				for _, g := range m.Path() {
					turned += r2.Cross(g.A, g.B)/2 + 0
				}
				arcs += map[bool]int{true: 1}[m.Kind == ngc.Clockwise]
			}
		}
		if arcs < 12 || turned >= 0 {
			t.Errorf("%d clockwise arcs, twice round with an area of %g mm2: outside a cutter climbs clockwise", arcs, turned)
		}
	}
}

// keep writes a program where FORMBUCK_KEEP says, to be looked at.
func keep(t *testing.T, name string, inch bool, text []byte) {
	if dir := os.Getenv("FORMBUCK_KEEP"); dir != "" {
		if inch {
			name += "-inch"
		}
		if err := os.WriteFile(dir+"/"+name+".ngc", text, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// Where the waste is formed too the cutter does not come down: the longest straight side is one, then.
func TestRaised(t *testing.T) {
	s := setup()
	s.Raised = []program.Raised{{Box: r2.Box{Min: r2.Vec{X: -40, Y: 55}, Max: r2.Vec{X: 230, Y: 100}}, Top: 14}}
	p, err := program.Trim(s, program.TrimOptions{})
	if err != nil {
		t.Fatal(err)
	}
	read, err := ngc.Read("trim.ngc", bytes.NewReader(p.Text))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range read.Motions {
		if m.Kind == ngc.Rapid && m.To.Z < 14 && m.To.Y > 55-3.175 {
			t.Errorf("down to Z %g at Y %g", m.To.Z, m.To.Y)
		}
	}
	plain, err := program.Trim(setup(), program.TrimOptions{})
	if err != nil {
		t.Fatal(err)
	}
	spoilt := bytes.Replace(plain.Text, []byte("(SET-UP CLAMP"), []byte("(SET-UP RAISED FROM X-40 Y55 TO X230 Y100 TOP Z14)\n(SET-UP CLAMP"), 1)
	if _, err := prove(string(spoilt)); err == nil || !strings.Contains(err.Error(), "rapid down to Z 4.4 mm, and the work is up to Z 14 mm high there") {
		t.Errorf("a rapid into what is raised: %v", err)
	}
	s.Raised[0].Top = 15
	if _, err := program.Trim(s, program.TrimOptions{}); err == nil {
		t.Error("a raised place over the highest point is taken")
	}
}

// A washer on a pin is kept off as the pin is.
func TestWasher(t *testing.T) {
	s := setup()
	for i := range s.Pins {
		s.Pins[i].Washer = 15.8
	}
	if _, err := program.Trim(s, program.TrimOptions{}); err != nil {
		t.Error(err)
	}
	for i := range s.Pins {
		s.Pins[i].Washer = 16.2
	}
	var f *program.Fault
	if _, err := program.Trim(s, program.TrimOptions{}); !errors.As(err, &f) || !strings.Contains(err.Error(), "a pin or a clamp stands in the cutter's way") {
		t.Errorf("a washer over the line: %v", err)
	}
}

// Without an allowance there is one time round, at the line.
func TestNoAllowance(t *testing.T) {
	p, err := program.Trim(setup(), program.TrimOptions{Allowance: -1})
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(p.Text, []byte("(finish)")) || !bytes.Contains(p.Text, []byte("(trim, pass 1 of 1)")) {
		t.Error("there is a finishing pass")
	}
}

// A work that is turned over keeps its line's direction and its areas.
func TestFrame(t *testing.T) {
	f := program.Frame{Zero: r2.Vec{X: 3, Y: 5}, Turned: true}
	line := sheath()
	moved := f.Loop(line)
	if math.Abs(moved.Area()-line.Area()) > 1e-9 || moved.Area() <= 0 || !moved.Path().Closed() {
		t.Errorf("area %g, want %g", moved.Area(), line.Area())
	}
	for _, s := range line {
		if d := moved.Distance(f.To(s.At(0.3))); d > 1e-9 {
			t.Errorf("%v is off the moved line by %g", s.At(0.3), d)
		}
	}
	b := f.Box(r2.Box{Min: r2.Vec{X: 0, Y: 0}, Max: r2.Vec{X: 10, Y: 20}})
	if b.Min != (r2.Vec{X: -3, Y: -15}) || b.Max != (r2.Vec{X: 7, Y: 5}) {
		t.Errorf("box %v", b)
	}
}

// A thick sheet is cut in steps.
func TestSteps(t *testing.T) {
	s := setup()
	s.Stock.Sheet = 4.75
	for i := range s.Holes {
		s.Holes[i].Top = 4.75
	}
	p, err := program.Trim(s, program.TrimOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"(rough, pass 1 of 2)", "(rough, pass 2 of 2)", "G1 Z2.225 F", "G1 Z-0.3 F"} {
		if !bytes.Contains(p.Text, []byte(want)) {
			t.Errorf("%s is missing", want)
		}
	}
}

func TestTrimRefusals(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*program.Setup)
		want  string
	}{
		{"clamp in the way", func(s *program.Setup) { s.Clamps[0].Box.Max.Y = 4 }, "a pin or a clamp stands in the cutter's way or closer to it than 2 mm, at (90.000, -40.000) mm"},
		{"low over a clamp", func(s *program.Setup) { s.Clamps[0].Top = 21 }, "the safe height, Z 20 mm, is not over a clamp, Z 21 mm, at (90.000, -40.000) mm"},
		{"low over a pin", func(s *program.Setup) { s.Pins[0].Top = 25 }, "the safe height, Z 20 mm, is not over a pin, Z 25 mm, at (20.000, 52.000) mm"},
		{"low over the work", func(s *program.Setup) { s.Safe = 14 }, "the safe height, Z 14 mm, is not over the work, Z 14 mm"},
		{"no clamp", func(s *program.Setup) { s.Clamps = nil }, "nothing holds the work down: there is neither a clamp nor vacuum"},
		{"no washer", func(s *program.Setup) { s.Pins[0].Washer, s.Pins[1].Washer = 0, 6.3 }, "nothing holds the sheath down once it is cut free: no pin has a washer wider than itself, and there is no vacuum"},
		{"short flutes", func(s *program.Setup) {
			s.Raised = []program.Raised{{Box: r2.Box{Min: r2.Vec{X: -40, Y: -40}, Max: r2.Vec{X: 0, Y: 100}}, Top: 14}}
			s.Tool.Length = 12
		}, "the cutter's flutes are 12 mm long, and where the waste is formed the work is 14 mm high: at least 14.3 mm are needed"},
		{"drill", func(s *program.Setup) { s.Tool.PointDeg = 118 }, "trimming wants a cutter, and tool 2 is a drill"},
		{"no line", func(s *program.Setup) { s.Line = nil }, "there is no line to trim along"},
		{"turned line", func(s *program.Setup) { s.Line = s.Line.Reversed() }, "the sheath's line is not closed, or does not run counter-clockwise"},
		{"thin board", func(s *program.Setup) { s.Stock.Board = 0.2 }, "the tool would go 0.300 mm under the sheet, and the board is 0.2 mm thick"},
		{"hole over the line", func(s *program.Setup) { s.Holes[1].At.Y = 58 }, "a hole of 6.35 mm is not within the sheath's line, at (60.000, 58.000) mm"},
		{"tight turn", func(s *program.Setup) { s.Tool.Diameter = 12 }, "the line turns inwards with a radius of 6.000 mm, and the cutter needs 6.400 mm, at (90.021, 7.892) mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := setup()
			c.spoil(&s)
			_, err := program.Trim(s, program.TrimOptions{})
			var f *program.Fault
			if !errors.As(err, &f) {
				t.Fatalf("no fault: %v", err)
			}
			if err.Error() != c.want {
				t.Errorf("\n     %v\nwant %s", err, c.want)
			}
		})
	}
}

// Random outlines of lines and arcs: whatever is written keeps off the line by the cutter's radius, less
// what rounding takes.
func TestTrimRandom(t *testing.T) {
	n := size.Of(20, 60, 200)
	random := rand.New(rand.NewPCG(7, 7))
	wrote := 0
	for range n {
		var points []r2.Vec
		corners := 5 + random.IntN(8)
		for k := range corners {
			a := 2 * math.Pi * (float64(k) + 0.6*random.Float64()) / float64(corners)
			reach := 40 + 45*random.Float64()
			points = append(points, r2.Vec{X: 90 + reach*math.Cos(a), Y: 30 + reach*math.Sin(a)})
		}
		s := setup()
		s.Line, s.Holes, s.Pins, s.Clamps, s.Vacuum = rounded(5, points...), nil, nil, nil, true
		s.Stock.Box = r2.Box{Min: r2.Vec{X: -20, Y: -80}, Max: r2.Vec{X: 200, Y: 140}}
		s.Inch = random.IntN(2) == 0
		p, err := program.Trim(s, program.TrimOptions{})
		var f *program.Fault
		if errors.As(err, &f) {
			continue // corners so close that their arcs overlap
		}
		if err != nil {
			t.Fatal(err)
		}
		wrote++
		if p.Proof.Closest < 3.175-0.001 {
			t.Errorf("%.5f mm from the line", p.Proof.Closest)
		}
	}
	if wrote < n/2 {
		t.Errorf("only %d of %d outlines were fit to cut", wrote, n)
	}
}
