package ngc_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/program/ngc"

	"gonum.org/v1/gonum/spatial/r3"
)

const head = "G21 G17 G90 G94 G40 G49 G80 G54 G64 P0.01 G98\nF100 S1000 M3\n"

// read reads a program that must be sound.
func read(t *testing.T, text string) *ngc.Program {
	t.Helper()
	p, err := ngc.Read("a.ngc", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// told is each motion as a word and where it leads.
func told(motions []ngc.Motion) string {
	var b strings.Builder
	for _, m := range motions {
		fmt.Fprintf(&b, "%s %g %g %g\n", m.Kind, round(m.To.X), round(m.To.Y), round(m.To.Z))
	}
	return b.String()
}

func round(x float64) float64 { return math.Round(x*1e9) / 1e9 }

// The two worked examples of canned cycles of the machine controllers' manuals (the controller of Debian's
// linuxcnc-uspace, G-code manual, G81; after NIST IR 6556, 3.5.16.2), and what follows from the rules
// there for pecks, which go back to 0.254 mm over the last bottom.
func TestCycles(t *testing.T) {
	for _, c := range []struct{ name, block, want string }{
		{"example 1", "G90 G98 G81 X4 Y5 Z1.5 R2.8", "rapid 4 5 3\nrapid 4 5 2.8\nfeed 4 5 1.5\nrapid 4 5 3\n"},
		{
			"example 2", "G91 G98 G81 X4 Y5 Z-0.6 R1.8 L3",
			"rapid 1 2 4.8\n" +
				"rapid 5 7 4.8\nfeed 5 7 4.2\nrapid 5 7 4.8\n" +
				"rapid 9 12 4.8\nfeed 9 12 4.2\nrapid 9 12 4.8\n" +
				"rapid 13 17 4.8\nfeed 13 17 4.2\nrapid 13 17 4.8\n",
		},
		{"back to R", "G99 G81 X4 Y5 Z1.5 R2.8", "rapid 4 5 3\nrapid 4 5 2.8\nfeed 4 5 1.5\nrapid 4 5 2.8\n"},
		{"sticky", "G81 X4 Y5 Z1.5 R3\nX6", "rapid 4 5 3\nfeed 4 5 1.5\nrapid 4 5 3\nrapid 6 5 3\nfeed 6 5 1.5\nrapid 6 5 3\n"},
		{
			"pecks", "G83 X4 Y5 Z0 R2 Q0.8",
			"rapid 4 5 3\nrapid 4 5 2\nfeed 4 5 1.2\nrapid 4 5 2\nrapid 4 5 1.454\nfeed 4 5 0.4\nrapid 4 5 2\nrapid 4 5 0.654\nfeed 4 5 0\nrapid 4 5 3\n",
		},
		{"dwell", "G82 X4 Y5 Z0 R3 P1.5", "rapid 4 5 3\nfeed 4 5 0\ndwell 4 5 0\nrapid 4 5 3\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := read(t, head+"G0 X1 Y2 Z3\n"+c.block+"\nG80 M2\n")
			if got := told(p.Motions[1:]); got != c.want {
				t.Errorf("\n%swant\n%s", got, c.want)
			}
		})
	}
}

func TestMotions(t *testing.T) {
	for _, c := range []struct{ name, blocks, want string }{
		{"modal", "G1 X1\nY2\nZ-1 X0", "feed 1 0 0\nfeed 1 2 0\nfeed 0 2 -1\n"},
		{"order in the line does not count", "X1 G1 Y2", "feed 1 2 0\n"},
		{"small letters, no spaces", "g1x1y+2.z-.5", "feed 1 2 -0.5\n"},
		{"relative", "G91 G1 X1\nX1 Y-1\nG90 X1", "feed 1 0 0\nfeed 2 -1 0\nfeed 1 -1 0\n"},
		{"comments", "(one) G1 (two) X1 (three)\n; G1 X5\nG1 X2 ; X7", "feed 1 0 0\nfeed 2 0 0\n"},
		{"line numbers", "N10 G1 X1\nN10 X2", "feed 1 0 0\nfeed 2 0 0\n"},
		{"quarters", "G2 X1 Y1 I1\nG3 X2 Y2 J1", "clockwise 1 1 0\ncounter-clockwise 2 2 0\n"},
		{"helix", "G3 X2 Y0 Z-3 I1", "counter-clockwise 2 0 -3\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := read(t, head+"G0 X0 Y0 Z0\n"+c.blocks+"\nM30\n")
			if got := told(p.Motions[1:]); got != c.want {
				t.Errorf("\n%swant\n%s", got, c.want)
			}
			for i := 1; i < len(p.Motions); i++ {
				if p.Motions[i].From != p.Motions[i-1].To {
					t.Errorf("motion %d begins elsewhere than the one before ends", i)
				}
			}
		})
	}
}

// Lengths of arcs, in closed form.
func TestArcLength(t *testing.T) {
	for _, c := range []struct {
		block string
		want  float64
	}{
		{"G2 X1 Y1 I1", math.Pi / 2},
		{"G3 X1 Y1 I1", 3 * math.Pi / 2},
		{"G2 I3", 6 * math.Pi},
		{"G3 J-3 Z4", math.Hypot(6*math.Pi, 4)},
		{"G2 X1 Y1 R1", math.Pi / 2},
		{"G3 X1 Y1 R1", math.Pi / 2},
		{"G2 X1 Y1 R-1", 3 * math.Pi / 2},
		{"G3 X2 Y0 R1", math.Pi},
	} {
		p := read(t, head+"G0 X0 Y0 Z0\n"+c.block+"\nM2\n")
		m := p.Motions[1]
		if got := m.Length(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s is %v mm long, want %v", c.block, got, c.want)
		}
		for _, s := range m.Path() {
			mid := s.At(0.5)
			if off := math.Hypot(mid.X-m.Centre.X, mid.Y-m.Centre.Y) - math.Hypot(m.Centre.X, m.Centre.Y); math.Abs(off) > 1e-12 {
				t.Errorf("%s: the path misses the circle by %v mm", c.block, off)
			}
		}
	}
}

func TestInches(t *testing.T) {
	p := read(t, "%\nG20 G17 G90 G94\nT3 M6 S2500 M3 F10\nG0 Z1\nG0 X0 Y0\nG1 X2 Z.5\nM5 M30\n%\n")
	last := p.Motions[2]
	if want := (r3.Vec{X: 50.8, Z: 12.7}); last.To != want || last.Feed != 254 || !p.Inch {
		t.Errorf("inches: %+v", last)
	}
	if last.Tool != 3 || last.Speed != 2500 || len(p.Tools) != 1 {
		t.Errorf("tool and spindle: %+v", last)
	}
	if first := p.Motions[0]; !math.IsNaN(first.From.X) || !math.IsNaN(first.To.X) || first.To.Z != 25.4 {
		t.Errorf("the first motion begins nowhere: %+v", first)
	}
}

// Each refusal has its line and column.
func TestRefusals(t *testing.T) {
	const start = head + "G0 X0 Y0 Z5\n" // three lines
	for _, c := range []struct{ name, text, want string }{
		{"unknown word", start + "G1 X1 A90\nM2", `a.ngc:4:7: "A" begins no word that is read here; the letters are NGMFSTXYZIJRPQL`},
		{"unknown G", start + "G38.2 Z0\nM2", "a.ngc:4:1: G38.2 is not read here; G0-4, 17, 20, 21, 40, 49, 54, 61, 64, 80-83, 90, 91, 91.1, 94, 98, 99 and M0, 2, 3, 5-9, 30 are"},
		{"compensation", start + "G41 D1\nM2", "a.ngc:4:1: G41 is not read here: cutter compensation is left to no machine: write the path of the tool's centre"},
		{"twice", start + "G1 X1 Y2 X3\nM2", "a.ngc:4:10: X is in the line twice, before at column 4"},
		{"two motions", start + "G0 G1 X1\nM2", "a.ngc:4:4: G0 and G1 exclude each other"},
		{"no number", start + "G1 X\nM2", `a.ngc:4:4: X is followed by no number that can be read: ""`},
		{"two points", start + "G1 X1.2.3\nM2", `a.ngc:4:4: X is followed by no number that can be read: "1.2.3"`},
		{"lone number", start + "G1 X1 2\nM2", "a.ngc:4:7: a number without a letter before it"},
		{"comment", start + "G1 X1 (open\nM2", "a.ngc:4:7: the comment is not closed"},
		{"nested comment", start + "(a (b) c)\nM2", "a.ngc:4:1: the comment is not closed"},
		{"parameter", start + "G1 X#1\nM2", `a.ngc:4:4: X is followed by no number that can be read: ""`},
		{"block delete", start + "/G1 X1\nM2", "a.ngc:4:1: block delete makes the line depend on a switch of the machine"},
		{"long", start + "(" + strings.Repeat("x", 255) + ")\nM2", "a.ngc:4:257: the line has 257 characters, and 256 are allowed"},
		{"no end", start + "G1 X1\n", "a.ngc:4: the program has no end: M2, M30 or a second % is missing"},
		{"after the end", start + "M2\nG1 X1\n", "a.ngc:5:1: comes after the program's end"},
		{"percent inside", start + "%\nM2\n", "a.ngc:4:1: % stands in the first and the last line, or in neither"},
		{"no units", "G90\nG0 Z5\nM2", "a.ngc:2: moves before the program has said G20 or G21"},
		{"no distance mode", "G21\nG0 Z5\nM2", "a.ngc:2: moves before the program has said G90 or G91"},
		{"no retract mode", "G21 G90 G17 G94\nF100\nG0 X0 Y0 Z5\nG81 X1 Z0 R2\nM2", "a.ngc:4: moves before the program has said G98 or G99"},
		{"feed before units", "G21 F100\nM2", "a.ngc:1:5: F100 comes before the program has said in an earlier line, by G20 or G21, whether it is in inches or mm"},
		{"no feed", "G21 G90 G94\nG0 X0 Y0 Z5\nG1 Z0\nM2", "a.ngc:3: feeds before the program has said how fast: F is missing"},
		{"from nowhere", "G21 G90 G94\nF100\nG0 Z5\nG1 X5\nM2", "a.ngc:4: feeds from a place that the program has not stated: X is not known"},
		{"relative to nowhere", "G21 G91 G94\nG0 Z5\nM2", "a.ngc:2:4: Z5 counts from a place that the program has not stated"},
		{"changed units", start + "G20\nM2", "a.ngc:4:1: G20 changes the units within the program"},
		{"no motion in force", start + "G80\nX1\nM2", "a.ngc:5:1: X1 moves nothing: no motion such as G0 or G1 is in force"},
		{"idle word", start + "G1 X1 I2\nM2", "a.ngc:4:7: I2 does not belong to G1"},
		{"R below Z", start + "G81 X1 Z1 R0\nM2", "a.ngc:4:1: R, at 0.0000 mm, is below Z, at 1.0000 mm"},
		{"L not whole", start + "G81 X1 Z1 R2 L1.5\nM2", "a.ngc:4:14: L1.5 is no number of holes"},
		{"cycle nowhere", start + "G81\nM2", "a.ngc:4:1: G81 names no place to drill"},
		{"cycle without Z", start + "G81 X1 R2\nM2", "a.ngc:4: G81 needs Z"},
		{"cycle without R", start + "G81 X1 Z0\nM2", "a.ngc:4: G81 needs R"},
		{"peck without Q", start + "G83 X1 Z0 R2\nM2", "a.ngc:4: G83 needs Q"},
		{"peck of nothing", start + "G83 X1 Z0 R2 Q0\nM2", "a.ngc:4:14: Q0 is no depth of a peck"},
		{"too many pecks", start + "G83 X1 Z0 R2 Q.0001\nM2", "a.ngc:4:14: Q.0001 makes more than 10000 pecks"},
		{"radii differ", start + "G2 X2.003 I1\nM2", "a.ngc:4:1: the arc begins 1.0000 mm from its centre and ends 1.0030 mm from it; 0.0020 mm may lie between"},
		{"no centre", start + "G2 X2\nM2", "a.ngc:4:1: an arc needs its centre: I and J, or R"},
		{"R too short", start + "G2 X3 R1\nM2", "a.ngc:4:7: R1 is less than half of the way, 3.0000 mm"},
		{"spindle without speed", "M3\nM2", "a.ngc:1:1: M3 starts a spindle whose speed is 0"},
		{"carriage return", start + "(WORK 1 OF 2: a)\rG0 Z-50\r(x)\nM2", "a.ngc:4:17: a carriage return within the line: controls do not agree whether a new line begins there"},
		{"not ASCII", start + "(10 \u00b5m)\nM2", `a.ngc:4:5: "µm)" is no printable ASCII character: controls do not agree what it is`},
		{"message", start + "( m s g , hi)\nM2", "a.ngc:4:1: controls carry out a comment that begins with MSG; write it otherwise"},
		{"log", start + "G1 X1 (LOGOPEN,a.txt)\nM2", "a.ngc:4:7: controls carry out a comment that begins with LOGOPEN; write it otherwise"},
		{"probe", start + "(probeopen a.txt)\nM2", "a.ngc:4:1: controls carry out a comment that begins with PROBEOPEN; write it otherwise"},
		{"print", start + "(print: #1)\nM2", "a.ngc:4:1: controls carry out a comment that begins with PRINT; write it otherwise"},
		{"python", start + ";py,import os\nM2", "a.ngc:4:1: controls carry out a comment that begins with PY; write it otherwise"},
		{"stop inside", start + "M0\nM2", "a.ngc:4: M0 stops within the program; only runs of several works have stops"},
		{"optional stop", start + "M1\nM2", "a.ngc:4:1: M1 is not read here: whether it stops depends on a switch of the machine"},
		{"dwell without P", start + "G4\nM2", "a.ngc:4:1: G4 needs P, the seconds to stand still"},
		{"dwell in milliseconds", start + "G4 P500\nM2", "a.ngc:4:4: G4 stands still from 0 to 60 seconds, and P500 is another time"},
		{"dwell and motion", start + "G1 G4 P1 X2\nM2", "a.ngc:4:4: G4 and a motion or G64 exclude each other"},
		{"tolerance without units", "G64 P1 G90\nM2", "a.ngc:1:5: P1 comes before the program has said, by G20 or G21, whether it is in inches or mm"},
		{"place after a change", start + "T1 M6\nG1 X1\nM2", "a.ngc:5: feeds from a place that the program has not stated since the tool was changed: X is not known"},
		{"binary", start + "\x00\nM2", `a.ngc:4:1: "\x00" is no printable ASCII character: controls do not agree what it is`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ngc.Read("a.ngc", strings.NewReader(c.text))
			var faults ngc.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("read, want: %s", c.want)
			}
			if got := faults[0].Error(); got != c.want {
				t.Errorf("\n     %s\nwant %s", got, c.want)
			}
		})
	}
}

// What moves nothing is told with the place where the tool is, and with what was carried out before.
func TestEvents(t *testing.T) {
	p := read(t, "G20 G17\nG90 G64 P.001 G94\nT3 M6 S2500 F10\nG0 Z1 M3\nM8\nG4 P2\nG0 X0 Y0\nG64\nM9 M5\nM2\n")
	var got []string
	for _, e := range p.Events {
		got = append(got, fmt.Sprintf("%d:%d %s %.6g %d %g %v", e.Line, e.Column, e.Word, e.Value, e.Before, e.At.Z, e.Turning))
	}
	want := []string{
		"1:5 G17 0 0 NaN false", "1:1 G20 0 0 NaN false", "2:1 G90 0 0 NaN false", "2:15 G94 0 0 NaN false", "2:5 G64 0.0254 0 NaN false",
		"3:7 S 2500 0 NaN false", "3:1 T 3 0 NaN false", "3:4 M6 3 0 NaN false", "4:7 M3 2500 0 NaN false", "5:1 M8 0 1 25.4 true",
		"8:1 G64 NaN 3 25.4 true", "9:4 M5 2500 3 25.4 true", "9:1 M9 0 3 25.4 false", "10:1 M2 0 3 25.4 false",
	}
	slices.Sort(got[:5])
	slices.Sort(want[:5])
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if d := p.Motions[1]; d.Kind != ngc.Dwell || d.Seconds != 2 || d.To.Z != 25.4 {
		t.Errorf("the dwell: %+v", d)
	}
}

// Of several programs in a file each begins anew: no mode, tool or place of the one before holds.
func TestReadAll(t *testing.T) {
	const one = "G21 G17 G90 G94\nT1 M6 S900 M3\nG0 Z5\n"
	all, err := ngc.ReadAll("a.ngc", strings.NewReader("%\n(first)\n"+one+"M0\n(second) (third)\n"+one+"M2\n%\n"))
	if err != nil || len(all) != 2 {
		t.Fatalf("%d programs: %v", len(all), err)
	}
	a, b := all[0], all[1]
	if !a.Stopped || b.Stopped || a.Lines != 6 || b.Lines != 12 || !b.Comments[1].Head || b.Motions[0].Line != 10 || !math.IsNaN(b.Motions[0].From.Z) {
		t.Errorf("%+v\n%+v", a, b)
	}
	for second, want := range map[string]string{
		"G0 Z-50": "moves before the program has said G20 or G21", "G21 G0 Z-50": "moves before the program has said G90 or G91",
		"X5": "X5 moves nothing: no motion such as G0 or G1 is in force",
	} {
		if _, err := ngc.ReadAll("a.ngc", strings.NewReader(one+"M0\n"+second+"\nM2\n")); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", second, err)
		}
	}
}

// What is put into comments is read as it is, whatever it was.
func TestPlain(t *testing.T) {
	for text, want := range map[string]string{
		"Ø 6 (blue); 90°": "diameter 6 [blue], 90 deg", "MSG, hi": "- MSG, hi", "l o g open x": "- l o g open x",
		"a\rb\u2028c": "a b-c", "log of works": "log of works", strings.Repeat("x", 99): strings.Repeat("x", 80),
	} {
		if got := ngc.Plain(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Within the tolerance the radii of an arc may differ: 0.002 mm, in inches 0.0002 in (NIST IR 6556, from
// memory).
func TestRadiusTolerance(t *testing.T) {
	for _, c := range []struct {
		units string
		end   float64
		sound bool
	}{
		{"G21", 2.0019, true},
		{"G21", 2.0021, false},
		{"G20", 2.00019, true},
		{"G20", 2.00021, false},
	} {
		text := fmt.Sprintf("%s G17 G90 G94\nF100\nG0 X0 Y0 Z0\nG2 X%.5f I1\nM2\n", c.units, c.end)
		if _, err := ngc.Read("a.ngc", strings.NewReader(text)); (err == nil) != c.sound {
			t.Errorf("%s to %g: %v", c.units, c.end, err)
		}
	}
}

// All lines that cannot be read are reported at once.
func TestAllFaults(t *testing.T) {
	_, err := ngc.Read("a.ngc", strings.NewReader("G5\nQ\nG99\nM1\n"))
	var faults ngc.Faults
	if !errors.As(err, &faults) || len(faults) != 3 {
		t.Errorf("want three faults, found %v", err)
	}
	_, err = ngc.Read("a.ngc", strings.NewReader(strings.Repeat("U1\n", 100)))
	if !errors.As(err, &faults) || len(faults) != 11 || faults[10].Error() != "a.ngc:11: and more from here on" {
		t.Errorf("want ten faults and a last word, found %v", err)
	}
}

// FuzzRead holds that whatever is read is motion after motion, each from where the last one ended, and
// that arcs are round.
func FuzzRead(f *testing.F) {
	f.Add(head + "G0 X1 Y2 Z3\nG91 G98 G81 X4 Y5 Z-0.6 R1.8 L3\nG80 M2\n")
	f.Add(head + "G0 X1 Y2 Z3\nG83 X4 Y5 Z0 R2 Q0.8\nM2\n")
	f.Add(head + "G0 X0 Y0 Z0\nG2 X1 Y1 I1\nG3 X2 Y2 R-1\nM30\n")
	f.Add("%\nG20 G17 G90 G94\nT3 M6 S2500 M3 F10\nG0 Z1\nM5 M30\n%\n")
	f.Add("G21 G90\nG0 Z5\nG4 P1\nM0\nG20 G91.1 G64 P.1\nM7 M2")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ngc.Read("a.ngc", strings.NewReader(text))
		if err != nil {
			var faults ngc.Faults
			if !errors.As(err, &faults) || len(faults) == 0 {
				t.Fatalf("no fault with a place: %v", err)
			}
			return
		}
		for i, m := range p.Motions {
			if i > 0 && !math.IsNaN(m.From.X+m.From.Y+m.From.Z) && told([]ngc.Motion{{To: m.From}}) != told([]ngc.Motion{{To: p.Motions[i-1].To}}) {
				t.Fatalf("motion %d begins at %v, the one before ends at %v", i, m.From, p.Motions[i-1].To)
			}
			if m.Line < 1 || m.Line > p.Lines {
				t.Fatalf("motion %d is in line %d of %d", i, m.Line, p.Lines)
			}
			if n := m.Length(); math.IsNaN(n) || n < 0 {
				t.Fatalf("motion %d is %v mm long", i, n)
			}
			if m.Kind != ngc.Rapid && m.Kind != ngc.Dwell && (m.Feed <= 0 || math.IsNaN(m.From.X+m.From.Y+m.From.Z)) {
				t.Fatalf("motion %d: %+v", i, m)
			}
		}
	})
}
