// Package paper makes the papers of a shop: drawings of the knife and where its pieces go, at 1:1, and
// the set-up sheet that is pinned over the bench.
//
// Drawings are in mm, at the size of the thing; what is seen of a face is as one looks at it, the
// edge down: on the right face the tip is to the right, on the left one to the left.
package paper

import (
	"cmp"
	"image/color"
	"math"
	"slices"
	"strings"

	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Colours of what is drawn; each also differs in grey.
var (
	steel  = color.NRGBA{R: 222, G: 225, B: 229, A: 255}
	wood   = color.NRGBA{R: 203, G: 196, B: 184, A: 255}
	brass  = color.NRGBA{R: 214, G: 198, B: 146, A: 255}
	boss   = color.NRGBA{R: 240, G: 205, B: 152, A: 255}
	ramp   = color.NRGBA{R: 176, G: 204, B: 218, A: 255}
	plug   = color.NRGBA{R: 205, G: 216, B: 174, A: 255}
	sheetC = color.NRGBA{R: 150, G: 96, B: 60, A: 255}
)

// The pens.
var (
	thick = drawing.Pen{Width: 0.35}
	fine  = drawing.Pen{Width: 0.18}
	axis  = drawing.Pen{Width: 0.13, Colour: drawing.Quiet, Dash: []float64{8, 1.5, 1, 1.5}}
	dash  = drawing.Pen{Width: 0.18, Colour: drawing.Quiet, Dash: []float64{2.5, 1.2}}
	wall  = drawing.Pen{Width: 0.35, Colour: sheetC}
)

// view is a face being drawn.
type view struct {
	*drawing.Drawing
	left bool
	by   r2.Vec // from the blade's axes, turned for the face, to the paper
}

// at is a place on the paper.
func (v *view) at(p r2.Vec) r2.Vec {
	if v.left {
		p.X = -p.X
	}
	return r2.Add(p, v.by)
}

// path is a path on the paper.
func (v *view) path(p profile.Path) profile.Path {
	if v.left {
		p = drawing.Mirrored(p)
	}
	return drawing.Placed(p, 0, v.by)
}

// area fills a path and draws its border.
func (v *view) area(c color.NRGBA, p drawing.Pen, path profile.Path) {
	placed := v.path(path)
	v.Fill(c, placed)
	v.Stroke(p, placed)
}

const (
	room    = 9.0 // round what is drawn, mm
	dimGap  = 8.0 // from one dimension line to the next
	closest = 4.0 // that anything may come to the border of the drawing
	past    = 1.0 // by which the axis goes on beyond the knife
)

// Face is the knife with the pieces of a buck that was studied on one of its faces, with the measures by which they
// are placed, and sections across it.
func Face(study *path.Study, f measures.Face, title string) *drawing.Drawing {
	b := study.Buck
	k := b.Knife
	box := k.Plan.Outline.Path().Bounds()
	if b.Drain != nil {
		box.Max.X = max(box.Max.X, b.Drain.At(r2.Vec{X: b.Drain.To}).X+2)
	}
	cuts := sections(study, f)
	tall := cuts.height()
	size := r2.Vec{X: box.Max.X - box.Min.X + 2*room, Y: box.Max.Y - box.Min.Y + 2*room + float64(7+len(b.More))*dimGap + tall + 6}
	v := &view{Drawing: drawing.New(title, size), left: f == measures.LeftFace}
	v.by = r2.Vec{X: room - box.Min.X, Y: tall + 4 + room + float64(5+len(b.More))*dimGap - box.Min.Y}
	if v.left {
		v.by.X = room + box.Max.X
	}
	v.knife(k, f)
	v.pieces(b, f)
	v.measures(b, f, box)
	v.Heading(r2.Vec{X: room, Y: size.Y - 8}, title)
	v.AddApart(cuts.draw(v), r2.Vec{X: room, Y: 6})
	if ink := v.Ink(); min(ink.Min.X, ink.Min.Y, size.X-ink.Max.X, size.Y-ink.Max.Y) < closest { // of a short knife: what is said of it is longer
		return v.Fitted(room)
	}
	return v.Drawing
}

// knife draws the bare knife.
func (v *view) knife(k *pieces.Buck, f measures.Face) {
	p := k.Plan
	v.area(steel, thick, p.Outline.Path())
	if len(p.Handle) > 0 {
		v.area(wood, fine, p.Handle.Path())
	}
	if len(p.Guard) > 0 {
		v.area(brass, fine, p.Guard.Path())
	}
	if len(p.Grind) > 0 {
		v.Stroke(fine, v.path(p.Grind))
	}
	for _, h := range p.Holes {
		v.Stroke(fine, v.path(h.Path()))
	}
	b := p.Outline.Path().Bounds()
	v.Line(axis, v.at(r2.Vec{X: b.Min.X - past}), v.at(r2.Vec{X: b.Max.X + past}))
	up, down := r2.Vec{Y: b.Max.Y + 5}, r2.Vec{Y: b.Min.Y - 5}
	v.Line(dash, v.at(down), v.at(up))
	v.Text(r2.Add(v.at(up), r2.Vec{Y: 1.5}), drawing.Type{Size: 3, Align: drawing.Centre}, "throat")
	if k.Spec.Tape.Layers > 0 {
		x := p.Tip.X - k.Spec.Tape.TipGap
		v.Line(dash, v.at(r2.Vec{X: x, Y: b.Min.Y - 2}), v.at(r2.Vec{X: x, Y: b.Max.Y + 2}))
		v.Text(r2.Add(v.at(r2.Vec{X: x, Y: b.Max.Y + 3}), r2.Vec{}), drawing.Type{Size: 3, Align: drawing.Centre}, "tape ends")
	}
	v.Text(v.at(r2.Vec{X: (b.Min.X + p.HandleFront) / 2, Y: 4}), drawing.Type{Size: 4, Align: drawing.Centre, Colour: drawing.Quiet}, string(f)+" face")
}

// pieces draws the feet of the pieces on the face.
func (v *view) pieces(b path.Buck, f measures.Face) {
	for _, r := range b.On(f) {
		v.area(ramp, fine, profile.Polygon(r.FootLine()...))
	}
	if b.Drain != nil {
		v.area(plug, fine, profile.Polygon(b.Drain.FootLine()...))
	}
	if !carries(b, f) {
		return
	}
	for _, s := range b.Bosses() {
		v.boss(s)
	}
}

// boss draws the foot of a boss and its nubs.
func (v *view) boss(s *pieces.StandoffPiece) {
	v.area(boss, fine, profile.Polygon(s.FootLine()...))
	for _, n := range s.Nubs {
		c := v.at(n.Centre)
		v.Circle(fine, c, n.Base/2)
		v.Line(fine, r2.Add(c, r2.Vec{X: -4}), r2.Add(c, r2.Vec{X: 4}))
		v.Line(fine, r2.Add(c, r2.Vec{Y: -4}), r2.Add(c, r2.Vec{Y: 4}))
	}
}

// carries tells whether the face carries the boss.
func carries(b path.Buck, f measures.Face) bool {
	if b.Standoff == nil {
		return false
	}
	for _, g := range b.Faces {
		if g == f {
			return true
		}
	}
	return false
}

// measure is one distance along the blade.
type measure struct {
	from, to r2.Vec
	what     string
}

// measures states where the pieces sit: along the blade from the throat, below the knife, the shorter nearer
// to it; and above it how far the posts are apart.
func (v *view) measures(b path.Buck, f measures.Face, box r2.Box) {
	k := b.Knife
	var all []measure
	for _, r := range b.On(f) {
		all = append(all, measure{to: r.Blade(r2.Vec{X: r.Ends()}), what: r.Where() + " ramp"})
	}
	all = append(all, measure{to: k.Plan.Tip, what: "tip"}, measure{from: k.Plan.Butt, to: k.Plan.Tip})
	if carries(b, f) {
		for _, s := range b.Bosses() {
			all = append(all, measure{to: s.Top.Centre, what: strings.TrimSpace("boss " + s.Name)})
			from, to := v.at(s.Nubs[0].Centre), v.at(s.Nubs[1].Centre)
			if from.X > to.X {
				from, to = to, from
			}
			off := v.at(r2.Vec{Y: box.Max.Y}).Y - max(from.Y, to.Y) + dimGap + 2
			v.Dimension(from, to, off, drawing.Millimetres(r2.Norm(r2.Sub(to, from)))+" posts")
		}
	}
	slices.SortStableFunc(all, func(a, b measure) int { return cmp.Compare(a.length(), b.length()) })
	for i, m := range all {
		v.below(m, box.Min.Y, dimGap*float64(i+1))
	}
	if b.Drain != nil {
		v.below(measure{from: k.Plan.Tip, to: b.Drain.At(r2.Vec{X: b.Drain.To})}, box.Min.Y, dimGap*float64(len(all)))
	}
}

func (m measure) length() float64 { return math.Abs(m.to.X - m.from.X) }

// below states a measure under the knife.
func (v *view) below(m measure, low, off float64) {
	a, b := v.at(r2.Vec{X: m.from.X, Y: low}), v.at(r2.Vec{X: m.to.X, Y: low})
	if a.X > b.X {
		a, b = b, a
	}
	text := drawing.Millimetres(m.length())
	if m.what != "" {
		text += " " + m.what
	}
	v.Dimension(a, b, -off, text)
}
