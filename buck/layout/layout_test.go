package layout_test

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/knives"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/profile"
	"formbuck/testdata/size"

	"github.com/peterstace/simplefeatures/geom"
	"gonum.org/v1/gonum/spatial/r2"
)

// of lays out a knife, or the test fails.
func of(t *testing.T, k *pieces.Buck, hands ...measures.Hand) *layout.Sheath {
	t.Helper()
	s, err := layout.New(k, hands)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func demo(t *testing.T, name string, change func(*measures.Spec)) *layout.Sheath {
	t.Helper()
	if change != nil {
		return of(t, knife(t, name, change))
	}
	if sheaths[name] == nil {
		sheaths[name] = of(t, knife(t, name, nil))
	}
	return sheaths[name]
}

// sheaths are those of the demo knives as they are: no test changes them, and none runs beside another.
var sheaths = map[string]*layout.Sheath{}

// knife is a demo knife, changed.
func knife(t *testing.T, name string, change func(*measures.Spec)) *pieces.Buck {
	t.Helper()
	if change == nil {
		return bucktest.DemoKnife(t, name)
	}
	v, plan := bucktest.Demo(t, name)
	change(&v.Spec)
	return bucktest.Knife(t, plan, v.Spec)
}

// TestLeastMargin checks the worked case: stock of 3.2 mm with 0.15 mm of tape, sheet of 2.0 and 2.4 mm, flange
// 9.5 mm and 0.5 mm of clearance put the eyelet's centre 8.461 and 8.850 mm from the spine.
func TestLeastMargin(t *testing.T) {
	for sheet, want := range map[float64]float64{2: 8.461, 2.4: 8.850} {
		spec := bucktest.Spec()
		spec.Sheet.Thickness, spec.Sheet.BossThickness = sheet, 0.9*sheet
		spec.Tape = measures.Tape{Layers: 1, Thickness: 0.15}
		s := of(t, bucktest.Knife(t, bucktest.Strip(), spec), measures.Plain)
		seen := 0
		for _, e := range s.Eyelets {
			if e.At.X < 15 || e.At.X > 85 || e.At.Y < 24 {
				continue
			}
			seen++
			// It lies on the grid, never nearer.
			if far := e.At.Y - 24; far < want-0.001 || far > want+layout.Grid || e.Governs != layout.Spine || math.Abs(e.Need-want) > 6e-4 {
				t.Errorf("sheet %g: an eyelet %.4f mm from the spine, need %.4f by %q, want %.3f", sheet, far, e.Need, e.Governs, want)
			}
		}
		if seen < 2 {
			t.Errorf("sheet %g: %d eyelets beside the spine", sheet, seen)
		}
	}
}

// TestSpread checks the worked case: 420 mm at 32 mm at the most is 14 holes at 30.000 mm on a closed line, one
// more on an open one.
func TestSpread(t *testing.T) {
	for _, c := range []struct {
		length, most float64
		steps        int
		pitch        float64
	}{{420, 32, 14, 30}, {420, 30, 14, 30}, {96, 32, 3, 32}, {96.001, 32, 4, 24.00025}, {5, 32, 1, 5}, {0, 32, 0, 0}} {
		n, pitch := layout.Spread(c.length, c.most)
		if n != c.steps || math.Abs(pitch-c.pitch) > 1e-9 {
			t.Errorf("%g at %g: %d steps of %.4f, want %d of %.4f", c.length, c.most, n, pitch, c.steps, c.pitch)
		}
	}
}

// TestDemos checks, on what the demos' layouts came to and by brute force: no eyelet nearer to the blade, the
// handle or the edge than its section demands; none nearer to the trim line than its flange and rim;
// even and not too wide a pitch; a trim line that does not cross itself, that the cutter reaches all of, straight at
// the mouth and open at the drain.
func TestDemos(t *testing.T) {
	for _, name := range bucktest.Demos() {
		t.Run(name, func(t *testing.T) {
			s := demo(t, name, nil)
			if len(s.Warnings) > 0 {
				t.Errorf("warnings: %q", s.Warnings)
			}
			if len(s.Runs) != 2 || s.Runs[0].Side != "edge" || s.Runs[1].Side != "spine" {
				t.Fatalf("runs %+v", s.Runs)
			}
			clear, margin := s.Knife.Spec.Eyelet.Flange/2+s.Knife.Spec.Layout.Rim, 1.25*s.Knife.Spec.Eyelet.Hole
			for i, e := range s.Eyelets {
				if far, need := nearest(s.Knife, e.At); far < need-0.005 {
					t.Errorf("eyelet %d at %v is %.3f mm from the knife where %.3f is asked for", i+1, e.At, far, need)
				}
				rim := s.Trim.Distance(e.At)
				if !s.Trim.Contains(e.At) || rim < clear || rim < margin || math.Abs(rim-e.Edge) > 1e-9 {
					t.Errorf("eyelet %d is %.4f mm from the trim line (said: %.4f)", i+1, rim, e.Edge)
				}
			}
			pitches(t, s)
			trimmed(t, s)
		})
	}
}

// nearest is how far p is from the knife, and how far it has to be, at the place of the knife where the two are
// least apart. It uses nothing of the layout.
func nearest(k *pieces.Buck, p r2.Vec) (far, need float64) {
	s := k.Spec
	reach := max(s.Eyelet.Flange, s.Eyelet.Die)/2 + s.Layout.Clearance
	far = math.Inf(1)
	slack := math.Inf(1)
	look := func(q r2.Vec, asks float64) {
		if d := r2.Norm(r2.Sub(p, q)); d-asks < slack {
			far, need, slack = d, asks, d-asks
		}
	}
	for _, q := range dense(k.Plan.Outline.Path()) {
		if k.ZoneAt(q) == knives.OnHandle {
			continue
		}
		half := k.BladeHalf(q)
		if r2.Norm(r2.Sub(q, k.Plan.Tip)) >= s.Tape.TipGap {
			half += s.Tape.Total()
		}
		look(q, reach+measures.Fold{Half: half, Sheet: s.Sheet.Thickness, Edge: 0.2, DraftDeg: 5}.Contact())
	}
	for _, q := range dense(k.Plan.Handle.Path()) {
		f := measures.Fold{Half: s.Handle.Thickness / 2, Sheet: s.Sheet.Thickness, Edge: s.Handle.Rounding, DraftDeg: 5}
		look(q, reach+f.Contact())
	}
	for _, q := range dense(k.Plan.Edge) {
		look(q, s.Layout.EdgeGuard+s.Eyelet.Hole/2)
	}
	return far, need
}

// dense are points of a path a tenth of a mm apart.
func dense(p profile.Path) []r2.Vec {
	var all []r2.Vec
	for _, s := range p {
		n := math.Ceil(10 * s.Length())
		for i := range int(n) {
			all = append(all, s.At(float64(i)/n))
		}
	}
	return all
}

// pitches checks that the eyelets of a run are evenly spaced.
func pitches(t *testing.T, s *layout.Sheath) {
	t.Helper()
	i := 0
	for _, r := range s.Runs {
		if r.Pitch > s.Knife.Spec.Layout.Pitch || math.Abs(r.Pitch*float64(r.Count-1)-r.Length) > 1e-6 {
			t.Errorf("run %+v", r)
		}
		for k := range r.Count {
			e := s.Eyelets[i+k]
			if e.Side != r.Side || math.Abs(e.Along-float64(k)*r.Pitch) > 1e-6 {
				t.Errorf("eyelet %d of the %s lies %.4f mm along", k, r.Side, e.Along)
			}
			if k == 0 {
				continue
			}
			// Either of the two was moved onto the grid, by no more than its diagonal.
			if chord := r2.Norm(r2.Sub(e.At, s.Eyelets[i+k-1].At)); chord > r.Pitch+2*math.Sqrt2*layout.Grid || chord < 0.9*r.Pitch {
				t.Errorf("eyelets %d and %d of the %s are %.3f mm apart at a pitch of %.3f", k-1, k, r.Side, chord, r.Pitch)
			}
		}
		i += r.Count
	}
	if i != len(s.Eyelets) {
		t.Errorf("%d eyelets in runs, %d in all", i, len(s.Eyelets))
	}
}

func trimmed(t *testing.T, s *layout.Sheath) {
	t.Helper()
	if why := selfCrossing(s.Trim); why != nil {
		t.Error(why)
	}
	if s.Trim.Area() < s.Knife.Plan.Outline.Area()/4 {
		t.Errorf("area %.1f", s.Trim.Area())
	}
	// A cutter beside any point of the line touches it nowhere else.
	radius := s.Knife.Spec.Mill.Cutter/2 + s.Knife.Spec.Mill.Allowance
	for _, seg := range s.Trim {
		for _, at := range []float64{0.25, 0.5, 0.75} {
			along := seg.Tangent(at)
			centre := r2.Add(seg.At(at), r2.Scale(radius, r2.Vec{X: along.Y, Y: -along.X}))
			if far := s.Trim.Distance(centre); far < radius-0.02 {
				t.Errorf("a cutter of radius %.3f mm at %v cuts in by %.3f mm", radius, centre, radius-far)
			}
		}
	}
	if b := s.Trim.Bounds(); math.Abs(b.Min.X) > 0.01 {
		t.Errorf("the trim line begins at x %.4f", b.Min.X)
	}
	if m := r2.Sub(s.Mouth[1], s.Mouth[0]); math.Abs(m.X) > 0.01 || m.Y < 30 {
		t.Errorf("mouth from %v to %v", s.Mouth[0], s.Mouth[1])
	}
	if wide := r2.Norm(r2.Sub(s.Outlet[0], s.Outlet[1])); wide < s.Knife.Spec.Drain.Diameter {
		t.Errorf("outlet %.2f mm wide", wide)
	}
}

// selfCrossing lets simplefeatures judge a loop.
func selfCrossing(l profile.Loop) error {
	var flat []float64
	points := l.Flatten(0.005)
	for _, p := range append(points, points[0]) {
		flat = append(flat, p.X, p.Y)
	}
	ring := geom.NewLineString(geom.NewSequence(flat, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{ring}).Validate()
}

// TestAgainstClosing compares where the sheets lie flat with the level at which a ball, rolled over all of the
// buck, comes down to the middle plane. The ball knows nothing of edges' radii, which bring the sheet in by
// 0.1 mm, and its cells are 0.2 mm wide.
func TestAgainstClosing(t *testing.T) {
	if testing.Short() {
		t.Skip("rolls a ball over a whole knife")
	}
	k := bucktest.DemoKnife(t, "thistle")
	on, err := path.Made(k, measures.Both)
	if err != nil {
		t.Fatal(err)
	}
	study := path.New(on, path.Options{Step: 0.2})
	s := of(t, k, measures.Both)
	at := func(p r2.Vec) float64 {
		return max(study.Faces[0].Cavity.Height(p), study.Faces[1].Cavity.Height(p))
	}
	looked := 0
	for i := range 2 * len(s.Fold) {
		seg, share := s.Fold[i/2], 0.25+0.5*float64(i%2)
		p := seg.At(share)
		if p.X < 2 || r2.Norm(r2.Sub(p, k.Plan.Tip)) < 14 {
			continue // before the mouth there is no sheath; the drain has its own line
		}
		looked++
		out := r2.Vec{X: seg.Tangent(share).Y, Y: -seg.Tangent(share).X}
		if z := at(r2.Add(p, r2.Scale(0.45, out))); z > 0.01 {
			t.Errorf("0.45 mm outside the fold at %v the sheet is still %.3f mm high", p, z)
		}
		if z := at(r2.Add(p, r2.Scale(-0.9, out))); z < 0.01 {
			t.Errorf("0.9 mm inside the fold at %v the sheet lies flat", p)
		}
	}
	if looked < 80 {
		t.Errorf("%d places looked at", looked)
	}
}

// TestBesideDrain: beside the tip, where the plug laps over the blade and stands out beside it, no
// flange comes nearer to where the sheets part than was asked for, as the ball that is rolled over the
// whole buck finds it. Flanges were as much as 4.6 mm over that line.
func TestBesideDrain(t *testing.T) {
	for name, change := range map[string]func(*measures.Spec){
		"minnow":  nil,
		"thistle": func(s *measures.Spec) { s.Drain.Diameter, s.Drain.Lap, s.Drain.CantDeg = 10, 20, 20 },
	} {
		k := knife(t, name, change)
		s := of(t, k, measures.Plain)
		on, err := path.Made(k, measures.Plain)
		if err != nil {
			t.Fatal(err)
		}
		const cell, round = 0.2, 30
		room := r2.Vec{X: 50, Y: 40}
		box := r2.Box{Min: r2.Sub(k.Plan.Tip, room), Max: r2.Add(k.Plan.Tip, room)}
		cavity := path.New(on, path.Options{Step: cell, Box: &box}).Faces[0].Cavity
		looked := 0
		for _, e := range s.Eyelets {
			if r2.Norm(r2.Sub(e.At, k.Plan.Tip)) > round {
				continue
			}
			looked++
			free := math.Inf(1)
			for n, z := range cavity.Z {
				if z > 0.02 {
					free = min(free, r2.Norm(r2.Sub(cavity.At(n), e.At))-k.Spec.Eyelet.Flange/2)
				}
			}
			if free < k.Spec.Layout.Clearance-cell/2 {
				t.Errorf("%s: the flange at %v is %.2f mm from where the sheets part", name, e.At, free)
			}
		}
		if looked < 2 {
			t.Errorf("%s: %d eyelets beside the drain", name, looked)
		}
	}
}

// TestHands checks that hands differ in their posts only.
func TestHands(t *testing.T) {
	k := bucktest.DemoKnife(t, "otter")
	right, both, plain := of(t, k, measures.Right), of(t, k, measures.Both), of(t, k, measures.Plain)
	if len(right.Posts) != 2 || len(both.Posts) != 4 || len(plain.Posts) != 0 {
		t.Errorf("%d, %d and %d posts", len(right.Posts), len(both.Posts), len(plain.Posts))
	}
	for _, p := range right.Posts {
		if p.Face != measures.LeftFace || p.Hand != measures.Right {
			t.Errorf("%+v", p)
		}
	}
	if far := r2.Norm(r2.Sub(right.Posts[0].At, right.Posts[1].At)); math.Abs(far-k.Spec.Plate.PostSpacing) > 1e-9 {
		t.Errorf("posts %.4f mm apart in the cold sheath", far)
	}
	if !reflect.DeepEqual(right.Eyelets, both.Eyelets) || !reflect.DeepEqual(right.Trim, both.Trim) {
		t.Error("the eyelets or the trim line of a sheath for both hands are others")
	}
}

// TestTwoBosses checks that each boss of a face has its posts, as far apart as its own plate's, that no eyelet stands under
// a clip and that none comes nearer to a boss than its fold allows.
func TestTwoBosses(t *testing.T) {
	v, plan := bucktest.Demo(t, "thistle")
	k := bucktest.Knife(t, plan, bucktest.TwoBosses(v.Spec))
	s := of(t, k, measures.Right)
	bosses, err := pieces.NewStandoffs(k)
	if err != nil || len(s.Posts) != 4 {
		t.Fatalf("%d posts, %v", len(s.Posts), err)
	}
	for i, b := range bosses {
		p, q := s.Posts[2*i].At, s.Posts[2*i+1].At
		if far := r2.Norm(r2.Sub(p, q)); math.Abs(far-b.Plate.PostSpacing) > 1e-9 {
			t.Errorf("boss %s: posts %.4f mm apart", b.Title(), far)
		}
		for _, e := range s.Eyelets {
			if far := b.Foot().Distance(e.At); far < v.Spec.Eyelet.Flange/2+v.Spec.Sheet.Thickness {
				t.Errorf("boss %s: an eyelet is %.2f mm from its foot", b.Title(), far)
			}
		}
	}
}

// TestSame checks that a layout done again is the same.
func TestSame(t *testing.T) {
	as := func(*measures.Spec) {}
	a, b := demo(t, "minnow", as), demo(t, "minnow", as)
	a.Knife, b.Knife = nil, nil
	if !reflect.DeepEqual(a.Eyelets, b.Eyelets) || !reflect.DeepEqual(a.Trim, b.Trim) || a.Blank != b.Blank {
		t.Error("two layouts of one knife differ")
	}
}

// TestDemands checks that each measure moves what it should.
func TestDemands(t *testing.T) {
	size.Long(t)
	plain := demo(t, "thistle", nil)
	guarded := demo(t, "thistle", func(s *measures.Spec) { s.Layout.EdgeGuard = 8 })
	for _, e := range guarded.Eyelets {
		if far := guarded.Knife.Plan.Edge.Distance(e.At); far < 8+guarded.Knife.Spec.Eyelet.Hole/2-0.004 {
			t.Errorf("an eyelet's centre %.3f mm from the edge", far)
		}
	}
	if !(guarded.Trim.Area() > plain.Trim.Area()) {
		t.Error("a wider guard makes no larger sheath")
	}
	thick := demo(t, "thistle", func(s *measures.Spec) { s.Sheet.Thickness = 3 })
	if !(thick.Trim.Area() > plain.Trim.Area()) {
		t.Error("a thicker sheet makes no larger sheath")
	}
	close := demo(t, "thistle", func(s *measures.Spec) { s.Layout.Pitch = 20 })
	if len(close.Eyelets) <= len(plain.Eyelets) || !reflect.DeepEqual(close.Line, plain.Line) {
		t.Errorf("%d eyelets at 20 mm, %d at 32 mm", len(close.Eyelets), len(plain.Eyelets))
	}
	short := demo(t, "thistle", func(s *measures.Spec) { s.Drain.Length = 10 })
	if len(short.Warnings) != 1 || !strings.HasPrefix(short.Warnings[0], "drain.length: ") {
		t.Errorf("a drain of 10 mm: %q", short.Warnings)
	}
}

// TestBlank checks the blank's sums, and that a sheet extruded the other way is longer the other way.
func TestBlank(t *testing.T) {
	size.Long(t)
	along := demo(t, "thistle", nil)
	across := demo(t, "thistle", func(s *measures.Spec) { s.Layout.Extrusion = measures.Across })
	a, c := along.Blank, across.Blank
	size := along.Trim.Bounds().Size()
	length := size.X + 2*a.Handling + a.DrawnIn[2]
	width := size.Y + 2*a.Handling + a.DrawnIn[0] + a.DrawnIn[1]
	for _, v := range [][2]float64{
		{a.Box.Size().X, a.Length},
		{a.Box.Size().Y, a.Width},
		{c.Box.Size().X, c.Length},
		{c.Box.Size().Y, c.Width},
		{a.Length, 1.03 * length},
		{a.Width, width},
		{a.TurnedLength, length},
		{a.TurnedWidth, 1.03 * width},
		{c.Length, length},
		{c.Width, 1.03 * width},
		{c.TurnedLength, 1.03 * length},
		{c.TurnedWidth, width},
	} {
		if math.Abs(v[0]-v[1]) > 1e-9 {
			t.Errorf("%.4f, want %.4f", v[0], v[1])
		}
	}
}

// TestPins checks that the pins are eyelets, far apart, and that the third has no hole to go into when a half lies the
// wrong way.
func TestPins(t *testing.T) {
	s := demo(t, "otter", nil)
	if len(s.Pins) != 3 || s.Pins[0].Check || s.Pins[1].Check || !s.Pins[2].Check {
		t.Fatalf("pins %+v", s.Pins)
	}
	for _, p := range s.Pins {
		if s.Eyelets[p.Eyelet].At != p.At || math.Abs(p.Diameter-6.3) > 1e-9 {
			t.Errorf("%+v", p)
		}
	}
	a, b, c := s.Pins[0].At, s.Pins[1].At, s.Pins[2].At
	if far := r2.Norm(r2.Sub(a, b)); far < 100 {
		t.Errorf("pins %.1f mm apart", far)
	}
	turned := r2.Sub(r2.Add(a, b), c)
	for _, e := range s.Eyelets {
		if r2.Norm(r2.Sub(e.At, turned)) < 2 {
			t.Errorf("turned round, the check pin goes into the hole at %v", e.At)
		}
	}
}
