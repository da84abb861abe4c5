package mill_test

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/pieces"
	"formbuck/buck/program/ngc"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// of lays out a demo knife's sheath, changed.
func of(t *testing.T, name string, change func(*measures.Spec), hands ...measures.Hand) *layout.Sheath {
	t.Helper()
	k := bucktest.DemoKnife(t, name)
	if change != nil {
		v, plan := bucktest.Demo(t, name)
		change(&v.Spec)
		k = bucktest.Knife(t, plan, v.Spec)
	}
	s, err := layout.New(k, hands)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// programs writes all of a sheath's programs, and none may fail.
func programs(t *testing.T, s *layout.Sheath) map[string]mill.Program {
	t.Helper()
	all := map[string]mill.Program{}
	for _, p := range mill.Programs(s) {
		if p.Err != nil {
			t.Fatalf("%s: %v", p.Name, p.Err)
		}
		all[p.Name] = p
	}
	return all
}

// read is what a program does, by the reader alone.
func read(t *testing.T, p mill.Program) *ngc.Program {
	t.Helper()
	text, err := ngc.Read(p.Name, bytes.NewReader(p.Text))
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// onPlan is a place of a program in the sheath's plan.
func onPlan(s *layout.Sheath, place mill.Place, x, y float64) r2.Vec {
	if place == mill.LeftHalf {
		y = -y
	}
	return r2.Add(r2.Vec{X: x, Y: y}, s.Knife.Plan.Tip)
}

// TestDemos checks the programs of the demo knives in both units against the sheath's plan, which their proof does
// not know: the cutter's middle, 0.05 mm apart along the whole of its way below the work's highest point, is
// nowhere nearer to the trim line than its radius less 0.005 mm, and the drills go down where the eyelets and the
// posts are, through all of the sheet and not through the board.
func TestDemos(t *testing.T) {
	size.Long(t)
	for _, name := range bucktest.Demos() {
		for _, units := range []string{measures.Millimetres, measures.Inches} {
			t.Run(name+" "+units, func(t *testing.T) {
				s := of(t, name, func(s *measures.Spec) { s.Mill.Units = units })
				all := programs(t, s)
				if len(all) != 5 {
					t.Errorf("%d programs", len(all))
				}
				for _, p := range all {
					if got := read(t, p).Inch; got != (units == measures.Inches) {
						t.Errorf("%s in inches: %v", p.Name, got)
					}
					if len(p.Warnings) > 0 {
						t.Errorf("%s: %q", p.Name, p.Warnings)
					}
					if strings.HasPrefix(p.Name, "trim") {
						keepsOff(t, s, p, size.Or(0.2, 0.05))
					} else {
						drills(t, s, p)
					}
				}
			})
		}
	}
}

// keepsOff measures how near a cutter's middle comes to the trim line, at places a step apart along its path.
func keepsOff(t *testing.T, s *layout.Sheath, p mill.Program, step float64) {
	t.Helper()
	radius := s.Knife.Spec.Mill.Cutter / 2
	least, cut := math.Inf(1), 0.0
	look := func(q r2.Vec) {
		d := s.Trim.Distance(q)
		if s.Trim.Contains(q) {
			d = -d
		}
		least = min(least, d)
	}
	for _, m := range read(t, p).Motions {
		if math.IsNaN(m.From.Z) || min(m.From.Z, m.To.Z) >= s.Height+s.Knife.Spec.Sheet.Thickness {
			continue
		}
		look(onPlan(s, p.Place, m.To.X, m.To.Y))
		for _, seg := range m.Path() {
			n := math.Ceil(seg.Length() / step)
			for i := range int(n) {
				q := seg.At(float64(i) / n)
				look(onPlan(s, p.Place, q.X, q.Y))
			}
			cut += seg.Length()
		}
	}
	if least < radius-0.005 || least > radius+0.005 {
		t.Errorf("%s: %.4f mm from the trim line at the least, with a cutter of radius %.4f mm", p.Name, least, radius)
	}
	if cut < 2*s.TrimLength() {
		t.Errorf("%s cuts %.1f mm, and the trim line is %.1f mm long", p.Name, cut, s.TrimLength())
	}
}

// drills checks where drills go down.
func drills(t *testing.T, s *layout.Sheath, p mill.Program) {
	t.Helper()
	spec := s.Knife.Spec
	point := p.Setup.Tool.Point()
	var want []r2.Vec
	low, high := -point-1, 2*spec.Sheet.Thickness
	if p.Place == mill.Pair {
		for _, e := range s.Eyelets {
			want = append(want, e.At)
		}
	} else {
		for _, h := range s.Posts {
			if "posts-"+string(h.Hand) == p.Name {
				want = append(want, h.At)
				low, high = h.Roof-point-1, h.Roof+spec.Sheet.Thickness
			}
		}
	}
	var got []r2.Vec
	for _, m := range read(t, p).Motions {
		if m.Kind != ngc.Feed || m.To.Z >= m.From.Z {
			continue
		}
		at := onPlan(s, p.Place, m.To.X, m.To.Y)
		if len(got) == 0 || r2.Norm(r2.Sub(got[len(got)-1], at)) > 1e-3 {
			if m.From.Z < high {
				t.Errorf("%s feeds from Z %.3f on, and the work is up to Z %.3f", p.Name, m.From.Z, high)
			}
			got = append(got, at)
		}
	}
	if len(got) != len(want) {
		t.Fatalf("%s drills %d holes, want %d", p.Name, len(got), len(want))
	}
	for i := range got {
		if far := r2.Norm(r2.Sub(got[i], want[i])); far > 1e-3 {
			t.Errorf("%s: hole %d is %.4f mm from its place", p.Name, i+1, far)
		}
	}
	if math.Abs(p.Proof.Box.Min.Z-low) > 1e-3 {
		t.Errorf("%s goes down to Z %.4f, want %.4f", p.Name, p.Proof.Box.Min.Z, low)
	}
}

// TestMirror checks that the left half's set-up is the right half's mirrored, and that both begin in the flat waste.
func TestMirror(t *testing.T) {
	s := of(t, "otter", nil)
	all := programs(t, s)
	right, left := all["trim-right-half"], all["trim-left-half"]
	for i, p := range right.Setup.Pins {
		if q := left.Setup.Pins[i]; q.At != (r2.Vec{X: p.At.X, Y: -p.At.Y}) || q.Diameter != p.Diameter || q.Washer != p.Washer {
			t.Errorf("pin %d: %+v and %+v", i+1, p, q)
		}
	}
	for _, p := range []mill.Program{right, left} {
		for _, m := range read(t, p).Motions {
			if m.Kind != ngc.Rapid || m.To.Z >= m.From.Z || m.To.Z > p.Setup.Stock.Top {
				continue
			}
			if at := onPlan(s, p.Place, m.To.X, m.To.Y); at.X < 3.175 {
				t.Errorf("%s: rapid down at %v, over the formed handle", p.Name, at)
			}
		}
	}
}

// TestMeasures checks that a variant's measures get into the programs, and what is said where none can be written.
func TestMeasures(t *testing.T) {
	size.Long(t)
	s := of(t, "thistle", func(s *measures.Spec) {
		s.Mill.Speed, s.Mill.Feed, s.Mill.DrillSpeed, s.Mill.DrillFeed, s.Mill.Peck = 10000, 2600, 2000, 180, 2
		s.Mill.Allowance, s.Mill.Washer, s.Mill.Clamp, s.Mill.Hold = 0, 0, 0, measures.Vacuum
		s.Hole.Diameter = 6.5
	})
	all := programs(t, s)
	for name, want := range map[string][]string{
		"drill":           {"S2000 M3\nF180\n", " Q2\n", "T1 M6\n"},
		"trim-right-half": {"S10000 M3\n", "F2600\n", "straight to the line", "(trim, pass 1 of 1)", "no clamp is stated", "T2 M6\n", "SET-UP HOLD VACUUM"},
		"posts-right":     {"T3 M6\n", "D6.5 POINT", "10.2 mm high"},
	} {
		for _, w := range want {
			if !bytes.Contains(all[name].Text, []byte(w)) {
				t.Errorf("%s does not say %q", name, w)
			}
		}
	}
	if n := len(all["trim-right-half"].Setup.Clamps); n != 0 || bytes.Contains(all["trim-right-half"].Text, []byte("WASHER")) {
		t.Errorf("%d clamps, or washers, where none are stated", n)
	}

	for _, c := range []struct {
		want   string
		change func(*measures.Spec)
	}{
		{"mill: no program to drill the pair: the tool would go 2.908 mm under the sheet, its point being 1.908 mm long, and the board is 2.5 mm thick", func(s *measures.Spec) { s.Mill.Board = 2.5 }},
		{"mill: the tool goes 2.908 mm into the board, its point being 1.908 mm long, and leaves 1.092 mm of it", func(s *measures.Spec) { s.Mill.Board = 4 }},
		{"mill: 359 m/min at the tool's rim melts the sheet: at most 300 are advised, 15000 rpm", func(s *measures.Spec) { s.Mill.Speed = 18000 }},
		{"mill: no program to trim the right half: a pin or a clamp stands in the cutter's way or closer to it than 2 mm", func(s *measures.Spec) { s.Mill.Washer = 20 }},
		{"mill: no program to drill the pair: nothing holds the work down: there is neither a clamp nor vacuum; give mill.clamp and mill.washer, or say", func(s *measures.Spec) { s.Mill.Clamp = 0 }},
		{"mill: no program to trim the left half: nothing holds the sheath down once it is cut free: no pin has a washer wider than itself, and there is no vacuum; give mill.clamp", func(s *measures.Spec) { s.Mill.Washer = 0 }},
		{"mill: no program to trim the right half: the cutter's flutes are 12 mm long, and where the waste is formed the work is 13", func(s *measures.Spec) { s.Mill.Flute = 12 }},
		{"mill: no program to trim the right half: 1 rpm is too slow for a tool of 6.35 mm: at least 1500; mill.speed", func(s *measures.Spec) { s.Mill.Speed, s.Mill.Feed = 1, 1 }},
		{"mill: no program to trim the right half: a feed of 20000 mm/min, and the machine does at most 5000; mill.max_feed", func(s *measures.Spec) { s.Mill.Speed, s.Mill.Feed = 1, 20000 }},
		{"mill: no program to trim the right half: a finishing pass of 0.4 mm: at most a quarter of the cutter's 1 mm can be taken off the side at full depth; mill.allowance", func(s *measures.Spec) { s.Mill.Cutter = 1 }},
		{"mill: no program to drill the pair: the tool runs 3.175 mm into clamp 1, ", func(s *measures.Spec) { s.Layout.Handling = 0 }},
	} {
		got := mill.Warnings(mill.Programs(of(t, "thistle", c.change)))
		if !slices.ContainsFunc(got, func(line string) bool { return strings.HasPrefix(line, c.want) }) {
			t.Errorf("%q\nwant %s", got, c.want)
		}
	}
}

// TestHands checks which programs a sheath has.
func TestHands(t *testing.T) {
	size.Long(t)
	for _, c := range []struct {
		hand measures.Hand
		want string
	}{
		{measures.Plain, "drill trim-right-half trim-left-half"},
		{measures.Right, "drill trim-right-half posts-right trim-left-half"},
		{measures.Left, "drill posts-left trim-right-half trim-left-half"},
		{measures.Both, "drill posts-left trim-right-half posts-right trim-left-half"},
	} {
		var names []string
		for _, p := range mill.Programs(of(t, "minnow", nil, c.hand)) {
			names = append(names, p.Name)
		}
		if got := strings.Join(names, " "); got != c.want {
			t.Errorf("%s: %s, want %s", c.hand, got, c.want)
		}
	}
}

// TestSheet checks that the mill's set-up sheet says what each program assumes, on a few pages.
func TestSheet(t *testing.T) {
	size.Long(t)
	s := of(t, "otter", func(s *measures.Spec) { s.Mill.Speed, s.Hole.SinkDiameter, s.Hole.SinkAngleDeg = 18000, 7.95, 90 })
	pages := mill.Sheet(s, mill.Programs(s), drawing.A4)
	if len(pages) < 1 || len(pages) > 3 {
		t.Errorf("%d pages", len(pages))
	}
	var text bytes.Buffer
	for _, p := range pages {
		if err := p.SVG(&text); err != nil {
			t.Fatal(err)
		}
	}
	for _, want := range []string{
		"otter: on the mill", "otter-drill.ngc", "otter-posts-left.ngc", "otter-trim-left-half.ngc", "tip, and X goes along the blade", "pin 3", "hold-down",
		"turned over about the", "stringy swarf", "local rules", "melts the sheet", "board at least 25 mm thick", "four corners", "a block of wood",
		"no program countersinks", "7.95 mm wide at 90 deg", "step 7", "drill: 10 eyelet holes of 6.35 mm through both sheets; nothing is pulled", "step 11", "stand on the set-up",
	} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("it does not say %q", want)
		}
	}
}

func Example() {
	knife, err := pieces.NewBuck(bucktest.Strip(), bucktest.Spec())
	if err != nil {
		fmt.Println(err)
		return
	}
	sheath, err := layout.New(knife, []measures.Hand{measures.Right})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range mill.Programs(sheath) {
		fmt.Printf("%s: %s, %s\n", p.Name, p.Does, p.Place)
	}
	// Output:
	// drill: drill the pair, pair
	// trim-right-half: trim the right half, right half
	// posts-right: drill the post holes, right hand, left half
	// trim-left-half: trim the left half, left half
}
