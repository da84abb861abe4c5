package paper

import (
	"cmp"
	"slices"

	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"

	"gonum.org/v1/gonum/spatial/r2"
)

// named is a thing on the buck with what there is to say of it.
type named struct {
	at   r2.Vec // in the blade's axes
	what string
}

// The names below an overview, mm.
const (
	nameRows = 3   // that they are set in, one after the other
	nameStep = 6.5 // from row to row
	nameSize = 4.2 // of the letters: the overview is made smaller
)

// overview is the buck on one of its faces, with its pieces and the tape, and where the pair is split: to be looked at.
func overview(b path.Buck, f measures.Face) *drawing.Drawing {
	box := b.Knife.Plan.Outline.Path().Bounds()
	if b.Drain != nil {
		end := b.Drain.At(r2.Vec{X: b.Drain.To})
		box.Max.X = max(box.Max.X, end.X+2)
	}
	const low = nameRows*nameStep + 9
	v := &view{Drawing: drawing.New("the buck", r2.Vec{X: box.Size().X + 2*room, Y: box.Size().Y + 2*room + low}), left: f == measures.LeftFace}
	v.by = r2.Vec{X: room - box.Min.X, Y: room + low - box.Min.Y}
	if v.left {
		v.by.X = room + box.Max.X
	}
	v.knife(b.Knife, f)
	v.pieces(b, f)
	var all []named
	for _, r := range b.On(f) {
		what := "ramp"
		if r.Grip {
			what = "filler"
		}
		all = append(all, named{r.Blade(r2.Vec{X: 0.7*r.Head.Max.X + 0.3*r.Head.Min.X, Y: (r.Head.Min.Y + r.Head.Max.Y) / 2}), what})
	}
	if carries(b, f) {
		for _, s := range b.Bosses() {
			all = append(all, named{s.Top.Centre, "standoff"})
		}
	}
	if d := b.Drain; d != nil {
		all = append(all, named{d.At(r2.Vec{X: d.To * 0.8}), "drain insert: split from its end"})
	}
	v.names(all, box)
	return v.Drawing
}

// names sets names below the knife, each in the next row, with lines to what they are of.
func (v *view) names(all []named, box r2.Box) {
	slices.SortStableFunc(all, func(a, b named) int { return cmp.Compare(v.at(a.at).X, v.at(b.at).X) })
	low := v.at(r2.Vec{Y: box.Min.Y}).Y
	for i, n := range all {
		to := v.at(n.at)
		from := r2.Vec{X: to.X + 2, Y: low - 7 - nameStep*float64((len(all)-1-i)%nameRows)}
		t := drawing.Type{Size: nameSize}
		if from.X+drawing.Width(t, n.what) > v.Size.X-room {
			from.X, t.Align = to.X-2, drawing.Right
		}
		v.Leader(to, from, t, n.what)
	}
}
