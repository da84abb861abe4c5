package runs_test

import (
	"bytes"
	"errors"
	"fmt"
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
		Title: "a plate", Zero: "its corner", Up: "either face", Hold: "clamps", Safe: 15,
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

func proved(file string, text []byte) error {
	p, err := ngc.Read(file, bytes.NewReader(text))
	if err != nil {
		return err
	}
	_, err = program.Prove(p)
	return err
}

// TestJoin takes a run apart: each work proves, and is what was joined, line for line.
func TestJoin(t *testing.T) {
	text, begun := joined(t)
	works, err := runs.Split(text)
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
		if err := proved("run.ngc", w.Text); err != nil {
			t.Errorf("%s: %v", w.Name, err)
		}
		for k, line := range strings.Split(string(w.Text), "\n") {
			if line != "" && line != lines[k] && line != "M2" {
				t.Errorf("line %d is %q, in the run %q", k+1, line, lines[k])
			}
		}
	}
	if n := bytes.Count(text, []byte("\nM0\n")); n != 2 || bytes.Count(text, []byte("\nM2\n")) != 1 || bytes.Count(text, []byte("%")) != 2 {
		t.Errorf("%d stops in\n%s", n, text)
	}
}

// TestSplitPlain leaves what is no run as it is.
func TestSplitPlain(t *testing.T) {
	text := drilled(t, 20)
	works, err := runs.Split(text)
	if err != nil || len(works) != 1 || !bytes.Equal(works[0].Text, text) {
		t.Errorf("%d works: %v", len(works), err)
	}
}

// TestAltered refuses runs that were changed so that works are missing, one follows another without a stop, or
// something is done between them; a hole that was moved does not prove, and is told by the run's own line.
func TestAltered(t *testing.T) {
	whole, _ := joined(t)
	text := string(whole)
	for _, tt := range []struct{ name, from, to, want string }{
		{"no stop", "\nM0\n", "\n", "the work does not end with M0"},
		{"a work less", "(WORK 3 OF 3: order 3)", "", "3 works are announced, and there are 2"},
		{"another order", "(WORK 2 OF 3", "(WORK 3 OF 3", "work 3 comes after work 1"},
		{"before the first", "(WORK 1 OF 3", "G0 Z-5\n(WORK 1 OF 3", "something is done before the first work"},
		{"after a stop", "\nM0\n", "\nM0\nG0 Z-5\n", "the work does not end with M0"},
	} {
		if _, err := runs.Split([]byte(strings.Replace(text, tt.from, tt.to, 1))); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
	moved := strings.Replace(text, "G83 X30 Y20", "G83 X31 Y20", 1)
	works, err := runs.Split([]byte(moved))
	if err != nil {
		t.Fatal(err)
	}
	var faults ngc.Faults
	if err := proved("run.ngc", works[1].Text); !errors.As(err, &faults) {
		t.Fatalf("a hole that was moved: %v", err)
	}
	want := 1 + strings.Count(moved[:strings.Index(moved, "G83 X31 Y20")], "\n")
	found := false
	for _, f := range faults {
		found = found || f.Line == want
	}
	if !found {
		t.Errorf("the fault in line %d is told as %v", want, faults)
	}
	if err := proved("run.ngc", works[0].Text); err != nil {
		t.Errorf("the work before it: %v", err)
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

// FuzzSplit takes any text apart: no panic, and no line of a work that is not the run's.
func FuzzSplit(f *testing.F) {
	text, _ := joined(f)
	f.Add(text)
	f.Add([]byte("(WORK 1 OF 1: a)\nM2"))
	f.Add([]byte("(WORK 1 OF 2: a)\nM0\n(WORK 2 OF 2: b)\n"))
	f.Add([]byte("(WORK 1 OF 0: )\nM0\n(WORK 2 OF 0: )\nM0\n(WORK 3 OF 3: )"))
	f.Fuzz(func(t *testing.T, text []byte) {
		works, err := runs.Split(text)
		if err != nil {
			return
		}
		lines := bytes.Count(text, []byte("\n")) + 1
		for _, w := range works {
			if n := bytes.Count(w.Text, []byte("\n")) + 1; n > lines+1 {
				t.Errorf("a work of %d lines in a run of %d", n, lines)
			}
		}
	})
}

func ExampleJoin() {
	text, err := runs.Join("two plates", []runs.Work{{Name: "plate 1", Text: []byte("%\nG0 Z15\nM2\n%\n")}, {Name: "plate 2", Text: []byte("%\nG0 Z20\nM2\n%\n")}})
	fmt.Printf("%s%v\n", text, err)
	// Output:
	// %
	// (two plates)
	// (2 works. The machine stops after each: change the work, check pins, clamps and zero, then go on.)
	// (WORK 1 OF 2: plate 1)
	// (MSG, put on plate 1)
	// G0 Z15
	// M0
	// (WORK 2 OF 2: plate 2)
	// (MSG, put on plate 2)
	// G0 Z20
	// M2
	// %
	// <nil>
}
