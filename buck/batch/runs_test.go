package batch_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/batch"
	"formbuck/buck/measures"
	"formbuck/buck/program/runs"
)

// other is the drill of holes that are not the eyelets'.
var other = batch.Program{File: "alder-drill-2.ngc", Does: "drill the pair, holes of 4.5 mm", Kind: runs.Drill, Work: "the pair", Tool: "T4, drill of 4.5 mm"}

// ofTwo are two orders of a knife, the second of a knife with holes of two diameters.
func ofTwo(t *testing.T, shop string) batch.Request {
	t.Helper()
	r := batch.Request{Shop: readShop(t, shopText+shop)}
	r.Orders = []batch.Order{
		{ID: "1", Hand: measures.Right, Colour: "moss", Quantity: 2}, {ID: "2", Hand: measures.Both, Colour: "moss", Quantity: 1},
	}
	r.Articles = []*batch.Article{article("alder", measures.Right, 2), article("birch", measures.Both, 2)}
	r.Articles[1].Programs = append(r.Articles[1].Programs, other)
	return r
}

// said are runs as lines: their names, tools and the programs of their works.
func said(p *batch.Plan) (lines []string) {
	for _, r := range p.Runs {
		var files []string
		for _, w := range r.Works {
			files = append(files, w.Program.File)
		}
		lines = append(lines, fmt.Sprintf("%s: %s: %s", r.Name, r.Tool, strings.Join(files, " ")))
	}
	return lines
}

// TestRuns joins all programs, a run for each kind of set-up and tool, and none twice.
func TestRuns(t *testing.T) {
	drill, trim := "T1, drill of 6.35 mm: ", "T2, cutter of 6.35 mm: "
	a, b := "alder-trim-right-half.ngc alder-trim-left-half.ngc", "birch-trim-right-half.ngc birch-trim-left-half.ngc"
	want := []string{
		"day-1-drill: " + drill + "alder-drill.ngc alder-drill.ngc birch-drill.ngc", "day-1-drill-2: T4, drill of 4.5 mm: alder-drill-2.ngc",
		"day-1-posts: " + drill + "alder-posts.ngc alder-posts.ngc birch-posts.ngc birch-posts.ngc", "day-1-trim: " + trim + a + " " + a + " " + b,
	}
	p := newPlan(t, ofTwo(t, ""))
	if got := said(p); !slices.Equal(got, want) {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if got := p.NameOf(p.Runs[0].Works[1]); got != "order 1, sheath 2 of 2: the pair, alder right, moss" {
		t.Error(got)
	}
	by := newPlan(t, ofTwo(t, "[mill]\nposts_by_hand = true\n"))
	if got := said(by); !slices.Equal(got, slices.Delete(slices.Clone(want), 2, 3)) {
		t.Errorf("posts by hand: %s", strings.Join(got, "\n"))
	}
}

// TestDays keeps each run within its day.
func TestDays(t *testing.T) {
	p := newPlan(t, ofTwo(t, "[day]\nhours = 1\n"))
	works := 0
	for i, r := range p.Runs {
		if i > 0 && r.Day < p.Runs[i-1].Day || !strings.HasPrefix(r.Name, fmt.Sprintf("day-%d-%s", r.Day+1, r.Kind)) {
			t.Errorf("%s on day %d", r.Name, r.Day+1)
		}
		works += len(r.Works)
	}
	if works != 14 || p.Runs[len(p.Runs)-1].Day == 0 {
		t.Errorf("%d works: %s", works, strings.Join(said(p), "\n"))
	}
}

// TestUnwritten tells once of a program that could not be written, counts its time and joins the others.
func TestUnwritten(t *testing.T) {
	r := ofTwo(t, "")
	r.Articles[1].Programs[len(r.Articles[1].Programs)-1].File = ""
	p := newPlan(t, r)
	if got := p.Unwritten(); len(got) != 1 || got[0] != "birch: no program to drill the pair, holes of 4.5 mm" {
		t.Errorf("%q", got)
	}
	if len(p.Runs) != 3 {
		t.Errorf("%s", strings.Join(said(p), "\n"))
	}
}

// TestMillTime is worked by hand: 3 minutes to put a work on the mill, 0.15 for each hole, 2 / 1800 for each mm of
// the trim line of both halves.
func TestMillTime(t *testing.T) {
	minutes := func(p *batch.Plan, order int) (drill, trim float64) {
		for _, s := range p.Schedule.Slots {
			switch l := p.Loads[s.Load]; {
			case l.Order == order && l.Number == 1 && s.Step == batch.Drilling:
				drill = s.End - s.Begin
			case l.Order == order && l.Number == 1 && s.Step == batch.Trimming:
				trim = s.End - s.Begin
			}
		}
		return drill, trim
	}
	line := 2 * 560 * 2.0 / 1800
	for _, c := range []struct {
		shop                    string
		drill0, trim0, drill, t float64
	}{
		{"", 3 + 12*0.15, 9 + 2*0.15 + line, 6 + 12*0.15, 12 + 4*0.15 + line},
		{"[mill]\nposts_by_hand = true\nset_up = 2\n", 2 + 12*0.15, 4 + line, 4 + 12*0.15, 4 + line},
	} {
		p := newPlan(t, ofTwo(t, c.shop))
		drill0, trim0 := minutes(p, 0)
		drill, trim := minutes(p, 1)
		for i, d := range []float64{drill0 - c.drill0, trim0 - c.trim0, drill - c.drill, trim - c.t} {
			if math.Abs(d) > 1e-9 {
				t.Errorf("%q: time %d is off by %g minutes", c.shop, i, d)
			}
		}
	}
}

// TestRunsOnPlate: both halves of a sheath that lie on a plate are put on at once, and the second is told to stay; a work that
// lies on no plate, or is another sheath's, is changed.
func TestRunsOnPlate(t *testing.T) {
	minutes := func(plate bool) (float64, []batch.Run) {
		r := ofTwo(t, "[mill]\nset_up = 3\n")
		for _, a := range r.Articles {
			a.Programs = []batch.Program{
				{File: "drill.ngc", Does: "drill", Kind: runs.Drill, Work: "the pair", Tool: "T1", Plate: plate},
				{File: "right.ngc", Does: "trim", Kind: runs.Trim, Work: "right half", Tool: "T2", Plate: plate},
				{File: "left.ngc", Does: "trim", Kind: runs.Trim, Work: "left half", Tool: "T2", Plate: plate},
			}
		}
		p := newPlan(t, r)
		busy := 0.0
		for _, s := range p.Schedule.Slots {
			if s.Step == batch.Trimming {
				busy += s.End - s.Begin
			}
		}
		stay := 0
		for _, run := range p.Runs {
			for i, w := range run.Works {
				if want := plate && run.Kind == runs.Trim && i%2 == 1; w.Stays != want {
					t.Errorf("plate %v, %s, work %d: stays %v", plate, run.Name, i+1, w.Stays)
				}
				if w.Stays {
					stay++
				}
			}
		}
		if plate && stay != len(p.Loads) {
			t.Errorf("%d of %d sheaths have both halves put on at once", stay, len(p.Loads))
		}
		return busy, p.Runs
	}
	with, all := minutes(true)
	without, _ := minutes(false)
	loads := 0
	for _, r := range all {
		if r.Kind == runs.Drill {
			loads += len(r.Works)
		}
	}
	if got := without - with; math.Abs(got-3*float64(loads)) > 1e-9 { // a putting takes 3 minutes
		t.Errorf("%d sheaths on their plates save %.2f minutes", loads, got)
	}
}
