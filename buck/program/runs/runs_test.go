package runs_test

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"formbuck/buck/program"
	"formbuck/buck/program/ngc"
	"formbuck/buck/program/runs"

	"gonum.org/v1/gonum/spatial/r2"
)

// drilled is a program that drills two holes at a place.
func drilled(t testing.TB, x float64) []byte {
	t.Helper()
	s := program.Setup{
		Title: "a plate", Zero: "its corner", Up: "either face", Hold: "vacuum", Vacuum: true, Safe: 15,
		Stock: program.Stock{Box: r2.Box{Max: r2.Vec{X: 100, Y: 60}}, Sheet: 4, Top: 4, Board: 20},
		Tool:  program.Tool{Number: 1, Diameter: 6.35, PointDeg: 118},
		Holes: []program.Hole{{At: r2.Vec{X: x, Y: 20}, Diameter: 6.35, Top: 4}, {At: r2.Vec{X: x, Y: 40}, Diameter: 6.35, Top: 4}},
	}
	p, err := program.Drill(s, program.DrillOptions{Material: program.Materials()[0]})
	if err != nil {
		t.Fatal(err)
	}
	return p.Text
}

func joined(t testing.TB) ([]byte, []runs.Work) {
	t.Helper()
	works := []runs.Work{{Name: "order 1", Text: drilled(t, 20)}, {Name: "order 2", Text: drilled(t, 30)}, {Name: "order 3", Text: drilled(t, 20)}}
	text, err := runs.Join("a week (of two)", works)
	if err != nil {
		t.Fatal(err)
	}
	return text, works
}

// readRun reads a run and proves its works.
func readRun(text string) ([]runs.Work, error) {
	works, err := runs.Read("run.ngc", strings.NewReader(text))
	if err != nil {
		return nil, err
	}
	for _, w := range works {
		if _, err := program.Prove(w.Program); err != nil {
			return works, err
		}
	}
	return works, nil
}

// TestJoin reads a run again: each work proves, and begins where it was joined.
func TestJoin(t *testing.T) {
	text, begun := joined(t)
	works, err := readRun(string(text))
	if err != nil || len(works) != 3 {
		t.Fatalf("%d works: %v", len(works), err)
	}
	lines := strings.Split(string(text), "\n")
	for i, w := range works {
		if w.Line != begun[i].Line {
			t.Errorf("%q was joined at line %d and is found at line %d", w.Name, begun[i].Line, w.Line)
		}
		if w.Name != fmt.Sprintf("order %d", i+1) || !strings.HasPrefix(lines[w.Line-1], fmt.Sprintf("(WORK %d OF 3", i+1)) {
			t.Errorf("%q in line %d: %s", w.Name, w.Line, lines[w.Line-1])
		}
	}
	if n := bytes.Count(text, []byte("\nM0\n")); n != 2 || bytes.Count(text, []byte("\nM2\n")) != 1 || bytes.Count(text, []byte("%")) != 2 {
		t.Errorf("%d stops in\n%s", n, text)
	}
	if _, err := readRun(strings.ReplaceAll(string(text), "\n", "\r\n")); err != nil {
		t.Errorf("with the line ends of another system: %v", err)
	}
}

// TestNames cleans and bounds names, whatever is in them.
func TestNames(t *testing.T) {
	text, err := runs.Join("MSG, \u202e(x)\n%", []runs.Work{{Name: "b) G0 Z-50 (x\r" + strings.Repeat("long ", 99), Text: drilled(t, 20)}})
	if err != nil {
		t.Fatal(err)
	}
	works, err := readRun(string(text))
	if err != nil || len(works[0].Name) > 160 || !strings.HasPrefix(works[0].Name, "b] G0 Z-50 [x long") {
		t.Errorf("%q: %v", works[0].Name, err)
	}
}

// TestPlain takes what is no run as its only work.
func TestPlain(t *testing.T) {
	works, err := readRun(string(drilled(t, 20)))
	if err != nil || len(works) != 1 || works[0].Name != "" || works[0].Line != 1 {
		t.Errorf("%d works: %v", len(works), err)
	}
}

// TestAltered refuses runs that were changed so that works are missing, one follows another without a stop, or
// something is done between them, each with its line.
func TestAltered(t *testing.T) {
	whole, _ := joined(t)
	text := string(whole)
	const deep = "G21 G17 G90 G91.1 G94 G40 G49 G54 G61 G0 Z-50"
	for _, tt := range []struct{ name, from, to, want string }{
		{"no stop", "\nM0\n", "\n", "another work begins here, and work 1 has not ended with M0"},
		{"a work less", "(WORK 3 OF 3: order 3)", "", "begins with no comment such as WORK 3 OF 3: NAME"},
		{"another order", "(WORK 2 OF 3", "(WORK 3 OF 3", "work 3 of 3 is announced, and it is work 2 of 3"},
		{"before the first", "(WORK 1 OF 3", "G0 Z-5\n(WORK 1 OF 3", "moves before the program has said G20 or G21"},
		{"before the first, behind a comment", "(WORK 1 OF 3", "(hello) G0 Z-50\n(WORK 1 OF 3", "moves before the program has said G20 or G21"},
		{"before the first, in full", "(WORK 1 OF 3", "(hello) " + deep + "\n(WORK 1 OF 3", "something is done before work 1 begins"},
		{"in the first mark", "(WORK 1 OF 3: order 1)", "(WORK 1 OF 3: order 1) G0 Z-50 (x)", "moves before the program has said G20 or G21"},
		{"in the first mark, in full", "(WORK 1 OF 3: order 1)", "(WORK 1 OF 3: order 1) " + deep + " (x)", "a set-up comment after the first motion"},
		{"in the second mark", "(WORK 2 OF 3: order 2)", "(WORK 2 OF 3: b) G0 Z-50 (x)", "moves before the program has said G20 or G21"},
		{"in the second mark, in full", "(WORK 2 OF 3: order 2)", "(WORK 2 OF 3: b) " + deep + " (x)", "a set-up comment after the first motion"},
		{"behind a carriage return", "(WORK 1 OF 3: order 1)", "(WORK 1 OF 3: a)\rG0 Z-50\r(x)", "a carriage return within the line"},
		{"after a stop", "\nM0\n", "\nM0\nG0 Z-5\n", "moves before the program has said G20 or G21"},
		{"with the stop", "\nM0\n", "\nG0 Z-5 M0\n", "the program ends at Z -5 mm, below the safe height"},
		{"after the end", "\nM2\n%", "\nM2\nG0 Z-5\n%", "comes after the program's end"},
		{"spindle at a stop", "\nM5\nM0\n", "\nM0\n", "stops for the work to be changed with the spindle turning"},
		{"a hole that was moved", "G83 X30 Y20", "G83 X31 Y20", "drills at (31.000, 20.000) mm, 1.000 mm beside the nearest hole"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if !strings.Contains(text, tt.from) {
				t.Fatalf("the run holds no %q", tt.from)
			}
			_, err := readRun(strings.Replace(text, tt.from, tt.to, 1))
			var faults ngc.Faults
			if !errors.As(err, &faults) || !strings.Contains(err.Error(), tt.want) || faults[0].Line == 0 {
				t.Errorf("\n     %v\nwant %s", err, tt.want)
			}
		})
	}
}

// TestJoinFaults refuses to join nothing, and what has no end.
func TestJoinFaults(t *testing.T) {
	if _, err := runs.Join("none", nil); !errors.Is(err, runs.ErrNone) {
		t.Errorf("nothing: %v", err)
	}
	if _, err := runs.Join("open", []runs.Work{{Name: "a", Text: []byte("G21\n")}}); !errors.Is(err, runs.ErrEnd) {
		t.Errorf("no end: %v", err)
	}
}

// moving are the lines of a text that any control could move in: those with an axis word outside what every control
// takes for a comment. It knows nothing of ngc.
func moving(text string) (lines []int) {
	closed := regexp.MustCompile(`\([^()\r\n]*\)|;[^\r\n]*`)
	axis := regexp.MustCompile(`[XYZxyz][ \t]*[-+.0-9]`)
	for i, line := range strings.Split(text, "\n") {
		if axis.MatchString(closed.ReplaceAllString(line, " ")) {
			lines = append(lines, i+1)
		}
	}
	return lines
}

// FuzzRead puts any text anywhere into a run that proves. Where all of it still proves, every line that could move
// anything is one of a proved work's motions.
func FuzzRead(f *testing.F) {
	run, _ := joined(f)
	for _, text := range []string{
		"(hello) G0 Z-50", ") G0 Z-50 (x", "\rG0 Z-50\r", "\nM0\n", "(WORK 1 OF 1: a)\n", "\n%\n", "\nM2\nG0 Z-50\n", ";", "(", "\x85G0 Z-50", "\nG0 Z15\n", "\n\n(x)\n",
	} {
		for _, mark := range []string{"(a week", "(WORK 1", "(WORK 2", "\nM0", "\nM5", "\nM2", "G83 X20"} {
			f.Add(bytes.Index(run, []byte(mark)), text)
		}
	}
	f.Fuzz(func(t *testing.T, at int, added string) {
		at = min(max(at, 0), len(run))
		text := string(run[:at]) + added + string(run[at:])
		works, err := readRun(text)
		if err != nil {
			var faults ngc.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("no fault of a line: %v", err)
			}
			return
		}
		known := map[int]bool{}
		for _, w := range works {
			for _, m := range w.Program.Motions {
				known[m.Line] = true
			}
		}
		for _, line := range moving(text) {
			if !known[line] {
				t.Fatalf("line %d moves and is part of no work: %q", line, added)
			}
		}
	})
}

func ExampleJoin() {
	text, err := runs.Join("two plates", []runs.Work{{Name: "plate 1", Text: []byte("%\nG21 G90 G0 Z15\nM2\n%\n")}, {Name: "plate 2", Text: []byte("%\nG21 G90 G0 Z20\nM2\n%\n")}})
	fmt.Printf("%s%v\n", text, err)
	// Output:
	// %
	// (two plates)
	// (2 works. The machine stops after each: change the work, check pins, clamps and zero, then go on.)
	// (WORK 1 OF 2: plate 1)
	// G21 G90 G0 Z15
	// M0
	// (WORK 2 OF 2: plate 2)
	// G21 G90 G0 Z20
	// M2
	// %
	// <nil>
}
