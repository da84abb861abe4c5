package program_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"formbuck/buck/program"
	"formbuck/buck/program/ngc"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// prove reads and proves a text.
func prove(text string) (*program.Proof, error) {
	p, err := ngc.Read("a.ngc", strings.NewReader(text))
	if err != nil {
		return nil, err
	}
	return program.Prove(p)
}

func drillText(t *testing.T) string {
	t.Helper()
	p, err := program.Drill(pair(), program.DrillOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return string(p.Text)
}

func trimText(t *testing.T) string {
	t.Helper()
	p, err := program.Trim(setup(), program.TrimOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return string(p.Text)
}

// Programs that were altered are refused, each with the line that was altered: LINE in want stands for the
// number of the line in which the new text begins.
func TestProveRefuses(t *testing.T) {
	drill, trim := drillText(t), trimText(t)
	const finish = "(finish)\nG0 X91.825 Y66.35\n"
	for _, c := range []struct{ name, text, old, new, want string }{
		{"beside a hole", drill, "G83 X60 Y52 ", "G83 X60.2 Y52 ", "drills at (60.200, 52.000) mm, 0.200 mm beside the nearest hole"},
		{"where no hole is", drill, "G83 X60 Y52 ", "G83 X80 Y20 ", "drills at (80.000, 20.000) mm, 37.736 mm beside the nearest hole"},
		{"drill sideways", drill, "G80\n", "G1 X50 Y52 Z-1\n", "feeds a drill sideways, below the safe height"},
		{"through the board", drill, "X60 Y52 Z-2.9077", "X60 Y52 Z-12.5", "goes down to Z -12.5 mm, through the board of 12 mm"},
		{"low between holes", drill, "G83 X60 Y52 Z-2.9077", "G99 G83 X60 Y52 Z-2.9077", "rapid across the work at Z 6.8 mm, below the safe height, Z 20 mm"},
		{"rapid into the sheet", drill, "G80\n", "G0 X60 Y52\nG0 Z1\n", "rapid down to Z 1 mm, and the work is up to Z 4.8 mm high there"},
		{"start under the sheet's face", drill, "X60 Y52 Z-2.9077 R6.8", "X60 Y52 Z-2.9077 R2", "rapid down to Z 2 mm, and the work is up to Z 4.8 mm high there"},
		{"standing spindle", drill, "S2500 M3\n", "S2500\n", "feeds with the spindle standing"},
		{"another tool", drill, "\nT1 M6\n", "\nT3 M6\n", "tool T3 is in use, and the set-up is for T1"},
		{"R below Z", drill, "X60 Y52 Z-2.9077 R6.8", "X60 Y52 Z-2.9077 R-4", "R, at -4.0000 mm, is below Z, at -2.9077 mm"},
		{"no pecks", drill, "X60 Y52 Z-2.9077 R6.8 Q3.175", "X60 Y52 Z-2.9077 R6.8 Q-1", "Q-1 is no depth of a peck"},
		{"hole left out", drill, "(SET-UP HOLE X60 Y52", "(SET-UP HOLE X60 Y50", "the hole at (60.000, 50.000) mm is not drilled through"},
		{"not deep enough", drill, "X60 Y52 Z-2.9077", "X60 Y52 Z-1.8", "not drilled through"},
		{"ends low", drill, "G80\nG0 Z20\n", "G80\nG0 Z20\nG0 X60 Y52\nG0 Z5\n", "the program ends at Z 5 mm, below the safe height"},
		{"lower safe height", drill, "\nG0 Z20\nT1 M6", "\nG0 Z16\nT1 M6", "the first motion has to go straight to the safe height, Z 20 mm, and does not"},
		{"across first", drill, "\nG0 Z20\nT1 M6", "\nG0 X0 Y0\nG0 Z20\nT1 M6", "the first motion has to go straight to the safe height, Z 20 mm, and does not"},

		{"into the line", trim, "G1 X6 Y-3.175\n", "G1 X6 Y-3.165\n", "cuts 0.010 mm into the sheath: the middle of the cutter is 3.165 mm from its line, and the radius is 3.175 mm"},
		{"through the sheath", trim, finish, "(finish)\nG0 X91.825 Y66.35\nG0 Z4.4\nG1 X95 Y30 Z-0.3 F500\nG0 Z20\nG0 X91.825 Y66.35\n", "into the sheath"},
		{"arc the other way", trim, "G2 X193.175 Y54 I0 J-9.175", "G3 X193.175 Y54 I0 J-9.175", "into the sheath"},
		{"arc's centre moved", trim, "G2 X193.175 Y54 I0 J-9.175", "G2 X193.175 Y54 I0.001 J-9.178", "the arc begins 9.1780 mm from its centre and ends 9.1740 mm from it; 0.0020 mm may lie between"},
		{"through an eyelet", trim, finish, "(finish)\nG0 X60 Y52\nG0 Z14\nG1 Z0 F100\nG0 Z20\nG0 X91.825 Y66.35\n", "runs 6.350 mm into the hole at (60.000, 52.000) mm"},
		{"into a pin", trim, finish, "(finish)\nG0 X20 Y52\nG0 Z14\nG1 Z3 F100\nG0 Z20\nG0 X91.825 Y66.35\n", "the tool runs 7.925 mm into pin 1, at (20.000, 52.000) mm"},
		{"into a clamp", trim, finish, "(finish)\nG0 X88 Y-20\nG0 Z4\nG0 Z20\nG0 X91.825 Y66.35\n", "the tool runs 1.175 mm into clamp 1, from (90.000, -40.000) mm on"},
		{"round a clamp", trim, finish, "(finish)\nG0 X80 Y-30\nG0 Z4\nG1 X130 F500\nG0 Z20\nG0 X91.825 Y66.35\n", "the tool runs 3.175 mm into clamp 1"},
		{"low over the work", trim, finish, "(finish)\nG0 Z10\nG0 X91.825 Y66.35\n", "rapid across the work at Z 10 mm, below the safe height, Z 20 mm"},
		{"rapid into the rim", trim, "Y66.35\nG0 Z4.4\n", "Y66.35\nG0 Z1\n", "rapid down to Z 1 mm, and the work is up to Z 2.4 mm high there"},
		{"rapid into the form", trim, finish, "(finish)\nG0 X95 Y30\nG0 Z4.4\nG0 Z20\nG0 X91.825 Y66.35\n", "rapid down to Z 4.4 mm, and the work is up to Z 14 mm high there"},
		{"relative after all", trim, "(finish)\n", "(finish)\nG91\n", "the arc begins 3.1750 mm from its centre and ends 111.4581 mm from it; 0.0020 mm may lie between"},
		{"larger cutter", trim, "(SET-UP CUTTER T2 D6.35 FLUTES N1 LENGTH L25.4)", "(SET-UP CUTTER T2 D6.4 FLUTES N1 LENGTH L25.4)", "into the sheath: the middle of the cutter is 3.175 mm from its line, and the radius is 3.200 mm"},
		{"smaller cutter", trim, "(SET-UP CUTTER T2 D6.35 FLUTES N1 LENGTH L25.4)", "(SET-UP CUTTER T2 D6.2 FLUTES N1 LENGTH L25.4)", "the sheath's line is not cut all round: 0.075 mm are left standing"},
		{"too high", trim, "\nG1 Z-0.3 F510", "\nG1 Z0.3 F510", "not cut all round"},

		{"corners cut at will", trim, "G64 P0.004", "G64", "G64 without P: the machine may cut corners as far as it likes; P up to 0.005 mm is proved, or G61"},
		{"corners cut", trim, "G64 P0.004", "G64 P0.05", "G64 lets the machine leave the path by 0.05 mm, and the proof leaves it 0.005 mm: a smaller P, or G61"},
		{"corners cut later", trim, "(finish)\n", "(finish)\nG64\n", "G64 without P"},
		{"corners cut later by much", trim, "(finish)\n", "(finish)\nG64 P1\n", "G64 lets the machine leave the path by 1 mm"},
		{"tool only called", trim, "T2 M6", "T2", "T2 is called and not put in: M6 is missing before the tool goes down"},
		{"another tool called", trim, "(finish)\n", "(finish)\nT5\n", "calls tool T5, and the set-up is for T2"},
		{"no height after a change", trim, "T2 M6\nG0 Z20\n", "T2 M6\n", "the first motion after M6 has to go straight to the safe height, Z 20 mm, and does not"},
		{"change in the work", drill, "G80\n", "G80\nG0 X60 Y52\nG0 Z5\nM5 M6\nG0 Z20\n", "changes the tool before it is at the safe height, Z 20 mm"},
		{"change while turning", drill, "G80\n", "G80\nT1 M6\nG0 Z20\n", "changes the tool with the spindle turning: M5 before it"},
		{"start in the work", trim, "Y66.35\nG0 Z4.4\n", "Y66.35\nM5\nG0 Z4.4\nS12000 M3\n", "starts the spindle before the tool is at the safe height, Z 20 mm"},
		{"start too early", trim, "G54 G64 P0.004\n", "G54 G64 P0.004\nS12000 M3\n", "starts the spindle before the tool is at the safe height, Z 20 mm"},
		{"stop in the work", trim, "Y66.35\nG0 Z4.4\n", "Y66.35\nG0 Z4.4\nM5\n", "stops the spindle before the tool is at the safe height, Z 20 mm"},
		{"low beside the stock", trim, finish, "(finish)\nG0 X240 Y50\nG0 Z4.4\nG0 Z20\nG0 X91.825 Y66.35\n", "beside the stock at Z 4.4 mm, below the safe height, Z 20 mm: what stands there is not stated"},
		{"low across beside the work", trim, finish, "(finish)\nG0 X225 Y90\nG0 Z4.4\nG0 X228\nG0 Z20\nG0 X91.825 Y66.35\n", "rapid across the work at Z 4.4 mm, below the safe height, Z 20 mm"},
		{"plunge as fast as along", trim, "G1 Z-0.3 F510", "G1 Z-0.3 F1530", "goes down at 1530 mm/min, and at most 510 are stated"},
		{"a rapid by another name", trim, "G1 Z-0.3 F510", "G1 Z-0.3 F20000", "feeds at 20000 mm/min, and at most 1530 are stated"},
		{"a ramp too fast", trim, finish, "(finish)\nG0 X-30 Y90\nG0 Z4.4\nG1 X-29 Z1.4 F1500\nG0 Z20\nG0 X91.825 Y66.35\n", "goes down at 1423.02 mm/min, and at most 510 are stated"},
		{"feed over what is stated", trim, "\nF1530\n", "\nF1600\n", "feeds at 1600 mm/min, and at most 1530 are stated"},
		{"drill fed too fast", drill, "\nF250\n", "\nF300\n", "feeds at 300 mm/min, and at most 250 are stated"},
		{"spindle too slow", trim, "S12000 M3", "S3000 M3", "feeds at 3000 rpm, and at least 12000 are stated"},
		{"spindle slowed down", trim, "(finish)\n", "(finish)\nS500\n", "feeds at 500 rpm, and at least 12000 are stated"},
		{"spindle too fast", trim, "S12000 M3", "S30000 M3", "feeds at 30000 rpm, and the machine does at most 24000"},
		{"rates no cutter takes", trim, "SPEED S12000 FEED F1530", "SPEED S1500 FEED F1530", "1.020 mm per tooth: at most 0.254 are advised"},
		{"rates over the machine", trim, "SPEED S24000 FEED F5000", "SPEED S24000 FEED F1000", "a feed of 1530 mm/min, and the machine does at most 1000"},
		{"pass too deep", trim, "PASS DEPTH Z3.175", "PASS DEPTH Z2", "mm down at once at ("},
		{"passes no cutter takes", trim, "PASS DEPTH Z3.175", "PASS DEPTH Z30", "a pass takes 30 mm down: at most half of the cutter's 6.35 mm is advised"},
		{"no rough pass", trim, "(rough, pass 1 of 1)\n", "(rough, pass 1 of 1)\nM5 M2\n(", "comment is not closed"},
		{"units left open", trim, "G21 G17", "G17", "G20 or G21"},
		{"plane left open", trim, " G17 ", " ", "moves before the program has said G17"},
		{"compensations left open", drill, " G40 G49 ", " ", "moves before the program has set G40, G49: as the machine was left they may be otherwise"},
		{"arcs left open", drill, " G91.1 ", " ", "moves before the program has set G91.1"},
		{"zero and path left open", drill, " G54 G64 P0.004", "", "moves before the program has set G54, G61"},
		{"relative later", drill, "G80\n", "G80\nG91\n", "G91 counts from where the tool is: a program that is proved stays in G90"},
		{"message", drill, "G80\n", "G80\n(MSG, turn it over)\n", "controls carry out a comment that begins with MSG; write it otherwise"},
		{"nothing holds the sheath", trim, " WASHER D9.5", "", "nothing holds the sheath down once it is cut free"},
		{"nothing holds the work", trim, "(SET-UP CLAMP", "(CLAMP", "nothing holds the work down: there is neither a clamp nor vacuum"},
		{"dwell with the spindle standing", drill, "S2500 M3\n", "S2500\nG4 P1\n", "feeds with the spindle standing"},

		{"no tool", trim, "(SET-UP CUTTER T2 D6.35 FLUTES N1 LENGTH L25.4)\n", "", "nothing can be proved: the set-up comment DRILL T D POINT A or CUTTER T D FLUTES N LENGTH L is missing"},
		{"no safe height", trim, "(SET-UP SAFE Z20)\n", "", "nothing can be proved: the set-up comment SAFE Z is missing"},
		{"garbled set-up", trim, "SAFE Z20", "SAFE Z2O", "set-up comment that cannot be read; the forms are DRILL T D POINT A, "},
		{"stated twice", trim, "(SET-UP SAFE Z20)\n", "(SET-UP SAFE Z20)\n(SET-UP SAFE Z5)\n", "stated twice: SAFE Z"},
		{"stated late", trim, "(finish)\n", "(SET-UP CLAMP FROM X0 Y0 TO X1 Y1 TOP Z1)\n", "a set-up comment after the first motion"},
		{"open line", trim, "(SET-UP LINE TO X0 Y6 BULGE B0)\n", "", "the sheath's line is not closed, or does not run counter-clockwise"},
		{"no line at all", trim, "(SET-UP LINE", "(LINE", "cuts, and the set-up states no line of the sheath to keep off"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(c.text, c.old) {
				t.Fatalf("the program holds no %q", c.old)
			}
			n := 1
			if strings.HasPrefix(c.old, "(SET-UP LINE") || c.name == "too high" || strings.HasPrefix(c.old, " WASHER") {
				n = -1
			}
			_, err := prove(strings.Replace(c.text, c.old, c.new, n))
			var faults ngc.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("proved; want: %s", c.want)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("\n     %v\nwant %s", err, c.want)
			}
			if faults[0].Line == 0 && !strings.Contains(c.want, "is missing") {
				t.Errorf("no line: %v", faults[0])
			}
		})
	}
}

// The line of the fault is the altered one.
func TestProveLine(t *testing.T) {
	text := trimText(t)
	const old = "G1 X6 Y-3.175\n"
	line := strings.Count(text[:strings.Index(text, old)], "\n") + 1
	_, err := prove(strings.Replace(text, old, "G1 X6 Y-3.1\n", 1))
	if want := fmt.Sprintf("a.ngc:%d: cuts 0.075 mm into the sheath", line); err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("\n     %v\nwant %s", err, want)
	}
}

// Any coordinate of the trimming program moved by a tenth of a mm towards the sheath is found, and none of
// the program as it was written.
func TestProveFindsAnyMove(t *testing.T) {
	text := trimText(t)
	if _, err := prove(text); err != nil {
		t.Fatal(err)
	}
	line := sheath()
	lines := strings.Split(text, "\n")
	tried := 0
	for i, l := range lines {
		var x, y float64
		if i == 0 || !strings.HasPrefix(l, "G1 X") {
			continue
		}
		if n, _ := fmt.Sscanf(l, "G1 X%f Y%f", &x, &y); n != 2 {
			continue
		}
		at := r2.Vec{X: x, Y: y}
		if line.Distance(at) > 3.2 {
			continue // a roughing pass has room
		}
		to := line.Path()[0].A
		for _, s := range line {
			if q := s.Nearest(at); r2.Norm(r2.Sub(q, at)) < r2.Norm(r2.Sub(to, at)) {
				to = q
			}
		}
		moved := r2.Add(at, r2.Scale(0.1, r2.Unit(r2.Sub(to, at))))
		changed := append([]string{}, lines...)
		changed[i] = fmt.Sprintf("G1 X%.4f Y%.4f", moved.X, moved.Y)
		if _, err := prove(strings.Join(changed, "\n")); err == nil {
			t.Errorf("line %d: %s in place of %s proves", i+1, changed[i], l)
		}
		tried++
	}
	if tried < 6 {
		t.Errorf("only %d lines were tried", tried)
	}
}

// Any motion left out of a program is found, or changes nothing that matters: what is left still keeps off.
func TestProveFindsLostLines(t *testing.T) {
	for _, text := range []string{drillText(t), trimText(t)} {
		lines := strings.Split(text, "\n")
		for i, l := range lines {
			if !strings.HasPrefix(l, "G83 ") && !strings.HasPrefix(l, "G2 ") {
				continue
			}
			short := append(append([]string{}, lines[:i]...), lines[i+1:]...)
			_, err := prove(strings.Join(short, "\n"))
			if strings.HasPrefix(l, "G83 ") && err == nil {
				t.Errorf("a hole less proves: %s", l)
			}
			if strings.HasPrefix(l, "G2 ") && err == nil && i > strings.Count(text[:strings.Index(text, "(finish)")], "\n") {
				t.Errorf("an arc less proves: %s", l)
			}
		}
	}
}

// Arcs that bow by next to nothing are lines: their distance is that of the chords, which it was not in one case of
// five where their centres are far off.
func TestGapOfNearlyStraight(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	at := func() r2.Vec { return r2.Vec{X: 200 * random.Float64(), Y: 200 * random.Float64()} }
	for range 4000 {
		a, b := profile.Segment{A: at(), B: at()}, profile.Segment{A: at(), B: at()}
		want := program.Gap(a, b)
		a.Bulge = math.Pow(10, -6-9*random.Float64()) * (2*random.Float64() - 1)
		if random.IntN(2) == 0 {
			b.Bulge = math.Pow(10, -6-9*random.Float64())
		}
		if got := program.Gap(a, b); math.Abs(got-want) > 3e-4 {
			t.Fatalf("%v to %v: %v, and %v as lines", a, b, got, want)
		}
	}
}

// Honest programs prove that say no tool at all, dwell and cool, come from other systems, or keep the path exactly.
func TestProveTakes(t *testing.T) {
	for _, text := range []string{drillText(t), trimText(t)} {
		for _, change := range [][2]string{
			{"T1 M6\nG0 Z20\n", ""},
			{"T2 M6\nG0 Z20\n", ""},
			{"\nM5\n", "\nM9\nM5\n"},
			{" M3\n", " M3\nM7\nG4 P2.5\nM8\n"},
			{"\n", "\r\n"},
			{"G64 P0.004", "G61"},
			{"G64 P0.004", "G64 P0.004\nM5 M9"},
			{"\nF1530\n", "\nF1000\n"},
		} {
			if _, err := prove(strings.ReplaceAll(text, change[0], change[1])); err != nil {
				t.Errorf("%q for %q: %v", change[1], change[0], err)
			}
		}
	}
	s := setup()
	s.NoChange = true
	p, err := program.Trim(s, program.TrimOptions{})
	if err != nil || strings.Contains(string(p.Text), "\nT2") || strings.Contains(string(p.Text), "M6") {
		t.Errorf("for a machine without M6: %v", err)
	}
}

// gaps of random lines and arcs against the least distance of points along them. The exact one is never
// more than the sampled one, and less by what lies between two samples at most.
func TestGap(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	some := func() profile.Segment {
		at := func() r2.Vec { return r2.Vec{X: 20 * random.Float64(), Y: 20 * random.Float64()} }
		s := profile.Segment{A: at(), B: at()}
		if random.IntN(3) > 0 {
			s.Bulge = 3 * (random.Float64() - 0.5)
		}
		return s
	}
	for range 500 {
		a, b := some(), some()
		const n = 1000
		sampled := math.Inf(1)
		for i := range n + 1 {
			sampled = min(sampled, b.Distance(a.At(float64(i)/n)))
		}
		got := program.Gap(a, b)
		if got > sampled+1e-9 || got < sampled-a.Length()/n {
			t.Fatalf("%v to %v: %v, sampled %v", a, b, got, sampled)
		}
	}
}

// FuzzProve holds that no program makes a proof fall over.
func FuzzProve(f *testing.F) {
	for _, make := range []func() (*program.Program, error){
		func() (*program.Program, error) { return program.Drill(pair(), program.DrillOptions{}) },
		func() (*program.Program, error) { return program.Trim(setup(), program.TrimOptions{}) },
	} {
		p, err := make()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(p.Text))
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ngc.Read("a.ngc", strings.NewReader(text))
		if err != nil || len(p.Motions) > 2000 {
			return
		}
		if _, err = program.Prove(p); err != nil {
			var faults ngc.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("no fault of a line: %v", err)
			}
		}
	})
}
